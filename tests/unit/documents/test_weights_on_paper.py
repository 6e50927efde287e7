"""A weight that only the page knows is told from the week in which this client wrote it, not from one they did not do.

By hand: the steps typed from that week's cell on are what comes on top of what stands in its box.
"""

from __future__ import annotations

import pytest

from compiler.documents.figures import Figures
from compiler.documents.load_words import load_figure
from compiler.pipeline.check import check_source
from compiler.resolve.values import Part
from tests.fragments import fragment_book

BOOK = """
## Block
| Setting | Value |
| Start date | 2027-01-04 |
| Weeks | 4 |
| Unit | kg |
## Exercises
| Exercise | Implement |
| Press | barbell |
| Squat | barbell |
| Row | barbell |
## Programme
{heads}
| Strength | One | A | Press | 3 | 5 | {load} | +2.5 kg | +5 kg | {last} |
| Strength | Two | A | Squat | 3 | 5 | {load} | +2.5 kg | +5 kg | {last} |
| Strength | Three | A | Row | 3 | 5 | {load} | +2.5 kg | +5 kg | {last} |
## Clients
| Client | Programme | First week | Sessions | Training days | Screened on |
| Ana Ruiz | Strength | {first} | {sessions} | {days} | 2026-12-01 |
## Changes
| Client | Weeks | Do | With |
| Ana Ruiz | {away} | {do} | {with_} |
"""


def told(exercise: str, **cells: str) -> list[str]:
    """Return what the booklet says of the loads of an exercise, session by session."""
    heads = ["Programme", "Session", "Order", "Exercise", "Week 1 sets", "Week 1 reps"]
    heads += [f"Week {week} load" for week in range(1, 5)]
    blank = dict.fromkeys(("last", "sessions", "days", "away", "with_"), "")
    filled = {"heads": f"| {' | '.join(heads)} |", "load": "RPE 7", "first": "1", "do": "leave out", **blank, **cells}
    text = BOOK.format(**filled)
    if not filled["away"]:
        text = text[: text.index("## Changes")]
    (plan,) = check_source(fragment_book(text)).plans
    figures = [
        (planned.week, load_figure(planned, Figures(), percents=False, usual_bar=None))
        for session in plan.sessions
        for planned in session.parts[Part.MAIN]
        if planned.exercise.name.value == exercise
    ]
    said = [(week, (getattr(shown, "text", "____"), *shown.notes[:1])) for week, shown in figures if shown]
    return [f"{week}: {' '.join(words)}" for week, words in said]


FOUND = "RPE 7 leave 3 in reserve"


def test_from_the_first_week() -> None:
    """As the cells have it."""
    assert told("Press") == [
        f"1: {FOUND}",
        "2: ____ your week 1 weight + 2.5 kg",
        "3: ____ your week 1 weight + 2.5 kg + 5 kg",
        "4: ____ your week 1 weight + 2.5 kg + 5 kg",
    ]


@pytest.mark.parametrize("late", [{"first": "2"}, {"away": "1"}], ids=["joins in week 2", "away in week 1"])
def test_who_was_not_there_in_week_1_finds_the_weight_later(late: dict[str, str]) -> None:
    """There is no week 1 weight to add to."""
    assert told("Press", last="same - 2.5 kg", **late) == [
        f"2: {FOUND}",
        "3: ____ your week 2 weight + 5 kg",
        "4: ____ your week 2 weight + 5 kg \N{MINUS SIGN} 2.5 kg",
    ]


def test_sessions_dealt_out_count_their_own_weeks() -> None:
    """Two days a week and three sessions: Three comes in weeks 2, 3 and 4 and takes the cells of weeks 1, 2 and 3."""
    assert told("Row", sessions="rotate", days="Mon Thu") == [
        f"2: {FOUND}",
        "3: ____ your week 2 weight + 2.5 kg",
    ]
    assert told("Press", sessions="rotate", days="Mon Tue Thu Fri")[:2] == [
        f"1: {FOUND}",
        "1: ____ your week 1 weight + 2.5 kg",
    ]


def test_a_tenth_less_than_the_working_weight_is_taken_once() -> None:
    """What stands in week 1's box is a tenth less already."""
    assert told("Press", load="own -10%") == [
        "1: ____ your last working weight \N{MINUS SIGN} 10%",
        "2: ____ your week 1 weight + 2.5 kg",
        "3: ____ your week 1 weight + 2.5 kg + 5 kg",
        "4: ____ your week 1 weight + 2.5 kg + 5 kg",
    ]


def test_a_scale_is_told_where_it_is_not_in_what_was_written() -> None:
    """Four fifths of everything, in week 2 alone: the weight on paper is the one before it."""
    only_then = {"away": "2", "do": "scale", "with_": "80%"}
    assert told("Press", load="own", **only_then)[1:3] == [
        "2: ____ your week 1 weight + 2.5 kg, then 80% of that",
        "3: ____ your week 1 weight + 2.5 kg + 5 kg",
    ]
    assert told("Press", **only_then)[1] == "2: ____ your week 1 weight + 2.5 kg, then 80% of that"


def test_a_scale_is_taken_once() -> None:
    """What was written in week 1 is four fifths already; without the scale in week 3 nobody knows of what."""
    assert told("Press", load="own", away="1-2", do="scale", with_="80%")[:3] == [
        "1: ____ your last working weight, then 80% of that",
        "2: ____ your week 1 weight + 2.5 kg",
        "3: ____ ask your coach",
    ]
