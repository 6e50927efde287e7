"""Sheets and first pages of a print run, counted by hand."""

from __future__ import annotations

from compiler.documents.paper import Printing, first_pages, sheets


def test_sheets() -> None:
    """Five pages: five sheets on one side, three on both, two folded."""
    assert [sheets(5, printing) for printing in Printing] == [5, 3, 2]
    assert [sheets(4, printing) for printing in Printing] == [4, 2, 1]
    assert [sheets(1, printing) for printing in Printing] == [1, 1, 1]


def test_first_pages() -> None:
    """Booklets of 5, 7 and 4 pages begin on 1, 7 and 15 on both sides: a blank follows an odd count.

    Folded they take two sheets, two sheets and one, four sides, four and two.
    """
    counts = (5, 7, 4)
    assert first_pages(counts, Printing.ONE_SIDE) == (1, 6, 13)
    assert first_pages(counts, Printing.BOTH_SIDES) == (1, 7, 15)
    assert first_pages(counts, Printing.FOLDED) == (1, 5, 9)
    assert first_pages((), Printing.BOTH_SIDES) == ()
