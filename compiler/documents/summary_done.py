"""The Done sheet of the summary: of every client and week, what was done of what was planned, by the log.

It stands in the summary once there is a log. Volume is counted as on the Volume sheet, but of the lines alone whose
weight the booklet states, and at the lower end of what is planned: so a week of `ok` comes to all of it. A session
that the log says nothing of is neither done nor missed, it may be still to come; a week of them has no done volume.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from decimal import Decimal

from compiler.documents.neutral import Cell, ColumnKind, Heading, Sheet
from compiler.model.book import Book
from compiler.quantities import Load, Percent, Unit
from compiler.resolve.values import ClientPlan, PlannedExercise, PlannedSession
from compiler.review.attendance import attendance
from compiler.review.log_sets import LOADED, DoneSet, as_planned
from compiler.review.logged import LOGGED_PARTS, Logged, read_log
from compiler.review.volume import hands_and_sides

HEADINGS = (
    Heading("Client", width=28),
    Heading("Week", ColumnKind.WHOLE, width=7),
    Heading("Sessions", ColumnKind.WHOLE, width=10),
    Heading("Done", ColumnKind.WHOLE, width=8),
    Heading("Missed", ColumnKind.WHOLE, width=8),
    Heading("Not in the log", ColumnKind.WHOLE, width=15),
    Heading("Planned volume", ColumnKind.AMOUNT, width=15, decimals=0),
    Heading("Done volume", ColumnKind.AMOUNT, width=13, decimals=0),
    Heading("Share", ColumnKind.PERCENT, width=9, decimals=0),
)
_WHOLE = Decimal(100)


def done_sheets(book: Book, plans: Sequence[ClientPlan]) -> tuple[Sheet, ...]:
    """Return the sheet, one row a client and week; none where nothing is logged."""
    entries = read_log(book, plans).entries if book.log else ()
    if not entries:
        return ()
    of_client: defaultdict[str, dict[int, Logged]] = defaultdict(dict)
    for entry in entries:
        of_client[entry.client][id(entry.planned)] = entry
    rows = tuple(row for plan in plans for row in _rows(plan, of_client[plan.name], book.block.kit_unit))
    return (Sheet("Done", "Done", HEADINGS, rows, frozen=1),)


def _rows(plan: ClientPlan, of_line: dict[int, Logged], unit: Unit) -> Iterator[tuple[Cell, ...]]:
    for week in sorted({session.week for session in plan.sessions}):
        sessions = [session for session in plan.sessions if session.week == week]
        there = attendance(sessions, of_line.values())
        lines = [line for session in sessions for line in _lines(session) if line.load.kind in LOADED]
        planned = sum((_volume(line, as_planned(line), unit) for line in lines), Decimal(0))
        lifted = sum(
            (_volume(line, of_line[id(line)].sets, unit) for line in lines if id(line) in of_line), Decimal(0)
        )
        known = there.silent < len(sessions)
        yield (
            plan.name,
            week,
            len(sessions),
            there.done,
            there.missed,
            there.silent,
            Load(planned, unit),
            Load(lifted, unit) if known else None,
            Percent(lifted / planned * _WHOLE) if known and planned else None,
        )


def _lines(session: PlannedSession) -> Iterator[PlannedExercise]:
    for part in LOGGED_PARTS:
        yield from session.parts[part]


def _volume(line: PlannedExercise, sets: Iterable[DoneSet], unit: Unit) -> Decimal:
    """Return repetitions x weight of some sets; help takes nothing away, and what has no number counts for none."""
    total = sum(
        ((done.reps or 0) * max(done.weight.to(unit).amount, Decimal(0)) for done in sets if done.weight), Decimal(0)
    )
    return total * hands_and_sides(line)
