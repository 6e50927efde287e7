"""What a print run takes of paper: sheets, and where each booklet begins. Counts only."""

from __future__ import annotations

from collections.abc import Sequence
from enum import Enum
from itertools import accumulate

HALF_PAGES_A_SHEET = 4
SIDES_A_SHEET = 2
MOST_FOLDED = 12
"""Of more sheets a folded booklet does not stay shut, and a stapler may not go through (printers' limits vary)."""


class Printing(Enum):
    """How a run is printed: on one side, on both, or two half pages a side to be folded and stapled."""

    ONE_SIDE = "one side"
    BOTH_SIDES = "both sides"
    FOLDED = "folded"


def sheets(pages: int, printing: Printing) -> int:
    """Return how many sheets of paper a booklet of so many pages takes."""
    match printing:
        case Printing.ONE_SIDE:
            return pages
        case Printing.BOTH_SIDES:
            return -(-pages // SIDES_A_SHEET)
        case Printing.FOLDED:
            return -(-pages // HALF_PAGES_A_SHEET)


def first_pages(counts: Sequence[int], printing: Printing) -> tuple[int, ...]:
    """Return the page of the file of a run on which each booklet begins, from the numbers of their pages.

    Each begins on a fresh sheet, so on both sides always on an odd page. The pages of a folded run are its sides.
    """
    sides = 1 if printing is Printing.ONE_SIDE else SIDES_A_SHEET
    taken = [sheets(count, printing) * sides for count in counts]
    return tuple(accumulate(taken[:-1], initial=1)) if taken else ()
