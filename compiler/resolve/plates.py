"""Bars and plates: which loads a bar can carry with the plates of a site, and with which plates.

A stack is written from the inside outwards, the largest plate first, so that the plates alone decide it.
Amounts are scaled to whole numbers once, and everything about plates is done in those.
"""

from __future__ import annotations

from collections.abc import Sequence
from decimal import ROUND_CEILING, Decimal

from compiler.folding import name_key
from compiler.frozen import frozen
from compiler.model.kit import Bar, Stock
from compiler.quantities import MICRO, Load, Unit
from compiler.resolve.plate_moves import fewest_moves
from compiler.resolve.plate_sums import Counted, plate_sums
from compiler.resolve.rounding import Ladder, Miss, in_kit_unit

_MOST_OF_ONE_SIZE = 10  # plates on one end: about what a sleeve has room for, whatever the site owns
_MOST_ON_ONE_END = {Unit.KG: Decimal(250), Unit.LB: Decimal(550)}  # beyond anything lifted on a bar
_PAIR = 2


@frozen
class PlateStack:
    """A loaded bar. `per_side` runs from the inside outwards.

    `bar` None is a landmine, which is loaded at one end. `total` is bar, plates and collars; for a landmine
    the plates alone.
    """

    bar: Bar | None
    per_side: tuple[Decimal, ...]
    total: Load


def bars_named(bars: Sequence[Bar], named: str | None) -> tuple[Bar, ...]:
    """Return the bars for an exercise: those of its own name where it has one, as another bar is another lift."""
    return tuple(bar for bar in bars if named is None or name_key(bar.name) == name_key(named))


def choose_bar(loaders: Sequence[BarbellLoader], lightest: Decimal, unit: Unit) -> BarbellLoader | Miss:
    """Return the bar for an exercise whose lightest working set is `lightest`, an exact load.

    The first in the order of the Kit sheet that is not above it. BELOW_LIGHTEST where all are heavier, NO_KIT where
    there is none.
    """
    for loader in loaders:
        bar = loader.bar
        if bar is None:
            continue
        if unit is bar.weight.unit and lightest >= loader.surely_on:
            return loader
        if bar.weight.amount <= in_kit_unit(lightest, unit, bar.weight.unit):
            return loader
    return Miss.BELOW_LIGHTEST if loaders else Miss.NO_KIT


class BarbellLoader:
    """One bar, or a landmine, with the plates of one site.

    Made once for a site and bar; it remembers the stacks it has laid out. Plates come in counted pairs, one
    of each pair to a side; a landmine takes both to its one end. The collars, a pair, count whenever plates
    are on; a landmine has none. At most ten of one size and 250 kg or 550 lb go on one end.

    `ladder` is what it can carry. An exact load from `surely_on` up, in the unit of the bar, is no lighter than the bar
    after it is quantised.
    """

    def __init__(self, bar: Bar | None, plates: Stock | None, collars: Load | None) -> None:
        self.bar = bar
        self.unit = plates.unit if plates else _unit_of(bar)
        self._sides = 1 if bar is None else _PAIR
        self._bare = bar.weight.to(self.unit).amount if bar else Decimal(0)
        self._dressed = self._bare + (collars.to(self.unit).amount if bar and collars else Decimal(0))
        counted, self._exponent = _on_one_end(plates, self._sides)
        self._sums = plate_sums(counted, int(_MOST_ON_ONE_END[self.unit].scaleb(-self._exponent)))
        sides = self._sums.fewest[0] if self._sums else ()
        self._side_of = {self._total(side): side for side in sides if bar is not None or side > 0}
        self.ladder = Ladder.of(sorted(self._side_of), self.unit, from_the_bar=True)
        self.surely_on = bar.weight.amount.quantize(MICRO, ROUND_CEILING) if bar else Decimal(0)
        self._laid_out: dict[tuple[Decimal, ...], tuple[PlateStack, ...]] = {}
        self._alone: dict[Decimal, tuple[Decimal, ...]] = {}

    def _total(self, side: int) -> Decimal:
        if side == 0:
            return self._bare
        return self._dressed + self._sides * self._amount(side)

    def _amount(self, scaled: int) -> Decimal:
        return Decimal(scaled).scaleb(self._exponent)

    def lay_out_sets(self, loads: Sequence[Load]) -> tuple[PlateStack, ...]:
        """Return one stack a set: the fewest plates moved from the empty bar and back to it, then the fewest on.

        A single load so takes the fewest plates, then the largest first.

        `loads` are those that `loadable` gave, ramp sets first, in the order they are lifted. Raises
        ValueError for a load that this bar cannot carry.
        """
        totals = tuple([load.to(self.unit).amount for load in loads])
        stacks = self._laid_out.get(totals)
        if stacks is None:
            stacks = self._laid_out[totals] = self._stacks(loads)
        return stacks

    def per_side(self, load: Load) -> tuple[Decimal, ...]:
        """Return the plates of one load, the same for every set. Raises ValueError as `lay_out_sets` does."""
        total = load.amount if load.unit is self.unit else load.to(self.unit).amount
        found = self._alone.get(total)
        if found is None:
            found = self._alone[total] = self.lay_out_sets((load,))[0].per_side
        return found

    def _stacks(self, loads: Sequence[Load]) -> tuple[PlateStack, ...]:
        sides = [self._side(load) for load in loads]
        columns = fewest_moves(sides, self._sums) if self._sums and sides else []
        return tuple(
            PlateStack(self.bar, tuple(map(self._amount, column)), load.to(self.unit))
            for column, load in zip(columns, loads, strict=True)
        )

    def _side(self, load: Load) -> int:
        side = self._side_of.get(load.to(self.unit).amount)
        if side is None:
            raise ValueError(f"{load} is no load of this bar; take one that loadable() gave")
        return side


def _unit_of(bar: Bar | None) -> Unit:
    return bar.weight.unit if bar else Unit.KG


def _on_one_end(plates: Stock | None, sides: int) -> tuple[Counted, int]:
    """Return the plates for one end as whole numbers, largest first, and the power of ten they count in."""
    sizes = [size for size in plates.sizes if size.amount > 0] if plates else []
    exponents = [int(size.amount.as_tuple().exponent) for size in sizes]
    exponent = min([0, *exponents])
    counts: dict[int, int] = {}
    for size in sizes:
        scaled = int(size.amount.scaleb(-exponent))
        owned = _MOST_OF_ONE_SIZE if size.count is None else size.count * _PAIR // sides
        counts[scaled] = min(counts.get(scaled, 0) + owned, _MOST_OF_ONE_SIZE)
    return tuple(sorted(counts.items(), reverse=True)), exponent
