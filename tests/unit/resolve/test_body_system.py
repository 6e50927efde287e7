"""Shares of what is lifted with the body: they are taken of body and load together. Worked by hand.

Ada weighs 80 kg. Nine tenths of help alone would be less help, and so a harder lift; of the system they are an
easier one.
"""

from __future__ import annotations

from decimal import Decimal

import pytest

from compiler.documents.figures import Figures
from compiler.documents.load_words import body_words
from compiler.documents.log_entry import target_words
from compiler.quantities import Load, Unit
from compiler.resolve.plan import Resolution
from compiler.resolve.values import LoadKind
from tests.unit.resolve.one_row import ADA, only, resolve_row

EXERCISES = (
    ["Exercise", "Implement", "Body-weight share"],
    ["Pull-up", "body weight plus load"],
    ["Dip", "body weight plus load", "95%"],
)


TESTS = (
    ["Client", "Date", "Exercise", "Load", "Unit", "Reps", "Source"],
    [ADA, "2026-11-16", "Pull-up", "-20", "kg", "", "working weight"],
)


def resolve(load: str, scale: str = "", exercise: str = "Pull-up", weight: str = "80 kg") -> Resolution:
    return resolve_row(exercise, load, EXERCISES, TESTS, weight, scale)


@pytest.mark.parametrize(
    ("load", "scale", "expected"),
    [
        ("own", "", "3 × 5 @ BW − 20 kg"),
        ("own - 10%", "", "3 × 5 @ BW − 25 kg"),  # (80 - 20) x 90% = 54: 26 kg of help, nearer to 25
        ("own", "90%", "3 × 5 @ BW − 25 kg"),
        ("BW - 20 kg", "90%", "3 × 5 @ BW − 25 kg"),
        ("BW + 10 kg", "90%", "3 × 5 @ BW"),  # 90 x 90% = 81: 1 kg, nearer to nothing
        ("10 kg", "", "3 × 5 @ BW + 10 kg"),  # a weight beside a lift of the body is added to it
        ("25% BW", "", "3 × 5 @ BW + 20 kg"),
    ],
)
def test_a_share_is_of_the_system(load: str, scale: str, expected: str) -> None:
    """A lighter share of an assisted lift has more help, and every load says that the body is in it."""
    planned = only(resolve(load, scale))
    assert planned.load.kind is LoadKind.ADDED
    assert target_words(planned, Figures()) == expected


def test_the_share_of_the_body_counts() -> None:
    """A dip lifts 76 of 80 kg: (76 - 15) x 90% less 76 is 21.1 kg of help, nearer to 20."""
    assert target_words(only(resolve("BW - 15 kg", "90%", "Dip")), Figures()) == "3 × 5 @ BW − 20 kg"


@pytest.mark.parametrize(("load", "scale"), [("own - 10%", ""), ("BW - 20 kg", "90%")])
def test_without_a_body_weight_there_is_no_share(load: str, scale: str) -> None:
    """A share of a system that nobody knows is left blank, and flagged."""
    found = resolve(load, scale, weight="")
    assert only(found).load.kind is LoadKind.BLANK
    assert [flag.slug for flag in found.flags] == ["missing-body-weight"]


@pytest.mark.parametrize(
    ("low", "high", "expected"),
    [
        ("0", "0", "body weight"),
        ("0", "5", "body weight + 0–5 kg"),
        ("-20", "-15", "body weight − 15–20 kg"),
        ("-20", "0", "body weight − 0–20 kg"),
        ("-5", "2.5", "body weight − 5 to + 2.5 kg"),
    ],
)
def test_what_is_added_is_said_with_its_sign(low: str, high: str, expected: str) -> None:
    """Neither end of a range is lost where one is help and the other a weight."""
    assert body_words(Load(Decimal(low), Unit.KG), Load(Decimal(high), Unit.KG), Figures()) == expected
