"""Neutral sheets -> workbook bytes. Equal sheets give equal bytes: no clock is read.

Numbers stay numbers, with their unit in the number format; text stays text; a formula carries the value it comes
to, so that every reader sees it. Headings are told by weight and a line, so that they survive a black-and-white
printer.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import UTC, date, datetime
from decimal import Decimal
from functools import lru_cache
from io import BytesIO
from textwrap import wrap
from typing import Any

from xlsxwriter.format import Format
from xlsxwriter.utility import xl_range_abs, xl_rowcol_to_cell
from xlsxwriter.workbook import Workbook
from xlsxwriter.worksheet import Worksheet

from compiler.documents.neutral import Cell, ColumnKind, Formula, Heading, Number, Sheet
from compiler.quantities import Load, Percent
from compiler.render.clean import clean_text, write_text
from compiler.render.formats import Formats
from compiler.render.sheet_charts import add_charts, chart_page_breaks, print_areas

CREATED = datetime(2000, 1, 1, tzinfo=UTC)
"""Stands in every workbook in place of the time of day."""

PAPERS = {"A4": 9, "Letter": 1}  # as the file format numbers them
FONT: dict[str, Any] = {"font_name": "Calibri", "font_size": 11, "valign": "top"}
HEADING: dict[str, Any] = {**FONT, "bold": True, "text_wrap": True, "bottom": 2, "valign": "bottom"}
SECTION: dict[str, Any] = {"bold": True, "top": 1}
WRAPPED_FROM = 24
"""Text columns of this width and more wrap their text."""
LINE_HEIGHT = 15
"""Points; rows of several lines state their height, because LibreOffice finds none by itself."""

BOLD_FILLS = 0.85
"""Of the characters of a column's width, so many stand on one line in bold."""

MARGINS = {"left": 0.4, "right": 0.4, "top": 0.75, "bottom": 0.6}  # inches, as the file format has them
LONGEST_HEADER = 200

_HEADING_NAMED = re.compile(r"\{([^{}]+)\}")


class _Column:
    """The formats of the cells under one heading, kept by what decides them."""

    def __init__(self, formats: Formats, heading: Heading) -> None:
        self.heading = heading
        self._formats = formats
        self._known: dict[tuple[str, bool], Format] = {}

    def look(self, shown: str, *, head: bool) -> Format:
        """Return the format of a cell: `shown` is how its number is shown, "" for text."""
        made = self._known.get((shown, head))
        if made is None:
            font = {**FONT, **SECTION} if head else FONT
            wrapped = {"text_wrap": True} if self.heading.width >= WRAPPED_FROM else {}
            properties = _as_number(font, shown) if shown else {**font, **_side(self.heading), **wrapped}
            made = self._known[shown, head] = self._formats.of(properties)
        return made


class _PlainSheet(Worksheet):  # type: ignore[misc]  # XlsxWriter has no types
    """A sheet whose formulas are written as they are.

    XlsxWriter looks in every formula for each function younger than Excel 2010, to give it a prefix; that takes
    much of the time of the whole workbook. Our formulas have none (`summary_formulas`).
    """

    def _prepare_formula(self, formula: str, expand_future_functions: bool = False) -> str:  # noqa: ARG002 - the base class decides
        return formula.removeprefix("=")


def render_sheets(sheets: Sequence[Sheet]) -> bytes:
    """Return the workbook that shows the sheets."""
    stream = BytesIO()
    book = Workbook(stream, {"in_memory": True})
    book.set_properties({"created": CREATED})
    formats = Formats(book)
    for sheet in sheets:
        page = book.add_worksheet(sheet.name, worksheet_class=_PlainSheet)
        _render(page, formats, sheet)
        add_charts(book, page, sheet, formats.of({**FONT, "italic": True}))
        _name_lists(book, sheet)
    book.close()
    return stream.getvalue()


def _name_lists(book: Workbook, sheet: Sheet) -> None:
    if sheet.charts:
        # XlsxWriter sets one area a sheet; this is the name that the format gives them
        book.define_name(f"'{sheet.name}'!_xlnm.Print_Area", f"={','.join(print_areas(sheet))}")
    for named in sheet.names:
        cells = xl_range_abs(named.rows.start + 1, named.column, named.rows.stop, named.column)
        book.define_name(named.name, f"='{sheet.name}'!{cells}")


