"""Percentage lifts estimated anew. Brzycki 1993: w / (1.0278 - 0.0278 r); numbers are worked out by hand from it."""

from __future__ import annotations

from decimal import Decimal

import pytest

from compiler.progress.values import Proposal
from compiler.quantities import Load, Unit
from tests.unit.progress.months import month_of, source_of, with_cell

PERCENT = "A | Back squat | 3 | 5 | 75% | | | 2"
TESTED = "2026-12-20 | Back squat | 100 | kg | 1 | | tested"


def kg(amount: str) -> Load:
    return Load(Decimal(amount), Unit.KG)


def proposals(log: str, tests: str = TESTED, programme: str = PERCENT, **more: str) -> list[Proposal]:
    return list(month_of(source_of(programme, log, tests, **more)).proposals)


def test_a_stated_effort_raises() -> None:
    """82.5 x 5 with two left is seven to failure, 82.5 / 0.8332 = 99.0; with three left it is 102.4."""
    assert proposals("A | Back squat | | | 82.5x5 @8 |") == []
    (found,) = proposals("A | Back squat | | | 82.5x5 @7 |")
    assert (found.old, found.new) == (kg("100"), kg("102.4"))
    (test,) = found.tests
    assert (test.load, test.reps, test.rpe, test.source) == (kg("82.5"), 5, Decimal(7), "log")


def test_a_stated_effort_lowers() -> None:
    """75 x 5 with one left is six to failure: 75 / 0.861 = 87.1."""
    (found,) = proposals("A | Back squat | | | 75x5 @9 |")
    assert (found.new, found.written) == (kg("87.1"), True)


@pytest.mark.parametrize("log", ["75x5", "75x3, 75x3, 75x2", "ok", "75x5 @6"])
def test_a_floor_never_lowers(log: str) -> None:
    """A set without an effort may have been easy; four in reserve is no estimate."""
    assert proposals(f"A | Back squat | | | {log} |") == []


def test_a_floor_raises() -> None:
    """92.5 x 5 is 92.5 / 0.8888 = 104.1 at least, whatever was left."""
    (found,) = proposals("A | Back squat | | | 92.5x5 |")
    assert (found.new, found.written) == (kg("104"), True)
    assert "at least" in found.why


def test_a_rise_stops_at_the_cap_and_the_rest_is_told() -> None:
    """95 x 5 with two left is 114: 105 is written as an estimate, the set itself is what to type for all of it."""
    (found,) = proposals("A | Back squat | | | 95x5 @8 |")
    (test,) = found.tests
    assert (test.load, test.reps, test.source) == (kg("105"), 1, "estimate")
    assert "114" in found.why
    assert found.type_this == (
        "For all of it in place of the row: Tests: Imogen Thackray, 2027-01-18, Back squat, Load 95 kg,"
        " Reps 5, RPE 8, Source log"
    )


def test_the_last_full_week_counts() -> None:
    """Week 3 was not done and week 4 is an easier one: week 2 speaks."""
    (found,) = proposals("A | Back squat | 70x5 @9 | 82.5x5 @7 | - | 100x5 @9")
    assert "in week 2" in found.why


@pytest.mark.parametrize("unread", ["stop: knee", "pain", "999x5"])
def test_no_rise_past_a_week_that_could_not_be_read(unread: str) -> None:
    """What was done last is not known, and may have been too much: the rise of the week before is only listed."""
    log = f"A | Back squat | 70x5 @9 | 82.5x5 @7 | {unread} |"
    (found,) = proposals(log)
    assert (found.new, found.written) == (kg("102.4"), False)
    assert found.why.endswith("in week 2. Not raised: the log of week 3 could not be read.")
    assert found.type_this is not None
    (found,) = proposals(f"A | Back squat | | | 82.5x5 @7 | {unread}")
    assert found.why.endswith("Not raised: the log of week 4 could not be read.")
    (fall,) = proposals(log.replace("82.5x5 @7", "75x5 @9"))
    assert fall.written


