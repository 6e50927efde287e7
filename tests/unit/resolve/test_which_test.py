"""Which test counts: the best of the latest day, and one from inside the block only where there is no other.

The same for a rep maximum and for the most repetitions as for a 1RM; worked by hand, without any formula.
"""

from __future__ import annotations

from decimal import Decimal

import pytest

from compiler.pipeline.check import Checked, check_source
from compiler.quantities import Load, Unit
from compiler.resolve.values import Part, PlannedExercise
from tests.fragments import fragment_book

BOOK = """
## Block
| Setting | Value |
| Start date | 2027-01-04 |
| Weeks | 1 |
| Unit | kg |
## Exercises
| Exercise | Implement |
| Squat | barbell |
| Press-up | body weight |
## Programme
| Programme | Session | Order | Exercise | Week 1 sets | Week 1 reps | Week 1 load |
| Strength | One | A | Squat | 1 | 3 | {load} |
| Strength | One | B | Press-up | 3 | 50% of max | |
## Clients
| Client | Programme | Screened on |
| Ana Ruiz | Strength | 2026-12-01 |
## Tests
| Client | Exercise | Date | Load | Reps | Source |
{tests}
"""


def planned(load: str, *tests: str) -> tuple[Checked, list[PlannedExercise]]:
    """Return what is planned with some tests: exercise, date, load, reps, source."""
    rows = "\n".join(f"| Ana Ruiz | {test} |" for test in tests)
    checked = check_source(fragment_book(BOOK.format(load=load, tests=rows)))
    return checked, list(checked.plans[0].sessions[0].parts[Part.MAIN])


@pytest.mark.parametrize(
    ("tests", "exact"),
    [
        (["Squat | 2026-12-07 | 70 | 5 |", "Squat | 2026-12-07 | 80 | 5 |"], 80),
        (["Squat | 2026-12-07 | 80 | 5 |", "Squat | 2026-12-07 | 70 | 5 |"], 80),
        (["Squat | 2026-12-07 | 80 | 5 |", "Squat | 2026-12-14 | 70 | 5 |"], 70),
        (["Squat | 2026-12-07 | 80 | 5 |", "Squat | 2027-01-06 | 90 | 5 |"], 80),
        (["Squat | 2027-01-06 | 90 | 5 |"], 90),
    ],
    ids=["the lower row", "the upper row", "the latest day", "not from inside the block", "the only one, inside it"],
)
def test_the_rep_maximum(tests: list[str], exact: int) -> None:
    """Two fives on one day: the heavier one is the five-rep maximum, whichever stands first."""
    _, (squat, _) = planned("100% of 5RM", *tests)
    assert squat.load.items[0].low.exact == Load(Decimal(exact), Unit.KG)


def test_an_old_rep_maximum_is_told_beside_a_newer_single() -> None:
    """The five is 104 days old on the start date and used; a good test is one of 90 days."""
    checked, _ = planned("100% of 5RM", "Squat | 2026-09-22 | 80 | 5 |", "Squat | 2026-12-14 | 95 | 1 |")
    told = [flag.message for flag in checked.flags if flag.slug == "stale-test"]
    assert told == ["Ana Ruiz's test of Squat is 104 days old on the start date; it was used all the same."]


def test_the_last_of_two_working_weights_of_a_day() -> None:
    """`next` dates a rise by the day it was earned, where an earlier working weight may stand."""
    rows = ["Squat | 2026-12-14 | 60 | | working weight", "Squat | 2026-12-14 | 62.5 | | working weight"]
    _, (squat, _) = planned("own", *rows)
    assert squat.load.items[0].low.exact == Load(Decimal("62.5"), Unit.KG)


@pytest.mark.parametrize("reps", [(20, 30), (30, 20)])
def test_the_most_repetitions_of_a_day(reps: tuple[int, int]) -> None:
    """Half of thirty."""
    _, (_, press_up) = planned("60 kg", *(f"Press-up | 2026-12-14 | | {count} |" for count in reps))
    (item,) = press_up.reps.items
    assert getattr(item, "low", None) == 15
