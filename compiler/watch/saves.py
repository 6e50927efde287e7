"""When a workbook that is being saved is whole: looks at the file, one after the other -> the moments to read it.

A loop of looks, on purpose: systems do not tell of changes on network drives of their own accord, and never that a save
has ended. A spreadsheet program empties the file and fills it, or puts another in its place; either way the file is
whole once it has been still for a while. Nothing here waits or reads; time is told from outside.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum, auto
from pathlib import Path

from compiler.frozen import frozen

EVERY = 0.25
"""Seconds between two looks: our own choice, far below what anybody notices, and next to nothing for a drive."""

STILL = 0.6
"""Seconds for which a file must not change before it is read: longer than a save pauses on its way to a drive."""

COARSE = 3.0
"""Seconds after which a file is read once more: some drives keep times to two seconds, and a second save of the same
size within them looks like the first."""

AWAY = 2.0
"""Seconds after which a file that is not there is gone, and not about to be put in its place again."""


@frozen
class Look:
    """What the system says of a file at one moment."""

    size: int
    changed: int
    number: int


def look_at(path: Path) -> Look | None:
    """Return what the system says of a file now; None where it says that there is none, or nothing at all."""
    try:
        found = path.stat()
    except (OSError, ValueError):
        return None
    return Look(found.st_size, found.st_mtime_ns, found.st_ino)


class News(Enum):
    """What a look makes known."""

    NOTHING = auto()
    SAVED = auto()
    """The file is another than was read last, and still."""
    AGAIN = auto()
    """It seems the same, and is to be read once more."""
    GONE = auto()


@dataclass(slots=True)
class Saves:
    """What has been seen of a file so far. Times are seconds of one clock that never goes back."""

    look: Look | None = None
    since: float = 0.0
    taken: Look | None = None
    due: float | None = None
    gone: bool = False

    def see(self, look: Look | None, now: float) -> News:
        """Take note of a look; return what it makes known."""
        if look != self.look:
            self.look, self.since, self.due = look, now, None
        if look is None:
            return self._away(now)
        if now - self.since < STILL:
            return News.NOTHING
        self.gone = False
        if look != self.taken:
            self.taken = look
            self.due = now + COARSE
            return News.SAVED
        if self.due is not None and now >= self.due:
            self.due = None
            return News.AGAIN
        return News.NOTHING

    def _away(self, now: float) -> News:
        if self.gone or now - self.since < AWAY:
            return News.NOTHING
        self.gone, self.taken = True, None
        return News.GONE

    def read_again(self, when: float) -> None:
        """Have the file read again at a time, though it seems the same."""
        self.due = when
