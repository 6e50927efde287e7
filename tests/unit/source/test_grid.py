"""A Markdown table is a workbook too."""

from __future__ import annotations

from decimal import Decimal

import pytest

from compiler.cellref import CellRef
from compiler.source.cells import CellType
from compiler.source.grid import GridError, book_from_grid, cell_from_text

HERE = CellRef("Tests", 1, 1)
BOOK = r"""
dates from 1904

## Tests

Prose that says what the sheet shows.

hidden rows: 3, 4
merged: A2:A4, C2:C2

| Client | Load | Date |
| --- | :---: | --- |
| Imogen Thackray | 75% | {date 2026-08-10} |
|  | a \| b<br>c | |

## Old

hidden sheet

| x |
"""


def test_headings_are_sheets_and_the_first_row_is_row_1() -> None:
    book = book_from_grid(BOOK)
    tests, old = book.sheets
    assert [sheet.name for sheet in book.sheets] == ["Tests", "Old"]
    assert {
        "A1": "Client",
        "B1": "Load",
        "C1": "Date",
        "A2": "Imogen Thackray",
        "B2": "75%",
        "C2": Decimal(44782),
        "B3": "a | b\nc",
    } == {cell.place.a1: cell.value for cell in tests.cells.values()}
    assert (frozenset({3, 4}), ((2, 1, 4, 1), (2, 3, 2, 3)), True) == (tests.hidden_rows, tests.merges, old.hidden)
    assert all(cell.serial_epoch_1904 for cell in tests.cells.values())


@pytest.mark.parametrize(
    ("text", "value", "kind", "code", "formula"),
    [
        ("75", "75", CellType.TEXT, "General", None),
        (r"\{number 75}", "{number 75}", CellType.TEXT, "General", None),
        ("{number 75}", Decimal(75), CellType.NUMBER, "General", None),
        ("{number 0.75 as 0%}", Decimal("0.75"), CellType.NUMBER, "0%", None),
        ("{number 46244 as d-mmm}", Decimal(46244), CellType.DATE, "d-mmm", None),
        ("{date 2026-08-10}", Decimal(46244), CellType.DATE, "yyyy-mm-dd", None),
        ("{date 2026-08-10 as d-mmm}", Decimal(46244), CellType.DATE, "d-mmm", None),
        ("{formula =A1*2 gives 5}", Decimal(5), CellType.NUMBER, "General", "=A1*2"),
        ("{formula =A1 gives 0.5 as 0%}", Decimal("0.5"), CellType.NUMBER, "0%", "=A1"),
        ('{formula =A1 gives "60 kg"}', "60 kg", CellType.TEXT, "General", "=A1"),
        ("{formula =A1 gives #N/A}", "#N/A", CellType.ERROR, "General", "=A1"),
        ("{formula =A1 gives TRUE}", True, CellType.TRUTH, "General", "=A1"),
        ("{formula =A1}", None, CellType.UNCALCULATED, "General", "=A1"),
        ("{error #N/A}", "#N/A", CellType.ERROR, "General", None),
        ("{truth FALSE}", False, CellType.TRUTH, "General", None),
        ("{struck 60 kg}", "60 kg", CellType.TEXT, "General", None),
        ("{empty}", None, CellType.EMPTY, "General", None),
    ],
)
def test_entries(text: str, value: object, kind: CellType, code: str, formula: str | None) -> None:
    cell = cell_from_text(text, HERE)
    assert (value, kind, code, formula) == (cell.value, cell.type, cell.number_format, cell.formula)
    assert cell.struck is text.startswith("{struck")


@pytest.mark.parametrize("text", ["{numbr 75}", "{number seventy}", "{date 2026-13-01}"])
def test_a_slip_in_a_grid_is_told_to_its_author(text: str) -> None:
    with pytest.raises(GridError):
        cell_from_text(text, HERE)
