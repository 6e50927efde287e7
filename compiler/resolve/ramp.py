"""Ramp sets: lighter sets before the first working set of a bar lift.

No published source gives a ramp for an ordinary working set: it is the coach's choice, and the how-to page says so.
"""

from __future__ import annotations

from decimal import Decimal

from compiler.folding import name_key
from compiler.model.kit import Bar
from compiler.model.records import Exercise
from compiler.notation.values import Ramp, RampStep
from compiler.quantities import Load
from compiler.resolve.context import ClientView
from compiler.resolve.fit import restack
from compiler.resolve.plates import BarbellLoader
from compiler.resolve.racks import loader_of
from compiler.resolve.rounding import Rounding
from compiler.resolve.values import Fitted, FittedRange, LoadKind, PlannedLoad, RampSet

NO_SINGLE_UNDER = Decimal(80)
FROM_THE_FLOOR = "from the floor"
"""The tag of lifts whose plates must stand on the floor: no empty bar for them."""


def plan_ramp(
    view: ClientView, exercise: Exercise, load: PlannedLoad, wanted: bool | Ramp | None
) -> tuple[tuple[RampSet, ...], PlannedLoad]:
    """Return the ramp, and the load with the plates that need the fewest moves over ramp and working sets.

    A step at or below the bar, or at or below the step before, or not below the working set is dropped; so is a
    single under 80 %, and the empty bar for a lift from the floor. Without a number to start from there is no ramp.
    """
    if not wanted or view.kit is None or load.about or load.kind is not LoadKind.WEIGHT or not load.items:
        return (), load
    first = load.items[0].low
    if first.bar is None or first.load is None:
        return (), load
    bar, working = loader_of(view.kit, first.bar), first.load
    ramp = wanted if isinstance(wanted, Ramp) else view.book.block.ramp_sets.needed
    tags = {name_key(tag) for tag in exercise.tags.value or ()}
    steps: list[tuple[Fitted, int]] = []
    for step in ramp.steps:
        fitted = _step(bar, first.bar, working, step)
        before = steps[-1][0].load if steps else None
        if _worth_it(step, fitted.load, working, before or first.bar.weight, floor=FROM_THE_FLOOR in tags):
            steps.append((fitted, step.reps))
    if not steps:
        return (), load
    ramped, sets = restack(view.kit, [fitted for fitted, _ in steps], [item.low for item in load.items])
    items = tuple(
        FittedRange(low, low if item.low == item.high else item.high)
        for low, item in zip(sets, load.items, strict=True)
    )
    planned = tuple(RampSet(fitted, reps) for fitted, (_, reps) in zip(ramped, steps, strict=True))
    return planned, load._replace(items=items)


def _step(loader: BarbellLoader, bar: Bar, working: Load, step: RampStep) -> Fitted:
    """Return the load of a step, without its plates: they depend on the sets before and after it."""
    if step.percent is None:
        return Fitted(bar.weight, bar.weight, None, bar, ())
    loaded = loader.ladder.loadable(working.amount * step.percent.share, working.unit, Rounding.NEAREST)
    return Fitted(loaded.exact, loaded.load, step.percent, bar)


def _worth_it(step: RampStep, load: Load | None, working: Load, before: Load, *, floor: bool) -> bool:
    """Tell whether a step is done: `before` is the load of the step before it, or the bar. All are in one unit."""
    if load is None or load.amount >= working.amount:
        return False
    if step.percent is None:
        return not floor
    light_single = step.reps == 1 and step.percent.value < NO_SINGLE_UNDER
    return load.amount > before.amount and not light_single
