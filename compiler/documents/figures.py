"""Numbers as a booklet prints them: the Block's decimal sign, units, plates, ranges. Words are the how-to page's.

What a coach typed is never touched here; only numbers that the compiler made or read.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from decimal import Decimal

from compiler.frozen import frozen
from compiler.notation.values import Effort, EffortScale
from compiler.quantities import Load, Percent, plain
from compiler.resolve.values import Fitted, FittedRange

TIMES, DASH, MINUS = "\u00d7", "\u2013", "\u2212"
MONTHS = (
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
)


@frozen
class Figures:
    """How numbers are printed in one booklet: `sign` is the decimal sign."""

    sign: str = "."

    def amount(self, value: Decimal) -> str:
        """Return a number: 92.5, or 92,5; never a trailing nought."""
        return plain(value).replace(".", self.sign)

    def load(self, load: Load) -> str:
        """Return a load with its unit: 92.5 kg."""
        return f"{self.amount(load.amount)} {load.unit}"

    def percent(self, percent: Percent) -> str:
        """Return a percentage: 77.5%."""
        return f"{self.amount(percent.value)}%"

    def span(self, low: Decimal, high: Decimal) -> str:
        """Return a range, or one number where both ends are the same: 8 or 7–8."""
        if low == high:
            return self.amount(low)
        return f"{self.amount(low)}{DASH}{self.amount(high)}"

    def loads(self, item: FittedRange) -> str | None:
        """Return what an item of a load list says: 60 kg or 60–65 kg; None where there is no number."""
        low, high = item.low.load, item.high.load
        if low is None or high is None:
            return None
        return f"{self.span(low.amount, high.amount)} {low.unit}"

    def signed(self, load: Load) -> str:
        """Return a step with its sign before it: + 2.5 kg or − 5 kg."""
        sign = MINUS if load.amount < 0 else "+"
        return f"{sign} {self.amount(abs(load.amount))} {load.unit}"

    def plates(self, fitted: Fitted) -> str | None:
        """Return the plates of one side, biggest first: 25 + 10 + 2.5 a side; None where no bar is loaded."""
        if fitted.load is None or fitted.per_side is None:
            return None
        if fitted.bar is None:
            return self.plate_list(fitted.per_side)
        return f"{self.plate_list(fitted.per_side)} a side" if fitted.per_side else "the bar alone"

    def plate_list(self, plates: Iterable[Decimal]) -> str:
        """Return plates in their order on the bar: 25 + 10 + 2.5."""
        return " + ".join(self.amount(plate) for plate in plates)

    def effort(self, effort: Effort) -> str:
        """Return an effort as it was written: RPE 8, RPE 7–8, or 2 in reserve."""
        span = self.span(effort.low, effort.high)
        return f"RPE {span}" if effort.scale is EffortScale.RPE else f"{span} in reserve"

    def reserve(self, effort: Effort) -> str | None:
        """Return what an RPE leaves, in words: leave 3 in reserve; None where the words would say it twice."""
        if effort.scale is EffortScale.RIR:
            return None
        low, high = sorted((Decimal(10) - effort.high, Decimal(10) - effort.low))
        if low < 1 and low != high:
            return f"leave at most {self.amount(high)} in reserve"
        if high < 1:
            return "nothing left"
        return f"leave {self.span(low, high)} in reserve"


def day_words(day: date) -> str:
    """Return a day without its year: 14 December."""
    return f"{day.day} {MONTHS[day.month - 1]}"


def period_words(first: date, last: date) -> str:
    """Return the month of a block, or both months where it runs into another: December 2026 to January 2027."""
    start = f"{MONTHS[first.month - 1]} {first.year}"
    if (first.year, first.month) == (last.year, last.month):
        return start
    if first.year == last.year:
        start = MONTHS[first.month - 1]
    return f"{start} to {MONTHS[last.month - 1]} {last.year}"
