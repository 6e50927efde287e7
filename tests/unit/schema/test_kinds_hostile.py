"""Every file of tests/data/hostile opens or is refused as it should, and every cell reads as it should.

The files and their right readings are data (tests/data/hostile/SOURCE.md says where they come from); the columns of
their toy table are read by this project's own kinds.
"""

from __future__ import annotations

import json
import re
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from compiler.cellref import column_number
from compiler.flags.catalogue import CATALOGUE
from compiler.flags.model import Severity
from compiler.notation.values import Count, PercentLoad, Reps, Rest, WeightLoad
from compiler.quantities import plain
from compiler.schema.kinds import DATE, LOAD, NAME, REPS, REST, Kind, Refusal
from compiler.source.cells import SourceBook, SourceCell
from compiler.source.unreadable import UnreadableWorkbook
from compiler.source.xlsx import read_workbook

FOLDER = Path(__file__).parents[2] / "data" / "hostile"
EXPECTED: dict[str, dict[str, Any]] = json.loads((FOLDER / "expected.json").read_text(encoding="utf-8"))
KINDS: dict[str, Kind[Any]] = {"A": NAME, "B": REPS, "C": LOAD, "D": REST, "E": DATE}
REFUSED = {
    "21_password.xlsx": "protected-workbook",
    "22_really_csv.xlsx": "not-a-workbook",
    "23_truncated.xlsx": "damaged-workbook",
    "25_zip_bomb.xlsx": "workbook-too-large",
    "26_open_document.ods": "not-a-workbook",
}
STRUCTURE = {"09_merged_down.xlsx", "13_offset_and_blank_rows.xlsx", "14_bent_headers.xlsx"}
"""Files about rows, merges and headers: what a cell means there is told by the binding, not by a kind."""

DECIDED = {
    ("05_numbers_as_text.xlsx", "B6"): "silent: 05 has one reading",
    ("05_numbers_as_text.xlsx", "B7"): "silent: 5.0 has one reading",
    ("08_rest_times.xlsx", "D14"): "silent: 0:00 is no rest, however it was meant",
    ("10_hidden_and_filtered.xlsx", "A3"): "hidden rows are told once, by the binding",
    ("10_hidden_and_filtered.xlsx", "A4"): "hidden rows are told once, by the binding",
    ("10_hidden_and_filtered.xlsx", "D2"): "hidden columns are the binding's",
    ("20_names_to_fear.xlsx", "A5"): "file names are made elsewhere",
    ("20_names_to_fear.xlsx", "A6"): "file names are made elsewhere",
    ("20_names_to_fear.xlsx", "A7"): "file names are made elsewhere",
    ("20_names_to_fear.xlsx", "A10"): "the same name twice is told by the checks",
    ("20_names_to_fear.xlsx", "A11"): "the same name twice is told by the checks",
    ("20_names_to_fear.xlsx", "A16"): "a note: a member's number is a good name",
    ("20_names_to_fear.xlsx", "A17"): "what can be printed is told by the checks",
}
"""Cells whose level differs from the proposal, and why; their readings are the same."""


def cells_of(names: set[str]) -> list[tuple[str, str]]:
    return [(name, cell) for name in sorted(names) for cell in EXPECTED[name]["cells"] if "!" not in cell]


def cell_at(book: SourceBook, address: str) -> SourceCell | None:
    letters = address.rstrip("0123456789")
    return book.sheets[0].cells.get((int(address.removeprefix(letters)), column_number(letters)))


def said(value: object) -> str:
    """Return a value in the words of the expectations."""
    match value:
        case Reps(items=(Count(low=low, high=high),)):
            return f"reps {low}" if low == high else f"reps {low}..{high}"
        case PercentLoad(items=(item,)):
            return f"load {plain(item.low.value)} %"
        case WeightLoad(items=(item,), implements=None):
            return f"load {item.low}"
        case WeightLoad(items=(item,), implements=2):
            return f"same as 2x{item.low}"
        case Rest(low=low, high=high) if low == high:
            return f"rest {low} s"
        case date():
            return f"date {value.isoformat()}"
        case str():
            return f"text {value}"
    return str(value)


def wanted(reading: str, stored: str) -> str:
    """Return an expected reading without the words round it."""
    reading = re.sub(r" \(.*\)$|, read$|; .*$| for matching$", "", reading)
    reading = re.sub(r", control character dropped$", "", reading).replace('"', "")
    if reading.startswith(("text as it is", "printed exactly so", "client twice", "the same client")):
        return "as it is"
    return reading if reading != "text" else stored


