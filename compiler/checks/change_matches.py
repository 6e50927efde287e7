"""Changes that match no row: what they were meant to change would go on as it was.

A change with an unknown word or exercise has been flagged for that and is passed over here.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterator
from typing import Any

from compiler.checks.lookups import (
    Names,
    called_people,
    change_header,
    client_names,
    exercise_names,
    key_of,
    names_of,
    people_of,
    programme_names,
    sessions_by_programme,
)
from compiler.flags.catalogue import flag
from compiler.flags.model import Flag, Remark
from compiler.flags.nearest import nearest
from compiler.folding import name_key
from compiler.frozen import frozen
from compiler.model.book import Book
from compiler.model.field import Field
from compiler.model.records import Change, Client, ProgrammeRow
from compiler.schema.words import EVERY


@frozen
class _Row:
    """A programme row by what a change may name. None fits everything: the cell failed."""

    row: ProgrammeRow
    sessions: frozenset[str] | None
    exercise: str | None
    order: str | None
    weeks: frozenset[int]


def check_changes_match(book: Book) -> Iterator[Flag]:
    """Check that every change fits at least one row that somebody it speaks of really does."""
    exercises, known, everybody = exercise_names(book), called_people(book), people_of(book)
    programmes, rows = programme_names(book), _rows(book)
    for change in book.changes:
        cells = (change.session, change.order, change.exercise, change.weeks)
        if change.who.known is None or any(cell.failed for cell in cells) or _unknown(change, exercises):
            continue
        if change.do.known == "keep" and key_of(change.exercise) in _swapped_in(book, change):
            continue
        clients = everybody.concerned(change)
        if not clients and all(word in known for word in change.who.known):
            yield _nobody(change)
        elif clients and all(c.programme.known and c.programme.known in programmes for c in clients):
            followed = dict.fromkeys(key_of(client.programme) for client in clients)
            yield from _unmatched(change, clients, [row for key in followed for row in rows[key]])


def check_keeps(book: Book) -> Iterator[Flag]:
    """Check that every `keep` keeps something: a restriction of somebody it speaks of meets an exercise it fits."""
    everybody, rows = people_of(book), _rows(book)
    for change in book.changes:
        clients = everybody.concerned(change)
        cells = (change.who, change.session, change.order, change.exercise, change.weeks)
        if change.do.known != "keep" or not clients or any(cell.failed for cell in cells):
            continue
        if not any(_may_keep(book, change, client, rows) for client in clients):
            remark = Remark(
                "change-matches-nothing",
                f'"keep" keeps an exercise in spite of a restriction, and none of {change.who.text} meets this one.',
                'Fill in Restrictions on Clients; or delete the row, or choose "load" for a load of their own.',
            )
            yield flag(remark, change.do.place, found=change.do.text, touches=client_names(clients))


def _may_keep(book: Book, change: Change, client: Client, rows: dict[str, list[_Row]]) -> bool:
    """Tell whether a keep keeps something for a client; True where a cell that failed leaves it open."""
    if client.restrictions.failed or client.programme.failed:
        return True
    named = [book.restriction_named.get(name_key(name)) for name in client.restrictions.known or ()]
    if any(restriction is None or restriction.avoid_tags.failed for restriction in named):
        return True
    avoided = {name_key(tag) for found in named if found for tag in found.avoid_tags.known or ()}
    named_cells = _fits_by_cell(change).values()
    fitting = [row for row in rows[key_of(client.programme)] if all(fits(row) for fits in named_cells)]
    swapped = _swapped_in(book, change)
    exercise = key_of(change.exercise)
    kept = {row.exercise for row in fitting} | (swapped & {exercise} if exercise else swapped)
    if not kept:
        return True
    return any(_tags_meet(book, key, avoided) for key in kept)


def _tags_meet(book: Book, exercise: str | None, avoided: set[str]) -> bool:
    found = book.exercise_named.get(exercise) if exercise is not None else None
    if found is None or found.tags.failed:
        return True
    return bool(avoided & {name_key(tag) for tag in found.tags.known or ()})


def _swapped_in(book: Book, keep: Change) -> set[str]:
    """Return the exercises that swaps put in for anybody a `keep` speaks of."""
    everybody = people_of(book)
    whom = {client.row for client in everybody.concerned(keep)}
    return {
        key_of(change.with_)
        for change in book.changes
        if change.do.known == "swap"
        and change.with_.known
        and whom & {client.row for client in everybody.concerned(change)}
    }


def _rows(book: Book) -> dict[str, list[_Row]]:
    """Return the rows of every programme by its key; a row of `all` stands in every session."""
    sessions = sessions_by_programme(book)
    rows: defaultdict[str, list[_Row]] = defaultdict(list)
    for row in book.programme:
        programme, session = key_of(row.programme), key_of(row.session)
        shared = sessions[programme].keys if programme in sessions else frozenset()
        stands_in = shared if session == EVERY else frozenset({session})
        rows[programme].append(
            _Row(
                row,
                None if row.session.failed else stands_in,
                None if row.exercise.failed else key_of(row.exercise),
                None if row.order.failed else key_of(row.order),
                frozenset(book.weeks_of[row.row]),
            )
        )
    return rows


def _unknown(change: Change, exercises: Names) -> bool:
    name = change.exercise.known
    return name is not None and name not in exercises and key_of(change.exercise) != EVERY


def _nobody(change: Change) -> Flag:
    remark = Remark(
        "change-matches-nothing",
        f'No client follows "{change.who.text}".',
        "Correct Client, or delete the row.",
    )
    return flag(remark, change.who.place, found=change.who.text)


def _unmatched(change: Change, clients: list[Client], rows: list[_Row]) -> Iterator[Flag]:
    """Narrow the rows cell by cell; flag the cell that leaves none, with what would have fitted there."""
    met: list[str] = []
    for key, fits in _fits_by_cell(change).items():
        cell: Field[Any] = getattr(change, key)
        if cell.blank:
            continue
        narrowed = [row for row in rows if fits(row)]
        if not narrowed and rows:
            called = ", ".join(dict.fromkeys(client.programme.known or "" for client in clients))
            there = f" with {' and '.join(met)}" if met else ""
            remark = Remark(
                "change-matches-nothing",
                f'No row of {called}{there} has {change_header(key)} "{cell.text}".',
                _fitting(key, cell.text, rows),
            )
            yield flag(remark, cell.place, found=cell.text, touches=client_names(clients))
            return
        rows = narrowed
        met.append(f'{change_header(key)} "{cell.text}"')


def _fits_by_cell(change: Change) -> dict[str, Callable[[_Row], bool]]:
    """Return, by the key of the cell, whether a row fits it. `all` fits every row."""
    cells = (change.session, change.exercise, change.order)
    session, exercise, order = (key_of(cell) or EVERY for cell in cells)
    numbers = frozenset(change.weeks.known.numbers or ()) if change.weeks.known else frozenset()
    return {
        "session": lambda row: session == EVERY or row.sessions is None or session in row.sessions,
        "exercise": lambda row: exercise == EVERY or row.exercise in {None, exercise},
        "order": lambda row: order == EVERY or row.order in {None, order},
        "weeks": lambda row: not numbers or bool(numbers & row.weeks),
    }


def _fitting(key: str, text: str, rows: list[_Row]) -> str:
    if key == "weeks":
        weeks = sorted({week for row in rows for week in row.weeks})
        return f"The weeks there are {', '.join(map(str, weeks))}." if weeks else "Those rows are done in no week."
    names = names_of("Programme", (getattr(row.row, key) for row in rows)).shown
    shown = nearest(text, names) or names[:6]
    return f"It may be {', '.join(shown)} there." if shown else "Clear the cell, or delete the row."
