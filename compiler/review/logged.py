"""The log against the plans -> what each client did of what was planned, set by set, and the flags of its slips.

A row is found by client, session, order and exercise, as the booklet has them. One entry stands for every set that was
planned. A session's own row (no order, no exercise) stands for each of its exercises whose own cell is blank. A number
after the x, or alone, is in the unit of the row, as its boxes on the page are. What a cell says twice alike counts
once; a cell that was flagged counts for nothing.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from typing import TypeVar

from compiler.cellref import CellRef
from compiler.flags.catalogue import flag
from compiler.flags.model import Flag, Remark
from compiler.flags.nearest import nearest, offer
from compiler.folding import name_key
from compiler.frozen import frozen
from compiler.model.book import Book
from compiler.model.field import Field
from compiler.model.log import LogRow
from compiler.notation.log_values import AsPlanned, LoggedSets, LogText, NotDone
from compiler.resolve.sessions import DAYS_IN_A_WEEK, names_in_log
from compiler.resolve.values import ClientPlan, Part, PlannedExercise, PlannedSession
from compiler.review.log_sets import DoneSet, as_planned, as_typed
from compiler.review.log_slips import slip_of

T = TypeVar("T")
LOGGED_PARTS = (Part.MAIN, Part.CONDITIONING)
ODD_DAYS = 14
"""A session's day may lie this many days outside of its week; further off it is a slip of typing."""


@frozen
class Logged:
    """One exercise of one session of one client, as it was done. `missed`: it was not done, and `sets` is empty.

    `day` is the one typed, else the planned one, else None. `place` is the cell that says it.
    """

    client: str
    session: str
    planned: PlannedExercise
    place: CellRef
    day: date | None
    missed: bool
    sets: tuple[DoneSet, ...]

    @property
    def week(self) -> int:
        """The week of the block."""
        return self.planned.week


@frozen
class LogReading:
    """What the log says, in the order of the plans, and what is wrong with it.

    `unread` are the exercises of which something is typed that could not be read.
    """

    entries: tuple[Logged, ...]
    flags: tuple[Flag, ...]
    unread: tuple[PlannedExercise, ...] = ()


Key = tuple[str, str, str, str, int]
"""Client, session, order, exercise, week; folded. Order and exercise are blank for the session itself."""


@dataclass
class _Reading:
    """What gathers while the log is read."""

    flags: list[Flag] = field(default_factory=list)
    typed: dict[Key, Field[LogText]] = field(default_factory=dict)
    days: dict[Key, Field[date]] = field(default_factory=dict)
    disputed: set[Key] = field(default_factory=set)
    unread: list[PlannedExercise] = field(default_factory=list)


@frozen
class _Place:
    """One exercise of one session in one week, where it may be logged; the same one twice in it is one place.

    `name` is what the session is called in the log.
    """

    name: str
    session: PlannedSession
    planned: PlannedExercise
    times: int = 1


def read_log(book: Book, plans: Sequence[ClientPlan]) -> LogReading:
    """Return what was done of the plans. Rows of clients without a plan are passed over."""
    reading = _Reading()
    places = {name_key(plan.name): _places(plan) for plan in plans}
    names = [client.name.known for client in book.clients if client.name.known]
    for row in book.log:
        client = row.client.known
        if client is None or row.session.known is None or row.exercise.failed or row.order.failed:
            continue
        if name_key(client) not in book.client_named:
            remark = Remark(
                "unknown-client", f'"{client}" is not on the Clients sheet.', offer(client, names, "Clients")
            )
            reading.flags.append(flag(remark, row.client.place, found=row.client.text))
        elif name_key(client) in places:
            _read_row(book, row, places[name_key(client)], reading)
    entries: list[Logged] = []
    for plan in plans:
        start = plan.client.start_date.known or book.block.start_date.known
        entries += _entries(plan, places[name_key(plan.name)], reading, start)
    return LogReading(tuple(entries), tuple(reading.flags), tuple(reading.unread))


