"""A log cell and what was planned -> the sets that were done.

One entry stands for every set. A number without a unit is in the unit of the row, as its boxes on the page are: a
weight in pounds at a site that counts in pounds. `ok` is the lower end of what was planned: the fewest sets,
repetitions and weight that it can mean.
"""

from __future__ import annotations

from decimal import Decimal

from compiler.frozen import frozen
from compiler.notation.log_values import LoggedSet, LoggedSets
from compiler.notation.values import (
    AtLeast,
    Count,
    Distance,
    DoneAsKind,
    Effort,
    EffortScale,
    RepsItem,
    Tally,
    TestSet,
    Timed,
)
from compiler.quantities import Load
from compiler.resolve.effort_table import HARDEST_RPE
from compiler.resolve.values import FittedRange, LoadKind, PlannedExercise
from compiler.review.turns import reps_of
from compiler.schema.implements import SYSTEM

Done = Count | Timed | Distance | Tally
LOADED = (LoadKind.WEIGHT, LoadKind.ADDED)


@frozen
class DoneSet:
    """One set. `weight` is per hand, or what was added to body weight; None where it is not known.

    What is added is below zero for help, and nought for the body alone.
    `done` None: as many as possible, and nobody wrote how many. `rpe` is the effort that was written down.
    """

    weight: Load | None
    done: Done | None
    rpe: Decimal | None

    @property
    def reps(self) -> int | None:
        """The repetitions, where the set is counted in them."""
        return self.done.low if isinstance(self.done, Count) else None


def rpe_of(effort: Effort | None) -> Decimal | None:
    """Return a stated effort on the RPE scale."""
    if effort is None:
        return None
    return effort.low if effort.scale is EffortScale.RPE else HARDEST_RPE - effort.low


def planned_load(planned: PlannedExercise, number: int) -> FittedRange | None:
    """Return the load planned for a set, where it is a weight; a suggestion beside an effort is none."""
    items = planned.load.items
    if planned.load.kind not in LOADED or not items:
        return None
    return items[min(number, len(items) - 1)]


def as_planned(planned: PlannedExercise, effort: Effort | None = None) -> tuple[DoneSet, ...]:
    """Return the sets of `ok`; an effort beside it is that of every set."""
    count = planned.sets.low if planned.sets else 1
    return tuple(
        DoneSet(_lower(planned_load(planned, n)), _least(reps_of(planned, n)), rpe_of(effort))
        for n in range(count)
    )


def as_typed(planned: PlannedExercise, said: LoggedSets) -> tuple[DoneSet, ...]:
    """Return the sets of a typed cell."""
    sets = said.sets
    if len(sets) == 1 and planned.sets is not None and set_by_set(planned):
        sets = sets * max(planned.sets.low, 1)
    return tuple(_typed(planned, one, n) for n, one in enumerate(sets))


def set_by_set(planned: PlannedExercise) -> bool:
    """Tell whether the sets cell says how often an exercise is done; the rounds of a circuit are its sets."""
    return planned.done_as is None or planned.done_as.kind is DoneAsKind.CIRCUIT


def typed_weight(planned: PlannedExercise, one: LoggedSet) -> Load | None:
    """Return the weight that was typed for a set."""
    return Load(one.weight.amount, one.weight.unit or planned.unit) if one.weight else None


def _typed(planned: PlannedExercise, one: LoggedSet, number: int) -> DoneSet:
    weight = typed_weight(planned, one)
    if weight is None and one.body_weight and planned.exercise.implement.known == SYSTEM:
        weight = Load(Decimal(0), planned.unit)
    elif weight is None and not one.body_weight:
        weight = _lower(planned_load(planned, number))
    return DoneSet(weight, _in_row_unit(one.done, reps_of(planned, number)), rpe_of(one.effort))


def _in_row_unit(done: Done, item: RepsItem) -> Done:
    """Return a bare number in the unit of its row."""
    if not isinstance(done, Count):
        return done
    match item:
        case Timed():
            return Timed(done.low, done.low)
        case Distance(unit=unit):
            return Distance(Decimal(done.low), Decimal(done.low), unit)
        case Tally(word=word):
            return Tally(done.low, done.low, word)
    return done


def _lower(item: FittedRange | None) -> Load | None:
    return item.low.load if item else None


def _least(item: RepsItem) -> Done | None:
    match item:
        case Count(low=low):
            return Count(low, low)
        case AtLeast(count=count) | TestSet(count=count):
            return Count(count, count)
        case Timed(low=low):
            return Timed(low, low)
        case Distance(low=least, unit=unit):
            return Distance(least, least, unit)
        case Tally(low=low, word=word):
            return Tally(low, low, word)
    return None
