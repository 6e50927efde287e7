"""Stretches of time in a tree (the rules of shared.lark) as seconds."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from lark import Token

from compiler.notation.numbers import Refused, decimal, whole
from compiler.notation.reading import Node, tokens
from compiler.notation.values import Reason

MINUTE = 60
_SECOND_TOKENS = frozenset({"SECONDS", "DOUBLE_PRIME"})


@dataclass(frozen=True, slots=True)
class Stretch:
    """A time: `per` is the seconds in one of the unit typed, None where none was typed.

    `complete` is a time of minutes and seconds (`1:30`), which lends no unit to what stands before it.
    """

    number: Decimal
    per: int | None
    complete: bool = False

    def whole_seconds(self, per: int, otherwise: Reason) -> int:
        """Return the stretch in seconds, taken in `per` where no unit was typed; refused unless whole."""
        seconds = whole(self.number * (self.per or per))
        if seconds is None:
            raise Refused(otherwise)
        return seconds


def stretch(node: Node, otherwise: Reason) -> Stretch:
    """Return what a bare, timed, clock or minutes_seconds node says."""
    parts = tokens(node)
    if node.data == "clock":
        minutes, _, seconds = str(parts[0]).partition(":")
        return _minutes_and_seconds(minutes or "0", seconds, otherwise)
    if node.data == "minutes_seconds":
        return _minutes_and_seconds(str(parts[0]), str(parts[2]), otherwise)
    return Stretch(_number(parts[0], otherwise), _per(parts[1]) if len(parts) > 1 else None)


def span_in_seconds(low: Stretch, high: Stretch, bare: int | None, otherwise: Reason) -> tuple[int, int]:
    """Return both ends in seconds. The first end takes the unit of the last; `bare` is for ends without unit.

    Refused where the last end has no unit and the first has one, and where the ends run downwards.
    """
    per = high.per or bare
    unit_missing = low.per is None and high.complete
    if per is None or unit_missing or (high.per is None and low.per is not None):
        raise Refused(otherwise)
    ends = low.whole_seconds(per, otherwise), high.whole_seconds(per, otherwise)
    if ends[0] > ends[1]:
        raise Refused(otherwise)
    return ends


def _minutes_and_seconds(minutes: str, seconds: str, otherwise: Reason) -> Stretch:
    over, rest = decimal(minutes), decimal(seconds)
    if over is None or rest is None or whole(over) is None or rest >= MINUTE:
        raise Refused(otherwise)
    return Stretch(over * MINUTE + rest, 1, complete=True)


def _per(unit: Token) -> int:
    return 1 if unit.type in _SECOND_TOKENS else MINUTE


def _number(token: Token, otherwise: Reason) -> Decimal:
    number = decimal(str(token))
    if number is None:
        raise Refused(otherwise)
    return number
