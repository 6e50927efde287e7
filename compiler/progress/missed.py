"""Two missed weeks or more: a tenth less at the start of the new block.

Common practice, no source. A week is missed where the log says `-` for all of it. A week that the log leaves blank may
only be untyped: that is told, and nothing concluded. Weeks away count for nothing.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal

from compiler.cellref import RowRef
from compiler.folding import name_key
from compiler.model.effective import unroll
from compiler.model.records import Change, Exercise
from compiler.notation.effort import LOWEST_LIMIT
from compiler.progress.month import Month
from compiler.progress.values import COMMON_PRACTICE, NewChange, Proposal
from compiler.quantities import Percent
from compiler.resolve.changes import exceptions_for
from compiler.resolve.maxima import HUNDRED
from compiler.resolve.substitute import scale_of
from compiler.resolve.values import LoadKind, PlannedExercise

ENOUGH = 2
LIGHTER = Percent(Decimal(90))
WORDS = "a little lighter after the break"


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
    told = " and ".join(map(str, missed)) if len(missed) == ENOUGH else ", ".join(map(str, missed))
    why = f"Weeks {told} were missed."
    by_exercise: dict[str, tuple[Exercise, list[NewChange], list[str]]] = {}
    for planned_rows in rows.values():
        weeks = _weeks_with_weights(month, [planned for _, planned in planned_rows])
        if not weeks:
            continue
        exercise = planned_rows[0][1].exercise
        _, changes, by_hand = by_exercise.setdefault(name_key(exercise.name.needed), (exercise, [], []))
        lighter = _lighter(month, planned_rows, weeks, why)
        if isinstance(lighter, str):
            by_hand.append(lighter)
        else:
            changes.append(lighter)
    for exercise, changes, by_hand in by_exercise.values():
        places = [e.place for e in month.entries if e.week in missed and e.planned.exercise.row == exercise.row]
        yield Proposal(
            month.plan.name,
            exercise.name.needed,
            f"all weights at {', '.join(dict.fromkeys(change.with_ for change in changes)) or LIGHTER}",
            None,
            None,
            why,
            COMMON_PRACTICE,
            tuple(dict.fromkeys(places)),
            changes=tuple(changes),
            type_this="; ".join(dict.fromkeys(by_hand)) or None,
        )


def _weeks_with_weights(month: Month, rows: Sequence[PlannedExercise]) -> tuple[int, ...]:
    """Return the weeks in which a row has a weight that gets lighter by being scaled.

    They are those of the block and not of this client's month alone: who was away, or joined late, starts with the
    others next time.
    """
    weighed = [planned for planned in rows if planned.load.kind is LoadKind.WEIGHT]
    kinds = {type(month.text(planned)) for planned in weighed}
    done = {planned.week for planned in rows}
    rest = {
        week
        for week, says in unroll(rows[0].row).items()
        if week not in done and says.load is not None and type(says.load.base.known) in kinds
    }
    return tuple(sorted({planned.week for planned in weighed} | rest))


def _lighter(
    month: Month, rows: list[tuple[str, PlannedExercise]], weeks: tuple[int, ...], why: str
) -> NewChange | str:
    """Return the change of one row; or what to type, where it would take the place of a change that lasts.

    A change that scales all that the client does is taken on: a tenth less than four fifths.
    """
    session, planned = rows[0]
    share = LIGHTER
    for name, one in rows:
        lasting = [change for change in exceptions_for(month.view, one.row, one.week, name).holding if _lasts(change)]
        for change in lasting:
            if change.do.known == "swap":
                return f"Changes: a lighter load in the swap at {change.do.place}."
            if change.do.known == "scale":
                share = Percent((scale_of(change) or HUNDRED).share * LIGHTER.value)
                named = not (change.exercise.blank and change.order.blank)
                if named or share.value < LOWEST_LIMIT:
                    return f"Changes: {share} in place of {change.with_.text} at {change.with_.place}."
    return NewChange(
        month.plan.name,
        session,
        planned.order,
        planned.row.exercise.needed,
        weeks,
        "scale",
        str(share),
        "",
        WORDS,
        f"{why} Drops out with the block.",
    )


def _lasts(change: Change) -> bool:
    """Tell whether a change holds in the next block, too: it names no weeks."""
    return change.weeks.blank or change.weeks.needed.numbers is None
