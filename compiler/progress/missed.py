"""Two missed weeks or more: a tenth less at the start of the new block.

Common practice, no source. A week is missed where the log says `-` for all of it. A week that the log leaves blank may
only be untyped: that is told, and nothing concluded. Weeks away count for nothing.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from decimal import Decimal

from compiler.cellref import RowRef
from compiler.folding import name_key
from compiler.model.records import Exercise
from compiler.progress.month import Month
from compiler.progress.values import NewChange, Proposal
from compiler.quantities import Percent
from compiler.resolve.values import LoadKind, PlannedExercise, PlannedSession
from compiler.review.logged import LOGGED_PARTS, Logged

ENOUGH = 2
LIGHTER = Percent(Decimal(90))
SOURCE = "common practice, no source"
WORDS = "a little lighter after the break"


@dataclass(frozen=True, slots=True)
class Attendance:
    """How many sessions were done, missed, and are not in the log: those may be untyped, or still to come."""

    done: int
    missed: int
    silent: int


def attendance(sessions: Iterable[PlannedSession], entries: Iterable[Logged]) -> Attendance:
    """Return how many of some sessions were done. One of which anything was done is done."""
    done = {id(entry.planned): not entry.missed for entry in entries}
    said = [
        [done[id(line)] for part in LOGGED_PARTS for line in session.parts[part] if id(line) in done]
        for session in sessions
    ]
    there, silent = sum(map(any, said)), sum(not lines for lines in said)
    return Attendance(there, len(said) - there - silent, silent)


def missed_weeks(month: Month) -> tuple[int, ...]:
    """Return the weeks that the client missed."""
    done = {entry.week for entry in month.entries if not entry.missed}
    return tuple(sorted({entry.week for entry in month.entries} - done))


def blank_weeks(month: Month) -> tuple[int, ...]:
    """Return the weeks with training of which the log says nothing."""
    trained = {session.week for session in month.plan.sessions}
    return tuple(sorted(trained - {entry.week for entry in month.entries}))


def lightened(month: Month, missed: tuple[int, ...]) -> Iterator[Proposal]:
    """Yield a proposal for every exercise whose load is a weight."""
    rows: dict[tuple[str, RowRef], list[tuple[str, PlannedExercise]]] = {}
    for session, planned in month.planned():
        rows.setdefault((name_key(session), planned.row.row), []).append((session, planned))
    weeks = " and ".join(map(str, missed)) if len(missed) == ENOUGH else ", ".join(map(str, missed))
    why = f"Weeks {weeks} were missed."
    by_exercise: dict[str, tuple[Exercise, list[NewChange]]] = {}
    for planned_rows in rows.values():
        change = _lighter(month, planned_rows, why)
        if change is not None:
            exercise = planned_rows[0][1].exercise
            _, changes = by_exercise.setdefault(name_key(exercise.name.needed), (exercise, []))
            changes.append(change)
    for exercise, changes in by_exercise.values():
        places = [e.place for e in month.entries if e.week in missed and e.planned.exercise.row == exercise.row]
        yield Proposal(
            month.plan.name,
            exercise.name.needed,
            f"all weights at {LIGHTER}",
            None,
            None,
            why,
            SOURCE,
            tuple(dict.fromkeys(places)),
            changes=tuple(changes),
        )


def _lighter(month: Month, rows: list[tuple[str, PlannedExercise]], why: str) -> NewChange | None:
    """Return the change of one row, for the weeks in which it has a weight that gets lighter by being scaled."""
    weeks = tuple(sorted({planned.week for _, planned in rows if planned.load.kind is LoadKind.WEIGHT}))
    if not weeks:
        return None
    session, planned = rows[0]
    return NewChange(
        month.plan.name,
        session,
        planned.order,
        planned.row.exercise.needed,
        weeks,
        "scale",
        str(LIGHTER),
        "",
        WORDS,
        f"{why} Drops out with the block.",
    )
