"""The progress page: which lifts, what was lifted when, what is planned; all as a client would read it."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from compiler.documents.figures import Figures
from compiler.documents.past_results import PastResult, past_results
from compiler.documents.progress import progress
from compiler.documents.progress_value import Panel, Progress
from compiler.model.book import Book
from compiler.pipeline.check import check_source
from compiler.quantities import Load, Unit
from tests.fragments import case_book

SHARED = (Path(__file__).parents[2] / "cases" / "ottermere.md").read_text(encoding="utf-8")
BOOK = """
## Exercises

| Exercise | Implement |
| --- | --- |
| Back squat | barbell |
| Front squat | barbell |
| Bench press | barbell |
| Deadlift | barbell |
| Dumbbell row | dumbbells |
| Plank | |
| Curl | dumbbells |

## Programme

| Programme | Session | Part | Order | Exercise | Week 1 sets | Week 1 reps | Week 1 load | Week 2 load | Week 3 load |
| --- | --- | --- | --- | --- | --- | --- | --- | --- | --- |
| Strength | Legs | main | A | Back squat | 3 | 5 | 60 kg | 65 kg | 70, 75, 80 kg |
| Strength | Legs | main | B | Front squat | 3 | 5 | RPE 8 | | |
| Strength | Legs | main | C | Dumbbell row | 3 | 8-10 | 16 kg | 18 kg | 18 kg |
| Strength | Legs | main | D | Plank | 3 | 30 s | | | |
| Strength | Legs | main | E | Bench press | 3 | 8 | 40 kg | 42.5 kg | 45 kg |
| Strength | Legs | main | F | Deadlift | 3 | 5 | 80 kg | 85 kg | 90 kg |
| Strength | Legs | warm-up | | Curl | 1 | 5 | 4 kg | | |

## Clients

| Client | Programme |
| --- | --- |
| Imogen Thackray | Strength |
| Edwin Larkspur | Strength |
| Mabel Stannard | Strength |

## Tests

| Client | Date | Exercise | Load | Unit | Reps | Source |
| --- | --- | --- | --- | --- | --- | --- |
| Imogen Thackray | 2026-12-31 | Back squat | 62.5 | kg | 5 | tested |
| Imogen Thackray | 2027-01-02 | Back squat | 60 | kg | 3 | log |
| Imogen Thackray | 2026-12-16 | Back squat | 110 | lb | 5 | tested |
| Imogen Thackray | 2026-12-30 | Back squat | 90 | kg | | estimate |
| Imogen Thackray | 2027-01-02 | Back squat | 95 | kg | | estimate |
| Imogen Thackray | 2026-10-01 | Back squat | 95 | kg | 1 | tested |
| Imogen Thackray | 2027-01-05 | Back squat | 85 | kg | 1 | tested |
| Imogen Thackray | 2026-12-31 | Dumbbell row | 16 | kg | 8 | working weight |
| Edwin Larkspur | 2026-12-31 | Deadlift | 70 | kg | 5 | tested |
| Edwin Larkspur | 2026-12-31 | Deadlift | 110 | kg | | estimate |

## History

