"""An empty workbook filled in by typing in LibreOffice, cell by cell, then checked and compiled.

Typing is what turns 8-10 into a date and 75% into 0.75 elsewhere; here the cells are Text, and stay what was typed.
"""

from __future__ import annotations

import json
import os
import shutil
import subprocess
from decimal import Decimal
from pathlib import Path

import pytest
from openpyxl import load_workbook

from compiler.cli import main
from compiler.exits import Exit
from compiler.pipeline.check import check_workbook
from compiler.schema.sheets import BLOCK

TYPIST = Path(__file__).parent / "typist.py"
LONGEST_WAIT = 180  # seconds, on a busy machine; about ten otherwise
WITH_BRIDGE = "/usr/bin/python3"
"""The system's own Python: Debian puts LibreOffice's bridge there (python3-uno)."""

WEEK_CELLS = ("Week 1 sets", "Week 1 reps", "Week 1 load", "Week 2 reps", "Week 2 load")
TYPED = {
    "Exercises": (
        ("Exercise", "Implement"),
        ("Back squat", "barbell"),
        ("Bench press", "barbell"),
        ("Plank", "body weight"),
    ),
    "Programme": (
        ("Programme", "Session", "Order", "Exercise", "Rest", "Tempo", *WEEK_CELLS),
        ("Strength", "Squat", "A", "Back squat", "2:30", "3-1-1-0", "4", "5", "75%", "5", "80%"),
        ("Strength", "Squat", "B", "Plank", "60", "", "3", "1:30", "", "1:45", ""),
        ("Strength", "Press", "A", "Bench press", "90", "3110", "3", "8-10", "40 kg", "6/4/2", "42,5 kg"),
    ),
    "Clients": (
        ("Client", "Programme", "Site", "Training days", "Body weight", "Born", "Screened on"),
        ("Imogen Thackray", "Strength", "Gym", "Mon Thu", "71 kg", "1994", "2026-11-02"),
        ("Bo Aldous", "Strength", "Gym", "Mon Thu", "80", "1988", "2026-11-02"),
        ("Nell Hartigan", "Strength", "Gym", "Mon Thu", "64 kg", "1990", "2026-11-02"),
    ),
    "Tests": (
        ("Client", "Date", "Exercise", "Load", "Unit", "Reps"),
        ("Imogen Thackray", "2026-11-16", "Back squat", "80", "kg", "5"),
        ("Bo Aldous", "2026-11-16", "Back squat", "100", "kg", "1"),
        ("Nell Hartigan", "2026-11-16", "Back squat", "60", "kg", "8"),
    ),
    "Sites": (("Site", "Staffed"), ("Gym", "yes")),
    "Kit": (
        ("Site", "Kind", "Name", "Sizes", "Unit"),
        ("Gym", "bar", "Long bar", "20", "kg"),
        ("Gym", "plates", "", "20 x2, 15, 10, 5, 2.5, 1.25", "kg"),
    ),
}
SETTINGS = {"Title": "Winter strength", "Start date": "2026-12-07", "Weeks": "2", "Closed dates": "2026-12-10"}

PLAIN = {name: os.environ[name] for name in ("HOME", "PATH") if name in os.environ}
"""What the typist is told of its surroundings: nothing of the Python that runs the tests."""

BY_HAND = {
    ("Imogen Thackray", 1): "67.5",
    ("Imogen Thackray", 2): "72.5",
    ("Bo Aldous", 1): "75",
    ("Bo Aldous", 2): "80",
    ("Nell Hartigan", 1): "55",
    ("Nell Hartigan", 2): "60",
}
"""Back squat, worked by hand. Brzycki (J Phys Educ Recreat Dance 1993;64(1):88-90): load / (1.0278 - 0.0278 reps).

Imogen 80 x 5: 80 / 0.8888 = 90.01; 75% 67.51, 80% 72.01. Bo's single: 100; 75, 80. Nell 60 x 8: 60 / 0.8054 = 74.50;
75% 55.87, 80% 59.60. With a bar of 20 and pairs from 1.25 up all steps are of 2.5 kg; the nearest is taken.
"""


def can_type() -> bool:
    if shutil.which("soffice") is None or not Path(WITH_BRIDGE).exists():
        return False
    return subprocess.run([WITH_BRIDGE, "-c", "import uno"], capture_output=True, check=False).returncode == 0


def entries(workbook: Path) -> list[tuple[str, str, str]]:
    """Return what is typed where: the settings in their rows, the tables under their headers."""
    book = load_workbook(workbook)
    rows = {cell.value: cell.row for cell in book[BLOCK.name]["A"]}
    typed = [(BLOCK.name, f"B{rows[name]}", text) for name, text in SETTINGS.items()]
    for sheet, (headers, *lines) in TYPED.items():
        at = {cell.value: cell.column_letter for cell in book[sheet][1]}
        for row, line in enumerate(lines, start=2):
            typed += [(sheet, f"{at[header]}{row}", text) for header, text in zip(headers, line, strict=True) if text]
    return typed


@pytest.fixture(scope="module")
def workbook(tmp_path_factory: pytest.TempPathFactory) -> Path:
    if not can_type():
        pytest.skip("needs LibreOffice and python3-uno")
    folder = tmp_path_factory.mktemp("typed")
    path = folder / "block.xlsx"
    assert main(["new", str(path), "--weeks", "2", "--sessions", "2"]) == Exit.OK
    command = [WITH_BRIDGE, str(TYPIST), str(path), str(folder / "profile")]
    told = json.dumps(entries(path)).encode()
    done = subprocess.run(command, input=told, capture_output=True, check=True, timeout=LONGEST_WAIT, env=PLAIN)
    (folder / "shown.json").write_bytes(done.stdout)
    return path


def test_what_is_typed_stays_as_it_was_typed(workbook: Path) -> None:
    """8-10, 1:30, 75% and 6/4/2 stand in their cells as typed; a day typed into a date column is shown as a date."""
    shown = json.loads((workbook.parent / "shown.json").read_text(encoding="utf-8"))
    assert shown == [text for _, _, text in entries(workbook)]


def test_typed_workbook_has_no_error(workbook: Path) -> None:
    """What is left to say: the safety text is the sample, a comma was a decimal sign, a day is closed."""
    flags = check_workbook(workbook).flags
    assert {(flag.slug, flag.severity.value) for flag in flags} == {
        ("sample-safety-text", "warning"),
        ("closed-date", "warning"),
        ("decimal-comma", "note"),
    }


def test_loads_are_those_worked_by_hand(workbook: Path) -> None:
    found = {}
    for plan in check_workbook(workbook).plans:
        for session in plan.sessions:
            for planned in (p for part in session.parts.values() for p in part):
                if planned.exercise.name.value == "Back squat":
                    loads = {end.load for item in planned.load.items for end in (item.low, item.high)}
                    found[plan.name, session.week] = [(load.amount, load.unit) for load in loads if load]
    assert found == {key: [(Decimal(load), "kg")] for key, load in BY_HAND.items()}


def test_everybody_gets_a_booklet(workbook: Path) -> None:
    out = workbook.parent / "out"
    assert main(["compile", str(workbook), "-o", str(out)]) == Exit.OK
    assert len(list((out / "booklets").glob("*.pdf"))) == len(TYPED["Clients"]) - 1
