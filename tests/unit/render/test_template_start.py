"""The front sheet: what it says of rows and blanks, now and after LibreOffice has worked it out again."""

from __future__ import annotations

import shutil
from pathlib import Path
from typing import Any

import pytest

from compiler.demo.workbooks import demo_workbook
from compiler.render.template import render_template
from compiler.schema.sheets import NOT_READ, SHEETS
from compiler.source.cells import SourceBook
from tests.recalculation import differences, recalculated
from tests.support import source_book
from tests.workbook_content import open_workbook

START = NOT_READ[0]
BEGUN = {
    "Block": [["Setting", "Value"], ["Start date", "2026-12-07"]],
    "Exercises": [["Exercise", "Implement"], ["Back squat", "barbell"], ["", "dumbbells"]],
    "Programme": [["Programme", "Session", "Exercise"], ["Strength", "Day one", "Back squat"], ["Strength", "", ""]],
    "Clients": [["Client", "Programme"], ["Imogen Thackray", "Strength"], ["Bo Aldous", ""]],
    "Tests": [["Client", "Date", "Exercise", "Load"], ["", "", "Back squat", "80"]],
}


def state(workbook: bytes) -> dict[str, tuple[Any, Any]]:
    """Return rows and what is still to do, by sheet."""
    sheet = open_workbook(workbook, data_only=True)[START]
    names = {spec.name for spec in SHEETS}
    return {row[1].value: (row[4].value, row[5].value or "") for row in sheet.iter_rows() if row[1].value in names}


def begun() -> SourceBook:
    return source_book(BEGUN)


def test_an_empty_workbook_says_where_to_begin() -> None:
    """The sheets that a first booklet needs are to begin; the others may stay as they are."""
    found = state(render_template(4, 3))
    assert found.pop("Block") == (4, "no start date")
    assert {name for name, (_, left) in found.items() if left == "to begin"} == {"Exercises", "Programme", "Clients"}
    assert {left for _, left in found.values()} == {"to begin", ""}


def test_blank_cells_of_begun_rows_are_counted() -> None:
    """Counted by hand: a name; a session and an exercise; a programme; a client and a date."""
    found = {name: left for name, (_, left) in state(render_template(1, 1, fill=begun())).items()}
    assert found["Block"] == "nothing"
    assert [found[name] for name in ("Exercises", "Programme", "Clients", "Tests", "Kit")] == [
        "1 blank",
        "2 blank",
        "1 blank",
        "2 blank",
        "",
    ]


@pytest.mark.skipif(shutil.which("soffice") is None, reason="needs LibreOffice")
def test_front_sheet_is_what_libreoffice_works_out(tmp_path: Path) -> None:
    """Every stored result of the front sheet, of an empty, a begun, a short and a full workbook."""
    books = {
        "empty": render_template(4, 3),
        "begun": render_template(1, 1, fill=begun()),
        "short": render_template(12, 2, short=True),
        "full": demo_workbook(),
    }
    again = recalculated(books, tmp_path)
    for name, workbook in books.items():
        assert state(again[name]) == state(workbook)
        assert {place: pair for place, pair in differences(workbook, again[name], 0).items() if _tell(pair)} == {}


def _tell(pair: tuple[Any, Any]) -> bool:
    """Tell whether two results differ; an empty text is stored by one and left out by the other."""
    return (pair[0] or "") != (pair[1] or "")
