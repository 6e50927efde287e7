"""Exact loads of one exercise -> what this client can load at this site, by the exercise's implement.

Dumbbells and kettlebells are per hand. A landmine is plates alone. For body weight plus load what is added is
fitted, in the Block's step: down means less added, or more help. One bar serves all sets of an exercise.
"""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from typing import NamedTuple

from compiler.flags.catalogue import flag
from compiler.flags.model import Flag, Remark
from compiler.model.field import Field
from compiler.model.kit import Bar, SiteKit
from compiler.model.records import Exercise
from compiler.notation.values import LoadText, WeightLoad
from compiler.quantities import Load, Percent, Unit, converted, to_a_tenth
from compiler.resolve.context import ClientView
from compiler.resolve.plates import BarbellLoader, choose_bar
from compiler.resolve.racks import Rack, Rounder, loader_of
from compiler.resolve.rounding import Loaded, Miss, Rounding, in_kit_unit, is_coarse, is_far
from compiler.resolve.values import Fitted, FittedRange, LoadKind, PlannedLoad
from compiler.schema.implements import PAIRS

_WEIGHT = LoadKind.WEIGHT  # looked up for every load


class Wanted(NamedTuple):
    """An exact load, as an amount of a unit, and the percentage it comes from, if any."""

    amount: Decimal
    unit: Unit
    percent: Percent | None

    @classmethod
    def of(cls, exact: Load) -> Wanted:
        """Return an exact load that comes from no percentage."""
        return cls(exact.amount, exact.unit, None)


def fit(
    view: ClientView,
    exercise: Exercise,
    wanted: Sequence[tuple[Wanted, Wanted]],
    rounding: Rounding,
    body: Load | None = None,
) -> tuple[FittedRange, ...]:
    """Return what can be loaded for each item, low and high end. With `body` the exact loads are of the system."""
    return fit_each(view.rack(exercise), wanted, rounding, body)


def fit_each(
    rack: Rack, wanted: Sequence[tuple[Wanted, Wanted]], rounding: Rounding, body: Load | None
) -> tuple[FittedRange, ...]:
    """Return what `fit` does, for what is loaded from a rack."""
    if body is not None:
        wanted = [(_without(body, low), _without(body, high)) for low, high in wanted]
    if rack.rounder is not None:
        return _ranges(wanted, rack.rounder, rounding)
    lightest = _lightest(wanted)
    loaded_by = rack.bar_for(lightest.amount, lightest.unit)
    return _missed(wanted, loaded_by) if isinstance(loaded_by, Miss) else _with(loaded_by, wanted, rounding)


def fit_alike(
    rack: Rack, amount: Decimal, unit: Unit, percent: Percent, rounding: Rounding
) -> tuple[FittedRange, ...]:
    """Return what `fit_each` does, for the one load that most cells ask for, every set alike: in less time."""
    if rack.rounder is not None:
        exact, load, miss = rack.rounder(amount, unit, rounding)
        fitted = Fitted(exact, load, percent, None, None, miss)
        return (FittedRange(fitted, fitted),)
    loaded_by = rack.bar_for(amount, unit) if rack.bars is None else choose_bar(rack.bars, amount, unit)
    if isinstance(loaded_by, Miss):
        wanted = Wanted(amount, unit, percent)
        return _missed([(wanted, wanted)], loaded_by)
    ladder = loaded_by.ladder
    amount = in_kit_unit(amount, unit, ladder.unit)
    load, miss = ladder.rung(amount, rounding)
    bar = side = None
    if load is not None:
        bar, side = loaded_by.bar, loaded_by.per_side(load)
    fitted = Fitted(Load(amount, ladder.unit), load, percent, bar, side, miss)
    return (FittedRange(fitted, fitted),)


def _without(body: Load, wanted: Wanted) -> Wanted:
    return Wanted(wanted.amount - body.to(wanted.unit).amount, wanted.unit, wanted.percent)


def _lightest(wanted: Sequence[tuple[Wanted, Wanted]]) -> Wanted:
    """Return the lightest set, to choose the bar by."""
    unit = wanted[0][0].unit
    return min((low for low, _ in wanted), key=lambda low: converted(low.amount, low.unit, unit))


