"""Tests that look like pounds, and tests far from the last one.

A kilogram is 2.2046 lb (NIST SP 811, appendix B). A quarter is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Callable

import pytest

from compiler.flags.model import Flag
from compiler.review import Review
from compiler.review.tests import review_tests

POUNDS, JUMP = "test-in-pounds", "test-jump"

BOOK = """
## Block
| Setting | Value |
| Start date | 2026-12-07 |

## Exercises
| Exercise    | Implement             | Load from  | Ratio | Body-weight share |
| Back squat  | barbell               |            |       |                   |
| Front squat | barbell               | Back squat | 85%   |                   |
| Pull-up     | body weight plus load |            |       | 100%              |

## Clients
| Client | Programme | Body weight |
| Ana    | S         | 80 kg       |

## Tests
| Client | Date | Exercise | Load | Unit | Reps | Body weight | Source |
"""


def book(*rows: str) -> str:
    return BOOK + "".join(f"| Ana | {row} |\n" for row in rows)


CASES: tuple[tuple[str, str, list[tuple[str, str]]], ...] = (
    (
        "pounds typed as kilograms",
        book("2026-10-12 | Back squat | 75 | kg", "2026-11-16 | Back squat | 167.5 | kg"),
        [("Tests!D3", POUNDS)],
    ),
    (
        "the earlier one was in pounds: once, at the earlier one",
        book(
            "2026-09-12 | Back squat | 75 | kg",
            "2026-10-12 | Back squat | 170 | kg",
            "2026-11-16 | Back squat | 80 | kg",
        ),
        [("Tests!D3", POUNDS)],
    ),
    (
        "kilograms typed as pounds",
        book("2026-10-12 | Back squat | 165 | lb", "2026-11-16 | Back squat | 77.5 | lb"),
        [("Tests!D3", POUNDS)],
    ),
    (
        "kilograms, then pounds: either may be wrong, and the later one is told",
        book("2026-10-12 | Back squat | 75 | kg", "2026-11-16 | Back squat | 365 | lb"),
        [("Tests!D3", POUNDS)],
    ),
    (
        "pounds, then kilograms: either may be wrong, and the later one is told",
        book("2026-10-12 | Back squat | 365 | lb", "2026-11-16 | Back squat | 75 | kg"),
        [("Tests!D3", POUNDS)],
    ),
    (
        "by the 1RM the sets stand for: 65 kg for five are 73 kg",
        book("2026-10-12 | Back squat | 65 | kg | 5", "2026-11-16 | Back squat | 162.5 | kg"),
        [("Tests!D3", POUNDS)],
    ),
    (
        "working weights among themselves",
        book(
            "2026-10-12 | Back squat | 50 | kg | | | working weight",
            "2026-11-16 | Back squat | 110 | kg | | | working weight",
        ),
        [("Tests!D3", POUNDS)],
    ),
    (
        "a working weight is not compared with a maximum",
        book("2026-10-12 | Back squat | 50 | kg | | | working weight", "2026-11-16 | Back squat | 110 | kg"),
        [],
    ),
    (
        "the only test of an exercise against the one it borrows from",
        book("2026-11-16 | Back squat | 100 | kg", "2026-11-16 | Front squat | 187.5 | kg"),
        [("Tests!D3", POUNDS)],
    ),
    (
        "a body weight in the other unit",
        book("2026-11-16 | Pull-up | 10 | kg | 1 | 176"),
        [("Tests!G2", POUNDS)],
    ),
    (
        "three tenths more",
        book("2026-10-12 | Back squat | 100 | kg", "2026-11-16 | Back squat | 130 | kg"),
        [("Tests!D3", JUMP)],
    ),
    (
        "three tenths less",
        book("2026-10-12 | Back squat | 100 | kg", "2026-11-16 | Back squat | 70 | kg"),
        [("Tests!D3", JUMP)],
    ),
    ("a quarter", book("2026-10-12 | Back squat | 100 | kg", "2026-11-16 | Back squat | 125 | kg"), []),
    ("attempts of one day", book("2026-11-16 | Back squat | 70 | kg", "2026-11-16 | Back squat | 100 | kg"), []),
    (
        "the best of a day stands for it, in whatever order it was typed",
        book(
            "2026-10-12 | Back squat | 100 | kg",
            "2026-10-12 | Back squat | 70 | kg",
            "2026-11-16 | Back squat | 105 | kg",
        ),
        [],
    ),
    (
        "as much help as the body weighs leaves no strength to compare",
        book("2026-10-12 | Pull-up | -80 | kg", "2026-11-16 | Pull-up | 5 | kg"),
        [],
    ),
    ("a body weight that is a kilogram off", book("2026-11-16 | Pull-up | 10 | kg | 1 | 79"), []),
    (
        "an old jump was told when it was new",
        book(
            "2026-08-12 | Back squat | 60 | kg",
            "2026-10-12 | Back squat | 90 | kg",
            "2026-11-16 | Back squat | 95 | kg",
        ),
        [],
    ),
    ("past its use", book("2025-10-12 | Back squat | 60 | kg", "2026-11-16 | Back squat | 90 | kg"), []),
    (
        "the whole system counts: 80 kg and 5 kg, 80 kg and 20 kg",
        book("2026-10-12 | Pull-up | 5 | kg", "2026-11-16 | Pull-up | 20 | kg"),
        [],
    ),
    (
        "two units in one row are told elsewhere",
        book("2026-10-12 | Back squat | 60 | kg", "2026-11-16 | Back squat | 200 lb | kg"),
        [],
    ),
    ("one test alone", book("2026-11-16 | Back squat | 167.5 | kg"), []),
)


@pytest.mark.parametrize(("text", "expected"), [case[1:] for case in CASES], ids=[case[0] for case in CASES])
def test_which_tests_are_doubted(
    text: str, expected: list[tuple[str, str]], reviewed: Callable[[Review, str], tuple[Flag, ...]]
) -> None:
    """A test is told at its load, once."""
    assert [(str(flag.place), flag.slug) for flag in reviewed(review_tests, text)] == expected


@pytest.mark.parametrize(
    ("rows", "said"),
    [
        (
            ("2026-10-12 | Back squat | 75 | kg", "2026-11-16 | Back squat | 167.5 | kg"),
            "about 2.2 times the 75 kg of 2026-10-12: it looks like pounds under kg.",
        ),
        (
            ("2026-10-12 | Back squat | 165 | lb", "2026-11-16 | Back squat | 77.5 | lb"),
            "less than half the 165 lb of 2026-10-12: it looks like kilograms under lb.",
        ),
    ],
)
def test_what_is_said_of_pounds(
    rows: tuple[str, ...], said: str, reviewed: Callable[[Review, str], tuple[Flag, ...]]
) -> None:
    (found,) = reviewed(review_tests, book(*rows))
    assert found.message.endswith(said)


@pytest.mark.parametrize(("day", "told"), [("2026-11-22", ["Tests!D2"]), ("2026-11-23", [])])
def test_a_test_without_a_unit_among_pounds_of_its_week(
    day: str, told: list[str], reviewed: Callable[[Review, str], tuple[Flag, ...]]
) -> None:
    """Six days from Monday 16 November is the same week's testing, seven days another's."""
    text = book("2026-11-16 | Front squat | 70", f"{day} | Back squat | 185 | lb")
    assert [str(flag.place) for flag in reviewed(review_tests, text) if "has no unit" in flag.message] == told
