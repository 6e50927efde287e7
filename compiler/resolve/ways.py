"""How the group of a row is done: a circuit, by the clock, for time.

It is typed on the group's first row and holds for all of it, also for a client who leaves that row out.
"""

from __future__ import annotations

from compiler.folding import name_key
from compiler.model.book import Book
from compiler.notation.values import DoneAs, DoneAsKind
from compiler.resolve.context import Line

WHOLE_GROUP = frozenset({DoneAsKind.CIRCUIT, DoneAsKind.EMOM, DoneAsKind.EVERY, DoneAsKind.AMRAP, DoneAsKind.FOR_TIME})
"""Ways that are typed on the first row of a group and hold for all of it."""


def way_of(book: Book, line: Line, week: int) -> DoneAs | None:
    """Return how a row is done in a week: its own way, else that of its group. Raises `Poisoned`.

    It is no matter of the client's, and worked out once.
    """
    if week not in line.ways:
        line.ways[week] = line.row.done_as.value or _way_of_group(book, line, week)
    return line.ways[week]


def _way_of_group(book: Book, line: Line, week: int) -> DoneAs | None:
    """Return what is typed for the group; of rows that take turns on one order label the one of this week counts."""
    doing = {name_key(one.order.known or "") for one in line.group if week in book.weeks_of[one.row]}
    for one in line.group:
        if one.done_as.known is None or one.done_as.known.kind not in WHOLE_GROUP:
            continue
        if week in book.weeks_of[one.row] or name_key(one.order.known or "") not in doing:
            return one.done_as.known
    return None
