"""The watch itself: looks at the workbook, has it compiled at every save, says what came of it, and goes on.

What the file, the folder or this program make difficult is said once, and waited for; only the keyboard ends a watch.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from typing import Protocol

from compiler.files import CannotWrite
from compiler.files_disk import digest
from compiler.flags.model import Flag
from compiler.frozen import frozen
from compiler.model.book import Book
from compiler.pipeline.compile import Compiled
from compiler.pipeline.desk import NotInWorkbook
from compiler.source.unreadable import UnreadableWorkbook
from compiler.source.xlsx import read_file
from compiler.told import told
from compiler.watch.edits import edits
from compiler.watch.saves import EVERY, Look, News, Saves, look_at
from compiler.watch.words import NOTHING, difference, told_of_flags, told_of_rest, told_of_save

TRIES = 2
"""A file that cannot be read is told of after so many tries in a row."""

RETRY = 1.0
"""Seconds between two tries to read a file that another program holds."""

WRITE_AGAIN = (5.0, 60.0)
"""Seconds after which what could not be written is tried again, and the longest that the wait, doubled, may grow to."""


class Speaker(Protocol):
    """How a watch speaks to people."""

    def say(self, text: str) -> None:
        """Write a line."""

    def flags(self, flags: tuple[Flag, ...], *, counts: bool) -> None:
        """Write flags, with their counts or without."""

    def trouble(self, error: Exception) -> None:
        """Say what an exception means."""


@frozen
class Outside:
    """What a watch needs of the world: a file's looks and bytes, seconds of a clock that never goes back, sleep."""

    look: Callable[[], Look | None]
    read: Callable[[], bytes]
    now: Callable[[], float] = time.monotonic
    sleep: Callable[[float], None] = time.sleep


def outside(workbook: Path) -> Outside:
    """Return the real world, for one file."""
    return Outside(lambda: look_at(workbook), lambda: read_file(workbook))


@dataclass(slots=True)
class Watch:
    """One watch. `make` compiles what a file holds; `working` is true while it does.

    `content` is the hash of what was compiled last, `last` what came of it, `book` the last that could be understood.
    """

    name: str
    world: Outside
    make: Callable[[bytes], Compiled]
    speaker: Speaker
    working: bool = False
    saves: Saves = field(default_factory=Saves)
    content: str | None = None
    last: Compiled | None = None
    book: Book | None = None
    failed: int = 0
    said: str | None = None
    pause: float = WRITE_AGAIN[0]

    def begin(self) -> None:
        """Compile at once. Raises `UnreadableWorkbook` where there is no file, `NotInWorkbook` as compiling does."""
        look, now = self.world.look(), self.world.now()
        if look is None:
            self.world.read()
        self.saves = Saves(look, now, look)
        data = self._read(News.SAVED)
        if data is not None:
            self._compile(data)
        self.speaker.say(f"Watching {self.name}: it is compiled again at every save. Ctrl-C ends this.")

    def run(self) -> None:
        """Watch until interrupted."""
        while True:
            self.step()
            self.world.sleep(EVERY)

    def step(self) -> None:
        """Look at the file once, and do what there is to do."""
        news = self.saves.see(self.world.look(), self.world.now())
        if news is News.GONE:
            self.speaker.say(f"{self.name} is not there any more; waiting for it to come back.")
        elif news in {News.SAVED, News.AGAIN}:
            data = self._read(news)
            if data is not None:
                self._compile_again(data)

    def _read(self, news: News) -> bytes | None:
        """Return what the file holds, None where it is not to be compiled: not readable, not whole, or as it was."""
        if news is News.SAVED:
            self.failed, self.said = 0, None
        try:
            data = self.world.read()
        except UnreadableWorkbook as error:
            self._unreadable(error)
            return None
        if self.world.look() != self.saves.look:
            return None  # it is being saved this moment; the next look begins anew
        if digest(data) == self.content:
            if news is News.SAVED:
                self.speaker.say(NOTHING)
            return None
        return data

    def _compile_again(self, data: bytes) -> None:
        try:
            self._compile(data)
        except NotInWorkbook as unknown:
            self._once(unknown.message)

    def _compile(self, data: bytes) -> None:
        try:
            compiled = self._made(data)
        except UnreadableWorkbook as error:
            self._unreadable(error)
        except CannotWrite as error:
            self._once(error.message, error)
            self.saves.read_again(self.world.now() + self.pause)
            self.pause = min(2 * self.pause, WRITE_AGAIN[1])
        except NotInWorkbook:
            self.content = digest(data)
            raise
        except Exception as error:  # noqa: BLE001 - whatever it is, it is told, and the next save may be better
            self.content = digest(data)
            self._once(repr(error), error)
        else:
            self._tell(compiled)
            self.content, self.last = digest(data), compiled
            self.book = compiled.book or self.book
            self.failed, self.said, self.pause = 0, None, WRITE_AGAIN[0]

    def _made(self, data: bytes) -> Compiled:
        """Return what was made; an interruption leaves `working` as it found it."""
        self.working = True
        try:
            compiled = self.make(data)
        except Exception:
            self.working = False
            raise
        self.working = False
        return compiled

    def _unreadable(self, error: UnreadableWorkbook) -> None:
        """Try once more, and then say so; what another program holds is tried until it lets go."""
        self.content = None
        self.failed += 1
        if self.failed >= TRIES:
            self._once(error.flag.message, error)
        if self.failed < TRIES or isinstance(error.__cause__, OSError):
            self.saves.read_again(self.world.now() + RETRY)

    def _once(self, words: str, error: Exception | None = None) -> None:
        if words == self.said:
            return
        self.said = words
        if error is None:
            self.speaker.say(words)
        else:
            self.speaker.trouble(error)

    def _tell(self, after: Compiled) -> None:
        """Say what came of a save; of the first all that `compile` says."""
        before, flags = self.last, after.flags
        if before is None:
            self.speaker.flags(flags, counts=True)
            self.speaker.say(told(after))
            return
        edited = edits(self.book, after.book) if self.book and after.book else ()
        self.speaker.say(told_of_save(edited, before, after))
        for line in told_of_rest(before, after):
            self.speaker.say(line)
        found = difference(before.flags, flags)
        if found.new:
            self.speaker.flags(found.new, counts=False)
        if words := told_of_flags(found, flags):
            self.speaker.say(words)
