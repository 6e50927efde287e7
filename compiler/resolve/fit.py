"""Exact loads of one exercise -> what this client can load at this site, by the exercise's implement.

Dumbbells and kettlebells are per hand. A landmine is plates alone. For body weight plus load what is added is
fitted, in the Block's step: down means less added, or more help. One bar serves all sets of an exercise.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from compiler.flags.catalogue import flag
from compiler.flags.model import Flag, Remark
from compiler.folding import name_key
from compiler.model.field import Field
from compiler.model.kit import Bar, SiteKit, Stock
from compiler.model.records import Exercise
from compiler.notation.values import LoadText, WeightLoad
from compiler.quantities import Load, Percent, shown_exact
from compiler.resolve.context import ClientView
from compiler.resolve.plates import BarbellLoader, choose_bar
from compiler.resolve.rounding import (
    Loaded,
    Miss,
    Rounding,
    is_coarse,
    round_to_sizes,
    round_to_step,
    usual_step,
)
from compiler.resolve.values import Fitted, FittedRange, LoadKind, PlannedLoad

SYSTEM = "body weight plus load"
BODY = ("body weight", SYSTEM)
PER_HAND = ("dumbbell", "dumbbells", "kettlebell", "kettlebells")
PAIRS = ("dumbbells", "kettlebells")
"""Implements that are one in each hand: a typed weight may be the total of both."""

STACKED = ("machine", "cable")

Rounder = Callable[[Load], Loaded]


@dataclass(frozen=True, slots=True)
class Wanted:
    """An exact load and the percentage it comes from, if any."""

    exact: Load
    percent: Percent | None


@lru_cache(maxsize=512)
def loader(bar: Bar | None, plates: Stock | None, collars: Load | None) -> BarbellLoader:
    """Return the loader of a bar with a site's plates, made once for all clients."""
    return BarbellLoader(bar, plates, collars)


def loader_of(kit: SiteKit, bar: Bar | None) -> BarbellLoader:
    """Return the loader of a bar at a site; None is the landmine."""
    return loader(bar, kit.plates, kit.collars if bar else None)


def stock_of(kit: SiteKit, exercise: Exercise) -> Stock | None:
    """Return the sizes that an exercise is loaded with at a site, for what is not a bar; None where there are none.

    A machine or cable uses the stack that the exercise needs by name, or is named after, or the only one there is.
    """
    implement = exercise.implement.needed
    if implement in {"dumbbell", "dumbbells"}:
        return kit.dumbbells
    if implement in {"kettlebell", "kettlebells"}:
        return kit.kettlebells
    if implement == "medicine ball":
        return kit.medicine_balls
    if implement in STACKED:
        names = {name_key(name) for name in (*(exercise.needs.value or ()), exercise.name.needed)}
        named = [stack.stock for stack in kit.stacks if name_key(stack.name) in names]
        if named:
            return named[0]
        return kit.stacks[0].stock if len(kit.stacks) == 1 else None
    return None


def sizes_or_bar(kit: SiteKit | None, exercise: Exercise, bar: Bar | None) -> Stock | BarbellLoader | None:
    """Return what `fit` chooses the loads of an exercise from; None where loads go by the Block's step, or nowhere."""
    implement = exercise.implement.needed
    if kit is None or implement in BODY:
        return None
    if bar is not None or implement == "landmine":
        return loader_of(kit, bar)
    return stock_of(kit, exercise)


