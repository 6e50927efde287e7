"""What an exercise is loaded from at a site: bars with their plates, sizes to take from, or a step alone.

It is the same for all clients of the site, so that it is worked out once and not for every load.
"""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal
from functools import lru_cache

from compiler.folding import name_key
from compiler.frozen import frozen
from compiler.model.kit import Bar, SiteKit, Stock
from compiler.model.records import Exercise
from compiler.quantities import Load, Unit
from compiler.resolve.plates import BarbellLoader, bars_named, choose_bar
from compiler.resolve.rounding import Ladder, Loaded, Miss, Rounding, round_to_step
from compiler.schema.implements import IMPLEMENT, SYSTEM, LoadedBy

Rounder = Callable[[Decimal, Unit, Rounding], Loaded]
"""An exact amount and its unit -> what can be loaded."""


@frozen
class Rack:
    """What one exercise is loaded from at one site.

    `bars` for a barbell, in the order of the Kit sheet: those of the exercise's own name where it has one; `landmine`
    for plates alone. For all else `rounder`; it is None too where the site has nothing to load the exercise with.
    `usual_step` is that of what `rounder` chooses from, None where it has none; a bar has its own. `unit` is that of
    what is loaded, None where there is nothing. `with_body`: what is loaded is added to the body, or helps it.
    """

    bars: tuple[BarbellLoader, ...] | None = None
    landmine: BarbellLoader | None = None
    rounder: Rounder | None = None
    usual_step: Load | None = None
    unit: Unit | None = None
    with_body: bool = False

    def bar_for(self, lightest: Decimal, unit: Unit) -> BarbellLoader | Miss:
        """Return the bar for sets of which the exact load of the lightest is given; or the landmine."""
        if self.bars is not None:
            return choose_bar(self.bars, lightest, unit)
        return self.landmine or Miss.NO_KIT


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
    implement = IMPLEMENT[exercise.implement.needed]
    match implement.loaded_by:
        case LoadedBy.SIZE:
            (kind,) = implement.kit
            return kit.sizes(kind)
        case LoadedBy.STACK:
            names = {name_key(name) for name in (*(exercise.needs.value or ()), exercise.name.needed)}
            named = [stack.stock for stack in kit.stacks if name_key(stack.name) in names]
            if named:
                return named[0]
            return kit.stacks[0].stock if len(kit.stacks) == 1 else None
        case _:
            return None


def sizes_or_bar(kit: SiteKit | None, exercise: Exercise, bar: Bar | None) -> Stock | BarbellLoader | None:
    """Return what `fit` chooses the loads of an exercise from; None where loads go by the Block's step, or nowhere."""
    implement = IMPLEMENT[exercise.implement.needed]
    if kit is None or implement.loaded_by is LoadedBy.BODY:
        return None
    if bar is not None or implement.loaded_by is LoadedBy.PLATES:
        return loader_of(kit, bar)
    return stock_of(kit, exercise)


def make_rack(kit: SiteKit | None, exercise: Exercise, step: Callable[[], Load]) -> Rack:
    """Return what an exercise is loaded from; `step` gives the Block's step, where loads go by that.

    Raises `Poisoned` for a cell that it needs and that could not be read.
    """
    implement = IMPLEMENT[exercise.implement.needed]
    if kit is None or implement.loaded_by is LoadedBy.BODY:
        by = step()
        rounder = _by_step(by, signed=implement.loaded_by is LoadedBy.BODY)
        return Rack(
            rounder=rounder, usual_step=None if kit else by, unit=by.unit, with_body=implement.name == SYSTEM
        )
    match implement.loaded_by:
        case LoadedBy.BAR:
            bars = tuple(loader_of(kit, bar) for bar in bars_named(kit.bars, exercise.bar.value))
            return Rack(bars=bars, unit=bars[0].unit if bars else None)
        case LoadedBy.PLATES:
            return Rack(landmine=loader_of(kit, None), unit=kit.plates.unit if kit.plates else None)
        case LoadedBy.SIZE | LoadedBy.STACK:
            stock = stock_of(kit, exercise)
            if stock is None:
                return Rack()
            sizes = Ladder.of_stock(stock)
            return Rack(rounder=sizes.loadable, usual_step=sizes.usual_step, unit=sizes.unit)
        case LoadedBy.BAND | LoadedBy.STEP:
            by = step()
            return Rack(rounder=_by_step(by, signed=False), unit=by.unit)


def _by_step(step: Load, *, signed: bool) -> Rounder:
    def rounder(exact: Decimal, unit: Unit, rounding: Rounding) -> Loaded:
        return round_to_step(exact, unit, step, rounding, signed=signed)

    return rounder
