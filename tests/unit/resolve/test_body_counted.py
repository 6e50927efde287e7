"""Where the body is part of what is lifted, and where it is not. Worked by hand.

Percentages of body weight plus load are of the whole system; the answer is what is added. Ada weighs 80 kg. Brzycki:
five repetitions are 0.8888 of the 1RM.
"""

from __future__ import annotations

from decimal import Decimal

import pytest

from compiler.quantities import Load
from compiler.resolve.plan import Resolution
from tests.unit.resolve.one_row import ADA, only, resolve_row

EXERCISES = (
    ["Exercise", "Implement", "Load from", "Ratio", "Body-weight share"],
    ["Pulldown", "other"],
    ["Pull-up", "body weight plus load", "Pulldown", "100%"],
    ["Weighted chin", "body weight plus load"],
    ["Narrow chin", "body weight plus load", "Weighted chin", "90%"],
    ["Dip", "body weight plus load", "Weighted chin", "100%", "50%"],
    ["Row", "barbell", "Weighted chin", "60%"],
)
TESTS = (
    ["Client", "Date", "Exercise", "Load", "Unit", "Reps", "Body weight"],
    [ADA, "2026-11-16", "Pulldown", "100", "kg", "1", ""],
    [ADA, "2026-11-16", "Weighted chin", "20", "kg", "5", "82"],
)


def resolve(exercise: str, load: str, weight: str = "80 kg") -> Resolution:
    return resolve_row(exercise, load, EXERCISES, TESTS, weight)


def exact(resolution: Resolution) -> Load | None:
    items = only(resolution).load.items
    return items[0].low.exact if items else None


@pytest.mark.parametrize(
    ("exercise", "load", "expected"),
    [
        ("Pull-up", "90%", "10"),  # 100 kg of pulldown: 90 kg in all, less 80 kg of body
        ("Pull-up", "75%", "-5"),  # 75 kg in all: 5 kg of help
        ("Row", "80%", "55.085509"),  # 102 kg / 0.8888 x 60% x 80%: the barbell row lifts no body
        ("Weighted chin", "90% of 5RM", "11.8"),  # 102 kg x 90% less the 80 kg she weighs now
        ("Narrow chin", "80%", "2.628263"),  # 102 kg / 0.8888 x 90% x 80% less 80 kg
        ("Dip", "40%", "5.904590"),  # 102 kg / 0.8888 x 40% less half of 80 kg
    ],
)
def test_the_body_is_taken_off_where_it_is_lifted(exercise: str, load: str, expected: str) -> None:
    """Whoever lends the test, the body counts in the exercise that lifts it and in no other."""
    found = exact(resolve(exercise, load))
    assert found is not None
    assert found.amount == Decimal(expected)


def test_without_a_body_weight_there_is_no_number() -> None:
    """A pull-up loaded from a pulldown needs the body weight: without one it is left blank, and flagged."""
    found = resolve("Pull-up", "90%", weight="")
    assert exact(found) is None
    assert [flag.slug for flag in found.flags] == ["missing-body-weight"]
