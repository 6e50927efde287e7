"""Small things that a client reads: loads set by set, the order of exercises, whom to call."""

from __future__ import annotations

from pathlib import Path

import pytest

from compiler.documents.booklet import build_booklet
from compiler.documents.booklet_text import booklet_as_text
from compiler.documents.booklet_value import Booklet, EmergencyLine, Mark
from compiler.pipeline.check import check_source
from tests.fragments import case_book

SHARED = (Path(__file__).parents[2] / "cases" / "ottermere.md").read_text(encoding="utf-8")
BOOK = """
## Exercises

| Exercise | Implement |
| --- | --- |
| Kettlebell swing | kettlebell |
| Dumbbell press | dumbbells |
| Back squat | barbell |

## Kit

| Site | Kind | Name | Sizes | Unit |
| --- | --- | --- | --- | --- |
| Gym | bar | 20 kg bar | 20 | kg |
| Gym | plates | | 20 x6, 10 x6, 5 x6, 2.5 x6 | kg |
| Gym | dumbbells | | 2-40 by 2 | kg |
| Gym | kettlebells | | 8-32 by 4 | kg |

## Sites

| Site | Staffed | Emergency lines |
| --- | --- | --- |
| Gym | yes | EMERGENCY |

## Programme

| Programme | Session | Part | Order | Exercise | Week 1 sets | Week 1 reps | Week 1 load |
| --- | --- | --- | --- | --- | --- | --- | --- |
| Strength | Legs | main | D1 | Kettlebell swing | 4 | 15 | 12, 16, 20 kg |
| Strength | Legs | main | D2 | Dumbbell press | 2 | 8 | 12, 14 kg |
| Strength | Legs | main | E | Back squat | 2 | 5 | 60, 70 kg |
| Strength | Legs | main | F | Kettlebell swing | 2 | 12, 10 | 16, 20 kg |

## Clients

| Client | Programme | Site |
| --- | --- | --- |
| Imogen Thackray | Strength | Gym |
"""


@pytest.fixture(scope="module")
def booklet() -> Booklet:
    text = BOOK.replace("EMERGENCY", "Front desk: extension 4<br>Ambulances come to the boathouse side")
    checked = check_source(case_book(text, SHARED))
    assert checked.book is not None
    [plan] = checked.plans
    return build_booklet(checked.book, plan)


def test_loads_of_sets_stand_in_one_figure_where_nothing_else_differs(booklet: Booklet) -> None:
    """The last of a list repeats; pairs, plates and other repetitions have a line for each set."""
    rows = [row for block in booklet.sessions[0].blocks for row in block.rows]
    told = [(row.load.text, len(row.extra)) for row in rows]
    assert told == [("12, 16, 20, 20 kg", 0), ("2 × 12–14 kg", 2), ("60–70 kg", 2), ("16–20 kg", 2)]
    assert rows[0].load.notes == ("set by set",)


def test_the_order_is_told_with_labels_that_stand_in_the_sample(booklet: Booklet) -> None:
    [point] = [point for point in booklet.how_to.points if point.mark is Mark.NAME]
    labels = [row.label for row in booklet.how_to.sample.rows]
    assert labels == ["D1", "D2"]
    assert point.text == "D1 comes before D2."


def test_an_emergency_line_is_a_label_with_words_or_a_sentence(booklet: Booklet) -> None:
    assert booklet.safety.emergency[:2] == (
        EmergencyLine("Front desk", "extension 4"),
        EmergencyLine("", "Ambulances come to the boathouse side"),
    )
    assert "  Ambulances come to the boathouse side\n" in booklet_as_text(booklet)


def test_what_a_site_asks_of_people_is_not_an_emergency() -> None:
    """It has a list of its own, and is not cut at a colon."""
    text = BOOK.replace("| Site | Staffed | Emergency lines |", "| Site | Staffed | Safety text |")
    text = text.replace("EMERGENCY", "Rack 3 has short pins: benching only")
    checked = check_source(case_book(text, SHARED))
    assert checked.book is not None
    [plan] = checked.plans
    page = build_booklet(checked.book, plan).safety
    assert page.lists[-1].title == "Where you train"
    assert page.lists[-1].items[0] == "Rack 3 has short pins: benching only"
    assert page.emergency == (EmergencyLine("My own emergency contact"),)