def fit(
    view: ClientView,
    exercise: Exercise,
    wanted: Sequence[tuple[Wanted, Wanted]],
    rounding: Rounding,
    body: Load | None = None,
) -> tuple[FittedRange, ...]:
    """Return what can be loaded for each item, low and high end. With `body` the exact loads are of the system."""
    implement = exercise.implement.needed
    if body is not None:
        wanted = [tuple(Wanted(w.exact.minus(body), w.percent) for w in pair) for pair in wanted]  # type: ignore[misc]  # a pair stays a pair
    if implement in BODY:
        return _ranges(wanted, lambda exact: round_to_step(exact, view.step, rounding, signed=True))
    kit = view.kit
    if kit is None:
        return _ranges(wanted, lambda exact: round_to_step(exact, view.step, rounding))
    if implement == "barbell":
        return _on_bar(kit, exercise, wanted, rounding)
    if implement == "landmine":
        return _with(loader_of(kit, None), wanted, rounding)
    if implement in (*PER_HAND, *STACKED, "medicine ball"):
        stock = stock_of(kit, exercise)
        if stock is None:
            return _missed(wanted, Miss.NO_KIT)
        return _ranges(wanted, lambda exact: round_to_sizes(exact, stock, rounding))
    return _ranges(wanted, lambda exact: round_to_step(exact, view.step, rounding))


def _fitted(wanted: Wanted, loaded: Loaded) -> Fitted:
    return Fitted(loaded.exact, loaded.load, wanted.percent, miss=str(loaded.miss) if loaded.miss else None)


def _ranges(wanted: Sequence[tuple[Wanted, Wanted]], rounder: Rounder) -> tuple[FittedRange, ...]:
    ranges = []
    for low, high in wanted:
        first = _fitted(low, rounder(low.exact))
        ranges.append(FittedRange(first, first if low == high else _fitted(high, rounder(high.exact))))
    return tuple(ranges)


def _missed(wanted: Sequence[tuple[Wanted, Wanted]], miss: Miss) -> tuple[FittedRange, ...]:
    def none(item: Wanted) -> Fitted:
        return Fitted(item.exact.quantised(), None, item.percent, miss=str(miss))

    return tuple(FittedRange(none(low), none(high)) for low, high in wanted)


def _on_bar(
    kit: SiteKit, exercise: Exercise, wanted: Sequence[tuple[Wanted, Wanted]], rounding: Rounding
) -> tuple[FittedRange, ...]:
    lightest = min((low.exact for low, _ in wanted), key=lambda load: load.to(wanted[0][0].exact.unit).amount)
    bar = choose_bar(kit.bars, lightest, exercise.bar.value)
    if isinstance(bar, Miss):
        return _missed(wanted, bar)
    return _with(loader_of(kit, bar), wanted, rounding)


def _with(
    loaded_by: BarbellLoader, wanted: Sequence[tuple[Wanted, Wanted]], rounding: Rounding
) -> tuple[FittedRange, ...]:
    ranges = _ranges(wanted, lambda exact: loaded_by.loadable(exact, rounding))
    lows = _stacked(loaded_by, [item.low for item in ranges])
    if all(item.low is item.high for item in ranges):
        return tuple(FittedRange(low, low) for low in lows)
    highs = _stacked(loaded_by, [item.high for item in ranges])
    return tuple(FittedRange(low, high) for low, high in zip(lows, highs, strict=True))


def _stacked(loaded_by: BarbellLoader, items: Sequence[Fitted]) -> list[Fitted]:
    """Add the plates: fewest moves from set to set."""
    loads = [item.load for item in items if item.load is not None]
    stacks = iter(loaded_by.lay_out_sets(loads) if loads else ())
    return [
        item
        if item.load is None
        else Fitted(item.exact, item.load, item.percent, loaded_by.bar, next(stacks).per_side, item.miss)
        for item in items
    ]


def restack(
    kit: SiteKit, ramp: Sequence[Fitted], sets: Sequence[Fitted]
) -> tuple[list[Fitted], list[Fitted]]:
    """Return ramp and working sets with the plates that need the fewest moves over all of them."""
    bar = next((item.bar for item in sets if item.bar), None)
    if bar is None:
        return list(ramp), list(sets)
    together = _stacked(loader_of(kit, bar), [*ramp, *sets])
    return together[: len(ramp)], together[len(ramp) :]


# ---------------------------------------------------------------- what the coach should know


