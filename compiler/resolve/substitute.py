"""What a substitute keeps of the row it stands in for.

It keeps percentages (of its own test), efforts, its own working weight and body weight; body weight alone takes no
percentage and is printed as body weight. A weight, a step in weight or a band that was typed for another lift is
never carried over: the line is left blank and flagged.
"""

from __future__ import annotations

from compiler.flags.catalogue import flag
from compiler.flags.model import Flag, Remark
from compiler.model.effective import LoadChain
from compiler.model.field import Field, Poisoned
from compiler.model.records import Change, Exercise
from compiler.notation.effort import read_effort_limit
from compiler.notation.values import (
    BodyWeightLoad,
    BodyWeightShare,
    EffortLimit,
    LoadText,
    NamedLoad,
    Step,
    WeightLoad,
)
from compiler.quantities import Load, Percent
from compiler.resolve.context import ClientView

TYPED_FOR_ANOTHER_LIFT = (WeightLoad, NamedLoad, BodyWeightShare)


def scale_of(change: Change | None) -> Percent | None:
    """Return the percentage of a `scale` change. Raises `Poisoned` where it is none; that was flagged at its cell."""
    if change is None:
        return None
    read = read_effort_limit(change.with_.needed)
    if not isinstance(read, EffortLimit) or read.percent is None:
        raise Poisoned(change.with_.place)
    return read.percent


def own_load(change: Change | None, week: int) -> LoadChain | None:
    """Return the load that a change states, if it states one."""
    if change is None or change.load.blank:
        return None
    return LoadChain(change.load, week)


def carries_over(chain: LoadChain) -> bool:
    """Tell whether a load may stand for another exercise than the one it was typed for."""
    base = chain.base.value
    if isinstance(base, TYPED_FOR_ANOTHER_LIFT) or (
        isinstance(base, BodyWeightLoad) and base.added is not None
    ):
        return False
    return not any(_is_weight_step(field) for field in chain.steps)


def _is_weight_step(field: Field[LoadText]) -> bool:
    step = field.value
    return isinstance(step, Step) and isinstance(step.by, Load)


def needs_load(view: ClientView, exercise: Exercise, chain: LoadChain) -> Flag:
    """Return the flag of a substitute whose row states a load for another lift."""
    cell = chain.place_field
    left = "it is done with body weight" if exercise.implement.value == "body weight" else "the load is left blank"
    remark = Remark(
        "swap-needs-load",
        f"{view.name} does {exercise.name.value} here, and {cell.text} was typed for another exercise;"
        f" {left}.",
        'Add a "swap" row for this client to Changes, with the load in its Load column.',
    )
    return flag(remark, cell.place, client=view.name, found=cell.text, related=(view.client.name.place,))
