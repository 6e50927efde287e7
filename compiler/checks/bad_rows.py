"""Which rows nobody may use: those with an error that was found without any client.

The resolver stops whoever needs one of them. Where two rows are wrong together, both are bad: which of two
exercises of one name is meant, or which row of a circle, nobody knows.
"""

from __future__ import annotations

from collections.abc import Iterable

from compiler.cellref import RowRef
from compiler.flags.model import Flag, Severity

WRONG_TOGETHER = frozenset(
    {"duplicate-exercise", "duplicate-name", "circular-load-from", "circular-instead", "weeks-overlap"}
)
"""Flags whose related cells stand in rows as wrong as their own."""


def bad_rows(flags: Iterable[Flag]) -> frozenset[RowRef]:
    """Return the rows that flags of checks leave unusable."""
    places = [
        place
        for flag in flags
        if flag.severity is Severity.ERROR and flag.place is not None
        for place in (flag.place, *(flag.related if flag.slug in WRONG_TOGETHER else ()))
    ]
    return frozenset(RowRef(place.sheet, place.row) for place in places)