def _fitted(
    wanted: Wanted, loaded: Loaded, bar: Bar | None = None, per_side: tuple[Decimal, ...] | None = None
) -> Fitted:
    exact, load, miss = loaded
    return Fitted(exact, load, wanted.percent, bar, per_side, miss)


def _ranges(
    wanted: Sequence[tuple[Wanted, Wanted]], rounder: Rounder, rounding: Rounding
) -> tuple[FittedRange, ...]:
    ranges = []
    for low, high in wanted:
        first = _fitted(low, rounder(low.amount, low.unit, rounding))
        same = low is high or low == high
        ranges.append(
            FittedRange(first, first if same else _fitted(high, rounder(high.amount, high.unit, rounding)))
        )
    return tuple(ranges)


def _missed(wanted: Sequence[tuple[Wanted, Wanted]], miss: Miss) -> tuple[FittedRange, ...]:
    def none(item: Wanted) -> Fitted:
        return Fitted(Load(item.amount, item.unit).quantised(), None, item.percent, miss=miss)

    return tuple(FittedRange(none(low), none(high)) for low, high in wanted)


def _with(
    loaded_by: BarbellLoader, wanted: Sequence[tuple[Wanted, Wanted]], rounding: Rounding
) -> tuple[FittedRange, ...]:
    lows = _on(loaded_by, [low for low, _ in wanted], rounding)
    if all(low is high or low == high for low, high in wanted):
        return tuple([FittedRange(low, low) for low in lows])
    highs = _on(loaded_by, [high for _, high in wanted], rounding)
    return tuple(map(FittedRange, lows, highs))


def _on(loaded_by: BarbellLoader, wanted: Sequence[Wanted], rounding: Rounding) -> list[Fitted]:
    """Return loads with their plates: fewest moves from set to set."""
    loadable = loaded_by.ladder.loadable
    found = [loadable(amount, unit, rounding) for amount, unit, _ in wanted]
    sides = _stacked(loaded_by, [loaded.load for loaded in found])
    return [
        _fitted(one, loaded, None if side is None else loaded_by.bar, side)
        for one, loaded, side in zip(wanted, found, sides, strict=True)
    ]


def _stacked(loaded_by: BarbellLoader, loads: Sequence[Load | None]) -> list[tuple[Decimal, ...] | None]:
    """Return the plates of each load: fewest moves from set to set."""
    there = [load for load in loads if load is not None]
    stacks = iter(loaded_by.lay_out_sets(there) if there else ())
    return [None if load is None else next(stacks).per_side for load in loads]


def restack(
    kit: SiteKit, ramp: Sequence[Fitted], sets: Sequence[Fitted]
) -> tuple[list[Fitted], list[Fitted]]:
    """Return ramp and working sets with the plates that need the fewest moves over all of them."""
    bar = next((item.bar for item in sets if item.bar), None)
    if bar is None:
        return list(ramp), list(sets)
    items = [*ramp, *sets]
    sides = _stacked(loader_of(kit, bar), [item.load for item in items])
    together = [
        item if side is None else item._replace(bar=bar, per_side=side)
        for item, side in zip(items, sides, strict=True)
    ]
    return together[: len(ramp)], together[len(ramp) :]


# ---------------------------------------------------------------- what the coach should know


def without_pair_totals(exercise: Exercise, items: tuple[FittedRange, ...]) -> tuple[FittedRange, ...]:
    """Return typed weights without a number where one hand was given more than the heaviest there is.

    It is likely the total of a pair: the heaviest single in each hand might be twice what was meant.
    """
    ends = (end for item in items for end in item)
    if exercise.implement.value not in PAIRS or not any(end.miss is Miss.TOO_HEAVY for end in ends):
        return items

    def end(fitted: Fitted) -> Fitted:
        return fitted._replace(load=None) if fitted.miss is Miss.TOO_HEAVY else fitted

    return tuple(FittedRange(end(item.low), end(item.high)) for item in items)


