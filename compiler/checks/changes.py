"""The Changes sheet: every exception speaks of somebody, says all that it needs, and meets a row.

A change that does not hold leaves its client with the load or the exercise it was to take away. So every error
here stops the clients it speaks of, and the one whose name a misspelt name is nearest to.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

from compiler.checks.lookups import (
    EVERY_SESSION,
    EVERYBODY,
    Names,
    client_names,
    concerned,
    exercise_names,
    key_of,
    names_of,
    programme_names,
    rows_of,
    session_names,
    site_names,
)
from compiler.checks.references import nearest_keys, unknown_exercise
from compiler.flags.catalogue import flag
from compiler.flags.model import Flag, Remark
from compiler.flags.nearest import nearest
from compiler.folding import name_key
from compiler.model.book import Book
from compiler.model.effective import unroll
from compiler.model.field import Field
from compiler.model.records import Change, Client, ProgrammeRow
from compiler.notation.effort import read_effort_limit
from compiler.notation.values import EffortLimit
from compiler.schema.sheets import CHANGES

Holds = Callable[[ProgrammeRow], bool]


def check_change_people(book: Book) -> Iterator[Flag]:
    """Check that every word of Client is a client, a group, a level, a programme, or `all`."""
    known = _people(book)
    for change in book.changes:
        for word in change.who.known or ():
            if word in known:
                continue
            near = nearest_keys(word, known)
            meant = [client for client in book.clients if key_of(client.name) in near]
            remark = Remark(
                "unknown-client",
                f'"{word}" is no client, group, level or programme.',
                known.hint(word),
            )
            touches = client_names([*concerned(book, change), *meant])
            yield flag(remark, change.who.place, found=change.who.text, touches=dict.fromkeys(touches))


def _people(book: Book) -> Names:
    cells = [cell for c in book.clients for cell in (c.name, c.group, c.level, c.programme)]
    cells += [row.programme for row in book.programme]
    known = names_of("Clients", cells)
    return Names("Clients", known.keys | {EVERYBODY}, known.shown)


def check_change_names(book: Book) -> Iterator[Flag]:
    """Check that the exercise, and the exercise or site of With, are there; a scale is a percentage."""
    exercises, sites = exercise_names(book), site_names(book)
    for change in book.changes:
        touches = client_names(concerned(book, change))
        name = change.exercise.known
        if name and name not in exercises and name_key(name) != EVERY_SESSION:
            yield unknown_exercise(change.exercise, exercises, touches=touches)
        other = change.with_.known
        if not other:
            continue
        if change.do.known == "swap" and other not in exercises:
            yield unknown_exercise(change.with_, exercises, touches=touches)
        if change.do.known == "train at" and sites.keys and other not in sites:
            remark = Remark("unknown-site", f'"{other}" is not on the {sites.where} sheet.', sites.hint(other))
            yield flag(remark, change.with_.place, found=change.with_.text, touches=touches)
        if change.do.known == "scale":
            yield from _scale(change, touches)


def _scale(change: Change, touches: tuple[str, ...]) -> Iterator[Flag]:
    text = change.with_.known or ""
    read = read_effort_limit(text)
    if isinstance(read, EffortLimit) and read.percent is not None:
        return
    bare = text.replace(".", "", 1).isdecimal()
    slug = "bare-percentage" if bare else "not-a-number"
    message = (
        f'"{text}" has no % sign; a scale is a percentage.'
        if bare
        else f'"{text}" is not a percentage, and `scale` needs one.'
    )
    yield flag(Remark(slug, message, "Write 80%."), change.with_.place, found=change.with_.text, touches=touches)


def check_change_cells(book: Book) -> Iterator[Flag]:
    """Check that every kind of change has the cell that it cannot do without."""
    for change in book.changes:
        touches = client_names(concerned(book, change))
        doing = change.do.known
        if doing in {"swap", "scale", "train at"} and change.with_.blank:
            what = {"swap": "the exercise to do instead", "scale": "a percentage", "train at": "a site"}[doing]
            remark = Remark(
                "missing-name",
                f'"{_head("with_")}" is blank, and `{doing}` needs {what} there.',
                "Fill it in, or delete the row.",
            )
            yield flag(remark, change.with_.place, related=(change.do.place,), touches=touches)
        if doing == "load" and change.load.blank:
            remark = Remark(
                "missing-load",
                f'"{_head("load")}" is blank, and `load` needs this client\'s own load there.',
                "Fill it in, or delete the row.",
            )
            yield flag(remark, change.load.place, related=(change.do.place,), touches=touches)
        if doing == "train at" and not (change.exercise.blank and change.order.blank):
            cell, head = (
                (change.order, _head("order")) if change.exercise.blank else (change.exercise, _head("exercise"))
            )
            remark = Remark(
                "cells-disagree",
                f'`train at` moves whole sessions, and {head} says "{cell.text}".',
                f"Clear {head}, or choose another change for this one exercise.",
            )
            yield flag(remark, cell.place, found=cell.text, related=(change.do.place,), touches=touches)


def check_keep_reasons(book: Book) -> Iterator[Flag]:
    """Check that keeping an exercise against a restriction has a reason."""
    for change in book.changes:
        if change.do.known == "keep" and change.why.blank:
            remark = Remark(
                "keep-without-reason",
                f'`keep` keeps an exercise against a restriction, and "{_head("why")}" is blank.',
                "Write who agreed and when. It is never printed.",
            )
            touches = client_names(concerned(book, change))
            yield flag(remark, change.why.place, related=(change.do.place,), touches=touches)


def check_changes_match(book: Book) -> Iterator[Flag]:
    """Check that every change fits at least one row that somebody it speaks of really does."""
    exercises, people = exercise_names(book), _people(book)
    programmes = programme_names(book)
    for change in book.changes:
        cells = (change.session, change.order, change.exercise, change.weeks)
        if change.who.known is None or any(cell.failed for cell in cells):
            continue
        if (
            change.exercise.known
            and change.exercise.known not in exercises
            and key_of(change.exercise) != EVERY_SESSION
        ):
            continue
        clients = concerned(book, change)
        if not clients:
            if all(word in people for word in change.who.known):
                yield _nobody(change)
            continue
        if all(client.programme.known and client.programme.known in programmes for client in clients):
            yield from _unmatched(book, change, clients)


def _nobody(change: Change) -> Flag:
    remark = Remark(
        "change-matches-nothing",
        f'No client follows "{change.who.text}".',
        "Correct Client, or delete the row.",
    )
    return flag(remark, change.who.place, found=change.who.text)


def _unmatched(book: Book, change: Change, clients: list[Client]) -> Iterator[Flag]:
    """Narrow the rows cell by cell; flag the cell that leaves none, with what would have fitted there."""
    programmes = dict.fromkeys(key_of(client.programme) for client in clients)
    rows = [row for key in programmes for row in rows_of(book, key)]
    called = ", ".join(dict.fromkeys(client.programme.known or "" for client in clients))
    met: list[str] = []
    for key, holds in _tests(book, change).items():
        cell: Field[Any] = getattr(change, key)
        if cell.blank:
            continue
        narrowed = [row for row in rows if holds(row)]
        if not narrowed and rows:
            there = f" with {' and '.join(met)}" if met else ""
            remark = Remark(
                "change-matches-nothing",
                f'No row of {called}{there} has {_head(key)} "{cell.text}".',
                _fitting(key, cell.text, rows),
            )
            yield flag(remark, cell.place, found=cell.text, touches=client_names(clients))
            return
        rows = narrowed
        met.append(f'{_head(key)} "{cell.text}"')


def _tests(book: Book, change: Change) -> dict[str, Holds]:
    """Return, by the key of the cell, whether a row fits that cell; `all` and a cell that failed fit everything."""

    def fits(typed: Field[str], own: Field[str]) -> bool:
        return own.failed or key_of(typed) in {key_of(own), EVERY_SESSION}

    def meets_session(row: ProgrammeRow) -> bool:
        if key_of(row.session) != EVERY_SESSION:
            return fits(change.session, row.session)
        return key_of(change.session) in session_names(book, key_of(row.programme)).keys | {EVERY_SESSION}

    numbers = change.weeks.known.numbers if change.weeks.known else None
    return {
        "session": meets_session,
        "exercise": lambda row: fits(change.exercise, row.exercise),
        "order": lambda row: fits(change.order, row.order),
        "weeks": lambda row: numbers is None or bool(set(numbers) & set(unroll(row))),
    }


def _fitting(key: str, text: str, rows: list[ProgrammeRow]) -> str:
    if key == "weeks":
        weeks = sorted({week for row in rows for week in unroll(row)})
        return f"There the weeks are {', '.join(map(str, weeks))}." if weeks else "Those rows are done in no week."
    names = names_of("Programme", (getattr(row, key) for row in rows)).shown
    shown = nearest(text, names) or names[:6]
    return f"There it may be {', '.join(shown)}." if shown else "Clear the cell, or delete the row."


def _head(key: str) -> str:
    return CHANGES.column(key).header
