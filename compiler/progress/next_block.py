"""A month that was planned and logged -> the next: proposals for every client, and what becomes of the rows.

A client without a log keeps every load. For a client whose restrictions say not to raise loads, and for a minor, a
rise is only listed. Two missed weeks or more make the next block lighter and leave every other rule out.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from decimal import Decimal

from compiler.folding import name_key
from compiler.model.book import Book
from compiler.progress.carry import expired, history_of, moved_clients, next_start, not_there_yet
from compiler.progress.estimates import reestimated
from compiler.progress.missed import ENOUGH, blank_weeks, lightened, missed_weeks
from compiler.progress.month import Cells, Month, cells_of
from compiler.progress.stalls import stalls
from compiler.progress.values import NextMonth, Proposal
from compiler.progress.weights import raised_own, raised_typed
from compiler.quantities import Percent
from compiler.resolve.context import ClientView, Index, index_book, view_client
from compiler.resolve.values import ClientPlan
from compiler.review.attendance import attendance
from compiler.review.logged import LogReading

DEFAULT_CAP = Percent(Decimal(5))


def next_month(book: Book, plans: Sequence[ClientPlan], log: LogReading) -> NextMonth:
    """Return everything that next month's workbook has and this month's has not."""
    index = index_book(book)
    cells = cells_of(book)
    start = next_start(book.block.start_date.known, book.block.weeks.needed)
    months = [_month(index, cells, plan, log, start) for plan in plans]
    proposals = tuple(proposal for month in months for proposal in _proposals(month))
    replaced = {row for proposal in proposals for row in proposal.replaces}
    return NextMonth(
        start=start,
        clients=tuple(moved_clients(book)),
        dropped=tuple(sorted({*expired(book), *replaced})),
        proposals=proposals,
        history=not_there_yet(book, tuple(row for month in months for row in history_of(month))),
        without=tuple(_without(book, months, proposals)),
    )


def _month(index: Index, cells: Cells, plan: ClientPlan, log: LogReading, start: date | None) -> Month:
    block = index.book.block
    easier = block.easier_weeks.known
    view = view_client(index, plan.client)
    return Month(
        view=view,
        plan=plan,
        entries=tuple(entry for entry in log.entries if entry.client == plan.name),
        cells=cells,
        easier=frozenset(easier.numbers or ()) if easier else frozenset(),
        cap=block.biggest_rise.known or DEFAULT_CAP,
        held_back=_held_back(view, plan.client.start_date.known or start),
        unread=log.unread,
    )


def _held_back(view: ClientView, day: date | None) -> str | None:
    """Return why a client's loads are not to be raised by a rule."""
    for restriction in view.restrictions:
        if restriction.raise_loads.value is False:
            return f"{restriction.name.value} says not to raise loads"
    born, adult = view.client.born.value, view.book.block.adult_age.value
    if born is not None and day is not None and adult is not None and born.age_on(day) < adult:
        return f"under {adult}"
    return None


def _proposals(month: Month) -> Iterator[Proposal]:
    if not month.entries:
        return
    missed = missed_weeks(month)
    if len(missed) >= ENOUGH:
        yield from lightened(month, missed)
        return
    ruled = [rule(month, exercise) for exercise in month.exercises() for rule in (reestimated, raised_own)]
    found = [proposal for proposal in (*ruled, *raised_typed(month)) if proposal is not None]
    told = {proposal.exercise for proposal in found}
    yield from found
    yield from (stall for stall in stalls(month) if stall.exercise not in told)


def _without(book: Book, months: Sequence[Month], proposals: Sequence[Proposal]) -> Iterator[tuple[str, str]]:
    """Yield the clients for whom nothing is proposed, and why: something is wanting, or nothing is to be changed."""
    proposed = {proposal.client for proposal in proposals}
    planned = {name_key(month.plan.name): month for month in months}
    for client in book.clients:
        name = client.name.known
        month = planned.get(name_key(name)) if name else None
        if name is None:
            continue
        if month is None:
            if client.has_booklet:
                yield name, "No plan in this block: an error held the booklet."
        elif not month.entries:
            yield name, "No log: every load stays as it is."
        elif len(blank_weeks(month)) >= ENOUGH:
            weeks = ", ".join(map(str, blank_weeks(month)))
            yield name, f"The log says nothing of weeks {weeks}: type - if they were missed."
        elif name not in proposed:
            yield name, _as_it_was(month)


def _as_it_was(month: Month) -> str:
    there, planned = attendance(month.plan.sessions, month.entries), len(month.plan.sessions)
    rest = [f"{there.missed} missed"] if there.missed else []
    rest += [f"{there.silent} not in the log"] if there.silent else []
    return ", ".join([f"The log was read and no load changes: {there.done} of {planned} sessions done", *rest]) + "."
