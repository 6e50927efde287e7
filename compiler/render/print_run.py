"""The pages of many booklets -> one file for the front desk's printer.

Drawn again on one canvas rather than merged: the file embeds each font once, where merging would carry the fonts of
every booklet along. It is for paper alone and has no tags; the booklets, for reading, have them.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from compiler.documents.paper import Printing, first_pages
from compiler.layout.page import Pages
from compiler.render.booklet.document import Drawing


@dataclass(frozen=True, slots=True)
class RunBooklet:
    """One booklet of a print run, and whose it is in the reader's list of pages."""

    client: str
    pages: Pages


def render_print_run(booklets: Sequence[RunBooklet], title: str) -> bytes:
    """Return one file with every booklet in turn: each on a fresh sheet, with a bookmark and page labels of its own.

    Printed on both sides, a booklet with an odd number of pages is followed by a blank one.
    Raises ValueError where there is no booklet: a file needs a page.
    """
    if not booklets:
        raise ValueError("a print run needs a booklet")
    first = booklets[0].pages
    drawing = Drawing(first.language, simplex=first.simplex, tagged=False)
    drawing.describe(title, first.author, "Print run")
    printing = Printing.ONE_SIDE if first.simplex else Printing.BOTH_SIDES
    begin = first_pages([len(booklet.pages.pages) for booklet in booklets], printing)
    for booklet, start in zip(booklets, begin, strict=True):
        pages = booklet.pages
        if drawing.count + 1 < start:
            drawing.blank_page(pages.width, pages.height)
        drawing.bookmark(booklet.client)
        drawing.label_pages(pages.label_prefix)
        for page in pages.pages:
            drawing.page(page, pages.width, pages.height)
    return drawing.finish()