def _places(plan: ClientPlan) -> dict[Key, _Place]:
    """Return where each exercise of a plan may be logged, in the order of the booklet."""
    found: dict[Key, _Place] = {}
    names = names_in_log([(session.name, session.week) for session in plan.sessions])
    for name, session in zip(names, plan.sessions, strict=True):
        for part in LOGGED_PARTS:
            for planned in session.parts[part]:
                key = _key(plan.name, name, planned.order, planned.exercise.name.needed, session.week)
                first = found.get(key)
                found[key] = _Place(name, session, planned) if first is None else replace(first, times=first.times + 1)
    return found


def _key(client: str, session: str, order: str, exercise: str, week: int) -> Key:
    return name_key(client), name_key(session), name_key(order), name_key(exercise), week


def is_session_row(row: LogRow) -> bool:
    """Tell whether a row of the log is a session's own."""
    return row.exercise.blank and row.order.blank


# ---------------------------------------------------------------- rows


def _read_row(book: Book, row: LogRow, places: dict[Key, _Place], reading: _Reading) -> None:
    exercise = row.exercise.known
    if exercise is not None and book.exercise(exercise) is None:
        known = [e.name.known for e in book.exercises if e.name.known]
        remark = Remark(
            "unknown-exercise", f'"{exercise}" is not on the Exercises sheet.', offer(exercise, known, "Exercises")
        )
        reading.flags.append(flag(remark, row.exercise.place, found=row.exercise.text))
        return
    meant = {key: place for key, place in places.items() if _fits(row, key)}
    if not meant:
        reading.flags.append(_unmatched(row, places))
        return
    for week, cells in enumerate(row.weeks, start=1):
        here = [key for key in meant if key[4] == week]
        if not cells.date.blank and is_session_row(row):
            _put(reading.days, _session_key(row, week), cells.date, reading)
        if cells.done.blank:
            continue
        if not here:
            reading.flags.append(_not_planned(row, week, cells.done))
        elif is_session_row(row):
            _read_session(row, week, cells.done, reading)
        elif len({key[3] for key in here}) > 1:
            reading.flags.append(_not_planned(row, week, cells.done))
        else:
            _put(reading.typed, here[0], cells.done, reading)


def _session_key(row: LogRow, week: int) -> Key:
    return _key(row.client.needed, row.session.needed, "", "", week)


def _fits(row: LogRow, key: Key) -> bool:
    return (
        name_key(row.session.needed) == key[1]
        and (row.order.blank or name_key(row.order.needed) == key[2])
        and (row.exercise.blank or name_key(row.exercise.needed) == key[3])
    )


def _read_session(row: LogRow, week: int, cell: Field[LogText], reading: _Reading) -> None:
    if isinstance(cell.known, LoggedSets):
        remark = Remark(
            "unreadable-reps",
            f'"{cell.text}" stands in the row of a whole session; expected ok, ok @8 or -.',
            "Write sets in the row of their exercise.",
        )
        reading.flags.append(flag(remark, cell.place, client=row.client.known, found=cell.text))
        return
    _put(reading.typed, _session_key(row, week), cell, reading)


def _put(into: dict[Key, Field[T]], key: Key, cell: Field[T], reading: _Reading) -> None:
    """Keep a cell under its key; two that say different things keep neither."""
    first = into.setdefault(key, cell)
    if first is cell or cell.failed or first.failed or first.content == cell.content:
        return
    remark = Remark(
        "cells-disagree",
        f'"{cell.text}" and "{first.text}" are typed for the same client, exercise and week; neither counts.',
        "Clear one of the two.",
    )
    reading.flags.append(flag(remark, cell.place, found=cell.text, related=(first.place,)))
    reading.disputed.add(key)


