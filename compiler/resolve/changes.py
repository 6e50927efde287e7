"""The Changes sheet for one client, row and week: which exception holds.

Where two rows fit, the narrower wins: a client before a list of clients, a group, a level, a programme, `all`; then
the one that names more of exercise, order, session and weeks; then the lower one on the sheet.
"""

from __future__ import annotations

from dataclasses import dataclass

from compiler.folding import name_key
from compiler.model.field import Field
from compiler.model.records import Change, ProgrammeRow
from compiler.resolve.context import ClientView

EVERY_SESSION = "all"


@dataclass(frozen=True, slots=True)
class Exceptions:
    """What Changes says of one row in one week, at most one row of each kind."""

    leave_out: Change | None = None
    swap: Change | None = None
    scale: Change | None = None
    load: Change | None = None
    keep: Change | None = None


def exceptions_for(view: ClientView, row: ProgrammeRow, week: int, session: str) -> Exceptions:
    """Return the exceptions of one row. Raises `Poisoned` for a change that might hold and could not be read."""
    chosen: dict[str, Change] = {}
    for change in view.changes:
        if is_away(change) or change.do.value == "train at" or not _meets(change, row, week, session):
            continue
        doing = change.do.needed
        if doing not in chosen or _narrowness(view, change) <= _narrowness(view, chosen[doing]):
            chosen[doing] = change
    return Exceptions(**{doing.replace(" ", "_"): change for doing, change in chosen.items()})


def is_away(change: Change) -> bool:
    """Tell whether a change takes somebody away altogether."""
    return (
        change.do.value == "leave out"
        and change.session.blank
        and change.exercise.blank
        and change.order.blank
    )


def away_in(view: ClientView, week: int) -> bool:
    """Tell whether the client is away in a week."""
    return any(is_away(change) and _in_week(change, week) for change in view.changes)


def view_in(view: ClientView, week: int, session: str) -> ClientView:
    """Return the client's circumstances in one session: elsewhere, where a change says `train at`."""
    here = [
        change
        for change in view.changes
        if change.do.value == "train at" and _in_week(change, week) and _same(change.session, session)
    ]
    if not here:
        return view
    return view.at(min(reversed(here), key=lambda change: _narrowness(view, change)).with_.needed)


def _meets(change: Change, row: ProgrammeRow, week: int, session: str) -> bool:
    return (
        _in_week(change, week)
        and _same(change.session, session)
        and _same(change.order, row.order.value or "")
        and _same(change.exercise, row.exercise.needed)
    )


def _in_week(change: Change, week: int) -> bool:
    weeks = change.weeks.value
    return weeks is None or weeks.numbers is None or week in weeks.numbers


def _same(field: Field[str], other: str) -> bool:
    typed = field.value
    return typed is None or name_key(typed) in {name_key(other), EVERY_SESSION}


def _narrowness(view: ClientView, change: Change) -> tuple[int, int]:
    """Return how wide a change is: the smaller, the narrower."""
    words = [name_key(word) for word in change.who.known or ()]
    client = view.client
    ranks: list[str | None] = [
        client.name.known,
        client.group.known,
        client.level.known,
        client.programme.known,
    ]
    wide = len(ranks) + 1
    for rank, name in enumerate(ranks):
        if name is not None and name_key(name) in words:
            wide = rank + (1 if rank or len(words) > 1 else 0)
            break
    named = sum(not field.blank for field in (change.exercise, change.order, change.session, change.weeks))
    return wide, -named