@pytest.mark.parametrize(
    ("heads", "cells", "told"),
    [
        ("Screened on", "", True),
        ("Screened on", "2026-12-01", False),
        ("Screening", "clear", False),
    ],
)
def test_who_was_not_screened_reads_it_before_the_local_rules(heads: str, cells: str, told: bool) -> None:
    """The sentence asks the client to do something before the start, so that it stands first; it names no reason."""
    named = "| Client | Programme | Site |"
    text = BOOK.replace(f"{named}\n| --- | --- | --- |", f"{named} {heads} |")
    text = text.replace("| Imogen Thackray | Strength | Gym |", f"| Imogen Thackray | Strength | Gym | {cells} |")
    checked = check_source(case_book(text, SHARED))
    assert checked.book is not None
    (plan,) = checked.plans
    first, *others = build_booklet(checked.book, plan).safety.cautions
    assert (first.startswith("Health screening: none on record."), len(others)) == (told, int(told))
    assert (others or [first])[0].startswith("Local rules come first")


@pytest.mark.parametrize(("spotter", "told"), [("one", True), ("two", True), ("safety pins", False), ("", False)])
def test_what_to_agree_with_a_spotter_is_read_before_the_start(spotter: str, told: bool) -> None:
    """It is nothing to look for in an emergency; pins need no signal."""
    named = "| Exercise | Implement |\n| --- | --- |"
    text = BOOK.replace(named, "| Exercise | Implement | Spotter |\n| --- | --- | --- |")
    text = text.replace("| Back squat | barbell |", f"| Back squat | barbell | {spotter} |")
    checked = check_source(case_book(text, SHARED))
    assert checked.book is not None
    (plan,) = checked.plans
    page = build_booklet(checked.book, plan).safety
    assert page.lists[0].title == "Before you start"
    assert [words.startswith("With a spotter:") for words in page.lists[0].items] == [False, told][: 1 + told]


def test_changed_words_do_not_say_changed_twice() -> None:
    """The tag says it; the safety page, without a tag, says it in words, once for all that it is true of."""
    changes = """
## Changes

| Client | Session | Order | Exercise | Weeks | Do | With |
| --- | --- | --- | --- | --- | --- | --- |
| Imogen Thackray | | | | all | scale | 90% |
"""
    checked = check_source(case_book(BOOK + changes, SHARED))
    assert checked.book is not None
    [plan] = checked.plans
    made = build_booklet(checked.book, plan)
    assert {row.changed for block in made.sessions[0].blocks for row in block.rows} == {"by your coach"}
    assert made.safety.changed is not None
    assert made.safety.changed.lines == ("Kettlebell swing, Dumbbell press, Back squat. Changed by your coach",)


def test_one_exercise_for_rounds_takes_no_turns() -> None:
    """Its letter stands before it; two exercises are told in their order."""
    told = "| Order | Exercise | Done as |"
    text = BOOK.replace("| Order | Exercise |", told).replace("| E | Back squat |", "| E | Back squat | AMRAP 6 min |")
    for name in ("D1 | Kettlebell swing", "D2 | Dumbbell press", "F | Kettlebell swing"):
        text = text.replace(f"| {name} |", f"| {name} | |")
    heads = f"{told} Week 1 sets | Week 1 reps | Week 1 load |\n|"
    text = text.replace(heads, f"{heads} --- |")
    checked = check_source(case_book(text, SHARED))
    assert checked.book is not None
    [plan] = checked.plans
    rests = [block.rest for block in build_booklet(checked.book, plan).sessions[0].blocks]
    assert rests[:2] == ["D1 then D2", "round and round at a pace you can hold"]
