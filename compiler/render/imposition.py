"""Booklet pages -> sides of sheets, two pages a side, to be folded and stapled along the fold.

Each page is half a sheet and keeps its size: a page made smaller would take its type below what can be read from a
bench. Of many folded sheets the inner ones stand out, each by its thickness more than the one round it; their pages are
moved towards the fold by as much, so that margins stay in line. The result is for paper alone: tags are dropped.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from io import BytesIO

import pikepdf

from compiler.documents.paper import HALF_PAGES_A_SHEET, SIDES_A_SHEET, Printing, sheets
from compiler.frozen import frozen
from compiler.render.desk_file import describe, saved

_BY_SHORT_EDGE = "/DuplexFlipShortEdge"
_SLACK = 0.5
_LIE_FLAT = 7
"""Up to this many sheets the innermost stands out by under a millimetre, which nobody sees: pages stay in place."""

_CREEP = 0.12 * 72 / 25.4
"""How far a sheet stands out beyond the one round it, in points: paper of 80 g/m² is 0.1 to 0.15 mm thick."""


@frozen
class Side:
    """One side of a sheet: the number of the page on each half, None for a half left blank."""

    left: int | None
    right: int | None


@frozen
class Stretch:
    """The pages of one booklet in a file: the number of its first page, how many there are, and whose they are."""

    first: int
    count: int
    title: str


def saddle_sides(count: int) -> tuple[Side, ...]:
    """Return the sides of a stapled booklet of `count` pages, from the outermost sheet's front inwards.

    A count that does not fill its sheets is filled with blanks before the last page, which stays the outside back.
    Sheet s of N pages carries N - 2s and 1 + 2s on its front, 2 + 2s and N - 1 - 2s on its back.
    """
    filled = count + -count % HALF_PAGES_A_SHEET
    pages = [*range(1, count), *[None] * (filled - count), count]
    sides = []
    for sheet in range(filled // HALF_PAGES_A_SHEET):
        low, high = 2 * sheet, filled - 1 - 2 * sheet
        sides += [Side(pages[high], pages[low]), Side(pages[low + 1], pages[high - 1])]
    return tuple(sides)


def shift(count: int, sheet: int) -> float:
    """Return how far the pages of a sheet move towards the fold, in points.

    `count` is the number of pages of the booklet; sheet 0 is the outermost.
    """
    return sheet * _CREEP if sheets(count, Printing.FOLDED) > _LIE_FLAT else 0.0


def impose(pdf: bytes, sheet: tuple[float, float], booklets: Sequence[Stretch] = ()) -> bytes:
    """Return a file of booklets laid out for folding, one after the other; without a list, all pages are one.

    `sheet` is the width and height of the sheet in points, lying on its long side. Raises ValueError where a page is
    no half of it: nothing is scaled.
    """
    with pikepdf.open(BytesIO(pdf)) as source, pikepdf.new() as made:
        stretches = booklets or (Stretch(1, len(source.pages), str(source.docinfo.get("/Title", ""))),)
        _check_halves(source, sheet, stretches)
        marks = []
        for stretch in stretches:
            marks.append((stretch.title, len(made.pages)))
            for number, side in enumerate(saddle_sides(stretch.count)):
                moved = shift(stretch.count, number // SIDES_A_SHEET)
                _add_side(made, (source, stretch.first - 1), side, sheet, moved)
        with made.open_outline() as outline:
            outline.root.extend(pikepdf.OutlineItem(title, page) for title, page in marks)
        describe(made, source, _BY_SHORT_EDGE)
        made.Root.ViewerPreferences.PickTrayByPDFSize = True
        return saved(made)


def _check_halves(source: pikepdf.Pdf, sheet: tuple[float, float], stretches: Sequence[Stretch]) -> None:
    for number in _numbers(stretches):
        box = [float(edge) for edge in source.pages[number - 1].mediabox]
        wide, high = box[2] - box[0], box[3] - box[1]
        if abs(2 * wide - sheet[0]) > _SLACK or abs(high - sheet[1]) > _SLACK:
            raise ValueError(f"page {number} is {wide:.0f} by {high:.0f} points, no half of the sheet")


def _numbers(stretches: Sequence[Stretch]) -> Iterator[int]:
    for stretch in stretches:
        yield from range(stretch.first, stretch.first + stretch.count)


def _add_side(
    made: pikepdf.Pdf, drawn: tuple[pikepdf.Pdf, int], side: Side, sheet: tuple[float, float], moved: float
) -> None:
    """Add a side with its two pages at their own size, as they are drawn in a file after so many others.

    Both are `moved` towards the fold between them.
    """
    source, before = drawn
    forms = pikepdf.Dictionary()
    operators = []
    for name, number, x in (("/L", side.left, moved), ("/R", side.right, sheet[0] / 2 - moved)):
        if number is not None:
            page = source.pages[before + number - 1]
            forms[name] = made.copy_foreign(page.as_form_xobject())
            left, low = float(page.mediabox[0]), float(page.mediabox[1])
            operators.append(f"q 1 0 0 1 {x - left:.2f} {-low:.2f} cm {name} Do Q")
    page = made.add_blank_page(page_size=sheet)
    page.obj.Resources = pikepdf.Dictionary(XObject=forms)
    page.obj.Contents = made.make_stream("\n".join(operators).encode("ascii"))
