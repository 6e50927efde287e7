"""How the group of a row is done: a circuit, by the clock, for time.

It is typed on the group's first row and holds for all of it, also for a client who leaves that row out.
"""

from __future__ import annotations

from compiler.checks.groups import group_of
from compiler.folding import name_key
from compiler.model.records import ProgrammeRow
from compiler.notation.values import DoneAs, DoneAsKind
from compiler.resolve.context import Index

WHOLE_GROUP = frozenset({DoneAsKind.CIRCUIT, DoneAsKind.EMOM, DoneAsKind.EVERY, DoneAsKind.AMRAP, DoneAsKind.FOR_TIME})
"""Ways that are typed on the first row of a group and hold for all of it."""


def way_of(index: Index, row: ProgrammeRow, week: int) -> DoneAs | None:
    """Return how a row is done in a week: its own way, else that of its group. Raises `Poisoned`.

    Of rows that take turns on one order label the one of this week counts.
    """
    own = row.done_as.value
    if own is not None:
        return own
    group = group_of(index.groups, row)
    doing = {name_key(one.order.known or "") for one in group if week in index.weeks[one.row]}
    for one in group:
        if one.done_as.known is None or one.done_as.known.kind not in WHOLE_GROUP:
            continue
        if week in index.weeks[one.row] or name_key(one.order.known or "") not in doing:
            return one.done_as.known
    return None
