"""Rows written as text against XlsxWriter's own writing of the same cells: the parts of the workbook are the same."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date
from io import BytesIO
from zipfile import ZipFile

from hypothesis import given
from hypothesis import strategies as st
from openpyxl import load_workbook
from xlsxwriter.format import Format
from xlsxwriter.workbook import Workbook
from xlsxwriter.worksheet import Worksheet

from compiler.render.clean import clean_text, write_string
from compiler.render.numbers import serial
from compiler.render.sheet_rows import RowBook, SheetRows, letters

Cell = str | float | date | tuple[str, float] | None
Looks = Callable[[Cell], Format]
HEADINGS = ("One", "Two", "Three")
CELLS = st.one_of(
    st.none(),
    st.text(alphabet=st.characters(codec="utf-8"), max_size=12).map(clean_text),
    st.sampled_from(["=1+1", "_x0041_", " a ", "<r>", "http://a.example", "x"]),
    st.integers(-1_000_000, 1_000_000),
    st.floats(allow_nan=False, allow_infinity=False),
    st.dates(min_value=date(1900, 1, 1)),
    st.tuples(st.sampled_from(['=IF(A1<2,"a&b",3)', "=SUM(A1:A3)*0.5"]), st.floats(-1e9, 1e9)),
)
ROWS = st.lists(st.lists(CELLS, min_size=3, max_size=3), min_size=1, max_size=40)


def looks_of(book: Workbook) -> Looks:
    """Return the format of each kind of cell, of those that a workbook has."""
    made: dict[type, Format] = {
        kind: book.add_format({"num_format": shown})
        for kind, shown in ((str, "@"), (date, "yyyy-mm-dd"), (int, "0"), (float, "0.0"), (tuple, "0.00"))
    }
    empty = book.add_format({"bold": True})
    return lambda cell: made.get(type(cell), empty)


def written_by_xlsxwriter(rows: list[list[Cell]]) -> bytes:
    """Return a workbook of rows under a heading, by XlsxWriter's public methods alone."""
    stream = BytesIO()
    book = Workbook(stream, {"in_memory": True})
    looks, page = looks_of(book), book.add_worksheet("Page")
    page.write_row(0, 0, HEADINGS)
    for number, row in enumerate(rows, start=1):
        page.set_row(number, 15 * (2 + number % 3))
        for column, cell in enumerate(row):
            write(page, number, column, cell, looks(cell))
    book.close()
    return stream.getvalue()


def write(page: Worksheet, number: int, column: int, cell: Cell, look: Format) -> None:
    match cell:
        case None:
            page.write_blank(number, column, None, look)
        case str():
            write_string(page, number, column, cell, look)
        case date():
            page.write_datetime(number, column, cell, look)
        case tuple():
            page.write_formula(number, column, cell[0], look, cell[1])
        case _:
            page.write_number(number, column, cell, look)


def written_as_text(rows: list[list[Cell]]) -> bytes:
    """Return the same workbook by `SheetRows`."""
    made = RowBook()
    looks, page = looks_of(made.book), made.book.add_worksheet("Page")
    page.write_row(0, 0, HEADINGS)
    taking = made.rows_of(page)
    for number, row in enumerate(rows, start=1):
        cells = [(letters(column), said(taking, cell, looks(cell))) for column, cell in enumerate(row)]
        taking.add(number, cells, 15 * (2 + number % 3))
    return made.close()


def said(rows: SheetRows, cell: Cell, look: Format) -> str:
    match cell:
        case None:
            return rows.blank(look)
        case str():
            return rows.text(cell, look)
        case date():
            return rows.number(serial(cell), look)
        case tuple():
            return rows.formula(cell[0].removeprefix("="), cell[1], look)
        case _:
            return rows.number(cell, look)


def parts(content: bytes) -> dict[str, bytes]:
    """Return the parts of a workbook but the time of day, without the spans of rows, which are a mere hint."""
    with ZipFile(BytesIO(content)) as package:
        named = {name: package.read(name) for name in package.namelist() if name != "docProps/core.xml"}
    return {name: re.sub(rb' spans="[\d:]+"', b"", part) for name, part in named.items()}


@given(ROWS)
def test_rows_are_written_as_xlsxwriter_writes_them(rows: list[list[Cell]]) -> None:
    """Texts, numbers, dates, formulas, empty cells, formats, heights, the extent of the sheet: byte for byte."""
    assert parts(written_by_xlsxwriter(rows)) == parts(written_as_text(rows))


def test_many_rows_are_all_there() -> None:
    """Rows that have waited packed come before those that have not, and every cell is read back."""
    made = RowBook()
    page, look = made.book.add_worksheet("Page"), made.book.add_format({})
    page.write_row(0, 0, HEADINGS)
    rows = made.rows_of(page)
    for number in range(1, 9_000):
        rows.add(number, [("A", rows.text(f"text {number}", look)), ("B", rows.number(number, look))])
    read = load_workbook(BytesIO(made.close()), read_only=True)["Page"].iter_rows(min_row=2, values_only=True)
    assert list(read) == [(f"text {number}", number, None) for number in range(1, 9_000)]


def test_markup_of_another_program_is_text() -> None:
    """What XlsxWriter would take for its own markup is read back as it was typed."""
    made = RowBook()
    page, look = made.book.add_worksheet("Page"), made.book.add_format({})
    page.write_row(0, 0, HEADINGS)
    rows = made.rows_of(page)
    rows.add(1, [("A", rows.text("<r><t>bold & <b></r>", look))])
    assert load_workbook(BytesIO(made.close()))["Page"]["A2"].value == "<r><t>bold & <b></r>"