def fit_flags(
    view: ClientView, exercise: Exercise, load: PlannedLoad, cell: Field[LoadText]
) -> tuple[Flag, ...]:
    """Return the flags of one fitted load: the first miss, else the first coarse rounding."""
    known = load.maximum
    guard = known.one_rm if known is not None and load.kind is _WEIGHT else None
    coarse: Fitted | None = None
    for low, high in load.items:
        for end in (low,) if low is high else (low, high):
            if end.miss is not None:
                return (_miss_flag(view, exercise, end, cell),)
            if guard is None or coarse is not None or end.load is None or not is_far(end.exact, end.load, guard):
                continue
            if is_coarse(end.exact, end.load, guard, _step_of(view, exercise, end)):
                coarse = end
    return () if coarse is None else (_coarse(view, exercise, coarse, load.rounding, cell),)


def typed_flags(view: ClientView, exercise: Exercise, load: PlannedLoad, cell: Field[LoadText]) -> tuple[Flag, ...]:
    """Return the flags of a weight that was typed: a miss, else that another is printed."""
    missed = fit_flags(view, exercise, load, cell)
    if missed:
        return missed
    ends = (end for item in load.items for end in (item.low, item.high))
    moved = next((end for end in ends if end.load is not None and end.load.amount != end.exact.amount), None)
    if moved is None:
        return ()
    remark = Remark(
        "weight-rounded",
        f"{view.name} gets {moved.load} in {exercise.name.needed} in place of {to_a_tenth(moved.exact)},"
        " which cannot be loaded there.",
        "Type a weight that the site has, or leave it so.",
    )
    return (flag(remark, cell.place, client=view.name, found=cell.text),)


def _step_of(view: ClientView, exercise: Exercise, end: Fitted) -> Load | None:
    if view.kit is not None and end.bar is not None:
        return loader_of(view.kit, end.bar).ladder.usual_step
    return view.rack(exercise).usual_step


def _miss_flag(view: ClientView, exercise: Exercise, end: Fitted, cell: Field[LoadText]) -> Flag:
    name, asked = exercise.name.needed, end.exact
    pair = exercise.implement.value in PAIRS
    if end.miss is Miss.TOO_HEAVY and pair and isinstance(cell.known, WeightLoad):
        remark = Remark(
            "pair-total",
            f"{view.name} should hold {to_a_tenth(asked)} in one hand in {name}, more than anything at"
            f" {view.place_words} weighs; the load is left blank.",
            f"Loads of {exercise.implement.value} are per hand: if it is the total of the pair, type half of it.",
        )
    elif end.miss is Miss.TOO_HEAVY:
        remark = Remark(
            "kit-too-light",
            f"{view.name} should lift {to_a_tenth(asked)} in {name};"
            f" the heaviest at {view.place_words} is {end.load}, and that is printed.",
            "Add repetitions or choose another exercise for this client on the Changes sheet.",
        )
    elif end.miss is Miss.BELOW_LIGHTEST and exercise.implement.value == "barbell":
        remark = Remark(
            "below-lightest-bar",
            f"{view.name} should lift {to_a_tenth(asked)} in {name};"
            f" no bar at {view.place_words} is that light, so the load is left blank.",
            "Choose a lighter exercise for this client on the Changes sheet, or list a lighter bar on Kit.",
        )
    else:
        why = "is that light" if end.miss is Miss.BELOW_LIGHTEST else "comes near it"
        remark = Remark(
            "not-loadable",
            f"{view.name} should lift {to_a_tenth(asked)} in {name};"
            f" nothing at {view.place_words} {why}, so the load is left blank.",
            "Check the Kit sheet, or give this client a load of their own on the Changes sheet.",
        )
    return flag(remark, cell.place, client=view.name, found=cell.text, related=(view.client.name.place,))


def _coarse(
    view: ClientView, exercise: Exercise, end: Fitted, rounding: Rounding | None, cell: Field[LoadText]
) -> Flag:
    way = "the nearest that" if rounding in (None, Rounding.NEAREST) else f"rounded {rounding} to what"
    remark = Remark(
        "coarse-rounding",
        f"{view.name}: {to_a_tenth(end.exact)} of {exercise.name.needed} became {end.load},"
        f" {way} {view.place_words} has.",
        "Check that this suits the client; a finer step would need other kit.",
    )
    return flag(remark, cell.place, client=view.name, found=cell.text)
