"""Rows: which are records, what merged cells and defaults mean, what is hidden, what stands under the table."""

from __future__ import annotations

import pytest

from compiler.binding.records import Bound, bind_book
from compiler.model.book import Book
from tests.fragments import fragment_book

Told = list[tuple[str, str]]
PROGRAMME = "| Programme | Session | Part | Order | Exercise | Week 1 sets | Week 1 reps | Week 1 load |\n"


def bound_of(text: str) -> tuple[Book, Told]:
    """Return the book of some tables, and what was told of them."""
    bound: Bound = bind_book(fragment_book(text))
    assert bound.book is not None, bound.flags
    return bound.book, sorted((str(flag.place), flag.slug) for flag in bound.flags)


def test_blank_rows_are_no_end() -> None:
    """Rows after empty ones are read."""
    book, told = bound_of(
        f"## Programme\n{PROGRAMME}| S | One | main | A | Squat | 3 | 5 | 60 kg |\n"
        + "| | | | | | | | |\n" * 80
        + "| S | One | main | B | Row | 3 | 5 | 60 kg |\n"
    )
    assert [row.row.row for row in book.programme] == [2, 83]
    assert told == []


def test_defaults_of_blank_cells() -> None:
    """A blank part is main, and its text stays blank."""
    book, _ = bound_of(f"## Programme\n{PROGRAMME}| S | One | | A | Squat | 3 | 5 | 60 kg |\n")
    assert (book.programme[0].part.value, book.programme[0].part.text) == ("main", "")


def test_optional_columns_left_out() -> None:
    """Fields of columns that the sheet has not got are blank."""
    book, told = bound_of("## Clients\n| Client | Programme |\n| Imogen Thackray | S |\n")
    assert book.clients[0].body_weight.blank
    assert told == []


@pytest.mark.parametrize(
    ("row", "told"),
    [
        ("| Maud: ask Rufus about the rings | | | | | | | |", [("Programme!A3", "text-under-table")]),
        ("| | | | | | | | {number 12} |", [("Programme!H3", "text-under-table")]),
        ("| S | | main | | Squat | 3 | 5 | 60 kg |", [("Programme!B3", "missing-name")]),
    ],
)
def test_rows_that_are_none(row: str, told: Told) -> None:
    """A lone cell under the table is told and not read; a row that lacks one cell is a row with a blank."""
    book, found = bound_of(f"## Programme\n{PROGRAMME}| S | One | main | A | Squat | 3 | 5 | 60 kg |\n{row}\n")
    assert found == told
    assert len(book.programme) == 1 + ("missing-name" in told[0])


def test_hidden_rows_are_read_and_told_once() -> None:
    """All of them in one warning, at the first."""
    book, told = bound_of(
        f"## Programme\nhidden rows: 3, 4\n\n{PROGRAMME}"
        + "".join(f"| S | One | main | {order} | Squat | 3 | 5 | 60 kg |\n" for order in "ABC")
    )
    assert len(book.programme) == 3
    assert told == [("Programme!A3", "hidden-rows")]


def test_hidden_rows_without_anything_are_not_told() -> None:
    """A hidden empty row hides nothing."""
    _, told = bound_of(f"## Programme\nhidden rows: 3\n\n{PROGRAMME}| S | One | main | A | Squat | 3 | 5 | 60 kg |\n")
    assert told == []


def test_merged_down() -> None:
    """A merged value holds in each of its rows, at that row's own place."""
    book, told = bound_of(
        f"## Programme\nmerged: B2:B3\n\n{PROGRAMME}"
        "| S | One | main | A | Squat | 3 | 5 | 60 kg |\n| S | | main | B | Row | 3 | 5 | 60 kg |\n"
    )
    assert [row.session.value for row in book.programme] == ["One", "One"]
    assert [str(row.session.place) for row in book.programme] == ["Programme!B2", "Programme!B3"]
    assert told == [("Programme!B2", "merged-cells")]


@pytest.mark.parametrize("merged", ["A1:C1", "F2:G2", "J5:J9"])
def test_merges_that_change_nothing(merged: str) -> None:
    """Headers merged across, cells merged sideways and empty merges are not told."""
    _, told = bound_of(
        f"## Programme\nmerged: {merged}\n\n{PROGRAMME}| S | One | main | A | Squat | 3 | 5 | 60 kg |\n"
    )
    assert told == []


def test_a_failed_cell_is_poisoned_and_told_once() -> None:
    """The field knows its place and text, and that it failed."""
    book, told = bound_of(f"## Programme\n{PROGRAMME}| S | One | main | A | Squat | 3 | lots | 60 kg |\n")
    field = book.programme[0].weeks[0].reps
    assert (field.failed, field.text, str(field.place)) == (True, "lots", "Programme!G2")
    assert told == [("Programme!G2", "unreadable-reps")]


def test_whole_prescription_in_the_sets_cell() -> None:
    """3 x 8 @ 75% fills sets, reps and load, all at the one cell; a second reps beside it is refused."""
    book, told = bound_of(
        f"## Programme\n{PROGRAMME}| S | One | main | A | Squat | 3 x 8 @ 75% | | |\n"
        "| S | One | main | B | Row | 3 x 8 @ 75% | 8 | |\n"
    )
    first = book.programme[0].weeks[0]
    assert {str(cell.place) for cell in (first.sets, first.reps, first.load)} == {"Programme!F2"}
    assert told == [("Programme!G3", "unreadable-reps")]
