"""Books for the checks, written as Markdown tables under the names of their sheets; row 1 is the header."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from compiler.binding.records import bind_book
from compiler.cellref import CellRef
from compiler.checks import Check
from compiler.model.book import Book
from compiler.schema.column import weekly_header
from compiler.schema.sheets import SHEETS
from compiler.source.cells import CellType, SourceBook, SourceCell, SourceSheet

Found = list[tuple[str, str]]
Finder = Callable[[Check, str], Found]


def _sheet(name: str, lines: list[str]) -> SourceSheet:
    cells = {}
    rows = [line for line in lines if line.startswith("|") and set(line) - set("|- ")]
    for number, line in enumerate(rows, start=1):
        for column, text in enumerate(line.strip().strip("|").split("|"), start=1):
            if text.strip():
                place = CellRef(name, number, column)
                cells[number, column] = SourceCell(place, text.strip(), CellType.TEXT)
    return SourceSheet(name, cells)


def _completed(sheet: SourceSheet) -> SourceSheet:
    """Return the sheet with the columns that it needs and a short test leaves out, on its right."""
    spec = next(spec for spec in SHEETS if spec.name == sheet.name)
    there = {str(cell.value) for (row, _), cell in sheet.cells.items() if row == 1}
    needed = [column.header for column in spec.columns if not column.optional]
    needed += [weekly_header(column, 1) for column in spec.weekly if not column.optional]
    cells = dict(sheet.cells)
    right = max((column for _, column in cells), default=0)
    for header in needed if not spec.settings else ():
        if header not in there:
            right += 1
            cells[1, right] = SourceCell(CellRef(sheet.name, 1, right), header, CellType.TEXT)
    return SourceSheet(sheet.name, cells)


def book_of(text: str) -> Book:
    """Return the Book of Markdown tables. What is not told is blank."""
    sheets: dict[str, list[str]] = {
        "Exercises": [],
        "Programme": [],
        "Clients": [],
    }
    current: list[str] = []
    for line in text.splitlines():
        if line.strip().startswith("#"):
            current = sheets[line.strip("# ")] = []
        else:
            current.append(line.strip())
    bound = bind_book(
        SourceBook("block.xlsx", tuple(_completed(_sheet(name, lines)) for name, lines in sheets.items()))
    )
    assert bound.book is not None, bound.flags
    return bound.book


@pytest.fixture(name="book_of")
def book_of_fixture() -> Callable[[str], Book]:
    return book_of


@pytest.fixture
def found() -> Finder:
    """Return what one check finds in a book, as (place, slug), sorted."""

    def find(check: Check, text: str) -> Found:
        flags = check(book_of(text))
        return sorted((str(flag.place) if flag.place else flag.sheet_name or "", flag.slug) for flag in flags)

    return find
