"""The formulas behind the marks, worked out by LibreOffice on what people type and paste."""

from __future__ import annotations

import shutil
from io import BytesIO
from pathlib import Path

import pytest
from xlsxwriter import Workbook

from compiler.render.template_rules import wrong_when
from compiler.schema.column import Column
from compiler.schema.sheets import CLIENTS, EXERCISES, LOG_SHEET, PROGRAMME, TESTS
from tests.recalculation import recalculated
from tests.workbook_content import open_workbook

LOAD, REPS, SETS, NAME = (PROGRAMME.column(key) for key in ("load", "reps", "sets", "exercise"))
PART, DATE, EFFORT = PROGRAMME.column("part"), TESTS.column("date"), CLIENTS.column("highest_effort")
REST, TEMPO = PROGRAMME.column("rest"), PROGRAMME.column("tempo")
RESULT = TESTS.column("result")
LOG_ENTRY = LOG_SHEET.weekly[0]
HALF_PAST_ONE = 0.0625  # 1:30 as a time of day, LibreOffice: =TIMEVALUE("1:30")
OCTOBER = 46303  # 8 October 2026, LibreOffice: =DATEVALUE("2026-10-08")

CASES: tuple[tuple[Column, str | float, str, bool], ...] = (
    (LOAD, "75%", "@", False),
    (LOAD, "75", "@", True),
    (LOAD, 0.75, "0%", False),
    (LOAD, 0.75, "General", True),
    (LOAD, "RPE 8", "@", False),
    (LOAD, OCTOBER, "d-mmm", True),
    (REPS, "8-10", "@", False),
    (REPS, 8, "General", False),
    (REPS, OCTOBER, "d-mmm", True),
    (REPS, OCTOBER, "yyyy-mm-dd", True),
    (REPS, HALF_PAST_ONE, "h:mm", True),
    (REST, HALF_PAST_ONE, "h:mm", True),
    (REST, 90, "General", False),
    (RESULT, HALF_PAST_ONE, "General", True),
    (RESULT, "1:30", "@", False),
    (TEMPO, 3110, "General", False),
    (LOG_ENTRY, HALF_PAST_ONE, "h:mm", True),
    (LOG_ENTRY, 62.5, "General", False),
    (SETS, "3 x 8 @ 75%", "@", False),
    (SETS, "3 x 8 @ 8", "@", True),
    (NAME, "Back squat", "@", False),
    (NAME, " back squat ", "@", False),
    (NAME, "Front squat", "@", True),
    (PART, "warm up", "@", False),
    (PART, "warmup", "@", True),
    (EXERCISES.column("each_side"), "y", "@", False),
    (DATE, OCTOBER, "yyyy-mm-dd", False),
    (EFFORT, "80%", "@", False),
    (EFFORT, "8", "@", True),
)
"""A column, what stands in its cell with which number format, and whether it is plainly wrong."""


def book_of_cases() -> bytes:
    buffer = BytesIO()
    book = Workbook(buffer, {"in_memory": True})
    names = book.add_worksheet("Names")
    for row, name in enumerate(("Back squat", "Bench press")):
        names.write_string(row, 0, name)
    book.define_name("Exercises_column", "=Names!$A$1:$A$5000")
    sheet = book.add_worksheet("Cases")
    for row, (column, value, code, _) in enumerate(CASES):
        look = book.add_format({"num_format": code})
        if isinstance(value, str):
            sheet.write_string(row, 0, value, look)
        else:
            sheet.write_number(row, 0, value, look)
        formulas = [formula.removeprefix("=") for formula in wrong_when(column, f"A{row + 1}")]
        sheet.write_formula(row, 1, f"=OR(FALSE,{','.join(formulas or ['FALSE'])})")
    book.close()
    return buffer.getvalue()


@pytest.mark.skipif(shutil.which("soffice") is None, reason="needs LibreOffice")
def test_marks_tell_what_is_plainly_wrong(tmp_path: Path) -> None:
    again = open_workbook(recalculated({"cases": book_of_cases()}, tmp_path)["cases"], data_only=True)
    found = [bool(row[1]) for row in again["Cases"].iter_rows(values_only=True)]
    said = {(c.header, value, code): marked for (c, value, code, _), marked in zip(CASES, found, strict=True)}
    assert said == {(c.header, value, code): expected for c, value, code, expected in CASES}
