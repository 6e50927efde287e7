"""The two-for-two rule and its amounts, against the handbook's rows in data/reference/load_increase.csv.

Haff and Triplett 2016: two or more repetitions over the goal in the last set, in two consecutive sessions. Rows from
memory of the source are not tested against. What the Block's cap does is our own rule.
"""

from __future__ import annotations

import csv
from decimal import Decimal
from pathlib import Path

import pytest

from compiler.progress.steps import HANDBOOK, MOST
from compiler.progress.two_for_two import RUNNING, SPARE
from compiler.progress.values import Proposal
from compiler.quantities import Load, Unit
from tests.unit.progress.months import month_of, source_of

REFERENCE = Path(__file__).parents[2] / "data" / "reference" / "load_increase.csv"
OWN = "A | Back squat | 3 | 8 | own | | | 2"
RANGE = "A | Back squat | 3 | 8-10 | own | | | 2"
WORKING = "2026-12-20 | Back squat | 60 | kg | | | working weight"


def reference() -> list[dict[str, str]]:
    with REFERENCE.open(encoding="utf-8") as file:
        return list(csv.DictReader(file))


def kg(amount: str) -> Load:
    return Load(Decimal(amount), Unit.KG)


def proposals(log: str, programme: str = OWN, **more: str) -> list[Proposal]:
    return list(month_of(source_of(programme, log, WORKING, **more)).proposals)


def test_amounts_are_the_handbook_s() -> None:
    """The largest rise in pounds is that of the table, for people who are smaller, weaker or less trained."""
    rows = {
        row["body_area"]: Decimal(row["amount_lb_max"])
        for row in reference()
        if row["rule"] == "nsca_amount" and "secondary_page" in row["confirmed"]
    }
    assert rows == {area: MOST[area, Unit.LB] for area in ("upper", "lower")}


def test_kilograms_are_told_to_be_from_memory() -> None:
    """The reference labels the kilograms as from memory, and so does the source that the coach sees."""
    rows = [row for row in reference() if row["rule"] == "nsca_amount"]
    assert all("memory" in row["confirmed"] + row["note"] for row in rows)
    assert "kg amounts from memory" in HANDBOOK


def test_the_trigger_is_the_handbook_s() -> None:
    """Two or more over the goal, twice."""
    row = next(row for row in reference() if row["rule"] == "nsca_2_for_2")
    assert row["condition"].startswith(f"{SPARE} or more reps over the goal in the last set, in {RUNNING} consecutive")


@pytest.mark.parametrize(
    "log",
    [
        "A | Back squat | | 60x8, 60x8, 60x10 | 60x8, 60x8, 60x10 |",
        "A | Back squat | | 60x8 @8 | 60x8, 60x8, 60x8 @7 |",
        "A | Back squat | | 60x8, 60x8, 60x9 @9 | ok @8 |",
        "A | Back squat | | 62.5x8 @8 | 60x8 @8 | 60x5",
    ],
    ids=["two more", "two left", "one more and one left, ok", "heavier, easier week left out"],
)
def test_two_to_spare_twice_raises(log: str) -> None:
    """60 kg goes up by the handbook's 4 kg, under the cap of 5% and to what the bar can carry: 62.5 kg."""
    (found,) = proposals(log)
    assert (found.old, found.new, found.written) == (kg("60"), kg("62.5"), True)
    assert [(test.load, test.source) for test in found.tests] == [(kg("62.5"), "working weight")]
    assert "Two-for-two" in found.why


@pytest.mark.parametrize(
    "log",
    [
        "A | Back squat | | 60x8 | 60x8, 60x8, 60x10 |",
        "A | Back squat | 60x8 @8 | 60x8 @8 | |",
        "A | Back squat | | 60x8 @8 | - |",
        "A | Back squat | | 60x7, 60x8, 60x10 | 60x8 @8 |",
        "A | Back squat | | 55x8 @8 | 60x8 @8 |",
        "A | Back squat | | 60x8, 60x8 @7 | 60x8 @8 |",
        "A | Back squat | | ok | ok |",
        "A | Back squat | | | |",
    ],
    ids=["once", "last not logged", "last not done", "a set short", "too light", "a set missing", "ok", "no log"],
)
def test_anything_less_changes_nothing(log: str) -> None:
    """Once is not twice, and what is not written down does not count."""
    assert proposals(log) == []


def test_a_range_wants_its_top_in_every_set() -> None:
    """8-10: ten in every set, twice; the effort does not count."""
    top = "A | Back squat | | 60x10, 60x10, 60x10 | 60x10 |"
    short = "A | Back squat | | 60x10, 60x9, 60x10 | 60x10 @6 |"
    assert [found.new for found in proposals(top, RANGE)] == [kg("62.5")]
    assert proposals(short, RANGE) == []


