"""The coach's summary as sheets: every load once with its trace, who is held, untested or unscreened.

Loads are worked by hand: a tested single is its own maximum (no formula touches it), Brzycki's equation in the form
1RM = load / (1.0278 - 0.0278 x reps) (Brzycki 1993) gives 80 / 0.8888 = 90.009 kg for five times 80 kg.
"""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from itertools import pairwise

import pytest

from compiler.binding.records import bind_book
from compiler.cellref import CellRef
from compiler.documents.held import Held
from compiler.documents.neutral import Cell, Sheet, shown_value
from compiler.flags.catalogue import flag
from compiler.flags.model import Flag, Remark
from compiler.model.book import Book
from compiler.quantities import Load, Percent, Unit
from compiler.resolve.plan import Resolution, resolve_book
from tests.all_at_once import summarise
from tests.support import source_book

TABLES = {
    "Block": [
        ["Setting", "Value"],
        ["Title", "Winter strength"],
        ["Start date", "2026-12-07"],
        ["Weeks", "2"],
        ["Easier weeks", "2"],
        ["Paper", "Letter"],
    ],
    "Exercises": [
        ["Exercise", "Implement", "Load from", "Ratio"],
        ["Back squat", "barbell"],
        ["Front squat", "barbell", "Back squat", "85%"],
        ["Dumbbell row", "dumbbells"],
        ["Push-up", "body weight"],
    ],
    "Programme": [
        [
            *("Programme", "Session", "Part", "Order", "Exercise", "Ramp"),
            *("Week 1 sets", "Week 1 reps", "Week 1 load", "Week 2 load"),
        ],
        ["Strength", "Squat", "main", "A", "Back squat", "no", "3", "5", "75%", "+2.5%"],
        ["Strength", "Squat", "main", "B", "Dumbbell row", "no", "2-3", "8", "20 kg"],
        ["Strength", "Squat", "main", "C", "Push-up", "", "3", "10"],
        ["Strength", "Press", "main", "A1", "Front squat", "no", "3", "5", "70%"],
        ["Strength", "Press", "main", "A2", "Dumbbell row", "no", "3", "8", "20 kg"],
    ],
    "Clients": [
        ["Client", "Programme", "Training days", "Screening", "Screened on", "Print"],
        ["Ada Thornby", "Strength", "Mon Thu", "clear", "2026-11-02"],
        ["Bram Oakes", "Strength", "", "ask first"],
        ["Cleo Marsh", "Strength"],
        ["Dev Rennick", "Strength", "", "clear", "", "none"],
    ],
    "Tests": [
        ["Client", "Date", "Exercise", "Load", "Unit", "Reps"],
        ["Ada Thornby", "2026-11-16", "Back squat", "100", "kg", "1"],
        ["Bram Oakes", "2026-08-01", "Back squat", "80", "kg", "5"],
        ["Cleo Marsh", "2026-01-10", "Back squat", "60", "kg", "1"],
    ],
    "Sites": [["Site", "Staffed"], ["Gym", "yes"]],
    "Kit": [
        ["Site", "Kind", "Name", "Sizes", "Unit"],
        ["Gym", "bar", "Long bar", "20", "kg"],
        ["Gym", "plates", "", "25, 20, 15, 10, 5, 2.5, 1.25", "kg"],
        ["Gym", "dumbbells", "", "2-40 by 2", "kg"],
    ],
}


@pytest.fixture(scope="module")
def book() -> Book:
    bound = bind_book(source_book(TABLES))
    assert bound.book is not None, bound.flags
    return bound.book


@pytest.fixture(scope="module")
def resolution(book: Book) -> Resolution:
    resolved = resolve_book(book)
    assert not resolved.stops
    return resolved


@pytest.fixture(scope="module")
def sheets(book: Book, resolution: Resolution) -> dict[str, Sheet]:
    return {sheet.name: sheet for sheet in summarise(book, resolution.plans, resolution.flags, ())}


def rows(sheet: Sheet, *columns: str) -> list[tuple[Cell, ...]]:
    """Return some columns of a sheet, row by row."""
    return list(zip(*(sheet.column(text) for text in columns), strict=True))


def kg(amount: str) -> Load:
    return Load(Decimal(amount), Unit.KG)


def percent(value: str) -> Percent:
    return Percent(Decimal(value))


def test_the_sheets_in_their_order(sheets: dict[str, Sheet]) -> None:
    """Every row fills every column; titles name the block; the paper is the Block's."""
    assert list(sheets) == [
        *("Overview", "Flags", "Loads", "Sessions", "Volume", "Kit demand", "Tests", "To test"),
        "Loadable weights",
    ]
    for sheet in sheets.values():
        assert all(len(row) == len(sheet.headings) for row in sheet.rows)
        assert sheet.title.startswith("Winter strength – ")
        assert sheet.paper == "Letter"


