"""The Tests and Volume sheets: what each test stands for, sets and loads by week, and which charts there are.

Worked by hand: Brzycki's 1RM of 80 kg for five is 80 / 0.8888 = 90.009 kg; ages are days to 7 December 2026, from a
calendar; volume load is sets x repetitions x load, both hands counted (Haff GG, Prof Strength Cond 2010).
"""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest

from compiler.binding.records import bind_book
from compiler.cellref import CellRef
from compiler.demo.workbooks import WINTER_BLOCK, demo_source
from compiler.documents.neutral import HEADINGS_ROW, ChartKind, Sheet, across, down
from compiler.documents.summary_tests import MOST_CHARTS
from compiler.flags.catalogue import flag
from compiler.flags.model import Remark
from compiler.pipeline.check import check_source
from compiler.quantities import Load, Unit
from compiler.resolve.plan import resolve_book
from compiler.review.volume import weekly_volume
from tests.all_at_once import summarise
from tests.support import source_book

BLOCK = [["Setting", "Value"], ["Start date", "2026-12-07"], ["Weeks", "2"], ["Unit", "kg"]]
EXERCISES = [
    ["Exercise", "Implement", "Works", "Also works"],
    ["Back squat", "barbell", "thighs, hips", "trunk"],
    ["Dumbbell row", "dumbbells", "upper back", ""],
    ["Front plank", "body weight", "trunk", ""],
]
PROGRAMME = [
    ["Programme", "Session", "Part", "Order", "Exercise", "Week 1 sets", "Week 1 reps", "Week 1 load", "Week 2 load"],
    ["Strength", "Squat", "main", "A", "Back squat", "3", "5", "75%", "80%"],
    ["Strength", "Squat", "main", "B", "Dumbbell row", "2", "10", "20 kg", ""],
]
CLIENTS = [["Client", "Programme"], ["Ada Thornby", "Strength"], ["Bram Oakes", "Strength"]]
TEST_HEADINGS = ["Client", "Date", "Exercise", "Load", "Unit", "Reps", "RPE", "Result", "Source"]
TESTS = [
    ["Ada Thornby", "2026-11-16", "Back squat", "100", "kg", "1", "", "", "tested"],
    ["Bram Oakes", "2026-11-20", "Front plank", "", "", "", "", "70 s", "tested"],
    ["Ada Thornby", "2026-08-01", "Back squat", "80", "kg", "5", "", "", "tested"],
    ["Bram Oakes", "2026-05-01", "Back squat", "200", "lb", "1", "", "", "tested"],
    ["Bram Oakes", "2026-10-20", "Front plank", "", "", "", "", "55 s", "tested"],
    ["Ada Thornby", "2026-11-17", "Back squat", "60", "kg", "", "", "", "working weight"],
]


def sheets_of(
    tests: list[list[str]], *, clients: list[list[str]] = CLIENTS, wrong_row: int | None = None
) -> dict[str, Sheet]:
    tables = {"Block": BLOCK, "Exercises": EXERCISES, "Programme": PROGRAMME, "Clients": clients}
    bound = bind_book(source_book({**tables, "Tests": [TEST_HEADINGS, *tests]}))
    assert bound.book is not None, bound.flags
    flags = ()
    if wrong_row is not None:
        flags = (flag(Remark("tests-disagree", "Two tests disagree."), CellRef("Tests", wrong_row, 4)),)
    resolved = resolve_book(bound.book)
    return {sheet.name: sheet for sheet in summarise(bound.book, resolved.plans, flags, ())}


def columns(sheet: Sheet, *texts: str) -> list[tuple[object, ...]]:
    return list(zip(*(sheet.column(text) for text in texts), strict=True))


def kg(amount: str) -> Load:
    return Load(Decimal(amount), Unit.KG)


def test_tests_stand_by_client_exercise_and_date() -> None:
    """What each test comes to in the Block's unit, how old it is, and whether a load rests on it."""
    sheet = sheets_of(TESTS)["Tests"]
    found = columns(sheet, "Client", "Exercise", "Date", "Days old at the start", "Standing", "Loads rest on it")
    assert found == [
        ("Ada Thornby", "Back squat", date(2026, 8, 1), 128, "old, still used", None),
        ("Ada Thornby", "Back squat", date(2026, 11, 16), 21, "good", "yes"),
        ("Ada Thornby", "Back squat", date(2026, 11, 17), 20, "good", None),
        ("Bram Oakes", "Back squat", date(2026, 5, 1), 220, "too old, not used", None),
        ("Bram Oakes", "Front plank", date(2026, 10, 20), 48, "good", None),
        ("Bram Oakes", "Front plank", date(2026, 11, 20), 17, "good", None),
    ]
    maxima = [
        known and round(known.amount, 3) for known in sheet.column("1RM") if known is None or isinstance(known, Load)
    ]
    assert maxima == [Decimal("90.009"), Decimal(100), None, Decimal("90.718"), None, None]
    assert columns(sheet, "Result", "Counted in")[-1] == (Decimal(70), "s")


