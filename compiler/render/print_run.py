"""The pages of many booklets -> one file for the front desk's printer.

Drawn again on one canvas rather than merged: the file embeds each font once, where merging would carry the fonts of
every booklet along. It is for paper alone and has no tags; the booklets, for reading, have them.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from compiler.layout.page import Pages
from compiler.render.booklet.document import Drawing


@dataclass(frozen=True, slots=True)
class RunBooklet:
    """One booklet of a print run, and whose it is in the reader's list of pages."""

    client: str
    pages: Pages


class PrintRun:
    """A print run while it is drawn: booklets one by one, none of them kept; `finish` gives the file.

    Each is on a fresh sheet: on both sides, one with an odd number of pages is followed by a blank one.
    """

    def __init__(self, title: str) -> None:
        self._title = title
        self._drawing: Drawing | None = None
        self._last: Pages | None = None

    def add(self, booklet: RunBooklet) -> None:
        """Draw one more booklet, with a bookmark and page labels of its own."""
        pages = booklet.pages
        if self._drawing is None:
            self._drawing = Drawing(pages.language, simplex=pages.simplex, tagged=False)
            self._drawing.describe(self._title, pages.author, self._title)
        drawing, last = self._drawing, self._last
        if last and drawing.count % 2 and not last.simplex:
            drawing.blank_page(last.width, last.height)
        self._last = pages
        drawing.bookmark(booklet.client)
        drawing.label_pages(pages.label_prefix)
        for page in pages.pages:
            drawing.page(page, pages.width, pages.height)

    def finish(self) -> bytes:
        """Return the file. Raises ValueError where there is no booklet: a file needs a page."""
        if self._drawing is None:
            raise ValueError("a print run needs a booklet")
        return self._drawing.finish()


def render_print_run(booklets: Iterable[RunBooklet], title: str) -> bytes:
    """Return one file with every booklet in turn. Raises ValueError where there is none."""
    run = PrintRun(title)
    for booklet in booklets:
        run.add(booklet)
    return run.finish()