def _render(page: Worksheet, formats: Formats, sheet: Sheet) -> None:
    places = {heading.text: column for column, heading in enumerate(sheet.headings)}
    columns = [_Column(formats, heading) for heading in sheet.headings]
    for place, heading in enumerate(sheet.headings):
        page.set_column(place, place, heading.width, formats.of(FONT))
        write_text(page, 0, place, heading.text, formats.of({**HEADING, **_side(heading)}))
    page.set_row(0, LINE_HEIGHT * max(_heading_lines(heading) for heading in sheet.headings))
    wrapping = [(at, heading) for at, heading in enumerate(sheet.headings) if heading.width >= WRAPPED_FROM]
    for number, row in enumerate(sheet.rows):
        head = number in sheet.heads
        lines = max((_lines(wide, row[at]) for at, wide in wrapping), default=1)
        if lines > 1:
            page.set_row(number + 1, LINE_HEIGHT * lines)
        for place, (column, cell) in enumerate(zip(columns, row, strict=True)):
            if isinstance(cell, Formula):
                shown, kind = _number(cell.value, column.heading.decimals)
                text = _in_row(cell.text, places, number + 1)
                page.write_formula(number + 1, place, text, column.look(kind, head=head), shown)
            elif cell is None:
                if head:
                    page.write_blank(number + 1, place, None, formats.of({**FONT, **SECTION}))
            else:
                _write(page, column, (number + 1, place), cell, head=head)
    page.freeze_panes(1, sheet.frozen)
    if sheet.filtered:
        page.autofilter(0, 0, max(1, len(sheet.rows)), len(sheet.headings) - 1)
    _set_up_print(page, sheet)


def _set_up_print(page: Worksheet, sheet: Sheet) -> None:
    page.set_landscape()
    page.set_paper(PAPERS.get(sheet.paper, PAPERS["A4"]))
    page.set_margins(**MARGINS)
    page.repeat_rows(0)
    page.fit_to_pages(sheet.pages_wide, 0)
    if sheet.charts:
        page.set_h_pagebreaks(chart_page_breaks(sheet))
    if sheet.printed is not None:
        rows, columns = sheet.printed.rows, sheet.printed.columns
        page.print_area(rows.start + 1, columns.start, rows.stop, columns.stop - 1)
    if sheet.frozen and sheet.pages_wide > 1:
        page.repeat_columns(0, sheet.frozen - 1)
    title = clean_text(sheet.title).replace("\n", " ")[:LONGEST_HEADER].replace("&", "&&")
    page.set_header(f"&L{title}")
    page.set_footer("&L&A&RPage &P of &N")


def _in_row(formula: str, columns: dict[str, int], row: int) -> str:
    """Return a formula with the cells of a row in the place of the headings it names."""
    return _HEADING_NAMED.sub(lambda found: xl_rowcol_to_cell(row, columns[found[1]]), formula)


def _as_number(look: dict[str, Any], shown: str) -> dict[str, Any]:
    return {**look, "num_format": shown, "align": "right"}


def _write(
    page: Worksheet, column: _Column, place: tuple[int, int], cell: str | Number | date, *, head: bool
) -> None:
    match cell:
        case str():
            write_text(page, *place, cell, column.look("", head=head))
        case date():
            page.write_datetime(*place, cell, column.look("yyyy-mm-dd", head=head))
        case _:
            number, shown = _number(cell, column.heading.decimals)
            page.write_number(*place, number, column.look(shown, head=head))


def _lines(heading: Heading, cell: Cell) -> int:
    """Return how many lines the text of a cell takes; a little room is left for fonts that run wide."""
    if not isinstance(cell, str):
        return 1
    if len(cell) <= heading.width - 2 and "\n" not in cell:
        return 1
    return sum(max(1, len(wrap(line, heading.width - 2))) for line in cell.split("\n")) if cell else 1


def _heading_lines(heading: Heading) -> int:
    """Return how many lines a heading takes; bold type runs wide."""
    return len(wrap(heading.text, max(1, int(heading.width * BOLD_FILLS)))) or 1


def _side(heading: Heading) -> dict[str, Any]:
    """Return how the text of a column stands: away from the number in the column before it."""
    return {"align": "left", "indent": 1} if heading.kind is ColumnKind.TEXT else {"align": "right"}


def _number(cell: Number, decimals: int) -> tuple[float, str]:
    """Return a number and the number format that shows it with its unit and no more decimals than it has."""
    match cell:
        case int():
            return cell, "0"
        case Percent():
            return float(cell.share), f"{_digits(cell.value, decimals)}%"
        case Load():
            return float(cell.amount), f'{_digits(cell.amount, decimals)} "{cell.unit}"'
        case Decimal():
            return float(cell), _digits(cell, decimals)


@lru_cache(maxsize=4096)
def _digits(value: Decimal, decimals: int) -> str:
    exponent = round(value, decimals).normalize().as_tuple().exponent
    places = -exponent if isinstance(exponent, int) and exponent < 0 else 0
    return f"0.{'0' * places}" if places else "0"
