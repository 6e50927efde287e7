"""Repetitions against percentage, on the row or of a client.

Repetitions to failure at a percentage: NSCA, Essentials of Strength Training and Conditioning, 4th edition, table 17.7
(80% is 8, 85% is 6, 90% is 4), as in tests/data/reference/percent_1rm_by_reps.csv. Spare repetitions: common practice,
no source.
"""

from __future__ import annotations

from collections.abc import Callable

import pytest

from compiler.flags.model import Flag
from compiler.review import Review
from compiler.review.reps import review_reps

Reviewed = Callable[[Review, str], tuple[Flag, ...]]
Expected = list[tuple[str, str, str | None, tuple[str, ...]]]

FAR, BEYOND = "reps-far-beyond-percentage", "reps-beyond-percentage"

BOOK = """
## Exercises
| Exercise     | Implement | Load from   | Ratio | Area  |
| Bench press  | barbell   |             |       | upper |
| Back squat   | barbell   |             |       | lower |
| Leg press    | machine   |             |       | lower |
| Close press  | barbell   | Bench press | 90%   | upper |
| Pull-up      | body weight plus load | |      | upper |

## Clients
| Client | Programme | Body weight | Working max | Restrictions |
| Ana    | S         | 80 kg       |             |              |
| Ben    | S         | 80 kg       | {ben}       |              |

## Tests
| Client | Date       | Exercise    | Load | Unit | Reps |
| Ana    | 2026-11-16 | Bench press | 100  | kg   | 1    |
| Ben    | 2026-11-16 | Bench press | 220  | lb   | 1    |
| Ana    | 2026-11-16 | Back squat  | 100  | kg   | 1    |
| Ana    | 2026-11-16 | Leg press   | 100  | kg   | 1    |
| Ana    | 2026-11-16 | Pull-up     | 20   | kg   | 1    |

## Programme
|Programme|Session|Order|Exercise|Tempo|Rest|Week 1 sets|Week 1 reps|Week 1 load|Week 2 reps|Week 2 load|
"""


def book(*rows: str, ben: str = "") -> str:
    return BOOK.format(ben=ben) + "".join(f"| S | A | {row} |\n" for row in rows)


