"""Which clients the errors stop. Nobody is held without a flag that says why."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable

from compiler.cellref import CellRef, RowRef
from compiler.checks.bad_rows import spoilt_rows
from compiler.flags.catalogue import flag
from compiler.flags.model import Flag, Remark, Severity
from compiler.resolve.values import Stop


def errors(flags: Iterable[Flag]) -> Iterable[Flag]:
    """Return the flags that say that something cannot be right."""
    return (found for found in flags if found.severity is Severity.ERROR)


def stopped_by(flags: Iterable[Flag]) -> frozenset[str]:
    """Return the clients that the errors stop."""
    return frozenset(client for found in errors(flags) for client in found.touches)


def with_stops(flags: Iterable[Flag], stops: Iterable[Stop]) -> tuple[Flag, ...]:
    """Return the flags, each error with the clients that stopped at its cell, or else at its row.

    A stop where no error stands gets a flag of its own, unless another error stops the client in any case.
    """
    flags = tuple(flags)
    told = stopped_by(flags)
    by_cell: defaultdict[CellRef, list[str]] = defaultdict(list)
    for stop in stops:
        by_cell[stop.place].append(stop.client)
    unique = list(dict.fromkeys(flags))
    at_cell: defaultdict[CellRef, list[int]] = defaultdict(list)
    at_row: defaultdict[RowRef, list[int]] = defaultdict(list)
    for number, found in enumerate(unique):
        if found.severity is Severity.ERROR and found.place is not None:
            at_cell[found.place].append(number)
            for row in spoilt_rows(found):
                at_row[row].append(number)
    for place, clients in by_cell.items():
        numbers = at_cell.get(place) or at_row.get(RowRef(place.sheet, place.row))
        if numbers:
            unique[numbers[0]] = unique[numbers[0]].touching(clients)
        elif silent := [client for client in clients if client not in told]:
            unique.append(_unexplained(place, silent))
    return tuple(unique)


def _unexplained(place: CellRef, clients: list[str]) -> Flag:
    remark = Remark(
        "missing-name",
        "This cell is needed here, and there is nothing in it that can be used.",
        "Fill it in; the comment on its header has an example.",
    )
    return flag(remark, place, touches=clients)