def _unmatched(row: LogRow, places: dict[Key, _Place]) -> Flag:
    client, session = row.client.needed, row.session.needed
    sessions = list(dict.fromkeys(place.name for place in places.values()))
    if name_key(session) not in {name_key(name) for name in sessions}:
        remark = Remark(
            "log-matches-nothing",
            f'{client} has no session "{session}" in this block; the row was not read.',
            f"The sessions are {', '.join(nearest(session, sessions) or sessions)}." if sessions else None,
        )
        return flag(remark, row.session.place, client=client, found=row.session.text)
    done = dict.fromkeys(
        f"{place.planned.order} {place.planned.exercise.name.value}".strip()
        for key, place in places.items()
        if key[1] == name_key(session)
    )
    cell = row.order if row.exercise.blank else row.exercise
    what = " ".join(text for text in (row.order.text, row.exercise.text) if text)
    remark = Remark(
        "log-matches-nothing",
        f"{client} has no {what} in {session} in this block; the row was not read.",
        f"The booklet has {', '.join(nearest(what, done, most=4) or list(done)[:8])}.",
    )
    return flag(remark, cell.place, client=client, found=cell.text)


def _not_planned(row: LogRow, week: int, cell: Field[LogText]) -> Flag:
    what = row.exercise.text or row.order.text or row.session.text
    remark = Remark(
        "log-matches-nothing",
        f"{row.client.needed} has no {what} of its own in week {week}; the cell was not read.",
        "Move the entry to its week and row.",
    )
    return flag(remark, cell.place, client=row.client.known, found=cell.text)


# ---------------------------------------------------------------- cells


def _entries(plan: ClientPlan, places: dict[Key, _Place], reading: _Reading, start: date | None) -> Iterator[Logged]:
    """Yield what one client did, in the order of the booklet: an exercise's own cell, else its session's."""
    checked: set[Key] = set()
    for key, place in places.items():
        whole = (key[0], key[1], "", "", key[4])
        used = key if key in reading.typed else whole
        cell = reading.typed.get(used)
        typed_day = reading.days.get(whole)
        if whole not in checked and typed_day is not None:
            checked.add(whole)
            reading.flags += _odd_day(plan, key[4], typed_day, start)
        if cell is None:
            continue
        day = place.session.day if typed_day is None or whole in reading.disputed else typed_day.known
        spoilt = cell.failed or used in reading.disputed
        entry = None if spoilt else _entry(plan, place, cell, day, reading, whole=used == whole)
        if entry is None:
            reading.unread.append(place.planned)
        else:
            yield entry


def _entry(
    plan: ClientPlan, place: _Place, cell: Field[LogText], day: date | None, reading: _Reading, *, whole: bool
) -> Logged | None:
    planned = place.planned
    sets: tuple[DoneSet, ...] = ()
    match cell.content:
        case AsPlanned(effort=effort):
            sets = as_planned(planned, None if whole else effort)
        case LoggedSets() as said:
            remark = slip_of(planned, said, place.times)
            if remark is not None:
                told = replace(remark, message=f"{plan.name}, {planned.exercise.name.value}: {remark.message}")
                related = (planned.load.source,) if planned.load.source else ()
                reading.flags.append(flag(told, cell.place, client=plan.name, found=cell.text, related=related))
                return None
            sets = as_typed(planned, said)
    missed = isinstance(cell.content, NotDone)
    return Logged(plan.name, place.session.name, planned, cell.place, day, missed=missed, sets=sets)


def _odd_day(plan: ClientPlan, week: int, cell: Field[date], start: date | None) -> Iterator[Flag]:
    """Flag the day of a session that lies far from its week."""
    day = cell.known
    if day is None or start is None:
        return
    first = start + timedelta(days=DAYS_IN_A_WEEK * (week - 1))
    if abs((day - first).days) > ODD_DAYS:
        remark = Remark(
            "log-off-target",
            f"{plan.name}: {day.isoformat()} is far from week {week}, which begins on {first.isoformat()}.",
            f"Write the day on which the session was done: {first.isoformat()}, or one near it.",
        )
        yield flag(remark, cell.place, client=plan.name, found=cell.text)