def test_each_load_stands_once_with_where_it_is_used(sheets: dict[str, Sheet]) -> None:
    """The dumbbells are the same in two sessions and two weeks: one row. What has no number has none."""
    columns = ("Client", "Exercise", "Session", "Order", "Weeks", "Load", "Load is")
    found = [row[1:] for row in rows(sheets["Loads"], *columns) if row[0] == "Ada Thornby"]
    assert found == [
        ("Back squat", "Squat", "A", "1", kg("75"), None),
        ("Back squat", "Squat", "A", "2", kg("77.5"), None),
        ("Dumbbell row", "Squat; Press", "B; A2", "1-2; 1-2", kg("20"), "each hand"),
        ("Front squat", "Press", "A1", "1-2", kg("60"), None),
    ]


def test_a_load_has_its_trace(sheets: dict[str, Sheet]) -> None:
    """Front squat by the back squat's single of 100 kg: 85 % of it, 70 % of that, 59.5 kg, on the bar 60 kg."""
    loads = sheets["Loads"]
    trace = next(row for row in loads.rows if row[:2] == ("Ada Thornby", "Front squat"))
    known = dict(zip((heading.text for heading in loads.headings), map(shown_value, trace), strict=True))
    assert known == {
        "Client": "Ada Thornby",
        "Exercise": "Front squat",
        "Session": "Press",
        "Order": "A1",
        "Weeks": "1-2",
        "Load": kg("60"),
        "Unit": "kg",
        "Load is": None,
        "Bar": "Long bar",
        "Plates a side": "20",
        "Percentage": percent("70"),
        "Percentage of": "working max",
        "Working max": kg("85"),
        "1RM": kg("85"),
        "Share of 1RM": percent("100"),
        "Test cell": "Tests!D2",
        "Tested on": date(2026, 11, 16),
        "Method": "tested single",
        "Reps to failure": None,
        "Rounded": "nearest, ties down",
        "Rep max": None,
        "Test weight": kg("100"),
        "Test reps": 1,
        "RPE": None,
        "Steps": None,
        "Share of first set": None,
        "Lent by": "Back squat",
        "Ratio": percent("85"),
        "Body counted": None,
        "Scaled to": None,
        "Exact load": kg("59.5"),
        "Load cell": "Programme!I5",
        "As typed": "70%",
        "Site": "Gym",
        "Remark": None,
    }


def test_an_estimate_names_its_method(sheets: dict[str, Sheet]) -> None:
    """80 kg for five: Brzycki, 90.009 kg; steps stand with what they step from."""
    found = rows(sheets["Loads"], "Client", "Weeks", "Method", "Reps to failure", "1RM", "As typed", "Exercise")
    (week2,) = [row for row in found if row[0] == "Bram Oakes" and row[1] == "2" and row[6] == "Back squat"]
    assert week2[2:4] == ("Brzycki", Decimal(5))
    assert isinstance(week2[4], Load)
    assert round(week2[4].amount, 3) == Decimal("90.009")
    assert week2[5] == "75%, then +2.5%"


def test_a_number_that_is_missing_has_a_row(sheets: dict[str, Sheet]) -> None:
    """Cleo's test is too old: her lines are blank, and the sheet says so."""
    found = rows(sheets["Loads"], "Client", "Exercise", "Weeks", "Load", "Exact load", "Remark")
    assert ("Cleo Marsh", "Back squat", "1-2", None, None, "left blank") in found


def test_sessions_have_days_and_sets(sheets: dict[str, Sheet]) -> None:
    """Mondays and Thursdays from 7 December 2026; a choice of sets is a span. Days from a printed calendar."""
    found = [row for row in sheets["Sessions"].rows if row[0] == "Ada Thornby"]
    assert found == [
        ("Ada Thornby", 1, "Squat", "Monday", date(2026, 12, 7), 3, "8-9", None),
        ("Ada Thornby", 1, "Press", "Thursday", date(2026, 12, 10), 2, 6, None),
        ("Ada Thornby", 2, "Squat", "Monday", date(2026, 12, 14), 3, "8-9", None),
        ("Ada Thornby", 2, "Press", "Thursday", date(2026, 12, 17), 2, 6, None),
    ]


