"""Neutral sheets -> workbook bytes. Equal sheets give equal bytes: no clock is read.

Numbers stay numbers, with their unit in the number format; text stays text; a formula carries the value it comes
to, so that every reader sees it. Headings are told by weight and a line, so that they survive a black-and-white
printer.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from datetime import UTC, date, datetime
from textwrap import wrap
from typing import Any

from xlsxwriter.format import Format
from xlsxwriter.utility import xl_range_abs
from xlsxwriter.workbook import Workbook
from xlsxwriter.worksheet import Worksheet

from compiler.documents.neutral import Cell, ColumnKind, Formula, Heading, Number, Sheet
from compiler.render.clean import clean_text, write_text
from compiler.render.formats import Formats
from compiler.render.numbers import number_format, serial, stored
from compiler.render.sheet_charts import add_charts, chart_page_breaks, print_areas
from compiler.render.sheet_rows import RowBook, SheetRows, letters

CREATED = datetime(2000, 1, 1, tzinfo=UTC)
"""Stands in every workbook in place of the time of day."""

PAPERS = {"A4": 9, "Letter": 1}  # as the file format numbers them
FONT: dict[str, Any] = {"font_name": "Calibri", "font_size": 11, "valign": "top"}
HEADING: dict[str, Any] = {**FONT, "bold": True, "text_wrap": True, "bottom": 1, "valign": "bottom"}
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
_ROW = "\0"
"""Stands in a formula for the number of the row it is in."""


class _Column:
    """What the cells under one heading are, and how many lines they take, kept by their value: many are alike.

    `columns` are the letters of all columns by their headings.
    """

    def __init__(
        self, rows: SheetRows, formats: Formats, heading: Heading, columns: dict[str, str], *, head: bool
    ) -> None:
        self.width = heading.width
        self._rows = rows
        self._formats = formats
        self._columns = columns
        self._decimals = heading.decimals
        self._font = {**FONT, **SECTION} if head else FONT
        wrapped = {"text_wrap": True} if heading.width >= WRAPPED_FROM else {}
        self._words = formats.of({**self._font, **_side(heading), **wrapped})
        self._known: dict[str | Number | date | None, str] = {}
        self._patterns: dict[str, str] = {}
        self._results: dict[Number, tuple[float, Format]] = {}
        self._lines: dict[Cell, int] = {}

    def cell(self, value: Cell, number: int) -> str:
        """Return what a cell is, in a row counted from 0."""
        if isinstance(value, Formula):
            return self._formula(value, number)
        made = self._known.get(value)
        if made is None:
            made = self._known[value] = self._made(value)
        return made

    def lines(self, value: Cell) -> int:
        """Return how many lines a cell takes."""
        count = self._lines.get(value)
        if count is None:
            count = self._lines[value] = _lines(self.width, value)
        return count

    def _formula(self, formula: Formula, number: int) -> str:
        pattern = self._patterns.get(formula.text)
        if pattern is None:
            pattern = self._patterns[formula.text] = _with_cells(formula.text, self._columns)
        result = self._results.get(formula.value)
        if result is None:
            look = self._as_number(number_format(formula.value, self._decimals))
            result = self._results[formula.value] = stored(formula.value), look
        return self._rows.formula(pattern.replace(_ROW, str(number + 1)), *result)

    def _made(self, value: str | Number | date | None) -> str:
        match value:
            case None:
                return self._rows.blank(self._formats.of(self._font))
            case str():
                return self._rows.text(clean_text(value), self._words)
            case date():
                return self._rows.number(serial(value), self._as_number("yyyy-mm-dd"))
            case _:
                return self._rows.number(stored(value), self._as_number(number_format(value, self._decimals)))

    def _as_number(self, kind: str) -> Format:
        return self._formats.of({**self._font, "num_format": kind, "align": "right"})


def render_sheets(sheets: Iterable[Sheet]) -> bytes:
    """Return the workbook that shows the sheets. They are asked for one by one, and none is kept."""
    book = RowBook()
    book.book.set_properties({"created": CREATED})
    formats = Formats(book.book)
    for sheet in sheets:
        page = book.book.add_worksheet(sheet.name)
        _render(page, book.rows_of(page), formats, sheet)
        add_charts(book.book, page, sheet, formats.of({**FONT, "italic": True}))
        _name_lists(book.book, sheet)
    return book.close()


def _name_lists(book: Workbook, sheet: Sheet) -> None:
    if sheet.charts:
        # XlsxWriter sets one area a sheet; this is the name that the format gives them
        book.define_name(f"'{sheet.name}'!_xlnm.Print_Area", f"={','.join(print_areas(sheet))}")
    for named in sheet.names:
        cells = xl_range_abs(named.rows.start + 1, named.column, named.rows.stop, named.column)
        book.define_name(named.name, f"='{sheet.name}'!{cells}")


def _render(page: Worksheet, rows: SheetRows, formats: Formats, sheet: Sheet) -> None:
    for place, heading in enumerate(sheet.headings):
        page.set_column(place, place, heading.width, formats.of(FONT))
        write_text(page, 0, place, heading.text, formats.of({**HEADING, **_side(heading)}))
    page.set_row(0, LINE_HEIGHT * max(_heading_lines(heading) for heading in sheet.headings))
    _add_rows(page, rows, formats, sheet)
    page.freeze_panes(1, sheet.frozen)
    if sheet.filtered:
        page.autofilter(0, 0, max(1, len(sheet.rows)), len(sheet.headings) - 1)
    _set_up_print(page, sheet)


def _add_rows(page: Worksheet, rows: SheetRows, formats: Formats, sheet: Sheet) -> None:
    at = [letters(place) for place in range(len(sheet.headings))]
    named = {heading.text: letter for heading, letter in zip(sheet.headings, at, strict=True)}
    plain, heads = (
        [_Column(rows, formats, heading, named, head=head) for heading in sheet.headings] for head in (False, True)
    )
    wrapping = [(place, column) for place, column in enumerate(plain) if column.width >= WRAPPED_FROM]
    for number, row in enumerate(sheet.rows):
        head = number in sheet.heads
        lines = max((column.lines(row[place]) for place, column in wrapping), default=1)
        height = LINE_HEIGHT * lines if lines > 1 else None
        if height is not None:
            page.set_row(number + 1, height)  # for the charts, whose places XlsxWriter works out
        cells = zip(at, heads if head else plain, row, strict=True)
        said = [(letter, column.cell(cell, number + 1)) for letter, column, cell in cells if head or cell is not None]
        rows.add(number + 1, said, height)


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


def _with_cells(formula: str, columns: dict[str, str]) -> str:
    """Return a formula, without its =, with cells in the place of the headings it names, `_ROW` for their row."""
    return _HEADING_NAMED.sub(lambda found: columns[found[1]] + _ROW, formula.removeprefix("="))


def _lines(width: int, cell: Cell) -> int:
    """Return how many lines the text of a cell takes; a little room is left for fonts that run wide."""
    if not isinstance(cell, str):
        return 1
    if len(cell) <= width - 2 and "\n" not in cell:
        return 1
    return sum(max(1, len(wrap(line, width - 2))) for line in cell.split("\n")) if cell else 1


def _heading_lines(heading: Heading) -> int:
    """Return how many lines a heading takes; bold type runs wide."""
    return len(wrap(heading.text, max(1, int(heading.width * BOLD_FILLS)))) or 1


def _side(heading: Heading) -> dict[str, Any]:
    """Return how the text of a column stands: away from the number in the column before it."""
    return {"align": "left", "indent": 1} if heading.kind is ColumnKind.TEXT else {"align": "right"}
