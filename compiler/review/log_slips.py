"""Slips of typing in a log cell, told by what was planned: weight and repetitions swapped, pounds, a set too many.

The bounds are ours, wide enough that an honest set does not meet them: common practice, no source.
"""

from __future__ import annotations

from decimal import Decimal

from compiler.flags.model import Remark
from compiler.notation.log_values import LoggedSet, LoggedSets
from compiler.notation.values import AtLeast, Count, Distance, Tally, TestSet, Timed
from compiler.quantities import POUNDS_IN_A_KILOGRAM, Load, Unit, plain
from compiler.resolve.values import LoadKind, PlannedExercise
from compiler.review.log_sets import set_by_set, typed_weight
from compiler.review.turns import reps_of
from compiler.schema.implements import PAIRS, WITH_BODY

TWICE = Decimal(2)
HALF = Decimal("0.5")
NEAR_POUNDS = Decimal("0.15")
"""How far from 2.2 times the target a weight may lie and still be taken for pounds."""

MANY_MORE_REPS = 10
"""More than twice the repetitions planned, and this many above them: likely something else."""


_KINDS: dict[type, str] = {Timed: "a time", Distance: "a distance", Tally: "a count", Count: "repetitions"}


def slip_of(planned: PlannedExercise, said: LoggedSets, times: int) -> Remark | None:
    """Return what is wrong with a cell, None where nothing is. `times`: how often the exercise is done that week."""
    if planned.sets is not None and set_by_set(planned) and len(said.sets) > planned.sets.high * times:
        most = planned.sets.high * times
        return Remark(
            "sets-and-list-disagree",
            f"{len(said.sets)} sets are typed, and {most} planned; the cell was not read.",
            "Take out the set that is too many, or move it to its own exercise or week.",
        )
    for number, one in enumerate(said.sets):
        remark = (
            _other_kind(planned, one, number)
            or _help_or_load(planned, one, number)
            or _far(planned, one, number)
        )
        if remark is not None:
            return remark
    return None


def _other_kind(planned: PlannedExercise, one: LoggedSet, number: int) -> Remark | None:
    """Return a remark where a time, a distance or a tally was typed and something else planned."""
    item = reps_of(planned, number)
    if isinstance(one.done, (Count, type(item))):
        return None
    return _off(f"{_KINDS[type(one.done)]} is typed where {_KINDS.get(type(item), 'repetitions')} stood in the plan")


def _help_or_load(planned: PlannedExercise, one: LoggedSet, number: int) -> Remark | None:
    """Return a remark where help was planned and a weight is typed that may be help or a load."""
    items = planned.load.items
    least = items[min(number, len(items) - 1)].low.load if items else None
    weight = typed_weight(planned, one)
    if weight is None or weight.amount == 0 or one.body_weight or least is None or least.amount >= 0:
        return None
    shown = plain(abs(weight.amount))
    return _off(
        f"{weight} is typed where {Load(abs(least.amount), least.unit)} of help was planned,"
        " and may be help or added weight",
        f"Write BW - {shown} x 5 for help, BW + {shown} x 5 for added weight.",
    )


def _off(what: str, hint: str = "Correct the entry.") -> Remark:
    return Remark("log-off-target", f"{what}; the cell was not read.", hint)


def _far(planned: PlannedExercise, one: LoggedSet, number: int) -> Remark | None:
    weight = typed_weight(planned, one)
    reps = one.done.low if isinstance(one.done, Count) else None
    most = _most_reps(planned, number)
    target = _target(planned, number)
    if weight is not None and target is not None and not one.body_weight:
        bare = one.weight is not None and one.weight.unit is None
        each_hand = planned.exercise.implement.value in PAIRS
        remark = _far_weight(weight, target, reps, most, bare=bare, each_hand=each_hand)
        if remark is not None:
            return remark
    if reps is not None and most is not None and reps > TWICE * most and reps - most > MANY_MORE_REPS:
        return _off(
            f"{reps} repetitions are typed where {most} were planned",
            "Write the weight first, then x and the repetitions: 95x5.",
        )
    return None


def _far_weight(
    weight: Load, target: Load, reps: int | None, most: int | None, *, bare: bool, each_hand: bool
) -> Remark | None:
    ratio = weight.to(target.unit).amount / target.amount
    if HALF <= ratio <= TWICE:
        return None
    if (
        reps is not None
        and most is not None
        and HALF <= Decimal(reps) / target.amount <= TWICE
        and weight.amount <= 2 * most
    ):
        return _off(
            f"{plain(weight.amount)} x {reps} is typed where {target} x {most} was planned; it looks swapped",
            "Write the weight first, then x and the repetitions: 95x5.",
        )
    times = "less than half" if ratio < HALF else f"{plain(ratio.quantize(Decimal('0.1')))} times"
    if bare and weight.unit is Unit.KG and abs(ratio - POUNDS_IN_A_KILOGRAM) <= NEAR_POUNDS:
        return _off(
            f"{weight} is {times} the {target} planned, and looks like pounds", "Write lb after the weight."
        )
    if bare and weight.unit is Unit.LB and abs(ratio * POUNDS_IN_A_KILOGRAM - 1) <= NEAR_POUNDS / 2:
        return _off(
            f"{weight} is {times} the {target} planned, and looks like kilograms", "Write kg after the weight."
        )
    hint = "Correct the weight; it is of one hand." if each_hand else "Correct the weight."
    return _off(f"{weight} is {times} the {target} planned", hint)


def _target(planned: PlannedExercise, number: int) -> Load | None:
    """Return the weight that a set was planned or suggested with; none where body weight is part of it."""
    items = planned.load.items
    if planned.load.kind not in {LoadKind.WEIGHT, LoadKind.EFFORT} or not items:
        return None
    if planned.exercise.implement.value in WITH_BODY:
        return None
    load = items[min(number, len(items) - 1)].high.load
    return load if load is not None and load.amount > 0 else None


def _most_reps(planned: PlannedExercise, number: int) -> int | None:
    match reps_of(planned, number):
        case Count(high=high):
            return high
        case AtLeast(count=count) | TestSet(count=count):
            return count
    return None
