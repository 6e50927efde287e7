"""Flags as JSON and CSV."""

from __future__ import annotations

import csv
import io
import json

import pytest

from compiler.cellref import CellRef
from compiler.demo.workbooks import WITH_MISTAKES, demo_source
from compiler.flags.catalogue import flag
from compiler.flags.model import Remark
from compiler.flags.tabular import COLUMNS, flags_as_csv, flags_as_json, flags_from_json
from compiler.pipeline.check import check_source

FULL = flag(
    Remark("restricted-exercise", "The restriction rules out Press.", "Add a row to Changes."),
    CellRef("Programme", 3, 5),
    client="Łucja Dołęga",
    found="Press",
    related=(CellRef("Clients", 2, 9), CellRef("Restrictions", 4, 2)),
    touches=("Łucja Dołęga", "Bo Dale"),
)
BARE = flag(Remark("macros-ignored", "The workbook has macros."))
WHOLE_SHEET = flag(Remark("unused-exercises", "Two are not used."), sheet="Exercises")


def test_json_is_read_back() -> None:
    """What was written is what was read, for flags of every shape."""
    mistakes = check_source(demo_source(WITH_MISTAKES)).flags
    assert len({found.slug for found in mistakes}) > 50
    flags = (BARE, WHOLE_SHEET, FULL, *mistakes)
    assert flags_from_json(flags_as_json(flags, "block.xlsx")) == flags


def test_json() -> None:
    """The document of the design: version, workbook, counts, and flags with null for what there is not."""
    assert json.loads(flags_as_json([BARE, FULL], "block.xlsx")) == {
        "version": 1,
        "workbook": "block.xlsx",
        "counts": {"error": 1, "warning": 0, "note": 1},
        "flags": [
            {
                "slug": "macros-ignored",
                "severity": "note",
                "sheet": None,
                "cell": None,
                "client": None,
                "touches": None,
                "found": None,
                "message": "The workbook has macros.",
                "hint": None,
                "related": None,
            },
            {
                "slug": "restricted-exercise",
                "severity": "error",
                "sheet": "Programme",
                "cell": "E3",
                "client": "Łucja Dołęga",
                "touches": ["Łucja Dołęga", "Bo Dale"],
                "found": "Press",
                "message": "The restriction rules out Press.",
                "hint": "Add a row to Changes.",
                "related": ["Clients!I2", "Restrictions!B4"],
            },
        ],
    }


def test_json_keeps_names_readable() -> None:
    """Names stand as they are typed, not as escapes."""
    assert "Łucja" in flags_as_json([FULL], "block.xlsx")


def test_csv() -> None:
    """The same columns in the same order; lists with semicolons; empty for what there is not."""
    header, bare, full = csv.reader(io.StringIO(flags_as_csv([BARE, FULL]), newline=""))
    assert tuple(header) == COLUMNS
    assert bare == ["macros-ignored", "note", "", "", "", "", "", "The workbook has macros.", "", ""]
    assert full[5] == "Łucja Dołęga; Bo Dale"
    assert full[9] == "Clients!I2; Restrictions!B4"


@pytest.mark.parametrize("text", ["=1+1", "+2.5 kg", "-", "@home", "\ttab", "\rreturn"])
def test_csv_has_no_formulas(text: str) -> None:
    """What a spreadsheet program would run is text with an apostrophe (OWASP, "CSV Injection", lists these starts)."""
    made = flags_as_csv([flag(Remark("unreadable-load", text), CellRef("Programme", 2, 1), found=text)])
    row = next(csv.DictReader(io.StringIO(made, newline="")))
    assert row["found"] == row["message"] == f"'{text}"


def test_half_a_character() -> None:
    """A surrogate without its other half can be written out."""
    broken = flag(Remark("unprintable-character", "x\ud800"), CellRef("Clients", 2, 1), found="x\ud800")
    assert flags_as_json([broken], "b\ud800.xlsx").encode("utf-8")
    assert flags_as_csv([broken]).encode("utf-8-sig")
