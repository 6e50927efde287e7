"""Who trains at two sites: a bar is told by its weight, and a blank that no test would fill asks for none.

The Gym's "Bar" weighs 20 kg, the Annexe's 15: 65 kg are 22.5 a side there and 25 here.
"""

from __future__ import annotations

from compiler.documents import summary_to_test
from compiler.documents.booklet import build_booklet
from compiler.documents.booklet_text import booklet_as_text
from compiler.documents.room_sheet import build_room_sheets
from compiler.model.book import Book
from compiler.pipeline.check import Checked, check_source
from tests.fragments import fragment_book

BOOK = """
## Block
| Setting | Value |
| Start date | 2027-01-04 |
| Weeks | 2 |
| Unit | kg |
## Exercises
| Exercise | Implement | Load from | Ratio | Instead without kit |
| Bench press | barbell | | | |
| Floor press | dumbbells | Bench press | 35% | |
| Pec press | machine | Bench press | 60% | Floor press |
## Programme
| Programme | Session | Order | Exercise | Week 1 sets | Week 1 reps | Week 1 load | Week 2 load |
| Strength | One | A | Bench press | 3 | 5 | 65 kg | |
| Strength | One | B | Pec press | 3 | 8 | 60% | +5 kg |
| Strength | Two | A | Bench press | 3 | 5 | 65 kg | |
| Strength | Two | A2 | Bench press | 3 | 5 | 65 kg | |
## Clients
| Client | Programme | Group | Site | Screened on |
| Ana Ruiz | Strength | Early | Gym | 2026-12-01 |
| Bo Lind | Strength | Early | Annexe | 2026-12-01 |
## Tests
| Client | Exercise | Date | Load | Reps |
| Bo Lind | Bench press | 2026-12-08 | 90 | 1 |
## Changes
| Client | Session | Order | Exercise | Weeks | Do | With |
| Ana Ruiz | One | | | | train at | Annexe |
| Ana Ruiz | One | B | | | leave out | |
## Kit
| Site | Kind | Name | Sizes |
| Gym | bar | Bar | 20 |
| Gym | plates | | 20, 10, 5, 2.5, 1.25 |
| Annexe | bar | Bar | 15 |
| Annexe | plates | | 20, 10, 5, 2.5, 1.25 |
| Annexe | dumbbells | | 2-40 by 2 |
## Sites
| Site | Staffed |
| Gym | yes |
| Annexe | yes |
"""


def checked() -> tuple[Checked, Book]:
    found = check_source(fragment_book(BOOK))
    assert found.book is not None, [flag.message for flag in found.flags]
    assert len(found.plans) == 2, [flag.message for flag in found.flags]
    return found, found.book


def test_the_other_bar_of_the_same_name_is_told_in_the_booklet() -> None:
    """Two sessions on the 20 kg bar make it the one that goes without saying; the 15 kg bar is told, and its plates."""
    found, book = checked()
    text = booklet_as_text(build_booklet(book, found.plans[0]))
    assert "65 kg (20 + 2.5 a side)" in text
    assert "65 kg (20 + 5 a side, Bar, 15 kg)" in text
    assert '"20 + 2.5 a side" is what goes on each end of the 20 kg bar' in text


def test_the_other_bar_of_the_same_name_is_told_on_the_room_sheet() -> None:
    """Of two clients in one column, each on their own bar, the head can name one: the other cell names its own."""
    found, book = checked()
    sheets = [sheet for sheet in build_room_sheets(book, found.plans, ()).sheets if "Two" in sheet.title]
    (head, *_) = (column for block in sheets[0].blocks for column in block.columns)
    notes = {row.name: row.cells[0].notes for row in sheets[0].rows}
    assert head.notes == ("Bar, 20 kg",)
    assert notes == {"Ana Ruiz": ("20 + 2.5",), "Bo Lind": ("20 + 5", "Bar, 15 kg")}


def test_a_step_left_out_asks_for_no_test() -> None:
    """Bo does Floor press, by his bench press, and `+5 kg` was typed for the machine: no test fills the line."""
    found, book = checked()
    assert [flag.slug for flag in found.flags if flag.slug == "swap-needs-load"] == ["swap-needs-load"]
    assert summary_to_test.tests_wanted(book, found.plans, ()) == ()


def test_collars_are_told_where_they_are_weighed() -> None:
    """A pair of 2.5 kg: 65 kg are 15 + 5 + 2 x 22.5, which plates and bar alone do not come to."""
    with_collars = BOOK.replace("| Annexe | dumbbells |", "| Annexe | collars | | 2.5 |\n| Annexe | dumbbells |")
    for book, words in ((BOOK, "whole weight, bar included"), (with_collars, "whole weight, bar and collars included")):
        found = check_source(fragment_book(book))
        assert found.book is not None
        assert words in booklet_as_text(build_booklet(found.book, found.plans[1]))


def test_weights_of_a_site_in_pounds_stand_on_the_progress_panel_in_its_own_unit() -> None:
    """95 lb are 43.1 kg (0.45359237 kg a pound, NIST Handbook 44); no week of the block is left out of the panel."""
    annexe_in_pounds = (
        BOOK.replace("| Kind | Name | Sizes |", "| Kind | Name | Sizes | Unit |")
        .replace("| Annexe | bar | Bar | 15 |", "| Annexe | bar | Bar | 35 | lb |")
        .replace("| Annexe | plates | | 20, 10, 5, 2.5, 1.25 |", "| Annexe | plates | | 25, 10, 5, 2.5 | lb |")
        .replace("| Ana Ruiz | One | | | | train at", "| Ana Ruiz | | | | 2 | train at")
        .replace("65 kg", "43 kg")
    )
    found = check_source(fragment_book(annexe_in_pounds))
    assert found.book is not None
    pages = build_booklet(found.book, found.plans[0])
    assert pages.progress is not None
    (panel,) = pages.progress.panels
    assert panel.title == "Bench press, kg"
    assert [point.text if point else None for point in panel.plan] == ["42.5", "43.1"]
    assert pages.progress.intro.endswith("Weights planned in lb are shown in kg.")
    assert "95 lb" in booklet_as_text(pages)
