"""Stalls: short of the repetitions twice running. A habit of the trade; no source is known."""

from __future__ import annotations

import pytest

from compiler.progress.values import Proposal
from tests.unit.progress.months import month_of, source_of

WORKING = "2026-12-20 | Back squat | 60 | kg | | | working weight"
TESTED = "2026-12-20 | Back squat | 100 | kg | 1 | | tested"


def proposals(log: str, load: str, tests: str = "") -> list[Proposal]:
    return list(month_of(source_of(f"A | Back squat | 3 | 8 | {load} | | | 2", log, tests)).proposals)


@pytest.mark.parametrize(
    ("load", "tests"), [("own", WORKING), ("60 kg", ""), ("60%", TESTED)], ids=["own", "typed", "percentage"]
)
def test_short_twice_is_listed(load: str, tests: str) -> None:
    """Whatever the load is: it is told with its cells, and no row is written."""
    (found,) = proposals("A | Back squat | ok | 60x8, 60x8, 60x6 | 60x8, 60x7, 60x5 |", load, tests)
    assert (found.what, found.written, found.source) == ("no rise", False, "common practice, no source")
    assert found.why == "Stalled: short of the repetitions planned, in weeks 2 and 3."
    assert [place.a1 for place in found.rests_on] == ["F2", "G2"]


@pytest.mark.parametrize(
    "log",
    [
        "A | Back squat | 60x6 | 60x6 | 60x8 |",
        "A | Back squat | | 60x6 | |",
        "A | Back squat | | 60x6 | - |",
        "A | Back squat | | 70x6 | 70x6 |",
        "A | Back squat | | 60x8 | 60x8 | 60x4",
        "A | Back squat | | ok | ok |",
    ],
    ids=["made up for", "not typed", "not done", "heavier", "the easier week", "as planned"],
)
def test_anything_else_is_none(log: str) -> None:
    """Once is a bad day, and fewer repetitions of more weight are no stall."""
    assert proposals(log, "own", WORKING) == []


@pytest.mark.parametrize("reps", ["AMRAP", "30 s", "400 m"])
def test_what_has_no_count_of_repetitions_is_never_short(reps: str) -> None:
    """As many as possible, a time and a distance: there is nothing to be short of."""
    source = source_of(f"A | Weighted dip | 3 | {reps} | body weight | | | 2", "A | Weighted dip | 6 | 5 | 4 |")
    assert [one for one in month_of(source).proposals if one.what == "no rise"] == []
