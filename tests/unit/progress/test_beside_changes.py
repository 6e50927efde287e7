"""What next month makes of a log beside rows of Changes that last: a rise is never written by mistake.

Worked by hand from the rules: the narrower row wins, a swap and a scale of the same exercise contradict each other, and
a change for some weeks drops out with the block.
"""

from __future__ import annotations

from decimal import Decimal

import pytest

from compiler.progress.values import Proposal
from compiler.quantities import Load, Unit
from tests.unit.progress.months import month_of, source_of, with_cell

PERCENT = "A | Back squat | 3 | 5 | 75% | | | 2"
TESTED = "2026-12-20 | Back squat | 100 | kg | 1 | | tested\n2026-12-20 | Bench press | 60 | kg | 1 | | tested"
MISSED = " | | ok | - | - |"


def missed(changes: str, programme: str = PERCENT) -> Proposal:
    """Return what two missed weeks come to beside some changes."""
    (found,) = month_of(source_of(programme, MISSED, TESTED, changes=changes)).proposals
    return found


def test_a_tenth_less_of_four_fifths() -> None:
    """The new row is the narrower and takes the place of the client's 80%: 90% there would be a rise; it is 72%."""
    found = missed("| Imogen Thackray | | | | | scale | 80% | |")
    assert [change.with_ for change in found.changes] == ["72%"]
    assert found.what == "all weights at 72%"


def test_a_scale_that_ends_with_the_block_is_not_taken_on() -> None:
    """The 80% was for the weeks of this block and is dropped from the next."""
    found = missed("| Imogen Thackray | | | | 1-4 | scale | 80% | |")
    assert [change.with_ for change in found.changes] == ["90%"]


@pytest.mark.parametrize(
    ("row", "told"),
    [
        ("| Imogen Thackray | | | Back squat | | swap | Bench press | |", "a lighter load in the swap"),
        ("| Imogen Thackray | | | Back squat | | scale | 80% | |", "72% in place of 80%"),
        ("| Imogen Thackray | | | | | scale | 22% | |", "19.8% in place of 22%"),
    ],
    ids=["a swap would be undone", "two rows would disagree", "lighter than can be typed"],
)
def test_what_would_take_another_change_s_place_is_only_listed(row: str, told: str) -> None:
    """A scale of the exercise would win over the swap and bring back the lift that was swapped."""
    found = missed(row)
    assert (found.changes, told in (found.type_this or "")) == ((), True)


def test_weeks_away_are_lightened_too() -> None:
    """Away in week 1, which ends with the block; weeks 2 and 3 missed: next month's week 1 is lighter as well."""
    changes = "| Imogen Thackray | | | | 1 | leave out | | |"
    (found,) = month_of(source_of(PERCENT, " | | | - | - | ok", TESTED, changes=changes)).proposals
    assert [change.weeks for change in found.changes] == [(1, 2, 3, 4)]


# ---------------------------------------------------------------- two sites, two loads

MILL = "| Mill | bar | Bar | 45 | lb |\n| Mill | plates | | 45, 25, 10 x2, 5, 2.5 | lb |"


def test_a_rise_is_of_the_kit_where_the_lift_is_done() -> None:
    """59 kg is 130.07 lb, and 130 lb at the Mill: 45 + 2 x 42.5. 10 lb more is over the cap of 5% (136.5), 135 is not.

    The home site has 60 kg for it: taken for pounds by its amount that would have come to 27 kg.
    """
    source = source_of(
        "A | Back squat | 3 | 5 | 59 kg | | | 2",
        "A | Back squat | | 130lbx5 @8 | 130x5 @8 |",
        changes="| Imogen Thackray | Press | | | | train at | Mill | |",
        kit=MILL,
    )
    (found,) = month_of(source).proposals
    assert (found.old, found.new) == (Load(Decimal(130), Unit.LB), Load(Decimal(135), Unit.LB))
    assert [change.load for change in found.changes] == ["135 lb"]


def test_two_loads_in_one_week_are_only_listed() -> None:
    """The one session falls on both days, so that week 1 has 60 and 62.5 kg: two rows for week 1 would contradict."""
    row = "A | Back squat | | | 62.5x8 @8 |"
    source = source_of("A | Back squat | 3 | 8 | 60 kg | +2.5 kg | | 3", f"{row}\n{row}", rotating="Mon Thu")
    (found,) = month_of(with_cell(source, "Log", (3, 2), "Press (2)")).proposals
    assert (found.changes, "two loads in one week" in found.why) == ((), True)


def test_a_load_for_all_weeks_only_where_all_weeks_had_it() -> None:
    """Away in week 1, which asks for 50 kg; 60 kg from week 2 on is raised for its own weeks."""
    source = source_of(
        "A | Back squat | 3 | 8 | 50 kg | 60 kg | | 3",
        "A | Back squat | | 60x8 @8 | 60x8 @8 | 60x8 @8",
        changes="| Imogen Thackray | | | | 1 | leave out | | |",
    )
    (found,) = month_of(source).proposals
    assert [(change.weeks, change.load) for change in found.changes] == [((2, 3, 4), "62.5 kg")]
