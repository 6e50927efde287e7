"""What several checks look up in the Book: names, sessions, who a change speaks of, weeks that a dash takes out.

Cells that failed count as known by their text, so that one mistake gives one flag.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from typing import Any

from compiler.cellref import CellRef
from compiler.flags.catalogue import flag
from compiler.flags.model import Flag, Remark
from compiler.flags.nearest import offer
from compiler.folding import name_key
from compiler.frozen import frozen
from compiler.model.book import Book
from compiler.model.field import Field
from compiler.model.records import Change, Client, ProgrammeRow
from compiler.notation.values import NotThisWeek
from compiler.schema.column import weekly_header
from compiler.schema.sheets import CHANGES, PROGRAMME
from compiler.schema.words import EVERY


@frozen
class Names:
    """The names that a sheet knows, and the sheet."""

    where: str
    keys: frozenset[str]
    shown: tuple[str, ...]

    def __contains__(self, name: str) -> bool:
        return name_key(name) in self.keys

    def hint(self, name: str) -> str:
        """Return the hint for a name that is not there."""
        return offer(name, self.shown, self.where)


def names_of(where: str, fields: Iterable[Field[str]]) -> Names:
    """Return the names in some cells, each once; of a cell that failed its text."""
    found: dict[str, str] = {}
    failed: set[str] = set()
    for field in fields:
        if field.known:
            found.setdefault(name_key(field.known), field.known)
        elif field.failed:
            failed.add(name_key(field.text))
    return Names(where, frozenset(found) | failed, tuple(found.values()))


def key_of(field: Field[str]) -> str:
    """Return the key of a name cell, "" where it is blank or failed."""
    return name_key(field.known) if field.known else ""


def exercise_names(book: Book) -> Names:
    """Return the names of the Exercises sheet."""
    return names_of("Exercises", (exercise.name for exercise in book.exercises))


def programme_names(book: Book) -> Names:
    """Return the programmes that the Programme sheet has rows of."""
    return names_of("Programme", (row.programme for row in book.programme))


def site_names(book: Book) -> Names:
    """Return the sites: those of the Sites sheet, or those of Kit where there is no Sites sheet."""
    if book.sites:
        return names_of("Sites", (site.name for site in book.sites))
    return names_of("Kit", (row.site for row in book.kit))


def sessions_by_programme(book: Book) -> dict[str, Names]:
    """Return the sessions of every programme by its key; `all` is none of them.

    A row whose programme failed is left out: there is no telling whose session it is.
    """
    cells: defaultdict[str, list[Field[str]]] = defaultdict(list)
    for row in book.programme:
        if row.programme.known and key_of(row.session) != EVERY:
            cells[key_of(row.programme)].append(row.session)
    return {programme: names_of(PROGRAMME.name, sessions) for programme, sessions in cells.items()}


@frozen
class People:
    """The clients, by every word that a change may call them: name, group, level, programme, or `all`."""

    by_word: dict[str, tuple[int, ...]]
    clients: tuple[Client, ...]

    def concerned(self, change: Change) -> list[Client]:
        """Return the clients that a row of Changes speaks of, in the order of the sheet."""
        words = change.who.known or ()
        numbers = {number for word in words for number in self.by_word.get(name_key(word), ())}
        return [self.clients[number] for number in sorted(numbers)]

    def stopped_by(self, change: Change) -> tuple[str, ...]:
        """Return the names of the clients that an error in a row of Changes stops."""
        return client_names(self.concerned(change))


def people_of(book: Book) -> People:
    """Return the clients by the words that call them."""
    words: defaultdict[str, list[int]] = defaultdict(list)
    for number, client in enumerate(book.clients):
        cells = (client.name, client.group, client.level, client.programme)
        for word in {key_of(cell) for cell in cells} - {""} | {EVERY}:
            words[word].append(number)
    return People({word: tuple(numbers) for word, numbers in words.items()}, book.clients)


def client_names(clients: Iterable[Client]) -> tuple[str, ...]:
    """Return the names of clients, for `touches`; a client whose name failed is stopped by that."""
    return tuple(client.name.known for client in clients if client.name.known)


def holders_of(book: Book, restriction: Field[str]) -> tuple[str, ...]:
    """Return the names of the clients who have a restriction."""
    key = key_of(restriction)
    return client_names(c for c in book.clients if key in map(name_key, c.restrictions.known or ()))


def called(client: Client) -> str:
    """Return what a message calls a client, whose name may have failed."""
    return client.name.known or "This client"


def client_flag(
    remark: Remark, client: Client, cell: Field[Any], related: Iterable[CellRef] = (), *, stops: bool = True
) -> Flag:
    """Return the flag at one of a client's cells; it stops that client unless told otherwise."""
    return flag(
        remark,
        cell.place,
        client=client.name.known,
        found=cell.text or None,
        related=related,
        touches=client_names((client,)) if stops else (),
    )


def called_people(book: Book) -> Names:
    """Return every word that a change may call clients by, whether or not anybody answers to it."""
    cells = [cell for c in book.clients for cell in (c.name, c.group, c.level, c.programme)]
    cells += [row.programme for row in book.programme]
    known = names_of("Clients", cells)
    return Names("Clients", known.keys | {EVERY}, known.shown)


def change_header(key: str) -> str:
    """Return the header of a column of Changes."""
    return CHANGES.column(key).header


def week_header(key: str, week: int) -> str:
    """Return the header of a weekly column: Week 2 sets."""
    return weekly_header(PROGRAMME.column(key), week)


def out_weeks(row: ProgrammeRow) -> Iterator[tuple[int, int]]:
    """Yield (week, week of the dash) for the weeks that a dash takes out, its own first."""
    since = 0
    for week, cells in enumerate(row.weeks, start=1):
        if isinstance(cells.sets.content, NotThisWeek):
            since = week
        elif not cells.sets.blank:
            since = 0
        if since:
            yield week, since


def quoted_cells(cells: Iterable[tuple[str, Field[Any]]]) -> str:
    """Return cells with what stands in them: `Week 2 reps says "8" and Week 2 load says "75%"`."""
    return " and ".join(f'{name} says "{cell.text}"' for name, cell in cells)