| Client | Date | Week | Session | Order | Exercise | Set | Load | Unit | Reps | RPE |
| --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- |
| Imogen Thackray | 2026-12-22 | 3 | Legs | A | Back squat | 1 | 57.5 | kg | 5 | |
| Imogen Thackray | 2026-12-22 | 3 | Legs | A | Back squat | 2 | 60.25 | kg | 4 | |
"""


@pytest.fixture(scope="module")
def book() -> Book:
    checked = check_source(case_book(BOOK, SHARED))
    assert checked.book is not None
    return checked.book


def page(client: str) -> Progress:
    checked = check_source(case_book(BOOK, SHARED))
    assert checked.book is not None
    [plan] = [plan for plan in checked.plans if plan.name == client]
    made = progress(checked.book, plan, Figures())
    assert made is not None
    return made


def said(panel: Panel) -> tuple[list[str], list[str]]:
    """Return what the points of a panel say, before and in the block."""
    past, plan = (
        [f"{point.text} {point.detail}".strip() if point else "-" for point in points]
        for points in (panel.past, panel.plan)
    )
    return past, plan


def test_lifts_are_those_with_planned_weights() -> None:
    """No effort, no hold, no warm-up; those with a past first, then bars, three at most, in the order of the sheet."""
    titles = [panel.title for panel in page("Imogen Thackray").panels]
    assert titles == ["Back squat, kg", "Dumbbell row, kg each hand", "Bench press, kg"]
    assert [panel.title for panel in page("Edwin Larkspur").panels][-1] == "Deadlift, kg"


def test_the_past_is_what_was_lifted() -> None:
    """The heaviest of each of the last eight weeks from both sheets, in this block's unit; no estimate, nothing later.

    110 lb are 49.9 kg (0.45359237 kg a pound, NIST Handbook 44); 2026-12-16 lies 19 days before the start. What was
    lifted in this block's unit stands as it was written, to the quarter.
    """
    panel = page("Imogen Thackray").panels[0]
    assert panel.past_weeks == ("−3", "−2", "−1")
    assert said(panel) == (
        ["49.9 × 5", "60.25 × 4", "62.5 × 5"],
        ["60 × 5", "65 × 5", "80 × 5", "80 × 5"],
    )


def test_a_lift_without_a_past_shows_the_plan_alone() -> None:
    """The words for solid dots stand where some lift of the page has one."""
    edwin, mabel = page("Edwin Larkspur"), page("Mabel Stannard")
    squat = edwin.panels[0]
    assert (squat.past, len(squat.plan)) == ((), 4)
    assert edwin.panels[-1].past != ()
    assert [panel.past for panel in mabel.panels] == [(), (), ()]
    assert [one.intro.partition(" are ")[0] for one in (edwin, mabel)] == ["Solid dots", "Open dots"]


def test_the_scale_holds_every_point_in_few_lines() -> None:
    for client in ("Imogen Thackray", "Edwin Larkspur"):
        for panel in page(client).panels:
            values = [float(line.text) for line in panel.lines]
            assert 2 <= len(values) <= 6
            for point in (*panel.past, *panel.plan):
                if point:
                    here = values[0] + point.share * (values[-1] - values[0])
                    assert here == pytest.approx(float(point.text))
                    assert 0 <= point.share <= 1


def test_a_panel_is_told_in_words() -> None:
    assert page("Imogen Thackray").panels[0].described == (
        "Back squat, kg. Lifted: 3 weeks before 49.9 × 5, 2 weeks before 60.25 × 4, the week before 62.5 × 5. "
        "Plan: week 1 60, week 2 65, week 3 80, week 4 80."
    )


def test_past_results_are_one_kind_of_value(book: Book) -> None:
    results = past_results(book, "imogen thackray")
    assert results["dumbbell row"] == (PastResult(date(2026, 12, 31), Load(Decimal(16), Unit.KG), 8),)
    assert len(results["back squat"]) == 7


def test_a_working_weight_for_next_month_was_not_lifted() -> None:
    """`next` dates a raised working weight to the day that earned it: 60.25 kg were lifted then, 61.25 kg are to come.

    Of the sets at 60.25 kg that of five repetitions is told, though the one of four stands first.
    """
    working = "| Imogen Thackray | 2026-12-22 | Back squat | 61.25 | kg | | working weight |\n"
    again = "| Imogen Thackray | 2026-12-22 | 3 | Legs | A | Back squat | 3 | 60.25 | kg | 5 | |\n"
    head = "| Imogen Thackray | 2026-12-30 | Back squat | 90 | kg | | estimate |\n"
    assert head in BOOK
    checked = check_source(case_book(BOOK.replace(head, working + head) + again, SHARED))
    assert checked.book is not None
    [plan] = [plan for plan in checked.plans if plan.name == "Imogen Thackray"]
    made = progress(checked.book, plan, Figures())
    assert made is not None
    assert said(made.panels[0])[0] == ["49.9 × 5", "60.25 × 5", "62.5 × 5"]
