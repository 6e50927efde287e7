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
from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal
from enum import StrEnum
from itertools import pairwise
from operator import attrgetter

from compiler.model.kit import Stock
from compiler.quantities import Load, Unit

_COARSE_POINTS = Decimal(5)
_HUNDRED = Decimal(100)
_TWO = Decimal(2)
_HALF = Decimal("0.5")
_amount = attrgetter("amount")


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


@dataclass(frozen=True, slots=True)
class Loaded:
    """What became of one exact load. `exact` is in the kit's unit, to the millionth.

    `load` is None where there is none (BELOW_LIGHTEST, NO_KIT); with TOO_HEAVY it is the heaviest there is.
    """

    exact: Load
    load: Load | None
    miss: Miss | None = None


def in_kit_unit(exact: Load, unit: Unit) -> Load:
    """Return the exact load as the rounding sees it: in the kit's unit, quantised once."""
    return exact.to(unit).quantised()


def usual_gap(ladder: Sequence[Decimal]) -> Decimal | None:
    """Return the most frequent gap between neighbours, the smaller in a tie; None for one size."""
    gaps = Counter(above - below for below, above in pairwise(ladder) if above > below)
    if not gaps:
        return None
    return min(gaps, key=lambda gap: (-gaps[gap], gap))


def usual_step(stock: Stock) -> Load | None:
    """Return the usual step between the sizes of a stock (not for plates: see `BarbellLoader.usual_step`)."""
    gap = _gap(stock)
    return None if gap is None else Load(gap, stock.unit)


def _gap(stock: Stock) -> Decimal | None:
    return usual_gap([size.amount for size in stock.sizes])


def between(below: Decimal, amount: Decimal, above: Decimal, rounding: Rounding) -> Decimal:
    """Return which of two neighbours to use for an amount that does not lie outside of them."""
    if rounding is Rounding.DOWN:
        return below
    if rounding is Rounding.UP:
        return above
    return below if amount - below <= above - amount else above


def reaches_down_to(heaviest: Decimal, gap: Decimal | None, amount: Decimal, rounding: Rounding) -> bool:
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


def round_to_sizes(exact: Load, stock: Stock, rounding: Rounding) -> Loaded:
    """Return the size to take from dumbbells, kettlebells, a stack or medicine balls; loads are of one piece.

    Amounts at or below zero never become a size. How many there are is not looked at.
    """
    wanted = in_kit_unit(exact, stock.unit)
    if not stock.sizes:
        return Loaded(wanted, None, Miss.NO_KIT)
    amount, lightest, heaviest = wanted.amount, stock.sizes[0].amount, stock.sizes[-1].amount
    if amount < lightest:
        if amount <= 0 or not _reaches_up_to(lightest, _gap(stock), amount, rounding):
            return Loaded(wanted, None, Miss.BELOW_LIGHTEST)
        return Loaded(wanted, Load(lightest, stock.unit))
    if amount > heaviest:
        covered = reaches_down_to(heaviest, _gap(stock), amount, rounding)
        return Loaded(wanted, Load(heaviest, stock.unit), None if covered else Miss.TOO_HEAVY)
    index = bisect_left(stock.sizes, amount, key=_amount)
    above = stock.sizes[index].amount
    below = above if above == amount else stock.sizes[index - 1].amount
    return Loaded(wanted, Load(between(below, amount, above, rounding), stock.unit))


def round_to_step(exact: Load, step: Load, rounding: Rounding, *, signed: bool = False) -> Loaded:
    """Return the multiple of a step, for a site without kit; in the unit of the step.

    A load that comes to nothing is a miss. `signed` is for what is added to body weight: nothing added and
    help (below zero) are answers then, and down means more help; a tie goes down there too.
    """
    wanted = in_kit_unit(exact, step.unit)
    if step.amount <= 0:
        return Loaded(wanted, None, Miss.NO_KIT)
    steps = wanted.amount / step.amount
    if rounding is Rounding.NEAREST:
        steps -= _HALF  # the ceiling of half a step less: a tie goes down on both sides of zero
    whole = steps.to_integral_value(ROUND_FLOOR if rounding is Rounding.DOWN else ROUND_CEILING)
    if whole <= 0 and not signed:
        return Loaded(wanted, None, Miss.BELOW_LIGHTEST)
    return Loaded(wanted, Load(whole * step.amount, step.unit))


def is_coarse(exact: Load, loaded: Load, one_rm: Load, usual: Load | None) -> bool:
    """Tell whether rounding moved a load too far.

    That is by more than 5 points of 1RM and more than half the kit's usual step. Where the kit has no usual
    step (one size alone) the points decide.
    """
    moved = abs(in_kit_unit(exact, loaded.unit).amount - loaded.amount)
    if moved * _HUNDRED <= _COARSE_POINTS * one_rm.to(loaded.unit).amount:
        return False
    return usual is None or moved * _TWO > usual.to(loaded.unit).amount
