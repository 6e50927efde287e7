"""A whole watch in an invented world: a clock that moves when the watch sleeps, a file that others write to."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path

import pytest

from compiler.documents.held import Held
from compiler.files import Beside, CannotWrite, Written
from compiler.flags.catalogue import flag
from compiler.flags.model import Flag, Remark
from compiler.pipeline.compile import Compiled
from compiler.pipeline.desk import NotInWorkbook
from compiler.source.unreadable import UnreadableWorkbook, damaged
from compiler.told import told_of_held
from compiler.watch.loop import Outside, Watch
from compiler.watch.saves import Look

GOOD, OTHER, TORN = b"good", b"other", b"torn"
NOTE = flag(Remark("unused-exercises", "One exercise is not used."))
OVER = 600.0
"""Seconds after which an invented day is over."""


def compiled(_: bytes, *flags: Flag, beside: tuple[Beside, ...] = ()) -> Compiled:
    """Return what a run without booklets leaves."""
    written = Written(Path("out"), {}, (), (), (), beside, ())
    return Compiled(None, flags, (), (), Path("out"), written, 0, ())


@dataclass
class World:
    """A file, its clock, what happens to it when, what is made of it, and what was said."""

    events: dict[float, Callable[[], None]] = field(default_factory=dict)
    content: bytes | None = GOOD
    saves: int = 0
    time: float = 0.0
    held: bool = False
    made: list[bytes] = field(default_factory=list)
    make: Callable[[bytes], Compiled] = compiled
    said: list[str] = field(default_factory=list)

    def save(self, content: bytes | None) -> None:
        """Let somebody save the file, or delete it."""
        self.content, self.saves = content, self.saves + 1

    def look(self) -> Look | None:
        """Return what the system says of the file."""
        return None if self.content is None else Look(len(self.content), self.saves, 1)

    def read(self) -> bytes:
        """Return what the file holds."""
        if self.content is None:
            raise damaged("block.xlsx", "there is none")
        if self.held:
            raise damaged("block.xlsx", "another program holds it") from PermissionError()
        return self.content

    def sleep(self, seconds: float) -> None:
        """Move the clock on, and let happen what is due."""
        self.time += seconds
        for when in sorted(at for at in self.events if at <= self.time):
            self.events.pop(when)()
        if self.time > OVER:
            raise KeyboardInterrupt

    def compile(self, data: bytes) -> Compiled:
        """Return what is made of the file."""
        self.made.append(data)
        if data == TORN:
            raise damaged("block.xlsx", "it ends in the middle")
        return self.make(data)

    def say(self, text: str) -> None:
        """Take note of a line."""
        self.said.append(text)

    def flags(self, flags: tuple[Flag, ...], *, counts: bool) -> None:
        """Take note of flags."""
        self.said.append(f"{len(flags)} flags{', counted' if counts else ''}")

    def trouble(self, error: Exception) -> None:
        """Take note of an exception."""
        self.said.append(f"{type(error).__name__}")


def watched(world: World) -> list[str]:
    """Return what is said after the watch began, until the day is over."""
    watch = Watch("block.xlsx", Outside(world.look, world.read, lambda: world.time, world.sleep), world.compile, world)
    watch.begin()
    assert world.said[-1].startswith("Watching block.xlsx")
    world.said.clear()
    with pytest.raises(KeyboardInterrupt):
        watch.run()
    assert not watch.working
    return world.said


def at(world: World, events: dict[float, Callable[[], None]]) -> World:
    world.events = events
    return world


def test_saved_without_a_change() -> None:
    """The same bytes are not compiled again; other bytes are, and say what they changed."""
    world = World()
    at(world, {10: lambda: world.save(GOOD), 20: lambda: world.save(OTHER)})
    assert watched(world) == ["Saved, nothing changed", "Saved, nothing changed"]
    assert world.made == [GOOD, OTHER]


def test_a_second_save_within_the_coarseness_of_a_drive() -> None:
    """Content alone tells it: size and time are as they were."""
    world = World()

    def unseen() -> None:
        world.content = b"evil"

    at(world, {10: lambda: world.save(GOOD[::-1]), 11.5: unseen})
    watched(world)
    assert world.made == [GOOD, GOOD[::-1], b"evil"]


def test_torn_once_is_nothing_torn_twice_is_told() -> None:
    """A torn file is read again before anything is said; the watch goes on and takes the next save."""
    world = World()
    at(world, {10: lambda: world.save(TORN), 11: lambda: world.save(OTHER)})
    assert watched(world) == ["Saved, nothing changed"]
    world = World()
    at(world, {10: lambda: world.save(TORN), 30: lambda: world.save(TORN), 50: lambda: world.save(OTHER)})
    assert watched(world) == ["UnreadableWorkbook", "UnreadableWorkbook", "Saved, nothing changed"]
    assert world.made == [GOOD, TORN, TORN, TORN, TORN, OTHER]


def test_a_held_file_is_tried_until_it_is_free() -> None:
    """The spreadsheet program holds the file for a while: told once, and read when it lets go, without another save."""
    world = World()

    def hold() -> None:
        world.save(OTHER)
        world.held = True

    at(world, {10: hold, 60: lambda: setattr(world, "held", False)})
    assert watched(world) == ["UnreadableWorkbook", "Saved, nothing changed"]
    assert world.made == [GOOD, OTHER]


def test_a_locked_output_is_tried_again() -> None:
    """A booklet is open in a viewer: told once, and written when it is closed, without another save."""
    world = World()
    locked = [True]

    def make(data: bytes) -> Compiled:
        if data == OTHER and locked[0]:
            raise CannotWrite("booklets/imogen-thackray.pdf is open in another program.")
        return compiled(data)

    world.make = make
    at(world, {10: lambda: world.save(OTHER), 100: locked.clear, 100.1: lambda: locked.append(False)})
    assert watched(world) == ["CannotWrite", "Saved, nothing changed"]
    assert 3 <= len(world.made) < 12  # less and less often: OVER seconds, and no more than one a minute in the end


def test_gone_is_told_once_and_waited_for() -> None:
    """Deleted, and later put back."""
    world = World()
    at(world, {10: lambda: world.save(None), 300: lambda: world.save(OTHER)})
    assert watched(world) == [
        "block.xlsx is not there any more; waiting for it to come back.",
        "Saved, nothing changed",
    ]


def test_flags_that_came_and_went() -> None:
    """Only what is new is shown, what went is counted."""
    world = World()
    world.make = lambda data: compiled(data, NOTE) if data == GOOD else compiled(data)
    at(world, {10: lambda: world.save(OTHER), 20: lambda: world.save(GOOD)})
    assert watched(world) == [
        "Saved, nothing changed",
        "Flags gone: 1 note (unused-exercises at the workbook); now no flags",
        "Saved, nothing changed",
        "1 flags",
        "Flags new: 1 note; now 1 note",
    ]


def test_a_kept_file_and_a_held_client_are_told_when_they_come() -> None:
    """Each once, and not again at every save."""
    world = World()
    made = {
        GOOD: compiled(GOOD),
        OTHER: Compiled(
            None,
            (),
            (),
            (Held("Rufus Pemberly", (NOTE,)),),
            Path("out"),
            Written(Path("out"), {}, (), (), (), (Beside("coach/log-entry.xlsx", "coach/log-entry (new).xlsx"),), ()),
            0,
            (),
        ),
    }
    world.make = lambda data: made.get(data, made[OTHER])
    at(world, {10: lambda: world.save(OTHER), 20: lambda: world.save(b"third")})
    assert watched(world) == [
        "Saved, nothing changed",
        "No booklet for Rufus Pemberly: unused-exercises at the workbook",
        "coach/log-entry.xlsx was edited and left as it is; the new one is coach/log-entry (new).xlsx",
        "Saved, nothing changed",
    ]


def test_whatever_happens_the_watch_goes_on() -> None:
    """A client that was chosen and has left, and a mistake of ours, are told; the next save is taken."""
    world = World()

    def make(data: bytes) -> Compiled:
        if data == b"left":
            raise NotInWorkbook("There is no client Rufus Pemberly.")
        if data == b"bug":
            raise ZeroDivisionError
        return compiled(data)

    world.make = make
    at(world, {10: lambda: world.save(b"left"), 20: lambda: world.save(b"bug"), 30: lambda: world.save(OTHER)})
    assert watched(world) == ["There is no client Rufus Pemberly.", "ZeroDivisionError", "Saved, nothing changed"]


def test_a_beginning_without_a_file_is_an_end() -> None:
    """A name that was mistyped is not waited for."""
    world = World(content=None)
    with pytest.raises(UnreadableWorkbook):
        watched(world)


def test_a_beginning_with_a_torn_file_is_told_and_waited_out() -> None:
    """Nothing is told before the second try; then the first good save tells all that compiling tells."""
    world = World(content=TORN)
    at(world, {20: lambda: world.save(GOOD)})
    said = watched(world)
    assert said[:2] == ["UnreadableWorkbook", "0 flags, counted"]


def test_many_held_for_one_reason_are_one_line() -> None:
    """One bad cell of the Programme stops many; the line names some and counts the others."""
    held = [Held(f"Client {number}", (NOTE,)) for number in range(12)]
    assert told_of_held(held) == [
        f"No booklet for {', '.join(one.client for one in held[:8])} and 4 more: unused-exercises at the workbook"
    ]
