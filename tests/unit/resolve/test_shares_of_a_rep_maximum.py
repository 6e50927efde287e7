"""Shares of a rep maximum as published (tests/data/reference/warm_up_sets.csv; sources in SOURCES.md beside it)."""

from __future__ import annotations

import csv
from decimal import Decimal
from pathlib import Path

import pytest

from compiler.binding.records import bind_book
from compiler.resolve.plan import resolve_book
from compiler.resolve.values import Part
from tests.fragments import fragment_book

REFERENCE = Path(__file__).parents[2] / "data" / "reference" / "warm_up_sets.csv"
REPS = {"10RM": 10, "working weight (6RM)": 6}
BOOK = """
## Block
| Setting | Value |
| Weeks | 1 |
| Unit | kg |
| Round loads | nearest |
## Exercises
| Exercise | Implement |
| Squat | barbell |
## Programme
| Programme | Session | Order | Exercise | Week 1 sets | Week 1 reps | Week 1 load |
| Strength | Day | A | Squat | 1 | {done} | {percent}% of {reps}RM |
## Clients
| Client | Programme |
| Ann | Strength |
## Tests
| Client | Date | Exercise | Load | Unit | Reps | Source |
| Ann | 2026-11-23 | Squat | 84 | kg | {reps} | tested |
"""


def rows() -> list[dict[str, str]]:
    """Return the rows of percentages of a rep maximum that were read, not remembered."""
    with REFERENCE.open(encoding="utf-8", newline="") as file:
        found = [row for row in csv.DictReader(file) if row["reference_load"] in REPS and row["load_percent_min"]]
    return [row for row in found if row["confirmed"].startswith(("primary_abstract", "secondary_page"))]


@pytest.mark.parametrize("row", rows(), ids=lambda row: f"{row['protocol']}, {row['step']}")
def test_shares_of_a_rep_maximum(row: dict[str, str]) -> None:
    """DeLorme and Watkins 1948, Zinovieff 1951, Knight 1979: the share of the weight tested, by no formula."""
    reps = REPS[row["reference_load"]]
    text = BOOK.format(done=row["reps_min"] or reps, percent=row["load_percent_min"], reps=reps)
    book = bind_book(fragment_book(text)).book
    assert book is not None
    (plan,) = resolve_book(book).plans
    fitted = plan.sessions[0].parts[Part.MAIN][0].load.items[0].low
    assert fitted.exact.amount == 84 * Decimal(row["load_percent_min"]) / 100
