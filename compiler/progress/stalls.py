"""Stalls: an exercise that fell short of its repetitions in both of its last two sessions. Listed, never acted upon.

The mirror of two-for-two; common practice, no source. Whether to wait, to lighten or to change the exercise is the
coach's to say: a bad fortnight and a load that is too heavy look alike in a log.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from compiler.cellref import RowRef
from compiler.folding import name_key
from compiler.notation.values import AtLeast, Count
from compiler.progress.month import Month
from compiler.progress.two_for_two import last_two
from compiler.progress.values import COMMON_PRACTICE, Proposal
from compiler.resolve.values import PlannedExercise
from compiler.review.log_sets import DoneSet, planned_load
from compiler.review.logged import Logged
from compiler.review.turns import reps_of

ADVICE = "If it goes on: Changes, Do load, with a lighter load of this client's own."


def stalls(month: Month) -> Iterator[Proposal]:
    """Yield what fell short twice, row by row."""
    rows: dict[tuple[str, RowRef, RowRef], list[PlannedExercise]] = {}
    for session, planned in month.planned():
        if planned.week not in month.easier:
            rows.setdefault((name_key(session), planned.row.row, planned.exercise.row), []).append(planned)
    for of_row in rows.values():
        running = last_two(of_row, month.done_of(of_row))
        if running is not None and all(map(_short, running)):
            yield _stall(month, running)


def _short(entry: Logged) -> bool:
    """Tell whether a session was done, and some set at the load planned or less had too few repetitions."""
    return any(_set_short(entry.planned, done, number) for number, done in enumerate(entry.sets))


def _set_short(planned: PlannedExercise, done: DoneSet, number: int) -> bool:
    match reps_of(planned, number):
        case Count(low=fewest) | AtLeast(count=fewest):
            return done.reps is not None and done.reps < fewest and not _heavier(planned, done, number)
    return False


def _heavier(planned: PlannedExercise, done: DoneSet, number: int) -> bool:
    target = planned_load(planned, number)
    wanted = target.high.load if target else None
    return wanted is not None and done.weight is not None and done.weight.to(wanted.unit).amount > wanted.amount


def _stall(month: Month, running: Sequence[Logged]) -> Proposal:
    first, second = running
    weeks = f"week {first.week}, twice" if first.week == second.week else f"weeks {first.week} and {second.week}"
    return Proposal(
        month.plan.name,
        second.planned.exercise.name.needed,
        "no rise",
        None,
        None,
        f"Stalled: short of the repetitions planned, in {weeks}.",
        COMMON_PRACTICE,
        (first.place, second.place),
        type_this=ADVICE,
    )
