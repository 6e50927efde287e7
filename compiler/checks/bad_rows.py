"""Which rows nobody may use: those with an error that was found without any client.

The resolver stops whoever needs one of them. Where two rows are wrong together, both are bad: there is no
telling which of two exercises with one name is meant, or which row of a circle is the wrong one.
"""

from __future__ import annotations

from collections.abc import Iterable

from compiler.cellref import RowRef
from compiler.flags.model import Flag, Severity

WRONG_TOGETHER = frozenset(
    {
        "circular-instead",
        "circular-load-from",
        "duplicate-exercise",
        "duplicate-name",
        "weeks-overlap",
    }
)
"""Flags whose related cells stand in rows as wrong as their own."""


def bad_rows(flags: Iterable[Flag]) -> frozenset[RowRef]:
    """Return the rows that the errors among some flags leave unusable."""
    return frozenset(row for flag in flags for row in spoilt_rows(flag))


def spoilt_rows(flag: Flag) -> tuple[RowRef, ...]:
    """Return the rows that one flag leaves unusable, its own first; none where it is not an error."""
    if flag.severity is not Severity.ERROR or flag.place is None:
        return ()
    places = (flag.place, *(flag.related if flag.slug in WRONG_TOGETHER else ()))
    return tuple(dict.fromkeys(RowRef(place.sheet, place.row) for place in places))
