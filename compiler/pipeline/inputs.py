"""What the pages of a client are made from: what the workbook says to all, and the rows that are the client's own.

Two runs in which both are the same make the same pages, however other clients changed: they need not be put into words
again to know it. A row of clients, tests, history or log whose client is not known is everybody's, as its name may be
meant for anybody.
"""

from __future__ import annotations

import hashlib
from collections import defaultdict
from collections.abc import Collection, Iterable, Iterator
from dataclasses import fields
from itertools import chain

from compiler.cellref import RowRef
from compiler.documents.held import Held
from compiler.documents.room_meeting import group_key
from compiler.documents.room_sheet import room_groups
from compiler.folding import name_key
from compiler.frozen import frozen
from compiler.model.book import Book
from compiler.model.log import HistoryRow, LogRow
from compiler.model.records import Client, Test
from compiler.resolve.values import ClientPlan

_OWNED = frozenset({"clients", "tests", "history", "log"})
"""The fields of a book whose rows belong each to a client."""


@frozen
class Inputs:
    """What stands for the inputs of each client, by folded name, and for what all share."""

    shared: str
    own: dict[str, str]

    def of(self, client: str) -> tuple[str, str]:
        """Return what stands for all that the pages of a client are made from."""
        return self.shared, self.own[name_key(client)]

    def of_groups(
        self, book: Book, plans: Iterable[ClientPlan], held: Iterable[Held]
    ) -> dict[str, tuple[object, ...]]:
        """Return what the sheets of each group are made from, by folded name: its clients, who trains and who does not.

        The groups are those that have sheets, in their order.
        """
        planned = {plan.name for plan in plans}
        stopped = {one.client: one for one in held}
        found: dict[str, list[object]] = {group: [self.shared] for group in room_groups(book, plans)}
        for client in book.clients:
            name = client.name.known
            if name is not None and (group := group_key(client)) in found:
                found[group].append((self.own[name_key(name)], name in planned, stopped.get(name)))
        return {group: tuple(made_from) for group, made_from in found.items()}


def inputs_of(book: Book, bad_rows: Collection[RowRef]) -> Inputs:
    """Return the inputs of all clients. `bad_rows` carry an error, which is part of what a plan is made from."""
    own: defaultdict[str, list[object]] = defaultdict(list)
    stray: list[object] = []
    for owner, row in _owned_rows(book):
        of = own[owner] if owner in book.client_named else stray
        of.append((row, row.row in bad_rows))
    owned = {row.row for _, row in _owned_rows(book)}
    shared: list[object] = [getattr(book, one.name) for one in fields(book) if one.init and one.name not in _OWNED]
    shared += sorted(row for row in bad_rows if row not in owned)
    if stray:  # who is meant by a name that is nobody's depends on the names there are
        shared += [*stray, *book.client_named]
    return Inputs(_hash(shared), {client: _hash(rows) for client, rows in own.items()})


def _owned_rows(book: Book) -> Iterator[tuple[str, Client | Test | HistoryRow | LogRow]]:
    """Yield the rows that belong to a client, each with the folded name; empty where that could not be read."""
    for client in book.clients:
        yield name_key(client.name.known or ""), client
    for row in chain[Test | HistoryRow | LogRow](book.tests, book.history, book.log):
        yield name_key(row.client.known or ""), row


def _hash(values: Iterable[object]) -> str:
    whole = hashlib.sha256()
    for value in values:
        whole.update(repr(value).encode())
        whole.update(b"\n")
    return whole.hexdigest()