def test_what_is_lifted_with_the_body_is_told_so() -> None:
    """70 kg and 10 kg of help, five with three left: 60 / 0.8054 = 74.4, as 10 kg of help is no weight of -10 kg."""
    tests = "2026-12-20 | Weighted dip | 10 | kg | 1 | | tested"
    (found,) = proposals("A | Weighted dip | | | BW - 10 x 5 @7 |", tests, "A | Weighted dip | 3 | 5 | 75% | | | 2")
    assert (found.old, found.new) == (kg("80"), kg("74.4"))
    assert found.why == "BW - 10 kg x 5 at RPE 7 in week 3."


def test_the_body_alone_is_a_load() -> None:
    """70 kg for five with one left is six to failure: 70 / 0.861 = 81.3, where 90 kg with 20 added was tested."""
    tests = "2026-12-20 | Weighted dip | 20 | kg | 1 | | tested"
    (found,) = proposals("A | Weighted dip | | | BW x 5 @9 |", tests, "A | Weighted dip | 3 | 5 | 80% | | | 2")
    assert (found.old, found.new, found.written) == (kg("90"), kg("81.3"), True)
    assert found.why == "body weight x 5 at RPE 9 in week 3."


def test_a_share_of_a_tested_rep_maximum_is_told_to_stay() -> None:
    """72.5 x 5 with nothing left, 81.5 after 99.3 (80 / 0.8054), moves no load that rests on a test of eight."""
    tests = "2026-12-20 | Back squat | 80 | kg | 8 | | tested"
    (found,) = proposals("A | Back squat | | | 72.5x5 @10 |", tests, "A | Back squat | 3 | 5 | 90% of 8RM | | | 2")
    assert (found.old, found.new) == (kg("99.3"), kg("81.5"))
    assert found.why.endswith("in week 3. Loads that are a share of the 8RM stay: they rest on its own test.")


def test_a_later_test_stands() -> None:
    """What was tested after the set was done is not estimated over."""
    tests = "2027-01-29 | Back squat | 100 | kg | 1 | | tested"
    assert proposals("A | Back squat | | | 82.5x5 @7 |", tests) == []


def test_a_typed_working_max_stands() -> None:
    """It is the coach's choice; the estimate is only listed."""
    tests = "2026-12-20 | Back squat | 90 | kg | | | working max"
    (found,) = proposals("A | Back squat | | | 82.5x5 @7 |", tests)
    assert not found.written
    assert "stands" in found.why


def test_the_first_maximum_is_only_listed() -> None:
    """A client without a test who wrote down weight and effort has one in the log; the coach types it."""
    programme = "A | Back squat | 3 | 5 | 75% or RPE 7 | | | 2"
    (found,) = proposals("A | Back squat | | | 60x5 @7 |", "", programme)
    assert not found.written
    assert found.type_this is not None


def test_a_borrowed_maximum_becomes_an_own_one() -> None:
    """Front squat loads from 85% of the back squat; 80 x 5 there is 90.0 at least, above the 85 that was borrowed."""
    programme = "A | Front squat | 3 | 5 | 75% | | | 2"
    (found,) = proposals(
        "A | Front squat | | | 80x5 |", TESTED, programme, settings="| Biggest rise at a new block | 10% |"
    )
    assert (found.old, found.new) == (kg("85"), kg("90"))


def test_a_minor_s_rise_is_only_listed_and_a_fall_is_written() -> None:
    """Held back is only what goes up."""
    rise = proposals("A | Back squat | | | 82.5x5 @7 |", born="2010-03-01")
    fall = proposals("A | Back squat | | | 75x5 @9 |", born="2010-03-01")
    assert [found.written for found in (*rise, *fall)] == [False, True]


def test_a_lift_twice_a_week_counts_both_days() -> None:
    """A full week is one in which both were done; the better set of the two stands for it."""
    row = "A | Back squat | {} | {} | {} |"
    log = f"{row.format('75x5 @8', '75x5 @8', '75x5 @8')}\n{row.format('75x5 @8', '75x5 @8', '80x5 @8')}"
    source = source_of("A | Back squat | 3 | 5 | 75% | | | 2", log, TESTED, rotating="Mon Thu")
    (found,) = month_of(with_cell(source, "Log", (3, 2), "Press (2)")).proposals
    assert "80 kg x 5 at RPE 8 in week 3" in found.why
