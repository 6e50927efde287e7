"""A test that is the total of a pair gives no number at any site, in whatever order the sessions come."""

from __future__ import annotations

import pytest

from compiler.pipeline.check import check_source
from compiler.resolve.values import LoadKind, Part
from tests.fragments import fragment_book

BOOK = """
## Block
| Setting | Value |
| Start date | 2027-01-04 |
| Weeks | 1 |
| Unit | kg |
## Exercises
| Exercise | Implement |
| Press | dumbbells |
## Programme
| Programme | Session | Order | Exercise | Week 1 sets | Week 1 reps | Week 1 load |
| Strength | {first} | A | Press | 3 | 5 | 75% |
| Strength | {second} | A | Press | 3 | 5 | 75% |
## Clients
| Client | Programme | Site | Screened on |
| Ana Ruiz | Strength | Home | 2026-12-01 |
## Tests
| Client | Exercise | Date | Load | Reps |
| Ana Ruiz | Press | 2026-12-08 | 80 | 1 |
## Changes
| Client | Session | Do | With |
| Ana Ruiz | Gym day | train at | Gym |
## Sites
| Site | Staffed |
| Gym | yes |
| Home | yes |
## Kit
| Site | Kind | Name | Sizes |
| Gym | {kind} | | {sizes} |
"""


@pytest.mark.parametrize("days", [("Gym day", "Home day"), ("Home day", "Gym day")])
def test_at_a_site_without_kit_too(days: tuple[str, str]) -> None:
    """80 kg in each hand, where the gym goes up to 40: 60 kg would be printed at home, twice what was meant."""
    book = BOOK.format(first=days[0], second=days[1], kind="dumbbells", sizes="2-40 by 2")
    checked = check_source(fragment_book(book))
    loads = [one.load for session in checked.plans[0].sessions for one in session.parts[Part.MAIN]]
    assert [load.kind for load in loads] == [LoadKind.BLANK, LoadKind.BLANK]
    assert [flag.slug for flag in checked.flags if flag.slug == "pair-total"] == ["pair-total"]


def test_where_no_site_lists_any() -> None:
    """Nothing is known of what there is, and the test stands."""
    book = BOOK.format(first="Home day", second="Gym day", kind="bench", sizes="")
    book = book.replace("| Ana Ruiz | Gym day | train at | Gym |\n", "")
    book = book.replace("## Changes\n| Client | Session | Do | With |\n", "")
    checked = check_source(fragment_book(book))
    loads = [one.load for session in checked.plans[0].sessions for one in session.parts[Part.MAIN]]
    assert [str(load.items[0].low.load) for load in loads] == ["60 kg", "60 kg"]
