"""Values back into the words that are printed: `8–10`, `2 min 30 s`, `RPE 8`, `70–75%`.

A number and its unit are held together by a no-break space, so that a line never ends between them; ranges
have an en dash, the minus sign is a real one. `decimal_sign` is the Block's, for print alone.
"""

from __future__ import annotations

from decimal import Decimal
from functools import lru_cache

from compiler.notation.values import (
    AsManyAsPossible,
    AtLeast,
    Cluster,
    Count,
    Distance,
    Reps,
    RepsItem,
    Rest,
    Sets,
    ShareOfMost,
    Tally,
    Tempo,
    TestSet,
    Timed,
)
from compiler.quantities import Percent, plain

GLUE = "\u00a0"
_MINUTE = 60
_MINUTES_FROM = 120  # seconds; less is printed in seconds alone: 90 s


def number_words(number: Decimal, decimal_sign: str = ".") -> str:
    """Return a number as printed: 62.5, −20."""
    return plain(number).replace(".", decimal_sign).replace("-", "\u2212")


def range_words(low: Decimal | int, high: Decimal | int, decimal_sign: str = ".") -> str:
    """Return a range, or one number where both ends are equal."""
    ends = dict.fromkeys(number_words(Decimal(end), decimal_sign) for end in (low, high))
    return "–".join(ends)


def percent_words(low: Percent, high: Percent, decimal_sign: str = ".") -> str:
    """Return a percentage or a range of them."""
    return f"{range_words(low.value, high.value, decimal_sign)}%"


def seconds_words(seconds: int) -> str:
    """Return a time: 90 s, 2 min, 2 min 30 s."""
    if seconds < _MINUTES_FROM:
        return f"{seconds}{GLUE}s"
    minutes, rest = divmod(seconds, _MINUTE)
    return f"{minutes}{GLUE}min" + (f" {rest}{GLUE}s" if rest else "")


def time_words(low: int, high: int) -> str:
    """Return a time or a range of times, in one unit where that is exact."""
    if low == high:
        return seconds_words(low)
    if high < _MINUTES_FROM:
        return f"{low}–{high}{GLUE}s"
    if low % _MINUTE == high % _MINUTE == 0:
        return f"{low // _MINUTE}–{high // _MINUTE}{GLUE}min"
    return f"{seconds_words(low)} – {seconds_words(high)}"


def sets_words(sets: Sets) -> str:
    """Return a number of sets."""
    return range_words(sets.low, sets.high)


@lru_cache(maxsize=4096)
def reps_words(reps: Reps, decimal_sign: str = ".") -> str:
    """Return what is done in each set; a unit that all sets share is printed once, after the last.

    A row is said of every client, on the page, in the room sheet, the log entry and the summary: the last are kept.
    """
    shared = _shared_unit(reps)
    items = [item_words(item, decimal_sign) for item in reps.items]
    if shared:
        items[:-1] = [item.removesuffix(shared) for item in items[:-1]]
    return ", ".join(items) + (f"{GLUE}each{GLUE}side" if reps.each_side else "")


def _shared_unit(reps: Reps) -> str | None:
    units = {_unit(item) for item in reps.items}
    return units.pop() if len(units) == 1 else None


def _unit(item: RepsItem) -> str | None:
    match item:
        case Timed() if item.high < _MINUTES_FROM:
            return f"{GLUE}s"
        case Distance():
            return f"{GLUE}{item.unit}"
        case Tally():
            return f"{GLUE}{_tally_word(item)}"
    return None


def item_words(item: RepsItem, decimal_sign: str = ".") -> str:
    """Return what is done in one set."""
    match item:
        case Timed():
            return time_words(item.low, item.high)
        case Distance():
            return f"{range_words(item.low, item.high, decimal_sign)}{GLUE}{item.unit}"
        case Tally():
            return f"{range_words(item.low, item.high)}{GLUE}{_tally_word(item)}"
        case ShareOfMost():
            return f"{percent_words(item.percent, item.percent, decimal_sign)} of your most"
    return _counted_words(item)


def _counted_words(item: Count | AtLeast | AsManyAsPossible | TestSet | Cluster) -> str:
    match item:
        case Count():
            return range_words(item.low, item.high)
        case AtLeast():
            return f"{item.count}+"
        case TestSet():
            return f"heaviest{GLUE}{'single' if item.count == 1 else item.count}"
        case Cluster():
            return f"{GLUE}+{GLUE}".join(str(count) for count in item.counts)
    return "as many as possible"


def _tally_word(item: Tally) -> str:
    return item.word.removesuffix("s") if item.high == 1 else item.word


def rest_words(rest: Rest) -> str:
    """Return a rest: 90 s, 2 min 30 s, 60–90 s, no rest."""
    return "no rest" if rest.high == 0 else time_words(rest.low, rest.high)


def tempo_words(tempo: Tempo) -> str:
    """Return a tempo with as many parts as were written; X is as fast as possible."""
    parts = (tempo.lowering, tempo.pause, tempo.lifting, tempo.top)
    return "-".join("X" if part is None else str(part) for part in parts[: tempo.written])
