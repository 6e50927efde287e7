"""Neutral sheets -> workbook bytes. Equal sheets give equal bytes: no clock is read.

Numbers stay numbers, with their unit in the number format; text stays text. Headings are told by weight and a
line, so that they survive a black-and-white printer.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import UTC, date, datetime
from decimal import Decimal
from io import BytesIO
from textwrap import wrap
from typing import Any

from xlsxwriter.format import Format
from xlsxwriter.workbook import Workbook
from xlsxwriter.worksheet import Worksheet

from compiler.documents.neutral import Cell, ColumnKind, Heading, Sheet
from compiler.quantities import Load, Percent
from compiler.render.clean import clean_text, write_text

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

MARGINS = {"left": 0.4, "right": 0.4, "top": 0.75, "bottom": 0.6}  # inches, as the file format has them
LONGEST_HEADER = 200


class _Formats:
    """The formats of one workbook; the same properties give the same format."""

    def __init__(self, book: Workbook) -> None:
        self._book = book
        self._made: dict[tuple[tuple[str, Any], ...], Format] = {}

    def of(self, properties: dict[str, Any]) -> Format:
        key = tuple(sorted(properties.items()))
        if key not in self._made:
            self._made[key] = self._book.add_format(properties)
        return self._made[key]


def render_sheets(sheets: Sequence[Sheet]) -> bytes:
    """Return the workbook that shows the sheets."""
    stream = BytesIO()
    book = Workbook(stream, {"in_memory": True})
    book.set_properties({"created": CREATED})
    formats = _Formats(book)
    for sheet in sheets:
        _render(book.add_worksheet(sheet.name), formats, sheet)
    book.close()
    return stream.getvalue()


def _render(page: Worksheet, formats: _Formats, sheet: Sheet) -> None:
    for column, heading in enumerate(sheet.headings):
        page.set_column(column, column, heading.width, formats.of(FONT))
        write_text(page, 0, column, heading.text, formats.of({**HEADING, **_side(heading)}))
    for number, row in enumerate(sheet.rows):
        look = {**FONT, **SECTION} if number in sheet.heads else FONT
        lines = max(map(_lines, sheet.headings, row), default=1)
        if lines > 1:
            page.set_row(number + 1, LINE_HEIGHT * lines)
        for column, (heading, cell) in enumerate(zip(sheet.headings, row, strict=True)):
            _write(page, formats, (number + 1, column), heading, cell, look)
    page.freeze_panes(1, sheet.frozen)
    if sheet.filtered:
        page.autofilter(0, 0, max(1, len(sheet.rows)), len(sheet.headings) - 1)
    _set_up_print(page, sheet)


def _set_up_print(page: Worksheet, sheet: Sheet) -> None:
    page.set_landscape()
    page.set_paper(PAPERS.get(sheet.paper, PAPERS["A4"]))
    page.set_margins(**MARGINS)
    page.fit_to_pages(sheet.pages_wide, 0)
    page.repeat_rows(0)
    if sheet.frozen and sheet.pages_wide > 1:
        page.repeat_columns(0, sheet.frozen - 1)
    title = clean_text(sheet.title).replace("\n", " ")[:LONGEST_HEADER].replace("&", "&&")
    page.set_header(f"&L{title}")
    page.set_footer("&L&A&RPage &P of &N")


def _write(
    page: Worksheet, formats: _Formats, place: tuple[int, int], heading: Heading, cell: Cell, look: dict[str, Any]
) -> None:
    row, column = place
    match cell:
        case None:
            if "bold" in look:
                page.write_blank(row, column, None, formats.of(look))
        case str():
            wrapped = {"text_wrap": True} if heading.width >= WRAPPED_FROM else {}
            write_text(page, row, column, cell, formats.of({**look, **_side(heading), **wrapped}))
        case date():
            page.write_datetime(row, column, cell, formats.of({**look, "num_format": "yyyy-mm-dd", "align": "right"}))
        case _:
            number, shown = _number(cell, heading.decimals)
            page.write_number(row, column, number, formats.of({**look, "num_format": shown, "align": "right"}))


def _lines(heading: Heading, cell: Cell) -> int:
    """Return how many lines the text of a cell takes; a little room is left for fonts that run wide."""
    if not isinstance(cell, str) or heading.width < WRAPPED_FROM:
        return 1
    return sum(max(1, len(wrap(line, heading.width - 2))) for line in cell.split("\n")) if cell else 1


def _side(heading: Heading) -> dict[str, Any]:
    """Return how the text of a column stands: away from the number in the column before it."""
    return {"align": "left", "indent": 1} if heading.kind is ColumnKind.TEXT else {"align": "right"}


def _number(cell: int | Decimal | Load | Percent, decimals: int) -> tuple[float, str]:
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


def _digits(value: Decimal, decimals: int) -> str:
    exponent = round(value, decimals).normalize().as_tuple().exponent
    places = -exponent if isinstance(exponent, int) and exponent < 0 else 0
    return f"0.{'0' * places}" if places else "0"