@pytest.mark.parametrize("name", sorted(REFUSED))
def test_refused_before_anything_is_read(name: str) -> None:
    with pytest.raises(UnreadableWorkbook) as caught:
        read_workbook(FOLDER / name)
    assert REFUSED[name] == caught.value.flag.slug
    assert caught.value.flag.hint


@pytest.mark.parametrize("name", sorted(set(EXPECTED) - set(REFUSED)))
def test_opens(name: str) -> None:
    book = read_workbook(FOLDER / name)
    assert book.sheets[0].cells
    assert book.has_macros is (name == "24_macros.xlsm")
    assert book.date_1904 is (name == "15_date_1904.xlsx")


@pytest.mark.parametrize(("name", "address"), cells_of(set(EXPECTED) - set(REFUSED) - STRUCTURE))
def test_reads_as_expected(name: str, address: str) -> None:
    expected = EXPECTED[name]["cells"][address]
    cell = cell_at(read_workbook(FOLDER / name), address)
    if cell is None or cell.blank:
        assert expected["reading"] in {"empty", "nothing"}
        return
    result = KINDS[address[0]].read(cell)
    if isinstance(result, Refusal):
        assert expected["reading"].startswith(("none: ", "number 60", "text of 300 letters"))
        assert expected["level"] == "error"
        error = re.search(r"#[A-Z/0!?_]+", expected["reading"])
        assert error is None or error.group() in result.remark.message
        return
    reading = wanted(expected["reading"], str(cell.value))
    assert reading in {"as it is", said(result.value)}
    worst = {CATALOGUE[remark.slug].severity for remark in result.remarks}
    level = "warn" if Severity.WARNING in worst else "note" if worst else "ok"
    assert (level == expected["level"]) is ((name, address) not in DECIDED)


def test_names_to_fear_are_kept_to_the_letter() -> None:
    """Nothing in a name is escaped, evaluated or lost by reading; the same letters composed are the same name."""
    book = read_workbook(FOLDER / "20_names_to_fear.xlsx")
    names = [NAME.read(cell) for (row, column), cell in book.sheets[0].cells.items() if column == 1 and row > 1]
    values = [None if isinstance(name, Refusal) else name.value for name in names]
    assert values == [
        "=1+1", "+Bo Tarn", "@cy", "../../Di Vale", "CON", "Ed Moor.", "Fay & <b>Lund",
        '<font color="[[1]]">Gil</font>', "José Ibar", "José Ibar", "NA", "None", "TRUE", None, "1234",
        "\U0001f3cb\ufe0f Kai", "דנה לוי", "山田 花子",
    ]  # fmt: skip


def test_what_lies_under_a_merge_is_kept_as_stored() -> None:
    sheet = read_workbook(FOLDER / "09_merged_down.xlsx").sheets[0]
    assert sheet.merges == ((2, 1, 4, 1), (3, 4, 4, 4), (5, 1, 6, 1))
    assert sheet.cells[6, 1].value == "Ghost"
    assert (3, 1) not in sheet.cells


def test_hidden_rows_columns_and_sheets_are_told() -> None:
    book = read_workbook(FOLDER / "10_hidden_and_filtered.xlsx")
    assert (frozenset({3, 4}), frozenset({4})) == (book.sheets[0].hidden_rows, book.sheets[0].hidden_columns)
    assert [sheet.hidden for sheet in book.sheets] == [False, True, True]


def test_a_table_that_starts_elsewhere_keeps_its_addresses() -> None:
    sheet = read_workbook(FOLDER / "13_offset_and_blank_rows.xlsx").sheets[0]
    assert [sheet.cells[row, 2].value for row in (3, 6, 9)] == ["Name", "Bo Tarn", "Cy Oram"]
    assert (7, 2) not in sheet.cells or sheet.cells[7, 2].blank


def test_headers_are_stored_as_typed() -> None:
    sheet = read_workbook(FOLDER / "14_bent_headers.xlsx").sheets[0]
    assert [
        sheet.cells[1, column].value if (1, column) in sheet.cells else None for column in range(1, 9)
    ] == ["Date", "NAME", "Load\n(kg)", "reps ", "Rest\u00a0", "Load (kg)", None, "Notes"]
