"""The Kit demand sheet: shortages first, worked by hand.

Five people of one group want two 20 kg dumbbells each at the same exercise: ten single ones, and the site owns two
pairs, four single ones.
"""

from __future__ import annotations

import pytest

from compiler.binding.records import bind_book
from compiler.demo.workbooks import WINTER_BLOCK, demo_source
from compiler.documents.neutral import Sheet
from compiler.pipeline.check import check_source
from compiler.resolve.plan import resolve_book
from compiler.review.kit_demand import kit_demand
from tests.all_at_once import summarise
from tests.support import source_book

NAMES = ("Ada Thornby", "Bram Oakes", "Cleo Marsh", "Dev Rennick", "Esme Hale")
TABLES = {
    "Block": [["Setting", "Value"], ["Start date", "2026-12-07"], ["Weeks", "1"]],
    "Exercises": [["Exercise", "Implement", "Needs"], ["Dumbbell row", "dumbbells", "bench"]],
    "Programme": [
        ["Programme", "Session", "Part", "Order", "Exercise", "Week 1 sets", "Week 1 reps", "Week 1 load"],
        ["Strength", "Pull", "main", "A", "Dumbbell row", "3", "8", "20 kg"],
    ],
    "Clients": [["Client", "Programme", "Group"], *([name, "Strength", "Evening"] for name in NAMES)],
    "Sites": [["Site", "Staffed"], ["Gym", "yes"]],
    "Kit": [
        ["Site", "Kind", "Name", "Sizes", "Unit", "How many"],
        ["Gym", "dumbbells", "", "20 x2", "kg", ""],
        ["Gym", "bench", "bench", "", "", "6"],
    ],
}


@pytest.fixture(scope="module")
def demand() -> Sheet:
    bound = bind_book(source_book(TABLES))
    assert bound.book is not None, bound.flags
    made = summarise(bound.book, resolve_book(bound.book).plans, (), ())
    return next(sheet for sheet in made if sheet.name == "Kit demand")


def test_shortages_stand_first(demand: Sheet) -> None:
    """Ten wanted, four owned, six lacking; five benches of six lack nothing."""
    columns = ("Group", "Session", "Week", "Site", "Item", "Wanted at once", "Owned", "Lacking", "Exercises")
    assert list(zip(*map(demand.column, columns), strict=True)) == [
        ("Evening", "Pull", 1, "Gym", "dumbbells", 10, 4, 6, "Dumbbell row"),
        ("Evening", "Pull", 1, "Gym", "bench", 5, 6, None, "Dumbbell row"),
    ]
    assert [str(size) for size in demand.column("Size")] == ["20 kg", "None"]
    assert demand.column("Wanted by")[0] == ", ".join(NAMES)


def test_the_example_shows_all_that_is_wanted() -> None:
    """As many rows as the review counts, the same number lacking in all."""
    checked = check_source(demo_source(WINTER_BLOCK))
    assert checked.book is not None
    found = kit_demand(checked.book, checked.plans)
    sheet = next(
        made for made in summarise(checked.book, checked.plans, checked.flags, ()) if made.name == "Kit demand"
    )
    assert len(sheet.rows) == len(found)
    lacking = [cell for cell in sheet.column("Lacking") if isinstance(cell, int)]
    assert sum(lacking) == sum(demand.short for demand in found)
    assert lacking == sorted(lacking, reverse=True)
