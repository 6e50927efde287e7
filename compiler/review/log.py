"""The Log sheet against the plans: slips of typing, told while the booklets are still at hand."""

from __future__ import annotations

from collections.abc import Iterator

from compiler.flags.model import Flag
from compiler.model.book import Book
from compiler.resolve.plan import Resolution
from compiler.review.logged import read_log


def review_log(book: Book, resolution: Resolution) -> Iterator[Flag]:
    """Yield what is wrong with the log; nothing where there is none."""
    if book.log:
        yield from read_log(book, resolution.plans).flags