def test_who_is_to_be_tested_and_why(sheets: dict[str, Sheet]) -> None:
    """A test of 1 August is 128 days old on 7 December (limit 90), one of 10 January 331 (limit 180)."""
    start = date(2026, 12, 7)
    assert sheets["To test"].rows == (
        ("Bram Oakes", "Back squat", "old, still used", date(2026, 8, 1), 128, start, "Programme!I2"),
        ("Cleo Marsh", "Back squat", "too old, not used", date(2026, 1, 10), 331, start, "Programme!I2"),
        ("Cleo Marsh", "Front squat", "too old, not used", date(2026, 1, 10), 331, start, "Programme!I5"),
    )


NO_TEST = flag(
    Remark("test-required", "Cleo Marsh has no test for Front squat, and the Block says to hold the booklet."),
    CellRef("Programme", 5, 9),
    client="Cleo Marsh",
    touches=("Cleo Marsh",),
)


def overview(
    book: Book, resolution: Resolution, flags: tuple[Flag, ...], held: tuple[Held, ...]
) -> dict[str, list[tuple[Cell, ...]]]:
    """Return the sections of the Overview under their titles."""
    stopped = {one.client for one in held}
    plans = tuple(plan for plan in resolution.plans if plan.name not in stopped)
    sheet = summarise(book, plans, flags, held)[0]
    starts = [*sorted(sheet.heads), len(sheet.rows)]
    return {str(sheet.rows[start][0]): list(sheet.rows[start + 1 : end]) for start, end in pairwise(starts)}


def test_the_overview_counts(book: Book, resolution: Resolution) -> None:
    """Four clients: two booklets, one held with the flag and its cell, one who wants none."""
    found = overview(book, resolution, (NO_TEST,), (Held("Cleo Marsh", (NO_TEST,)),))
    assert found["The block"] == [
        ("Title", None, "Winter strength"),
        ("First day", date(2026, 12, 7), None),
        ("Last day", date(2026, 12, 20), None),
        ("Weeks", 2, "easier: 2"),
        ("Workbook", None, "block.xlsx"),
    ]
    assert found["Clients"] == [
        ("Clients", 4, None),
        ("Booklets", 2, None),
        ("Held booklets", 1, None),
        ("No booklet wanted", 1, "Dev Rennick"),
    ]
    assert found["Flags"] == [("Errors", 1, None), ("Warnings", 0, None), ("Notes", 0, None)]
    assert found["Held booklets"] == [("Cleo Marsh", None, f"Programme!I5: {NO_TEST.message}")]
    assert found["Without a good test"] == [
        ("Bram Oakes", 1, "Back squat (old, still used)"),
        ("Cleo Marsh", 1, "Front squat (too old, not used)"),
    ]
    assert found["Not screened, or not signed off"] == [
        ("Bram Oakes", None, "ask first, and nobody has signed"),
        ("Cleo Marsh", None, "no screening on the Clients sheet"),
    ]


def test_the_overview_says_nobody(book: Book, resolution: Resolution) -> None:
    """An empty section is stated, not left out."""
    assert overview(book, resolution, (), ())["Held booklets"] == [("Nobody", 0, None)]


def test_flags_have_every_column(book: Book, resolution: Resolution) -> None:
    """What flags.json tells, the sheet tells."""
    (row,) = summarise(book, resolution.plans, (NO_TEST,), ())[1].rows
    assert row == (
        "error",
        "test-required",
        "Programme",
        "I5",
        "Cleo Marsh",
        "Cleo Marsh",
        None,
        NO_TEST.message,
        None,
        None,
    )


def test_every_load_of_the_plans_is_there(resolution: Resolution, sheets: dict[str, Sheet]) -> None:
    """The summary adds up to the booklets: every client, exercise and load of the plans has a row."""
    planned = {
        (plan.name, planned.exercise.name.known, end.load)
        for plan in resolution.plans
        for session in plan.sessions
        for part in session.parts.values()
        for planned in part
        for item in planned.load.items
        for end in (item.low, item.high)
    }
    assert planned <= set(rows(sheets["Loads"], "Client", "Exercise", "Load"))


def test_weights_are_read_and_printed_line_by_line(sheets: dict[str, Sheet]) -> None:
    """Every line names its kit; all weights of a list stand in its lines, and only the lines are printed."""
    sheet = sheets["Loadable weights"]
    assert sheet.printed is not None
    assert sheet.printed.columns == range(17)
    lines: dict[str, list[Cell]] = {}
    for row in sheet.rows[: sheet.printed.rows.stop]:
        lines.setdefault(str(row[0]), []).extend(cell for cell in row[1:17] if cell is not None)
    assert lines
    assert lines == {title: [cell for cell in sheet.column(title) if cell is not None] for title in lines}