def test_over_the_cap_is_only_listed() -> None:
    """The next dumbbell after 12 kg is 14: a sixth more. It is told, with what to type, and nothing is written."""
    programme = "A | Goblet squat | 3 | 8 | own | | | 2"
    log = "A | Goblet squat | | 12x8 @8 | 12x8 @8 |"
    tests = "2026-12-20 | Goblet squat | 12 | kg | | | working weight"
    (found,) = month_of(source_of(programme, log, tests)).proposals
    assert (found.new, found.written) == (kg("14"), False)
    assert found.type_this == ("Tests: Imogen Thackray, 2027-01-18, Goblet squat, Load 14 kg, Source working weight")


def test_the_cap_is_the_block_s() -> None:
    """With a biggest rise of 10% the full step of 4 kg goes to the nearest load, 65 kg."""
    log = "A | Back squat | | 60x8 @8 | 60x8 @8 |"
    (found,) = proposals(log, settings="| Biggest rise at a new block | 10% |")
    assert found.new == kg("65")


@pytest.mark.parametrize(
    ("more", "why"),
    [({"restricted": "tired"}, "tired says not to raise loads"), ({"born": "2010-03-01"}, "under 18")],
)
def test_some_are_raised_by_the_coach_alone(more: dict[str, str], why: str) -> None:
    """For a client who may not rise, and for a minor, a rise is only listed."""
    (found,) = proposals("A | Back squat | | 60x8 @8 | 60x8 @8 |", **more)
    assert not found.written
    assert why in found.why
    assert found.type_this is not None


def test_the_first_working_weight_is_what_was_lifted() -> None:
    """Without one, what the client found for `own` in the first week is written down: a record, not a rise."""
    (found,) = month_of(source_of(OWN, "A | Back squat | 55x8 | 57.5x8 | |")).proposals
    assert [(test.load, test.source, test.day.isoformat()) for test in found.tests] == [
        (kg("55"), "working weight", "2027-01-04")
    ]


def test_a_first_weight_that_was_too_much_is_not_the_working_weight() -> None:
    """Who began with 60 kg and ended with 50 kg is not asked for 60 kg again; a heavier end raises nothing."""
    for last, weight, told in (("50x8", "50", "lighter than the 60 kg of week 1"), ("70x8", "60", "in week 1.")):
        (found,) = month_of(source_of(OWN, f"A | Back squat | 60x8 | 55x8 | {last} |")).proposals
        assert (found.new, found.written) == (kg(weight), True)
        assert told in found.why


def test_the_body_alone_is_no_working_weight() -> None:
    """From 2.5 kg of help the next is none: a row of Tests with nought would be an error, so it is only listed."""
    source = source_of(
        "A | Weighted dip | 3 | 8 | own | | | 2",
        "A | Weighted dip | | ok @8 | ok @8 |",
        "2026-12-20 | Weighted dip | -2.5 | kg | | | working weight",
    )
    (found,) = month_of(source).proposals
    assert (found.new, found.written) == (kg("0"), False)
    assert found.type_this == "Changes: Imogen Thackray, Weighted dip, Do load, Load body weight"


def test_a_typed_weight_becomes_the_client_s_own() -> None:
    """60 kg for everybody, a step up in week 3: every week moves up alike, by rows of Changes that name the weeks."""
    programme = "A | Back squat | 3 | 8 | 60 kg | | +5 kg | 2"
    (found,) = month_of(source_of(programme, "A | Back squat | | 60x8 @8 | 65x8 @8 |")).proposals
    assert (found.old, found.new) == (kg("65"), kg("67.5"))
    assert [f"{place.sheet}!{place.a1}" for place in found.rests_on[:2]] == ["Log!F2", "Log!G2"]
    assert [(change.do, change.weeks, change.load) for change in found.changes] == [
        ("load", (1, 2), "60 kg"),
        ("load", (3, 4), "67.5 kg"),
    ]


def test_what_is_added_to_body_weight_counts_the_body() -> None:
    """BW + 10 kg of a 70 kg client: 2.5 kg more is a quarter of what is added and under 4% of what is lifted."""
    programme = "A | Weighted dip | 3 | 8 | BW + 10 kg | | | 2"
    (found,) = month_of(source_of(programme, "A | Weighted dip | | BW + 10 x 8 @8 | ok @8 |")).proposals
    assert [(change.weeks, change.load) for change in found.changes] == [(None, "BW + 12.5 kg")]


def test_a_list_has_no_rule() -> None:
    """That the client is ready is told; what to lift is the coach's."""
    programme = "A | Back squat | 3 | 8 | 50, 55, 60 kg | | | 3"
    log = "A | Back squat | | 50x8, 55x8, 60x10 | 50x8, 55x8, 60x10 |"
    (found,) = month_of(source_of(programme, log)).proposals
    assert not found.written
    assert "no rule" in found.why
