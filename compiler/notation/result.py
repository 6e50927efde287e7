"""Results of tests that are not lifts: `45 s`, `12 reps`, `1000 m`, `112 bpm`."""

from __future__ import annotations

from decimal import Decimal

from compiler.flags.model import Remark
from compiler.notation.measures import SECONDS_IN, Amount, Span, amount_of, settle_metres
from compiler.notation.numbers import Refused, whole
from compiler.notation.reading import branches, grammar_text, guarded, quoted, tree_of
from compiler.notation.values import Result

MOST = Decimal(100_000)
SLOWEST_BEATS, FASTEST_BEATS = Decimal(25), Decimal(250)
_METRES_IN = {"metre": 1, "km": 1000}
_WHOLE = frozenset({"reps", "breaths", "steps", "cal"})
_HINT = "Write 45 s, 1:30, 12 reps, 1000 m or 112 bpm."

EXAMPLES: tuple[tuple[str, Result], ...] = (
    ("45 s", Result(Decimal(45), "s")),
    ("12 reps", Result(Decimal(12), "reps")),
    ("1000 m", Result(Decimal(1000), "m")),
    ("112 bpm", Result(Decimal(112), "bpm")),
    ("1:30", Result(Decimal(90), "s")),
    ("7:24.3", Result(Decimal("444.3"), "s")),
    ("2 min 30 s", Result(Decimal(150), "s")),
    ("2 km", Result(Decimal(2000), "m")),
    ("20 metres", Result(Decimal(20), "m")),
    ("100 yd", Result(Decimal(100), "yd")),
    ("15 cal", Result(Decimal(15), "cal")),
)

REFUSED: tuple[tuple[str, str], ...] = (
    ("", "not-a-number"),
    ("good", "not-a-number"),
    ("45", "not-a-number"),
    ("0 s", "not-a-number"),
    ("12.5 reps", "not-a-number"),
    ("40-45 s", "not-a-number"),
    ("300 bpm", "not-a-number"),
    ("80 kg", "not-a-number"),
    ("2 m", "metres-or-minutes"),
    ("2'", "metres-or-minutes"),
    ("1,000 m", "ambiguous-number"),
    ("1:75", "not-a-number"),
)


def read_result(text: str) -> Result | Remark:
    """Return a result: times in seconds (`s`), distances in `m`, `yd` or `mi`, the rest as counted."""
    return guarded(_read, text)


def _read(text: str) -> Result:
    unreadable = Remark("not-a-number", f"{quoted(text)} is not a result; expected a number and what it counts.", _HINT)
    tree = tree_of("result", grammar_text(text))
    if tree is None:
        raise Refused(unreadable)
    typed = amount_of(branches(tree)[0], unreadable)
    found = settle_metres([Span(typed, typed)], text)[0].low
    if found.unit == "bpm" and not SLOWEST_BEATS <= found.number <= FASTEST_BEATS:
        expected = f"is not a heart rate between {SLOWEST_BEATS} and {FASTEST_BEATS} bpm"
        raise Refused(Remark("not-a-number", f"{quoted(text)} {expected}.", _HINT))
    result = _result(found)
    if result is None:
        raise Refused(unreadable)
    return result


def _result(found: Amount) -> Result | None:
    if not 0 < found.number <= MOST or found.unit is None:
        return None
    if found.unit in SECONDS_IN:
        return Result(found.number * SECONDS_IN[found.unit], "s")
    if found.unit in _METRES_IN:
        return Result(found.number * _METRES_IN[found.unit], "m")
    if found.unit in _WHOLE and whole(found.number) is None:
        return None
    return Result(found.number, found.unit)