CASES: tuple[tuple[str, str, Expected], ...] = (
    ("eight at 80% in two sets", book("A | Bench press | | | 2 | 8 | 80%"), []),
    (
        "eight at 80% in three sets leave none to spare",
        book("A | Bench press | | | 3 | 8 | 80%"),
        [("Programme!I2", BEYOND, None, ())],
    ),
    ("seven at 80% in three sets", book("A | Bench press | | | 3 | 7 | 80%"), []),
    (
        "seven at 80% with a short rest",
        book("A | Bench press | | 60 s | 3 | 7 | 80%"),
        [("Programme!I2", BEYOND, None, ())],
    ),
    (
        "seven at 80% lowered slowly",
        book("A | Bench press | 4-0-1-0 | 3 min | 3 | 7 | 80%"),
        [("Programme!I2", BEYOND, None, ())],
    ),
    (
        "the rest of a superset comes after the round",
        book("A1 | Bench press | | 0 | 3 | 7 | 80%", "A2 | Leg press | | 2 min | 3 | 5 | 60%"),
        [],
    ),
    (
        "ten at 90%, where the table has four",
        book("A | Bench press | | | 3 | 10 | 90%"),
        [("Programme!I2", FAR, None, ("Ana", "Ben"))],
    ),
    (
        "legs only warn",
        book("A | Back squat | | | 3 | 10 | 90%"),
        [("Programme!I2", BEYOND, None, ())],
    ),
    (
        "machines only warn",
        book("A | Leg press | | | 3 | 10 | 90%"),
        [("Programme!I2", BEYOND, None, ())],
    ),
    ("nothing is said under 65%", book("A | Bench press | | | 3 | 30 | 64%"), []),
    (
        "sixteen at 65%, where the table has fifteen",
        book("A | Bench press | | | 2 | 16 | 65%"),
        [("Programme!I2", BEYOND, None, ())],
    ),
    ("set by set: each against its own percentage", book("A | Bench press | | | 3 | 10, 6, 2 | 70, 80, 90%"), []),
    (
        "set by set: one that cannot be done",
        book("A | Bench press | | | 3 | 10, 6, 6 | 70, 80, 90%"),
        [("Programme!I2", BEYOND, None, ())],
    ),
    (
        "as many as possible asks for none; its other sets are looked at",
        book("A | Bench press | | | 3 | 9, 9, AMRAP | 80%"),
        [("Programme!I2", BEYOND, None, ())],
    ),
    ("8+ counts as eight", book("A | Bench press | | | 2 | 8+ | 80%"), []),
    (
        "the working max of one client differs",
        book("A | Bench press | | | 3 | 8 | 80%", ben="80%"),
        [("Programme!I2", BEYOND, None, ())],
    ),
    (
        "an error stops only those for whom it is one",
        book("A | Bench press | | | 3 | 10 | 90%", ben="70%"),
        [("Programme!I2", FAR, None, ("Ana",))],
    ),
    (
        "only the client with the higher working max",
        book("A | Bench press | | | 3 | 8 | 75%", ben="110%"),
        [("Programme!I2", BEYOND, "Ben", ())],
    ),
    (
        "later repetitions on the same load",
        book("A | Bench press | | | 3 | 5 | 80% | 9 |"),
        [("Programme!I2", BEYOND, None, ())],
    ),
    (
        "a step takes it too far",
        book("A | Bench press | | | 3 | 7 | 80% | | +5%"),
        [("Programme!K2", BEYOND, None, ())],
    ),
    (
        "a borrowed test is no 1RM of one's own, the row as written is",
        book("A | Close press | | | 3 | 10 | 90%"),
        [("Programme!I2", FAR, None, ("Ana", "Ben"))],
    ),
    (
        "a rep maximum is turned into the 1RM by the Block's method",
        book("A | Bench press | | | 3 | 8 | 100% of 8RM"),
        [("Programme!I2", BEYOND, None, ())],
    ),
    (
        "body weight plus load counts the whole system: 80 kg of 100 kg",
        book("A | Pull-up | | | 3 | 10 | 80%"),
        [("Programme!I2", BEYOND, None, ())],
    ),
    (
        "a typed weight above the 1RM: 110 kg of Ana's 100 kg and Ben's 99.8 kg",
        book("A | Bench press | | | 3 | 5 | 110 kg"),
        [("Programme!I2", FAR, "Ana", ("Ana",)), ("Programme!I2", FAR, "Ben", ("Ben",))],
    ),
    (
        "a typed weight that leaves too few: 90% of the 1RM is four",
        book("A | Bench press | | | 3 | 10 | 90 kg"),
        [("Programme!I2", FAR, "Ana", ("Ana",)), ("Programme!I2", FAR, "Ben", ("Ben",))],
    ),
    ("a typed weight for eight at 75%", book("A | Bench press | | | 3 | 8 | 75 kg"), []),
    (
        "a typed weight above the 1RM, for the legs",
        book("A | Back squat | | | 3 | 5 | 110 kg"),
        [("Programme!I2", BEYOND, "Ana", ())],
    ),
    ("a typed weight under a borrowed 1RM of 90 kg", book("A | Close press | | | 3 | 8 | 85 kg"), []),
    (
        "a typed weight above the borrowed 1RM",
        book("A | Close press | | | 3 | 1 | 95 kg"),
        [("Programme!I2", FAR, "Ana", ("Ana",)), ("Programme!I2", FAR, "Ben", ("Ben",))],
    ),
    (
        "added to the body: 80 kg and 25 kg, of 100 kg",
        book("A | Pull-up | | | 3 | 3 | BW + 25 kg"),
        [("Programme!I2", BEYOND, "Ana", ())],
    ),
    ("an effort is not a percentage", book("A | Bench press | | | 3 | 10 | RPE 9"), []),
    ("a percentage with a stop", book("A | Bench press | | | 3 | 8 | 80%, stop at RPE 8"), []),
)


@pytest.mark.parametrize(("text", "expected"), [case[1:] for case in CASES], ids=[case[0] for case in CASES])
def test_where_repetitions_are_doubted(text: str, expected: Expected, reviewed: Reviewed) -> None:
    """A row is told once, at its load; a client only where theirs differs."""
    found = [(str(flag.place), flag.slug, flag.client, flag.touches) for flag in reviewed(review_reps, text)]
    assert found == expected


def test_a_change_of_repetitions_is_looked_at(reviewed: Reviewed) -> None:
    """A change that asks for more makes the client's own flag, one that asks for fewer frees them."""
    changes = "\n## Changes\n| Client | Exercise | Do | Reps | Load |\n"
    more = book("A | Bench press | | | 3 | 5 | 80%") + changes + "| Ana | Bench press | load | 9 | 80% |\n"
    heavy = book("A | Bench press | | | 3 | 5 | 80%") + changes + "| Ana | Bench press | load | 5 | 105 kg |\n"
    assert [(str(f.place), f.slug, f.touches) for f in reviewed(review_reps, heavy)] == [("Changes!E2", FAR, ("Ana",))]
    fewer = book("A | Bench press | | | 3 | 10 | 90%") + changes + "| Ana | Bench press | load | 3 | 90% |\n"
    assert [(str(f.place), f.client) for f in reviewed(review_reps, more)] == [("Changes!E2", "Ana")]
    assert [(f.slug, f.touches) for f in reviewed(review_reps, fewer)] == [(FAR, ("Ben",))]
