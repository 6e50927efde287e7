"""The unit of a row is that of what it is loaded with at the site, whether there is a number or not.

A line to write on, its boxes, the how-to page and a bare number in the log have to agree: 60 written for pounds and
read as kilograms is more than double.
"""

from __future__ import annotations

from decimal import Decimal

import pytest

from compiler.documents.booklet import build_booklet
from compiler.documents.booklet_text import booklet_as_text
from compiler.model.book import Book
from compiler.pipeline.check import Checked, check_source
from compiler.quantities import Load, Unit
from compiler.review.logged import read_log
from tests.fragments import fragment_book

BOOK = """
## Block
| Setting | Value |
| Start date | 2027-01-04 |
| Weeks | 1 |
| Unit | {unit} |
## Exercises
| Exercise | Implement |
| Back squat | barbell |
| Floor press | dumbbells |
| Push press | barbell |
## Programme
| Programme | Session | Part | Order | Exercise | Week 1 sets | Week 1 reps | Week 1 load |
| Strength | Day | main | A | Back squat | 3 | 5 | {load} |
| Strength | Day | main | B | Floor press | 3 | 8 | RPE 7 |
| Strength | Day | main | C | Push press | 3 | 5 | 40 kg |
## Clients
| Client | Programme | Site | Screened on |
| Ana Ruiz | Strength | Mill | 2026-12-01 |
## Kit
| Site | Kind | Name | Sizes | Unit |
| Mill | bar | Bar | {bar} | {kit} |
| Mill | plates | | 25 x4, 10 x4, 5, 2.5 | {kit} |
| Mill | dumbbells | | 5-80 by 5 | {kit} |
## Log
| Client | Session | Order | Exercise | Week 1 |
| Ana Ruiz | Day | B | Floor press | 35x8 |
"""


def checked(unit: str, kit: str, load: str = "75%") -> tuple[Checked, Book]:
    """Return a block in one unit at a site with kit in another."""
    bar = {"kg": "20", "lb": "45"}[kit]
    found = check_source(fragment_book(BOOK.format(unit=unit, kit=kit, bar=bar, load=load)))
    assert found.book is not None
    return found, found.book


@pytest.mark.parametrize("unit", ["kg", "lb"])
@pytest.mark.parametrize("kit", ["kg", "lb"])
@pytest.mark.parametrize("load", ["75%", "RPE 7", "own"])
def test_a_row_speaks_of_one_unit(unit: str, kit: str, load: str) -> None:
    """Without a test there is a line to write on, and it, the boxes and the how-to page name the kit's unit."""
    found, book = checked(unit, kit, load)
    text = booklet_as_text(build_booklet(book, found.plans[0]))
    other = "lb" if kit == "kg" else "kg"
    assert f"{kit} × reps" in text
    assert f"{kit} each hand × reps" in text
    assert f"____ {kit}" in text or load == "RPE 7"
    assert f" {other}" not in text


def test_both_units_are_told() -> None:
    """Who trains at two sites is told to look at the unit."""
    text = BOOK.format(unit="kg", kit="lb", bar="45", load="75%")
    text = text.replace("| Day | main | A |", "| Gym day | main | A |")
    text += "## Changes\n| Client | Session | Do | With |\n| Ana Ruiz | Gym day | train at | Gym |\n"
    text += "## Sites\n| Site | Staffed |\n| Gym | yes |\n| Mill | yes |\n"
    found = check_source(fragment_book(text))
    assert found.book is not None
    booklet = booklet_as_text(build_booklet(found.book, found.plans[0]))
    assert "Weights are in kilograms or pounds: look at the kg or lb beside each." in booklet
    assert "____ kg" in booklet
    assert "lb each hand × reps" in booklet


@pytest.mark.parametrize("unit", ["kg", "lb"])
@pytest.mark.parametrize("kit", ["kg", "lb"])
def test_a_bare_number_in_the_log_is_in_the_unit_of_its_boxes(unit: str, kit: str) -> None:
    """The boxes that were copied say `lb each hand`, so 35x8 is 35 lb, whatever unit the Block has."""
    found, book = checked(unit, kit)
    (entry,) = read_log(book, found.plans).entries
    assert {done.weight for done in entry.sets} == {Load(Decimal(35), Unit(kit))}
