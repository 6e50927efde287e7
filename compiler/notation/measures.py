"""Amounts with a unit (bare, measured, clock and minutes_seconds of shared.lark) and ranges of them."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from compiler.flags.model import Remark
from compiler.frozen import frozen
from compiler.notation.numbers import Refused, decimal, whole
from compiler.notation.reading import Node, kind_of, quoted, tokens
from compiler.notation.values import DistanceUnit

MINUTE = 60
CLOCK = "clock"  # minutes and seconds in one, already in seconds
METRES_OR_MINUTES = "m"
FEET_OR_MINUTES = "'"
SECONDS_IN = {"s": 1, CLOCK: 1, "min": MINUTE, "h": 3600}
_UNITS = {
    "SECONDS": "s",
    "DOUBLE_PRIME": "s",
    "MINUTES": "min",
    "PRIME": FEET_OR_MINUTES,
    "HOURS": "h",
    "M": METRES_OR_MINUTES,
    "METRES": "metre",
    "KM": "km",
    "YARDS": "yd",
    "MILES": "mi",
    "BREATHS": "breaths",
    "STEPS": "steps",
    "CALORIES": "cal",
    "REPS": "reps",
    "BPM": "bpm",
}
DISTANCES = {
    "metre": DistanceUnit.METRE,
    "km": DistanceUnit.KILOMETRE,
    "yd": DistanceUnit.YARD,
    "mi": DistanceUnit.MILE,
}
_SURELY_METRES = 100


@frozen
class Amount:
    """A number and the unit typed after it; `unit` None where none was typed."""

    number: Decimal
    unit: str | None


@frozen
class Span:
    """One amount (both ends equal) or a range."""

    low: Amount
    high: Amount

    @property
    def unit(self) -> str | None:
        """The unit that counts: that of the last end."""
        return self.high.unit

    def within(self, unit: str | None) -> Span:
        """Return the span with ends that lack a unit in this one."""
        low, high = (replace(end, unit=unit) if end.unit is None else end for end in (self.low, self.high))
        return Span(low, high)


def amount_of(node: Node, otherwise: Remark) -> Amount:
    """Return what one of the four rules says."""
    parts = tokens(node)
    if node.data == "clock":
        minutes, _, seconds = str(parts[0]).partition(":")
        return _minutes_and_seconds(minutes or "0", seconds, otherwise)
    if node.data == "minutes_seconds":
        if len(parts) == 3 and len(parts[2]) != 2:  # 2m30 is a time, 2m 4 may be anything
            raise Refused(otherwise)
        return _minutes_and_seconds(str(parts[0]), str(parts[2]), otherwise)
    number = decimal(str(parts[0]))
    if number is None:
        raise Refused(otherwise)
    return Amount(number, _UNITS[kind_of(parts[1])] if len(parts) > 1 else None)


def _minutes_and_seconds(minutes: str, seconds: str, otherwise: Remark) -> Amount:
    over, rest = decimal(minutes), decimal(seconds)
    if over is None or rest is None or whole(over) is None or rest >= MINUTE:
        raise Refused(otherwise)
    return Amount(over * MINUTE + rest, CLOCK)


def span_of(low: Amount, high: Amount, otherwise: Remark) -> Span:
    """Return a range whose first end takes the unit of the last.

    Refused where the last end lacks the unit that the first has, or is a clock time and the first has none.
    """
    if (high.unit is None and low.unit is not None) or (low.unit is None and high.unit == CLOCK):
        raise Refused(otherwise)
    return Span(low, high).within(high.unit)


def seconds_of(span: Span, otherwise: Remark) -> tuple[int, int]:
    """Return both ends of a span of time in whole seconds, the shorter first; refuses anything else."""
    ends = [
        whole(end.number * SECONDS_IN[end.unit]) if end.unit in SECONDS_IN else None for end in (span.low, span.high)
    ]
    low, high = ends
    if low is None or high is None or low > high:
        raise Refused(otherwise)
    return low, high


def as_minutes(amount: Amount) -> Amount:
    """Return an amount where `m` and `'` can be nothing but minutes."""
    return replace(amount, unit="min") if amount.unit in {METRES_OR_MINUTES, FEET_OR_MINUTES} else amount


def settle_metres(spans: list[Span], text: str) -> list[Span]:
    """Return the spans with `m` as metres, where that is certain; `'` (feet or minutes) never is.

    It is certain where another length stands in the cell or a number with the `m` is 100 or more: as minutes
    that would be over an hour and a half. Anything else could be a hold of some minutes, and is refused. This
    is the one place where a reading looks at the size of a number, and it only ever rules a reading out.
    """
    ends = [end for span in spans for end in (span.low, span.high)]
    if any(end.unit == FEET_OR_MINUTES for end in ends):
        raise _two_readings("'", "feet", text)
    if any(end.unit == METRES_OR_MINUTES for end in ends) and not any(_surely_long(end) for end in ends):
        raise _two_readings("m", "metres", text)
    return [Span(_as_metres(span.low), _as_metres(span.high)) for span in spans]


def _surely_long(end: Amount) -> bool:
    return end.unit in DISTANCES or (end.unit == METRES_OR_MINUTES and end.number >= _SURELY_METRES)


def _two_readings(mark: str, length: str, text: str) -> Refused:
    found = f"The {mark} in {quoted(text)} can be read as {length} or as minutes."
    return Refused(Remark("metres-or-minutes", found, f"Write {length} or min instead."))


def _as_metres(amount: Amount) -> Amount:
    return replace(amount, unit="metre") if amount.unit == METRES_OR_MINUTES else amount
