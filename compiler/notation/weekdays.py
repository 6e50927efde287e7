"""Training days: `Mon Wed Fri`. They come out Monday first, whatever the order typed."""

from __future__ import annotations

from compiler.flags.model import Remark
from compiler.notation.numbers import Refused
from compiler.notation.reading import grammar_text, guarded, quoted, tokens, tree_of
from compiler.notation.values import Weekday

_HINT = "Write Mon Wed Fri."

EXAMPLES: tuple[tuple[str, tuple[Weekday, ...]], ...] = (
    ("Mon Wed Fri", (Weekday.MON, Weekday.WED, Weekday.FRI)),
    ("Mon, Wed", (Weekday.MON, Weekday.WED)),
    ("Tuesday and Thursday", (Weekday.TUE, Weekday.THU)),
    ("Sat/Sun", (Weekday.SAT, Weekday.SUN)),
    ("Fri, Mon.", (Weekday.MON, Weekday.FRI)),
    ("Tues & Thurs", (Weekday.TUE, Weekday.THU)),
)

REFUSED: tuple[tuple[str, str], ...] = (
    ("", "unknown-choice"),
    ("M W F", "unknown-choice"),
    ("Mon-Fri", "unknown-choice"),
    ("Mon Mon", "unknown-choice"),
    ("daily", "unknown-choice"),
    ("Monday morning", "unknown-choice"),
)


def read_weekdays(text: str) -> tuple[Weekday, ...] | Remark:
    """Return the days of the week, or why they could not be read."""
    return guarded(_read, text)


def _read(text: str) -> tuple[Weekday, ...]:
    tree = tree_of("weekdays", grammar_text(text))
    if tree is None:
        found = f"{quoted(text)} is not a list of days; expected each day by its name."
        raise Refused(Remark("unknown-choice", found, _HINT))
    days = [Weekday[token.type] for token in tokens(tree)]
    if len(set(days)) < len(days):
        raise Refused(Remark("unknown-choice", f"{quoted(text)} names a day twice.", _HINT))
    return tuple(day for day in Weekday if day in days)
