"""Exact load -> a load that the site can offer: a size of dumbbell, or a step where no kit is known.

The exact load is converted to the kit's unit and quantised once, here, before it is compared with anything.
Sizes and sums stay decimals, so a tie is a tie and goes down. What is loaded on a bar is worked out in
`plates`.

At its ends a kit is read as if it went on by its usual step: 41 kg is 40 kg, to the nearest, whether or not
there is a 42. Only what would have come to another size there is a miss. (A bar is different at its lower
end: see `plates`.)
"""

from __future__ import annotations

from bisect import bisect_left
from collections import Counter
from collections.abc import Sequence
from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_EVEN, Decimal
from enum import StrEnum
from itertools import pairwise
from typing import NamedTuple

from compiler.frozen import frozen
from compiler.model.kit import Stock
from compiler.quantities import MICRO, Load, Unit, converted

_COARSE_POINTS = Decimal(5)
_HUNDRED = Decimal(100)
_TWO = Decimal(2)
_HALF = Decimal("0.5")


class Rounding(StrEnum):
    """Which way to go from an exact load; NEAREST goes down from the middle."""

    NEAREST = "nearest"
    DOWN = "down"
    UP = "up"


class Miss(StrEnum):
    """Why the kit cannot offer what was asked for."""

    BELOW_LIGHTEST = "below lightest"
    TOO_HEAVY = "too heavy"
    NO_KIT = "no kit"


class Loaded(NamedTuple):
    """What became of one exact load. `exact` is in the kit's unit, to the millionth.

    `load` is None where there is none (BELOW_LIGHTEST, NO_KIT); with TOO_HEAVY it is the heaviest there is.
    """

    exact: Load
    load: Load | None
    miss: Miss | None = None


_DOWN, _UP = Rounding.DOWN, Rounding.UP  # looked up for every load


def in_kit_unit(amount: Decimal, unit: Unit, of_the_kit: Unit) -> Decimal:
    """Return an exact load as the rounding sees it: in the kit's unit, quantised once."""
    there = amount if unit is of_the_kit else converted(amount, unit, of_the_kit)
    return there.quantize(MICRO, ROUND_HALF_EVEN)


def usual_gap(ladder: Sequence[Decimal]) -> Decimal | None:
    """Return the most frequent gap between neighbours, the smaller in a tie; None for one size."""
    gaps = Counter(above - below for below, above in pairwise(ladder) if above > below)
    if not gaps:
        return None
    return min(gaps, key=lambda gap: (-gaps[gap], gap))


def _reaches_down_to(heaviest: Decimal, gap: Decimal | None, amount: Decimal, rounding: Rounding) -> bool:
    """Tell whether an amount above the heaviest rung would come down to it if the ladder went on."""
    if gap is None or rounding is Rounding.UP:
        return False
    past = amount - heaviest
    return past < gap if rounding is Rounding.DOWN else past * _TWO <= gap


def _reaches_up_to(lightest: Decimal, gap: Decimal | None, amount: Decimal, rounding: Rounding) -> bool:
    if gap is None or rounding is Rounding.DOWN:
        return False
    short = lightest - amount
    return short < gap if rounding is Rounding.UP else short * _TWO < gap


@frozen
class Ladder:
    """The loads that some kit has: ascending, in one unit. Made once, and looked at for every load.

    `amounts` are those of `loads`. `from_the_bar`: the lightest is a bar, below which nothing can be loaded.
    """

    unit: Unit
    loads: tuple[Load, ...]
    amounts: tuple[Decimal, ...]
    gap: Decimal | None
    from_the_bar: bool

    @classmethod
    def of(cls, amounts: Sequence[Decimal], unit: Unit, *, from_the_bar: bool = False) -> Ladder:
        """Return the ladder of ascending amounts."""
        loads = tuple(Load(amount, unit) for amount in amounts)
        return cls(unit, loads, tuple(amounts), usual_gap(amounts), from_the_bar)

    @classmethod
    def of_stock(cls, stock: Stock) -> Ladder:
        """Return the ladder of dumbbells, kettlebells, a stack or medicine balls; loads are of one piece.

        How many there are is not looked at.
        """
        return cls.of([size.amount for size in stock.sizes], stock.unit)

    @property
    def usual_step(self) -> Load | None:
        """The usual step between loads; None where there is one load alone."""
        return None if self.gap is None else Load(self.gap, self.unit)

    def loadable(self, exact: Decimal, unit: Unit, rounding: Rounding) -> Loaded:
        """Return the load to take for an exact one. Amounts at or below zero never become one."""
        amount = in_kit_unit(exact, unit, self.unit)
        return Loaded(Load(amount, self.unit), *self.rung(amount, rounding))

    def rung(self, amount: Decimal, rounding: Rounding) -> tuple[Load | None, Miss | None]:
        """Return the load for an amount in the ladder's unit, quantised; and why it is none or too light."""
        amounts = self.amounts
        if not amounts:
            return None, Miss.NO_KIT
        if amount < amounts[0]:
            if self.from_the_bar or amount <= 0 or not _reaches_up_to(amounts[0], self.gap, amount, rounding):
                return None, Miss.BELOW_LIGHTEST
            return self.loads[0], None
        if amount > amounts[-1]:
            covered = _reaches_down_to(amounts[-1], self.gap, amount, rounding)
            return self.loads[-1], None if covered else Miss.TOO_HEAVY
        rung = bisect_left(amounts, amount)
        above = amounts[rung]
        if (
            rounding is not _UP
            and above != amount
            and (rounding is _DOWN or amount - amounts[rung - 1] <= above - amount)
        ):
            rung -= 1
        return self.loads[rung], None


def round_to_step(
    exact: Decimal, unit: Unit, step: Load, rounding: Rounding, *, signed: bool = False
) -> Loaded:
    """Return the multiple of a step, for a site without kit; in the unit of the step.

    A load that comes to nothing is a miss. `signed` is for what is added to body weight: nothing added and
    help (below zero) are answers then, and down means more help; a tie goes down there too.
    """
    wanted = Load(in_kit_unit(exact, unit, step.unit), step.unit)
    if step.amount <= 0:
        return Loaded(wanted, None, Miss.NO_KIT)
    steps = wanted.amount / step.amount
    if rounding is Rounding.NEAREST:
        steps -= _HALF  # the ceiling of half a step less: a tie goes down on both sides of zero
    whole = steps.to_integral_value(ROUND_FLOOR if rounding is Rounding.DOWN else ROUND_CEILING)
    if whole <= 0 and not signed:
        return Loaded(wanted, None, Miss.BELOW_LIGHTEST)
    return Loaded(wanted, Load(whole * step.amount + 0, step.unit))  # + 0: a decimal may be minus nothing


def is_far(exact: Load, loaded: Load, one_rm: Load) -> bool:
    """Tell whether rounding moved a load by more than 5 points of 1RM."""
    of = one_rm if one_rm.unit is loaded.unit else one_rm.to(loaded.unit)
    return _moved(exact, loaded) * _HUNDRED > _COARSE_POINTS * of.amount


def is_coarse(exact: Load, loaded: Load, one_rm: Load, usual: Load | None) -> bool:
    """Tell whether rounding moved a load too far: it is far, and more than half the kit's usual step.

    Where the kit has no usual step (one size alone) the points decide.
    """
    if not is_far(exact, loaded, one_rm):
        return False
    return usual is None or _moved(exact, loaded) * _TWO > usual.to(loaded.unit).amount


def _moved(exact: Load, loaded: Load) -> Decimal:
    there = exact if exact.unit is loaded.unit else exact.to(loaded.unit)
    return abs(there.amount - loaded.amount)
