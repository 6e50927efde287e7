"""The pages of many booklets -> one file for the front desk's printer.

Drawn again on one canvas rather than merged: the file embeds each font once, where merging would carry the fonts of
every booklet along. It is for paper alone and has no tags; the booklets, for reading, have them.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from compiler.layout.page import Pages
from compiler.render.booklet.document import Drawing


@dataclass(frozen=True, slots=True)
class RunBooklet:
    """One booklet of a print run, and whose it is in the reader's list of pages."""

    client: str
    pages: Pages


def first_pages(counts: Sequence[int], *, simplex: bool) -> tuple[int, ...]:
    """Return the page of the run on which each booklet begins, from the numbers of their pages.

    Printed on both sides, each begins on an odd page, the front of a sheet: an odd count is followed by a blank.
    """
    firsts = []
    page = 1
    for count in counts:
        firsts.append(page)
        page += count if simplex else count + count % 2
    return tuple(firsts)


def render_print_run(booklets: Sequence[RunBooklet], title: str) -> bytes:
    """Return one file with every booklet in turn: each on a fresh sheet, with a bookmark and page labels of its own.

    Raises ValueError where there is no booklet: a file needs a page.
    """
    if not booklets:
        raise ValueError("a print run needs a booklet")
    first = booklets[0].pages
    simplex = first.simplex
    drawing = Drawing(first.language, simplex=simplex, tagged=False)
    drawing.describe(title, first.author, "Print run")
    begin = first_pages([len(booklet.pages.pages) for booklet in booklets], simplex=simplex)
    for booklet, start in zip(booklets, begin, strict=True):
        pages = booklet.pages
        if drawing.count + 1 < start:
            drawing.blank_page(pages.width, pages.height)
        drawing.bookmark(booklet.client)
        drawing.label_pages(pages.label_prefix)
        for page in pages.pages:
            drawing.page(page, pages.width, pages.height)
    return drawing.finish()
