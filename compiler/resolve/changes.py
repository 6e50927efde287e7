"""The Changes sheet for one client, row and week: which exception holds.

The narrower wins: a client before a list of clients, a group, a level, a programme, `all`; then the one for fewer
weeks; then the one that names more of exercise, order and session. That is so within a kind and across kinds
that contradict each other: `leave out` against all others, `swap` against `load`, `keep` and a `scale` of the same
exercise. `load`, `scale` and `keep` stand together: a scale is of the client's own load, and the narrower of them
gives the cells that several state. A scale that names no exercise is of whatever is done, swapped or not. Who is
away, or out of a whole session, is out whatever other rows say. Two rows equally narrow that say different
things are an error: nothing tells which was meant.
"""

from __future__ import annotations

from compiler.flags.catalogue import flag
from compiler.flags.model import Flag, Remark
from compiler.folding import name_key
from compiler.frozen import frozen
from compiler.model.field import Field
from compiler.model.records import Change, ProgrammeRow
from compiler.resolve.context import ClientView
from compiler.schema.words import EVERY

_STATED = ("sets", "reps", "load")
Narrowness = tuple[int, int, int]


@frozen
class Exceptions:
    """What Changes says of one row in one week: one row of a kind, the narrowest first; or the flags that stop it."""

    holding: tuple[Change, ...] = ()
    flags: tuple[Flag, ...] = ()

    @property
    def leave_out(self) -> Change | None:
        """The row that leaves the exercise out."""
        return self._of("leave out")

    @property
    def swap(self) -> Change | None:
        """The row that puts another exercise in its place."""
        return self._of("swap")

    @property
    def scale(self) -> Change | None:
        """The row that makes its weight lighter or heavier."""
        return self._of("scale")

    @property
    def keep(self) -> Change | None:
        """The row that keeps it against a restriction."""
        return self._of("keep")

    def _of(self, kind: str) -> Change | None:
        if not self.holding:
            return None
        return next((change for change in self.holding if change.do.value == kind), None)


_NONE = Exceptions()


def exceptions_for(view: ClientView, row: ProgrammeRow, week: int, session: str) -> Exceptions:
    """Return the exceptions of one row. Raises `Poisoned` for a change that might hold and could not be read."""
    if not view.changes:
        return _NONE
    fitting = [
        change
        for change in view.changes
        if not is_away(change) and change.do.value != "train at" and _meets(change, row, week, session)
    ]
    whole = next((change for change in fitting if _is_whole_session(change)), None)
    if whole is not None:
        return Exceptions((whole,))
    holding: list[Change] = []
    for change in sorted(fitting, key=lambda change: _narrowness(view, change)):
        against = next((held for held in holding if _contradict(held, change)), None)
        if against is None:
            holding.append(change)
        elif _narrowness(view, against) == _narrowness(view, change) and _says_else(against, change):
            return Exceptions(flags=(_disagree(view, row.exercise.needed, against, change),))
    for number, first in enumerate(holding):
        for second in holding[number + 1 :]:
            if _narrowness(view, first) == _narrowness(view, second) and _differing(first, second, _STATED):
                return Exceptions(flags=(_disagree(view, row.exercise.needed, first, second),))
    return Exceptions(tuple(holding))


def _contradict(one: Change, other: Change) -> bool:
    """Tell whether two rows that fit one row cannot both hold."""
    kinds = {one.do.needed, other.do.needed}
    if len(kinds) == 1:
        return True
    scale = next((change for change in (one, other) if change.do.value == "scale"), None)
    if scale is not None and scale.exercise.blank and scale.order.blank:
        return "leave out" in kinds
    return "leave out" in kinds or "swap" in kinds


def _says_else(one: Change, other: Change) -> bool:
    """Tell whether two rows equally narrow say different things."""
    if one.do.value != other.do.value:
        general = any(c.do.value == "scale" and c.exercise.blank and c.order.blank for c in (one, other))
        return not general
    return _differing(one, other, ("with_", *_STATED), blank_differs=True)


def _differing(one: Change, other: Change, keys: tuple[str, ...], *, blank_differs: bool = False) -> bool:
    for key in keys:
        first, second = getattr(one, key), getattr(other, key)
        if first.blank and second.blank:
            continue
        if first.blank or second.blank:
            if blank_differs:
                return True
            continue
        if first.needed != second.needed:
            return True
    return False


def _disagree(view: ClientView, what: str, one: Change, other: Change) -> Flag:
    """Return the error at the lower of two rows that nothing tells apart."""
    upper, lower = sorted((one, other), key=lambda change: change.do.place.row)
    remark = Remark(
        "cells-disagree",
        f"Row {lower.do.place.row} ({_told(lower)}) and row {upper.do.place.row} ({_told(upper)}) both change"
        f" {what} for {view.name}, and neither is narrower.",
        "Delete one of them, or narrow one by its client, its weeks or its session.",
    )
    return flag(
        remark,
        lower.do.place,
        client=view.name,
        found=lower.do.text,
        related=(upper.do.place,),
        touches=(view.name,),
    )


def _told(change: Change) -> str:
    cells = (change.do, change.with_, change.sets, change.reps, change.load)
    return " ".join(cell.text for cell in cells if not cell.blank)


def _is_whole_session(change: Change) -> bool:
    return change.do.value == "leave out" and change.exercise.blank and change.order.blank


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
    sent = _sent(view, week, session) if view.changes else ()
    return view.at(sent[0].with_.needed) if sent else view


def _sent(view: ClientView, week: int, session: str) -> list[Change]:
    """Return the rows that send a client elsewhere for a session, the narrowest first."""
    return sorted(
        (
            change
            for change in view.changes
            if change.do.value == "train at" and _in_week(change, week) and _same(change.session, session)
        ),
        key=lambda change: _narrowness(view, change),
    )


def two_sites(view: ClientView, week: int, session: str) -> Flag | None:
    """Return the error of two rows equally narrow that send a client to different sites for one session."""
    sent = _sent(view, week, session)
    for other in sent[1:]:
        if _narrowness(view, other) == _narrowness(view, sent[0]) and _differing(sent[0], other, ("with_",)):
            return _disagree(view, session, sent[0], other)
    return None


def kept_elsewhere(view: ClientView, exercise: str, week: int, session: str) -> bool:
    """Tell whether a `keep` that names an exercise holds in a session: for what a swap puts there."""
    return any(
        change.do.value == "keep"
        and not change.exercise.blank
        and name_key(change.exercise.needed) == name_key(exercise)
        and _in_week(change, week)
        and _same(change.session, session)
        for change in view.changes
    )


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
    return typed is None or name_key(typed) in {name_key(other), EVERY}


def _narrowness(view: ClientView, change: Change) -> Narrowness:
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
    weeks = change.weeks.value
    all_weeks = view.book.block.weeks.needed
    many = all_weeks if weeks is None or weeks.numbers is None else len(weeks.numbers)
    named = sum(not field.blank for field in (change.exercise, change.order, change.session))
    return wide, many, -named
