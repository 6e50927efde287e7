"""What of this month's rows goes on to the next: start dates move on, expired changes go, the log becomes history."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import date, timedelta
from itertools import groupby

from compiler.cellref import RowRef
from compiler.folding import name_key
from compiler.model.book import Book
from compiler.model.log import HistoryRow
from compiler.model.records import Change
from compiler.notation.values import Distance, DistanceUnit, Reps, Sets
from compiler.notation.words import GLUE, reps_words
from compiler.progress.month import Month
from compiler.progress.values import DoneRow, NewClient, NextMonth
from compiler.quantities import plain
from compiler.resolve.sessions import DAYS_IN_A_WEEK
from compiler.review.log_sets import Done
from compiler.source.cells import SourceBook

HistoryKey = tuple[str, date | None, int | None, str, str, str, tuple[int, int] | None]


def next_start(start: date | None, weeks: int) -> date | None:
    """Return the first day of the next block: the same weekday, the day after this block's last week."""
    return start + timedelta(days=DAYS_IN_A_WEEK * weeks) if start else None


def moved_clients(book: Book) -> Iterator[NewClient]:
    """Yield the clients whose row changes: a calendar of their own moves on, a late joiner starts with the others."""
    weeks = book.block.weeks.needed
    for client in book.clients:
        own = next_start(client.start_date.known, weeks)
        late = (client.first_week.known or 1) > 1
        if own is not None or late:
            yield NewClient(client.row, own, late)


def expired(book: Book) -> Iterator[RowRef]:
    """Yield the rows of Changes that were for some weeks of this block.

    Loads of one client's row that together cover every week of the block are lasting: so a raised load is written.
    """
    groups: defaultdict[tuple[str, ...], list[Change]] = defaultdict(list)
    for change in book.changes:
        if change.weeks.failed or change.weeks.blank or change.weeks.needed.numbers is None:
            continue
        groups[_same(change)].append(change)
    for changes in groups.values():
        weeks = {number for change in changes for number in change.weeks.needed.numbers or ()}
        lasting = changes[0].do.known == "load" and weeks >= set(range(1, book.block.weeks.needed + 1))
        if not lasting:
            yield from (change.row for change in changes)


def _same(change: Change) -> tuple[str, ...]:
    """Return what makes two changes speak of the same row of the same people."""
    cells = (change.session, change.order, change.exercise, change.do)
    who = ",".join(sorted(name_key(word) for word in change.who.known or ()))
    return (who, *(name_key(cell.known or "") for cell in cells))


def history_of(month: Month) -> Iterator[DoneRow]:
    """Yield the sets of the log, one row for those that were alike."""
    for entry in month.entries:
        number = 0
        for done, run in groupby(entry.sets):
            first, number = number + 1, number + len(list(run))
            if done.weight is None and done.done is None:
                continue  # `ok` for as many as possible says nothing that could be shown later
            yield DoneRow(
                entry.client,
                month.day(entry),
                entry.week,
                entry.session,
                entry.planned.order,
                entry.planned.exercise.name.needed,
                first,
                number,
                done.weight,
                done_words(done.done) if done.done else "",
                done.rpe,
            )


def done_words(done: Done) -> str:
    """Return what was done in one set, as a cell of reps is written: 5, 45 s, 40 metres (an m alone may be minutes)."""
    if isinstance(done, Distance) and done.unit is DistanceUnit.METRE:
        return f"{plain(done.low)} metres"
    return reps_words(Reps((done,))).replace(GLUE, " ")


def not_there_yet(book: Book, rows: Sequence[DoneRow]) -> tuple[DoneRow, ...]:
    """Return the rows that History does not have, so that a log read twice adds nothing."""
    there = {_history_key(row) for row in book.history}
    return tuple(row for row in rows if _key(row) not in there)


def _history_key(row: HistoryRow) -> HistoryKey:
    cells = (row.session, row.order, row.exercise)
    session, order, exercise = (name_key(cell.known or "") for cell in cells)
    client = name_key(row.client.known or "")
    sets = row.set.known
    numbers = (sets.low, sets.high) if isinstance(sets, Sets) else None
    return client, row.date.known, row.week.known, session, order, exercise, numbers


def _key(row: DoneRow) -> HistoryKey:
    session, order, exercise = (name_key(text) for text in (row.session, row.order, row.exercise))
    return name_key(row.client), row.day, row.week, session, order, exercise, (row.first, row.last)


def left_in_merges(source: SourceBook, month: NextMonth) -> NextMonth:
    """Return the month without the dropped rows that share a merged cell with others: only the coach can part them."""
    sheet = next((s for s in source.sheets if month.dropped and s.name == month.dropped[0].sheet), None)
    merges = sheet.merges if sheet else ()
    kept = [row for row in month.dropped if any(top <= row.row <= bottom != top for top, _, bottom, _ in merges)]
    told = tuple(
        (str(row), "Was for some weeks of the last block, and is merged with other rows: delete it.") for row in kept
    )
    return replace(
        month, dropped=tuple(row for row in month.dropped if row not in kept), without=(*month.without, *told)
    )
