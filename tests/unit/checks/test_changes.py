"""The Changes sheet."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from compiler.checks import Check
from compiler.checks.change_matches import check_changes_match
from compiler.checks.changes import (
    check_change_cells,
    check_change_names,
    check_change_people,
    check_keep_reasons,
)
from compiler.model.book import Book

Expected = list[tuple[str, str]]
Finder = Callable[[Check, str], Expected]

BOOK = """
## Block
| Setting | Value |
| Weeks | 4 |
## Exercises
| Exercise | Implement |
| Squat | barbell |
| Press | barbell |
| Press-up | body weight |
## Programme
| Programme | Session | Order | Exercise | Week 1 sets | Week 1 reps | Week 1 load | Week 3 sets |
| Strength | all | | Press-up | 1 | 8 | | |
| Strength | Hinge and pull | A | Squat | 3 | 8 | 75% | |
| Strength | Squat and press | B1 | Press | 3 | 8 | 75% | - |
| Rowing | Long | A | Press-up | 3 | 8 | | |
## Clients
| Client | Programme | Level | Group |
| Ana Ruiz | Strength | new | Tuesday early |
| Bo Dale | Rowing | old | Tuesday early |
## Sites
| Site |
| Gym |
| Home |
## Changes
| Client | Session | Order | Exercise | Weeks | Do | With | Load | Why |
"""

CASES: tuple[tuple[str, Check, str, Expected], ...] = (
    ("by name", check_change_people, "| Ana Ruiz | | | | | leave out |", []),
    (
        "by group, level, programme, all",
        check_change_people,
        "| tuesday EARLY, new, Rowing, all | | | | | leave out |",
        [],
    ),
    (
        "by a name nobody has",
        check_change_people,
        "| Ana Ruis | | | | | leave out |",
        [("Changes!A2", "unknown-client")],
    ),
    ("exercise", check_change_names, "| all | | | Sqat | | leave out |", [("Changes!D2", "unknown-exercise")]),
    (
        "swap with what is not there",
        check_change_names,
        "| all | | | Press | | swap | Dip |",
        [("Changes!G2", "unknown-exercise")],
    ),
    ("train at no site", check_change_names, "| all | | | | | train at | Hoem |", [("Changes!G2", "unknown-site")]),
    ("scale", check_change_names, "| all | | | Press | | scale | 80% |", []),
    (
        "scale without a sign",
        check_change_names,
        "| all | | | Press | | scale | 80 |",
        [("Changes!G2", "bare-percentage")],
    ),
    ("scale by words", check_change_names, "| all | | | Press | | scale | a bit |", [("Changes!G2", "not-a-number")]),
    ("swap with nothing", check_change_cells, "| all | | | Press | | swap |", [("Changes!G2", "missing-name")]),
    ("load without a load", check_change_cells, "| all | | | Press | | load |", [("Changes!H2", "missing-load")]),
    (
        "train at for one exercise",
        check_change_cells,
        "| all | | | Press | | train at | Home |",
        [("Changes!D2", "cells-disagree")],
    ),
    (
        "keep and no word why",
        check_keep_reasons,
        "| all | | | Press | | keep |",
        [("Changes!I2", "keep-without-reason")],
    ),
    ("keep and why", check_keep_reasons, "| all | | | Press | | keep | | | Physiotherapist agreed |", []),
    ("away", check_changes_match, "| Ana Ruiz | | | | 2-3 | leave out |", []),
    ("fits a row", check_changes_match, "| Ana Ruiz | squat and PRESS | B1 | Press | 1, 2 | leave out |", []),
    (
        "fits a shared row in one session",
        check_changes_match,
        "| Ana Ruiz | Hinge and pull | | Press-up | | leave out |",
        [],
    ),
    (
        "no such session",
        check_changes_match,
        "| Ana Ruiz | Hinge | | | | leave out |",
        [("Changes!B2", "change-matches-nothing")],
    ),
    (
        "the exercise of another programme's session",
        check_changes_match,
        "| Bo Dale | | | Squat | | leave out |",
        [("Changes!D2", "change-matches-nothing")],
    ),
    (
        "the exercise of another session",
        check_changes_match,
        "| Ana Ruiz | Squat and press | | Squat | | leave out |",
        [("Changes!D2", "change-matches-nothing")],
    ),
    (
        "no such order",
        check_changes_match,
        "| Ana Ruiz | | B2 | Press | | leave out |",
        [("Changes!C2", "change-matches-nothing")],
    ),
    (
        "in weeks in which it is not done",
        check_changes_match,
        "| Ana Ruiz | | | Press | 3-4 | leave out |",
        [("Changes!E2", "change-matches-nothing")],
    ),
    (
        "past the block",
        check_changes_match,
        "| Ana Ruiz | | | | 5 | leave out |",
        [("Changes!E2", "change-matches-nothing")],
    ),
    ("one of many is enough", check_changes_match, "| all | | | Squat | | leave out |", []),
    ("an unknown name is told elsewhere", check_changes_match, "| Nobody | | Z9 | | | leave out |", []),
)


@pytest.mark.parametrize(("check", "line", "expected"), [c[1:] for c in CASES], ids=[c[0] for c in CASES])
def test_changes(found: Finder, check: Check, line: str, expected: Expected) -> None:
    """A change that cannot hold is flagged at the cell that is in the way."""
    assert expected == found(check, BOOK + line)


def test_a_programme_that_nobody_follows(found: Finder) -> None:
    """A change for a programme without clients changes nothing."""
    text = (BOOK + "| Rowing | | | | | leave out |").replace("| Bo Dale | Rowing |", "| Bo Dale | Strength |")
    assert found(check_changes_match, text) == [("Changes!A2", "change-matches-nothing")]


@pytest.mark.parametrize(
    ("check", "line", "touches"),
    [
        (check_changes_match, "| new | | C | | | leave out |", ("Ana Ruiz",)),
        (check_change_people, "| Ana Ruis, old | | | | | leave out |", ("Bo Dale", "Ana Ruiz")),
        (check_keep_reasons, "| Tuesday early | | | Press-up | | keep |", ("Ana Ruiz", "Bo Dale")),
    ],
)
def test_who_is_stopped(book_of: Callable[[str], Book], check: Check, line: str, touches: tuple[str, ...]) -> None:
    """Without its change a booklet would show what it was to take away: those it speaks of are stopped."""
    (flag,) = check(book_of(BOOK + line))
    assert touches == flag.touches


def test_the_hint_says_what_there_is(book_of: Callable[[str], Book]) -> None:
    """The message names what fitted so far, the hint what would have fitted."""
    (flag,) = check_changes_match(book_of(BOOK + "| Ana Ruiz | Squat and press | B7 | | | leave out |"))
    assert flag.message == 'No row of Strength with Session "Squat and press" has Order "B7".'
    assert flag.hint == "It may be B1 there."
