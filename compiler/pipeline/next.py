"""From a month to the next, in order: cells, plans, logs, what was done, proposals, the new workbook."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from pathlib import Path

from compiler.binding.log_rows import bind_log
from compiler.flags.model import Flag, sort_flags
from compiler.frozen import frozen
from compiler.model.book import Book
from compiler.pipeline.check import check_source
from compiler.progress.carry import left_in_merges
from compiler.progress.next_block import next_month
from compiler.progress.values import NextMonth
from compiler.render.next_workbook import render_next_workbook
from compiler.review.logged import read_log
from compiler.schema.sheets import SHEET_ORDER
from compiler.source.xlsx import read_file, read_workbook, read_workbook_bytes


@frozen
class NextMade:
    """What `next` made: next month's workbook as bytes and what is new in it, both None without a book; every flag."""

    content: bytes | None
    month: NextMonth | None
    flags: tuple[Flag, ...]


def make_next(workbook: Path, logs: Sequence[Path] = ()) -> NextMade:
    """Return next month's workbook, from the Log sheet and any log entry workbooks.

    Raises `UnreadableWorkbook` where a file cannot be read. The files stay as they are.
    """
    data = read_file(workbook)
    source = read_workbook_bytes(data, workbook.name)
    checked = check_source(source)
    if checked.book is None:
        return NextMade(None, None, checked.flags)
    book, found = with_logs(checked.book, logs)
    reading = read_log(book, checked.plans)
    month = left_in_merges(source, next_month(book, checked.plans, reading))
    content = render_next_workbook(data, source, book.block.start_date.place, month)
    return NextMade(content, month, sort_flags((*checked.flags, *found, *reading.flags), SHEET_ORDER))


def with_logs(book: Book, logs: Iterable[Path]) -> tuple[Book, tuple[Flag, ...]]:
    """Return the book with the rows of log entry workbooks added to its log, and the flags of reading them."""
    flags: tuple[Flag, ...] = ()
    for path in logs:
        rows, found = bind_log(read_workbook(path), book.block.weeks.needed, book.block.start_date.known)
        book = replace(book, log=(*book.log, *rows))
        flags += found
    return book, flags
