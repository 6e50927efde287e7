"""Sessions and what the log says of them -> how many were done."""

from __future__ import annotations

from collections.abc import Iterable

from compiler.frozen import frozen
from compiler.resolve.values import PlannedSession
from compiler.review.logged import LOGGED_PARTS, Logged


@frozen
class Attendance:
    """How many sessions were done, missed, and are not in the log: those may be untyped, or still to come."""

    done: int
    missed: int
    silent: int


def attendance(sessions: Iterable[PlannedSession], entries: Iterable[Logged]) -> Attendance:
    """Return how many of some sessions were done. One of which anything was done is done."""
    done = {id(entry.planned): not entry.missed for entry in entries}
    said = [
        [done[id(line)] for part in LOGGED_PARTS for line in session.parts[part] if id(line) in done]
        for session in sessions
    ]
    there, silent = sum(map(any, said)), sum(not lines for lines in said)
    return Attendance(there, len(said) - there - silent, silent)
