"""Exact quantities: loads with a unit, percentages. Decimals throughout; no cell, no rounding to kit.

A pound is 0.45359237 kg exactly (International yard and pound agreement, 1959; NIST SP 811 / Handbook 44
appendix C). The decimal context keeps 28 digits; a load is quantised once, just before it meets the kit.
"""

from __future__ import annotations

from decimal import ROUND_HALF_EVEN, Decimal
from enum import StrEnum
from functools import lru_cache

from compiler.frozen import frozen

KILOGRAMS_IN_A_POUND = Decimal("0.45359237")
POUNDS_IN_A_KILOGRAM = 1 / KILOGRAMS_IN_A_POUND
MICRO = Decimal("0.000001")
"""What a load is quantised to, half to even, just before it meets the kit: a millionth of its unit."""

_TENTH = Decimal("0.1")
_HUNDRED = Decimal(100)


class Unit(StrEnum):
    """A unit of load."""

    KG = "kg"
    LB = "lb"


def to_a_tenth(load: Load) -> str:
    """Return an exact load as a message shows it, rounded to a tenth of its unit, half to even."""
    return str(Load(load.amount.quantize(_TENTH, rounding=ROUND_HALF_EVEN), load.unit))


@lru_cache(maxsize=4096)
def plain(amount: Decimal) -> str:
    """Return a decimal as people write it: 95, 92.5, never 95.0 or 9.5E+1."""
    text = format(amount.normalize(), "f")
    return "0" if text == "-0" else text


def converted(amount: Decimal, unit: Unit, to: Unit) -> Decimal:
    """Return an amount of one unit in another, exact to 28 digits."""
    if unit is to:
        return amount
    return amount * KILOGRAMS_IN_A_POUND if to is Unit.KG else amount / KILOGRAMS_IN_A_POUND


@frozen
class Percent:
    """A percentage: 75 means 75 %."""

    value: Decimal

    @property
    def share(self) -> Decimal:
        """The percentage as a factor: 75 % is 0.75."""
        return self.value / _HUNDRED

    def __str__(self) -> str:
        return f"{plain(self.value)}%"


@frozen
class Load:
    """An amount of weight with its unit. Loads in two units meet only by way of `to`."""

    amount: Decimal
    unit: Unit

    def to(self, unit: Unit) -> Load:
        """Return the same load in another unit, exact to 28 digits."""
        if unit is self.unit:
            return self
        return Load(converted(self.amount, self.unit, unit), unit)

    def plus(self, other: Load) -> Load:
        """Return the sum, in this load's unit."""
        return Load(self.amount + other.to(self.unit).amount, self.unit)

    def minus(self, other: Load) -> Load:
        """Return the difference, in this load's unit."""
        return Load(self.amount - other.to(self.unit).amount, self.unit)

    def times(self, factor: Decimal) -> Load:
        """Return the load times a plain factor."""
        return Load(self.amount * factor, self.unit)

    def quantised(self) -> Load:
        """Return the load to the millionth of its unit, half to even: what rounding to kit starts from."""
        return Load(self.amount.quantize(MICRO, ROUND_HALF_EVEN), self.unit)

    def __str__(self) -> str:
        return f"{plain(self.amount)} {self.unit}"
