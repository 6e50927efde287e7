"""Which sessions a client does in which week, on which day.

Session i falls on training day i of the week, in seven-day windows from the start date. `rotate` deals the sessions out
over the days there are: loads follow the session's own count, easier weeks the calendar. A session on a closed day
stays in its place without a date; nothing is moved.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from datetime import date, timedelta

from compiler.counting import counted
from compiler.flags.catalogue import flag
from compiler.flags.model import Flag, Remark
from compiler.folding import name_key
from compiler.frozen import frozen
from compiler.model.records import ProgrammeRow
from compiler.notation.values import Weekday
from compiler.resolve.changes import away_in
from compiler.resolve.context import ClientView
from compiler.schema.words import EVERY, ROTATE

DAYS = tuple(Weekday)
DAYS_IN_A_WEEK = 7


@frozen
class Slot:
    """One session in one calendar week. `loads_of` is the week of the programme whose cells it follows."""

    session: str
    week: int
    loads_of: int
    weekday: str | None
    day: date | None
    closed: bool


def session_names(rows: tuple[ProgrammeRow, ...]) -> tuple[str, ...]:
    """Return the sessions of a programme in the order of the sheet; `all` is none of them."""
    names: dict[str, str] = {}
    for row in rows:
        name = row.session.known
        if name is not None and name_key(name) != EVERY:
            names.setdefault(name_key(name), name)
    return tuple(names.values())


def deal_sessions(view: ClientView, names: tuple[str, ...]) -> tuple[tuple[Slot, ...], tuple[Flag, ...]]:
    """Return the client's sessions by week, and an error where they have more sessions than training days."""
    client = view.client
    wanted = client.sessions.value or ()
    days = client.training_days.value or ()
    rotating = [name_key(name) for name in wanted] == [ROTATE]
    chosen = (
        names
        if rotating or not wanted
        else tuple(n for n in names if name_key(n) in set(map(name_key, wanted)))
    )
    if days and not rotating and len(chosen) > len(days):
        remark = Remark(
            "choose-sessions",
            f"{view.name} has {counted(len(chosen), 'session')} and {counted(len(days), 'training day')}.",
            "Name the sessions on the Clients sheet, type rotate there, or add training days.",
        )
        place = client.sessions if wanted else client.training_days
        return (), (flag(remark, place.place, client=view.name, found=place.text, touches=(view.name,)),)
    return tuple(_slots(view, chosen, days, rotating=rotating)), ()


def names_in_log(names: Sequence[tuple[str, int]]) -> tuple[str, ...]:
    """Return what each session is called in the log, from (name, week) in order.

    It is its name, and from the second time in one week on a number after it that no other session bears: `Lower (2)`.
    """
    taken = {name_key(name) for name, _ in names}
    times: Counter[tuple[str, int]] = Counter()
    found = []
    for name, week in names:
        key = name_key(name), week
        times[key] += 1
        number = times[key]
        while number > 1 and name_key(f"{name} ({number})") in taken:
            number = times[key] = number + 1
        found.append(name if number == 1 else f"{name} ({number})")
    return tuple(found)


def weeks_of(view: ClientView) -> Iterator[int]:
    """Yield the weeks in which a client trains: from the first week on, without those away."""
    for week in range(view.client.first_week.value or 1, view.book.block.weeks.needed + 1):
        if not away_in(view, week):
            yield week


def _slots(
    view: ClientView, chosen: tuple[str, ...], days: tuple[Weekday, ...], *, rotating: bool
) -> Iterator[Slot]:
    easier = view.book.block.easier_weeks.value
    lighter = set(easier.numbers or ()) if easier else set()
    counts: dict[str, int] = {}
    turn = 0
    last = view.book.block.weeks.needed
    for week in weeks_of(view):
        a_week = len(days) if rotating and days else len(chosen)
        dates = _dates(view, week, days)
        for position in range(a_week if chosen else 0):
            name = chosen[turn % len(chosen)] if rotating else chosen[position]
            turn += 1
            loads_of = week
            if rotating and week not in lighter:
                counts[name] = counts.get(name, 0) + 1
                heavy = [w for w in range(1, last + 1) if w not in lighter] or [week]
                loads_of = heavy[min(counts[name], len(heavy)) - 1]
            weekday, day = dates[position] if position < len(dates) else (None, None)
            closed = day is not None and day in (view.book.block.closed_dates.value or ())
            yield Slot(name, week, loads_of, weekday, None if closed else day, closed)


def _dates(
    view: ClientView, week: int, days: tuple[Weekday, ...]
) -> list[tuple[str, date | None]]:
    """Return the training days of a week as they fall, each with its date; None where no start is known."""
    if view.start is None:
        return [(str(day), None) for day in sorted(days, key=DAYS.index)]
    first = view.start + timedelta(days=DAYS_IN_A_WEEK * (week - 1))
    window = [first + timedelta(days=offset) for offset in range(DAYS_IN_A_WEEK)]
    return [(str(DAYS[day.weekday()]), day) for day in window if DAYS[day.weekday()] in days]
