"""The table of repetitions against percentage, read both ways, against the printed rows."""

from __future__ import annotations

import csv
from decimal import Decimal
from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from compiler.notation.values import Effort, EffortScale
from compiler.resolve.effort_table import percent_for_effort, reps_in_reserve, reserve_range
from compiler.resolve.rep_table import HANDBOOK, percent_for_reps, reps_for_percent

REFERENCE = Path(__file__).parents[2] / "data" / "reference"


def printed_rows() -> list[tuple[str, str, str]]:
    """Rows of the handbook and of the NSCA chart that were read, not remembered (see SOURCES.md there)."""
    with (REFERENCE / "percent_1rm_by_reps.csv").open(newline="") as lines:
        return [
            (row["table_id"], row["reps"], row["percent_1rm"])
            for row in csv.DictReader(lines)
            if row["table_id"].startswith("nsca_") and row["confirmed"].startswith("secondary_page")
        ]


@pytest.mark.parametrize(("table", "reps", "percent"), printed_rows())
def test_printed_rows(table: str, reps: str, percent: str) -> None:
    """Haff & Triplett 2016, Table 17.7, and the NSCA training load chart."""
    assert percent_for_reps(Decimal(reps)) == Decimal(percent)
    assert reps_for_percent(Decimal(percent)) == Decimal(reps)


def test_all_printed_rows_are_there() -> None:
    """All rows of the chart, and those of the handbook that were read."""
    assert len(printed_rows()) == 22


@pytest.mark.parametrize(
    ("reps", "percent"), [("11", "72.5"), ("8.5", "78.5"), ("2.5", "94"), ("13.5", "67.5"), ("1", "100")]
)
def test_between_rows_the_table_is_a_straight_line(reps: str, percent: str) -> None:
    """Interpolated by hand between the printed neighbours."""
    assert percent_for_reps(Decimal(reps)) == Decimal(percent)
    assert reps_for_percent(Decimal(percent)) == Decimal(reps)


@pytest.mark.parametrize("reps", ["0", "0.5", "15.5", "16", "100"])
def test_nothing_outside_the_table(reps: str) -> None:
    assert percent_for_reps(Decimal(reps)) is None


def test_light_percentages_say_nothing_and_impossible_ones_no_repetition() -> None:
    assert reps_for_percent(Decimal("64.99")) is None
    assert reps_for_percent(Decimal(65)) == 15
    assert reps_for_percent(Decimal("100.5")) == 0


@given(st.decimals(1, 15, places=2))
@settings(derandomize=True)
def test_both_ways_agree(reps: Decimal) -> None:
    percent = percent_for_reps(reps)
    assert percent is not None
    back = reps_for_percent(percent)
    assert back is not None
    assert abs(back - reps) < Decimal("1e-20")


def test_the_rows_fall() -> None:
    assert all(few < many and heavy > light for (few, heavy), (many, light) in pairwise(HANDBOOK.rows))


@pytest.mark.parametrize(
    ("rpe", "left"),
    [
        ("10", "0"),
        ("9.5", "0"),
        ("9", "1"),
        ("8.5", "1.5"),
        ("8", "2"),
        ("7.5", "2.5"),
        ("7", "3"),
        ("6", "4"),
    ],
)
def test_reps_in_reserve(rpe: str, left: str) -> None:
    """Zourdos 2016, Helms 2016: whole points and 9.5 as printed; half points the middle of 1-2, 2-3."""
    assert reps_in_reserve(Decimal(rpe)) == Decimal(left)


@pytest.mark.parametrize("rpe", ["5.5", "5", "1", "10.5"])
def test_no_reserve_is_read_off_the_scale(rpe: str) -> None:
    assert reps_in_reserve(Decimal(rpe)) is None


def rpe(low: str, high: str | None = None) -> Effort:
    return Effort(EffortScale.RPE, Decimal(low), Decimal(high or low))


def rir(low: str, high: str | None = None) -> Effort:
    return Effort(EffortScale.RIR, Decimal(low), Decimal(high or low))


@pytest.mark.parametrize(
    ("reps", "effort", "low", "high"),
    [
        (5, rpe("8"), "83", "83"),
        (5, rir("2"), "83", "83"),
        (5, rpe("7", "8"), "80", "83"),
        (5, rir("2", "3"), "80", "83"),
        (1, rpe("10"), "100", "100"),
        (3, rpe("9.5"), "93", "93"),
        (3, rir("0.5"), "93", "93"),
        (8, rpe("8.5"), "76", "76"),
        (10, rpe("8"), "70", "70"),
    ],
)
def test_effort_and_reps_give_a_percentage(reps: int, effort: Effort, low: str, high: str) -> None:
    """The handbook table (Haff & Triplett 2016, Table 17.7) at repetitions plus reserve, added up by hand."""
    found = percent_for_effort(reps, effort)
    assert found is not None
    assert (found.low.value, found.high.value) == (Decimal(low), Decimal(high))


@pytest.mark.parametrize(
    ("reps", "effort"),
    [(5, rpe("5.5")), (5, rir("5")), (5, rpe("5", "7")), (11, rpe("8")), (10, rpe("7", "8")), (0, rpe("10"))],
)
def test_no_percentage_for_easy_efforts_and_many_reps(reps: int, effort: Effort) -> None:
    """Below RPE 6 at either end, or above twelve repetitions to failure: no number."""
    assert percent_for_effort(reps, effort) is None


def test_reserve_of_a_range_is_fewest_then_most() -> None:
    assert reserve_range(rpe("7", "9")) == (Decimal(1), Decimal(3))
    assert reserve_range(rir("1", "3")) == (Decimal(1), Decimal(3))
