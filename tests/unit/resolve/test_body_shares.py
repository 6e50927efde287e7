"""Shares of the body as published, taken as Body-weight share: the part lifted is share x body weight, exactly.

tests/data/reference/bodyweight_fraction.csv; its sources are in SOURCES.md beside it.
"""

from __future__ import annotations

import csv
from decimal import Decimal
from pathlib import Path

import pytest

from compiler.pipeline.check import check_source
from compiler.quantities import Load, Unit, plain
from compiler.resolve.context import index_book, view_client
from compiler.resolve.maxima import lifted_body
from tests.support import source_book

REFERENCE = Path(__file__).parents[2] / "data" / "reference" / "bodyweight_fraction.csv"
CONFIRMED = ("computed", "primary_abstract", "secondary_page")


def rows() -> list[dict[str, str]]:
    with REFERENCE.open(encoding="utf-8", newline="") as file:
        found = [row for row in csv.DictReader(file) if row["confirmed"].startswith(CONFIRMED)]
    whole = [row for row in found if row["exercise"] != "segment" and row["fraction_of_body_mass"]]
    return [row for row in whole if Decimal(row["fraction_of_body_mass"]) <= 1]


@pytest.mark.parametrize("row", rows(), ids=lambda row: f"{row['exercise']}, {row['variant']}, {row['source_key']}")
def test_the_part_of_the_body_that_is_lifted(row: dict[str, str]) -> None:
    """For a client of 80 kg and a share as published."""
    fraction = Decimal(row["fraction_of_body_mass"])
    headers = ["Programme", "Session", "Part", "Order", "Exercise", "Week 1 sets", "Week 1 reps", "Week 1 load"]
    book = check_source(
        source_book(
            {
                "Exercises": [
                    ["Exercise", "Implement", "Body-weight share"],
                    ["Push-up", "body weight plus load", f"{plain(fraction * 100)}%"],
                ],
                "Programme": [headers, ["One", "Day one", "main", "A", "Push-up", "3", "8", "body weight"]],
                "Clients": [["Client", "Programme", "Body weight"], ["Imogen Thackray", "One", "80 kg"]],
            }
        )
    ).book
    assert book is not None
    view = view_client(index_book(book), book.clients[0])
    assert lifted_body(view, book.exercises[0]) == Load(80 * fraction, Unit.KG)
