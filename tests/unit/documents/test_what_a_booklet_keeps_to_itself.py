"""Nobody reads another's tests, and nobody reads a reason: what is changed in those cells changes no other booklet.

What stands in no booklet can be anything. That a page holds nobody else's name is tested where the pages of a whole
print run are, in `tests/unit/render/test_print_run.py`.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal

import pytest

from compiler.demo.workbooks import demo_source
from compiler.documents.booklet import build_booklet
from compiler.documents.booklet_value import Booklet
from compiler.pipeline.check import check_source
from compiler.source.cells import SourceBook, SourceCell, SourceSheet

Edit = Callable[[str, str], str]
"""From the client, or whatever stands in the first column, and the text of a cell to another text."""


def booklets_of(source: SourceBook) -> dict[str, Booklet]:
    checked = check_source(source)
    assert checked.book is not None
    return {plan.name: build_booklet(checked.book, plan) for plan in checked.plans}


@pytest.fixture(scope="module")
def as_written() -> dict[str, Booklet]:
    return booklets_of(demo_source())


def edited(source: SourceBook, sheet: str, column: str, edit: Edit) -> SourceBook:
    """Return a workbook with the cells of one column edited, where they are not blank."""
    return replace(
        source,
        sheets=tuple(_edited(found, column, edit) if found.name == sheet else found for found in source.sheets),
    )


def _edited(sheet: SourceSheet, column: str, edit: Edit) -> SourceSheet:
    head = next(at for at, cell in sheet.cells.items() if cell.value == column)
    cells: dict[tuple[int, int], SourceCell] = {}
    for at, cell in sheet.cells.items():
        if at[1] == head[1] and at[0] > head[0] and cell.value is not None:
            first = sheet.cells.get((at[0], 1))
            cells[at] = replace(cell, value=edit(str(first.value if first else ""), str(cell.value)))
        else:
            cells[at] = cell
    return replace(sheet, cells=cells)


@pytest.mark.parametrize("client", ["Imogen Thackray", "Callum Wraith", "Mabel Stannard"])
def test_tests_are_read_in_their_own_booklet_alone(client: str, as_written: dict[str, Booklet]) -> None:
    """Every tested weight 5 kg heavier: the loads of this client change, no word of anybody else's."""

    def heavier(who: str, load: str) -> str:
        return str(Decimal(load) + 5) if who == client else load

    after = booklets_of(edited(demo_source(), "Tests", "Load", heavier))
    assert {name for name, booklet in after.items() if booklet != as_written[name]} == {client}


@pytest.mark.parametrize(("sheet", "column"), [("Changes", "Why"), ("Clients", "Signed off by")])
def test_private_cells_are_printed_nowhere(sheet: str, column: str, as_written: dict[str, Booklet]) -> None:
    """Not for the client either: in a gym a booklet lies about."""
    seen: list[str] = []

    def other(who: str, text: str) -> str:
        seen.append(text)
        return f"Something else about {who}"

    assert booklets_of(edited(demo_source(), sheet, column, other)) == as_written
    assert seen


def test_names_of_restrictions_are_printed_nowhere(as_written: dict[str, Booklet]) -> None:
    """They are health facts; what is printed is what the coach put under Words in booklet."""
    names: list[str] = []

    def numbered(_first: str, name: str) -> str:
        names.append(name)
        return f"restriction {len(names)}"

    source = edited(demo_source(), "Restrictions", "Restriction", numbered)

    def same(_client: str, listed: str) -> str:
        return ", ".join(f"restriction {names.index(name) + 1}" for name in listed.split(", "))

    assert booklets_of(edited(source, "Clients", "Restrictions", same)) == as_written
    assert names
