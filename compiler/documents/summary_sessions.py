"""The Sessions sheet of the summary: who does what when, and how much of it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from compiler.documents.neutral import Cell, ColumnKind, Heading, Sheet
from compiler.resolve.values import ClientPlan, PlannedSession

HEADINGS = (
    Heading("Client", width=28),
    Heading("Week", ColumnKind.WHOLE, width=7),
    Heading("Session", width=24),
    Heading("Weekday", width=12),
    Heading("Date", ColumnKind.DATE, width=12),
    Heading("Exercises", ColumnKind.WHOLE, width=11),
    Heading("Sets", ColumnKind.WHOLE, width=9),
    Heading("Remark", width=24),
)


def sessions_sheet(plans: Iterable[ClientPlan]) -> Sheet:
    """Return the sheet: one row a session, and one for every week away."""
    rows = tuple(row for plan in plans for row in _rows(plan))
    return Sheet("Sessions", "Sessions", HEADINGS, rows, frozen=1)


def _rows(plan: ClientPlan) -> Iterator[tuple[Cell, ...]]:
    rows = [(session.week, _row(plan.name, session)) for session in plan.sessions]
    rows += [(week, (plan.name, week, None, None, None, None, None, "away")) for week in plan.away]
    yield from (row for _, row in sorted(rows, key=lambda numbered: numbered[0]))


def _row(client: str, session: PlannedSession) -> tuple[Cell, ...]:
    return (
        client,
        session.week,
        session.name,
        session.weekday,
        session.day,
        sum(len(exercises) for exercises in session.parts.values()),
        _sets(session),
        "closed that day" if session.closed else None,
    )


def _sets(session: PlannedSession) -> int | str:
    """Return the sets of a session, those that a row states; a span where a row leaves a choice."""
    stated = [planned.sets for part in session.parts.values() for planned in part if planned.sets is not None]
    low, high = sum(sets.low for sets in stated), sum(sets.high for sets in stated)
    return low if low == high else f"{low}-{high}"