def without_pair_totals(exercise: Exercise, items: tuple[FittedRange, ...]) -> tuple[FittedRange, ...]:
    """Return typed weights without a number where one hand was given more than the heaviest there is.

    It is likely the total of a pair: the heaviest single in each hand might be twice what was meant.
    """
    if exercise.implement.value not in PAIRS:
        return items

    def end(fitted: Fitted) -> Fitted:
        return replace(fitted, load=None) if fitted.miss == Miss.TOO_HEAVY else fitted

    return tuple(FittedRange(end(item.low), end(item.high)) for item in items)


def fit_flags(
    view: ClientView, exercise: Exercise, load: PlannedLoad, cell: Field[LoadText]
) -> tuple[Flag, ...]:
    """Return the flags of one fitted load: the first miss, else the first coarse rounding."""
    ends = [end for item in load.items for end in (item.low, item.high)]
    for end in ends:
        if end.miss is not None:
            return (_miss_flag(view, exercise, end, cell),)
    known = load.maximum
    if load.kind is LoadKind.WEIGHT and known is not None and known.one_rm is not None:
        for end in ends:
            if end.load is not None and is_coarse(
                end.exact, end.load, known.one_rm, _step_of(view, exercise, end)
            ):
                return (_coarse(view, exercise, end, cell),)
    return ()


def _step_of(view: ClientView, exercise: Exercise, end: Fitted) -> Load | None:
    if view.kit is None:
        return view.step
    if end.bar is not None:
        return loader_of(view.kit, end.bar).usual_step
    stock = stock_of(view.kit, exercise)
    return usual_step(stock) if stock else None


def _site(view: ClientView) -> str:
    return view.kit.site if view.kit else "the site"


def _miss_flag(view: ClientView, exercise: Exercise, end: Fitted, cell: Field[LoadText]) -> Flag:
    name, asked = exercise.name.needed, end.exact
    pair = exercise.implement.value in PAIRS
    if end.miss == Miss.TOO_HEAVY and pair and isinstance(cell.known, WeightLoad):
        remark = Remark(
            "pair-total",
            f"{view.name} should hold {shown_exact(asked)} in one hand in {name}, more than anything at {_site(view)}"
            " weighs; the load is left blank.",
            "Loads of dumbbells and kettlebells are per hand: if it is the total of the pair, type half of it.",
        )
    elif end.miss == Miss.TOO_HEAVY:
        remark = Remark(
            "kit-too-light",
            f"{view.name} should lift {shown_exact(asked)} in {name};"
            f" the heaviest at {_site(view)} is {end.load}, and that is printed.",
            "Add repetitions or choose another exercise for this client on the Changes sheet.",
        )
    elif end.miss == Miss.BELOW_LIGHTEST and exercise.implement.value == "barbell":
        remark = Remark(
            "below-lightest-bar",
            f"{view.name} should lift {shown_exact(asked)} in {name};"
            f" no bar at {_site(view)} is that light, so the load is left blank.",
            "Choose a lighter exercise for this client on the Changes sheet, or list a lighter bar on Kit.",
        )
    else:
        remark = Remark(
            "not-loadable",
            f"{view.name} should lift {shown_exact(asked)} in {name};"
            f" nothing at {_site(view)} comes near it, so the load is left blank.",
            "Check the Kit sheet, or give this client a load of their own on the Changes sheet.",
        )
    return flag(remark, cell.place, client=view.name, found=cell.text, related=(view.client.name.place,))


def _coarse(view: ClientView, exercise: Exercise, end: Fitted, cell: Field[LoadText]) -> Flag:
    remark = Remark(
        "coarse-rounding",
        f"{view.name}: {shown_exact(end.exact)} of {exercise.name.needed} became {end.load}, the nearest that"
        f" {_site(view)} has.",
        "Check that this suits the client; a finer step would need other kit.",
    )
    return flag(remark, cell.place, client=view.name, found=cell.text)