def test_a_test_with_an_error_stands_for_nothing() -> None:
    """Its row is there and says so; it has no 1RM and no trend."""
    sheet = sheets_of(TESTS, wrong_row=2)["Tests"]
    assert columns(sheet, "Date", "1RM", "Standing")[1] == (date(2026, 11, 16), None, "has an error")
    assert [chart.title for chart in sheet.charts] == ["Bram Oakes – Front plank"]


def test_trends_need_two_results() -> None:
    """Ada's squat by its 1RM, Bram's plank by its seconds; over all dates of the rows."""
    sheet = sheets_of(TESTS)["Tests"]
    assert [(chart.title, chart.kind, chart.unit) for chart in sheet.charts] == [
        ("Ada Thornby – Back squat", ChartKind.LINE, "1RM, kg"),
        ("Bram Oakes – Front plank", ChartKind.LINE, "s"),
    ]
    first, second = (chart.series[0] for chart in sheet.charts)
    texts = [heading.text for heading in sheet.headings]
    assert (first.labels, first.numbers) == (
        down(texts.index("Date"), range(3)),
        down(texts.index("1RM"), range(3)),
    )
    assert second.numbers == down(texts.index("Result"), range(4, 6))


def test_the_trends_are_bounded() -> None:
    """Thirty clients and exercises have two tests: twenty-four are drawn, as the sheet says."""
    names = [f"Rower {number}" for number in range(1, 31)]
    tests = [
        [name, day, "Back squat", "100", "kg", "1", "", "", "tested"]
        for name in names
        for day in ("2026-10-01", "2026-11-01")
    ]
    sheet = sheets_of(tests, clients=[CLIENTS[0], *([name, "Strength"] for name in names)])["Tests"]
    assert len(sheet.charts) == MOST_CHARTS
    assert str(MOST_CHARTS) in sheet.charts_note


def test_volume_by_week_and_muscle() -> None:
    """Ada: 3 x 5 x 75 kg and 2 x 10 x 20 kg in each hand are 1125 + 800 kg; then 80 kg. Bram's squat is not known."""
    sheet = sheets_of(TESTS)["Volume"]
    found = columns(sheet, "Client", "Week", "Volume load", "Lines of unknown weight", "thighs", "trunk", "upper back")
    three, half, two = Decimal(3), Decimal("1.5"), Decimal(2)
    assert found[2:] == [
        ("Ada Thornby", 1, kg("1925"), Decimal(0), three, half, two),
        ("Ada Thornby", 2, kg("2000"), Decimal(0), three, half, two),
        ("Bram Oakes", 1, kg("800"), Decimal(1), three, half, two),
        ("Bram Oakes", 2, kg("800"), Decimal(1), three, half, two),
    ]
    assert found[0] == ("Mean of 2: Strength", 1, kg("1362.5"), Decimal("0.5"), three, half, two)


def test_volume_charts() -> None:
    """A programme's sets by muscle, a series a week, then loads by week: of the programme, then of clients."""
    sheet = sheets_of(TESTS)["Volume"]
    assert [chart.title for chart in sheet.charts] == [
        "Sets a week by muscle – Mean of 2: Strength",
        "Volume load – Mean of 2: Strength",
        "Volume load – Ada Thornby",
        "Volume load – Bram Oakes",
    ]
    sets = sheet.charts[0]
    assert [series.name for series in sets.series] == ["Week 1", "Week 2"]
    muscles = range(5, 9)
    assert sets.series[1].labels == across(HEADINGS_ROW, muscles)
    assert sets.series[1].numbers == across(1, muscles)
    assert [heading.text for heading in sheet.headings[5:]] == ["thighs", "hips", "trunk", "upper back"]


@pytest.fixture(scope="module")
def demo() -> tuple[dict[str, Sheet], dict[tuple[str, int], tuple[Load, Decimal]]]:
    checked = check_source(demo_source(WINTER_BLOCK))
    assert checked.book is not None
    volumes = {
        (plan.name, week.week): (week.load, sum((sets for _, sets in week.sets), Decimal(0)))
        for plan in checked.plans
        for week in weekly_volume(plan, Unit.KG)
    }
    made = summarise(checked.book, checked.plans, checked.flags, ())
    return {sheet.name: sheet for sheet in made}, volumes


def test_the_sheet_adds_up_to_the_plans(
    demo: tuple[dict[str, Sheet], dict[tuple[str, int], tuple[Load, Decimal]]],
) -> None:
    """Every client and week of the example has its row, with its volume load and all its sets."""
    sheets, volumes = demo
    rows = {
        (row[0], row[2]): (row[3], sum((cell for cell in row[5:] if isinstance(cell, Decimal)), Decimal(0)))
        for row in sheets["Volume"].rows
        if not str(row[0]).startswith("Mean of")
    }
    assert rows == volumes


def test_charts_point_at_numbers(
    demo: tuple[dict[str, Sheet], dict[tuple[str, int], tuple[Load, Decimal]]],
) -> None:
    """No chart of the example points at text or outside of the sheet, and each has two numbers or more."""
    for sheet in demo[0].values():
        for series in (series for chart in sheet.charts for series in chart.series):
            numbers = [sheet.rows[row][column] for row in series.numbers.rows for column in series.numbers.columns]
            assert all(cell is None or isinstance(cell, Load | Decimal) for cell in numbers)
            assert sum(cell is not None for cell in numbers) > 1
