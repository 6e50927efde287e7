"""Tests that contradict each other, help where none is, two bars at once, changes without a week before them."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from compiler.checks import Check
from compiler.checks.bars import check_bars_in_groups
from compiler.checks.changes import check_change_doses
from compiler.checks.tests import check_help, check_singles

Expected = list[tuple[str, str]]
Finder = Callable[[Check, str], Expected]

TESTS = "## Tests\n| Client | Date | Exercise | Load | Unit | Reps | RPE | Source |\n"
START = "## Block\n| Setting | Value |\n| Start date | 2026-12-07 |\n"
LIFTS = (
    "## Exercises\n| Exercise | Implement | Bar |\n| Squat | barbell | |\n| Press | barbell | |\n| Row | dumbbell | |\n"
    "| Pull-up | body weight plus load | |\n"
)
GROUP = "## Programme\n| Programme | Session | Order | Exercise | Done as | Week 1 sets | Week 2 sets |\n"


def typed(*rows: str) -> str:
    return TESTS + "".join(f"| {row} |\n" for row in rows)


CASES: tuple[tuple[str, Check, str, Expected], ...] = (
    (
        "a five above the single of the same day",
        check_singles,
        typed("Ana | 2026-11-16 | Squat | 90 | kg | 1 | |", "Ana | 2026-11-16 | Squat | 95 | kg | 5 | |"),
        [("Tests!D3", "tests-disagree")],
    ),
    (
        "the later row is the one to look at, whichever it is",
        check_singles,
        typed("Ana | 2026-11-16 | Squat | 95 | kg | 5 | |", "Ana | 2026-11-18 | Squat | 90 | kg | | |"),
        [("Tests!D3", "tests-disagree")],
    ),
    (
        "pounds are weighed as pounds",
        check_singles,
        typed("Ana | 2026-11-16 | Squat | 90 | kg | 1 | |", "Ana | 2026-11-16 | Squat | 190 | lb | 5 | |"),
        [],
    ),
    (
        "a lighter single before the best one contradicts nothing",
        check_singles,
        typed(
            "Ana | 2026-11-16 | Squat | 90 | kg | 1 | |",
            "Ana | 2026-11-16 | Squat | 100 | kg | 1 | |",
            "Ana | 2026-11-16 | Squat | 92.5 | kg | 2 | |",
        ),
        [],
    ),
    (
        "a single that left four is no maximum",
        check_singles,
        typed("Ana | 2026-11-16 | Squat | 90 | kg | 1 | 6 |", "Ana | 2026-11-16 | Squat | 95 | kg | 5 | |"),
        [],
    ),
    (
        "a single that left four could have been five, and no six",
        check_singles,
        typed("Ana | 2026-11-16 | Squat | 90 | kg | 1 | 6 |", "Ana | 2026-11-16 | Squat | 95 | kg | 6 | |"),
        [("Tests!D3", "tests-disagree")],
    ),
    (
        "a single that left one could have been a double",
        check_singles,
        typed("Ana | 2026-11-16 | Squat | 90 | kg | 1 | 9 |", "Ana | 2026-11-16 | Squat | 95 | kg | 2 | |"),
        [],
    ),
    (
        "a single that left one could not have been three",
        check_singles,
        typed("Ana | 2026-11-16 | Squat | 90 | kg | 1 | 9 |", "Ana | 2026-11-16 | Squat | 95 | kg | 3 | |"),
        [("Tests!D3", "tests-disagree")],
    ),
    (
        "a single that left more than four says nothing",
        check_singles,
        typed("Ana | 2026-11-16 | Squat | 90 | kg | 1 | 5 |", "Ana | 2026-11-16 | Squat | 95 | kg | 12 | |"),
        [],
    ),
    (
        "a single that left one, and a five above it",
        check_singles,
        typed("Ana | 2026-11-16 | Squat | 90 | kg | 1 | 9 |", "Ana | 2026-11-16 | Squat | 95 | kg | 5 | |"),
        [("Tests!D3", "tests-disagree")],
    ),
    (
        "two months apart",
        check_singles,
        typed("Ana | 2026-09-16 | Squat | 90 | kg | 1 | |", "Ana | 2026-11-16 | Squat | 95 | kg | 5 | |"),
        [],
    ),
    (
        "both past their use",
        check_singles,
        START + typed("Ana | 2026-03-16 | Squat | 90 | kg | 1 | |", "Ana | 2026-03-16 | Squat | 95 | kg | 5 | |"),
        [],
    ),
    (
        "a working weight is no single",
        check_singles,
        typed("Ana | 2026-11-16 | Squat | 60 | kg | | | working weight", "Ana | 2026-11-16 | Squat | 95 | kg | 5 | |"),
        [],
    ),
    (
        "another client's single",
        check_singles,
        typed("Ben | 2026-11-16 | Squat | 90 | kg | 1 | |", "Ana | 2026-11-16 | Squat | 95 | kg | 5 | |"),
        [],
    ),
    (
        "tests whose clients could not be read may be anybody's",
        check_singles,
        typed(" | 2026-11-16 | Squat | 90 | kg | 1 | |", "{error #N/A} | 2026-11-16 | Squat | 95 | kg | 5 | |"),
        [],
    ),
    (
        "help for a bar lift",
        check_help,
        LIFTS + typed("Ana | 2026-11-16 | Squat | -20 | kg | 5 | |", "Ana | 2026-11-16 | Pull-up | -20 | kg | 5 | |"),
        [("Tests!D2", "cells-disagree")],
    ),
    (
        "two bar lifts in turn",
        check_bars_in_groups,
        LIFTS + GROUP + "| S | A | B1 | Squat | | 3 x 8 @ 75% | |\n| S | A | B2 | Press | | 3 x 8 @ 75% | |\n",
        [("Programme!D3", "two-bars-at-once")],
    ),
    (
        "two bar lifts with one weight on one bar",
        check_bars_in_groups,
        LIFTS + GROUP + "| S | A | B1 | Squat | | 3 x 8 @ 40 kg | |\n| S | A | B2 | Press | | 3 x 8 @ 40 kg | |\n",
        [],
    ),
    (
        "two bar lifts that never meet in a week",
        check_bars_in_groups,
        LIFTS + GROUP + "| S | A | B1 | Squat | | 3 x 8 @ 75% | - |\n| S | A | B2 | Press | | | 3 x 8 @ 75% |\n",
        [],
    ),
    (
        "stations of a circuit keep their bars",
        check_bars_in_groups,
        LIFTS + GROUP + "| S | A | B1 | Squat | circuit | 3 x 8 @ 75% | |\n| S | A | B2 | Press | | 3 x 8 @ 75% | |\n",
        [],
    ),
    (
        "a bar lift and a dumbbell",
        check_bars_in_groups,
        LIFTS + GROUP + "| S | A | B1 | Squat | | 3 x 8 @ 75% | |\n| S | A | B2 | Row | | 3 x 8 @ 20 kg | |\n",
        [],
    ),
    (
        "a change with a step, and with a dash",
        check_change_doses,
        "## Changes\n| Client | Do | Sets | Load |\n| all | load | | +2.5 kg |\n| all | load | - | 60 kg |\n",
        [("Changes!C3", "unreadable-reps"), ("Changes!D2", "step-without-start")],
    ),
    (
        "a change with a load of its own",
        check_change_doses,
        "## Changes\n| Client | Do | Sets | Load |\n| all | load | 2 | own + 2.5 kg |\n",
        [],
    ),
)


@pytest.mark.parametrize(("check", "text", "expected"), [case[1:] for case in CASES], ids=[case[0] for case in CASES])
def test_what_a_check_finds(check: Check, text: str, expected: Expected, found: Finder) -> None:
    """Each check finds its slip at the smallest cell, and nothing where there is none."""
    assert found(check, text) == expected
