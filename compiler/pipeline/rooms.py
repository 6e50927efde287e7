"""Room sheets -> their file. Sheets of groups in which nothing has changed are taken from the file of the last run."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from itertools import accumulate, chain
from pathlib import Path

from compiler.documents.held import Held
from compiler.documents.room_sheet import build_room_sheets
from compiler.documents.room_sheet_value import RoomSheets
from compiler.files_disk import digest
from compiler.frozen import frozen
from compiler.layout.room_sheet import lay_out_in_turn
from compiler.model.book import Book
from compiler.pipeline.inputs import Inputs
from compiler.pipeline.kept import Kept, Stretches, key_of, password_key
from compiler.pipeline.workers import Content, Workers
from compiler.render.booklet import read_sketches, render_in_turn
from compiler.resolve.values import ClientPlan

ROOMS = "coach/room-sheets.pdf"


@frozen
class _Last:
    """The file of the last run: where it is, its hash, what opens it; the pages of the groups that are unchanged."""

    path: Path
    digest: str
    password: str
    pages: dict[str, slice]


@frozen
class _Drawn:
    """The file, and how many pages each group has, by its folded name."""

    content: Content
    counts: dict[str, int]


def begin_rooms(
    book: Book,
    plans: Sequence[ClientPlan],
    held: Sequence[Held],
    inputs: Inputs,
    kept: Kept,
    workers: Workers,
    password: str,
) -> Callable[[], Content]:
    """Let a worker begin with the room sheets; return what waits for the file, empty where nobody has a plan."""
    if not plans:  # what is wrong with the Block may have stopped everybody
        return partial(Content, b"")
    lock = password_key(password)
    keys = {group: key_of(made_from, lock) for group, made_from in inputs.of_groups(book, plans, held).items()}
    build = partial(build_room_sheets, book, plans, held)

    def noted(drawn: _Drawn) -> Content:
        parts = tuple((keys[group], count) for group, count in drawn.counts.items())
        kept.files_now[ROOMS] = Stretches(parts=parts)
        return drawn.content

    last = _last(kept, keys, password)
    if not last.pages:
        drawing = workers.begin(_draw, build)
        return lambda: noted(drawing())
    some = workers.begin(partial(_draw_some, last), partial(build, last.pages.keys()))
    return lambda: noted(some() or _draw(build()))


def _last(kept: Kept, keys: dict[str, str], password: str) -> _Last:
    """Return what the last run left of the groups of these keys."""
    last = kept.files.get(ROOMS, Stretches())
    starts = accumulate((count for _, count in last.parts), initial=0)
    stood = {key: slice(first, first + count) for (key, count), first in zip(last.parts, starts, strict=False)}
    pages = {group: stood[key] for group, key in keys.items() if key in stood}
    return _Last(kept.folder / ROOMS, last.digest, password, pages)


def _draw(rooms: RoomSheets) -> _Drawn:
    if not rooms.sheets:  # everybody is away
        return _Drawn(Content(b""), {})
    made, pages = lay_out_in_turn(rooms)
    del rooms  # with many clients they and their pages are most of what a worker holds
    return _Drawn(Content(render_in_turn(made.file, pages)), made.counts)


def _draw_some(last: _Last, rooms: RoomSheets) -> _Drawn | None:
    """Draw the sheets of some groups between those of the last run; None where these cannot be taken over.

    A character that the first fonts lack has a code that depends on what was drawn before it in the same file.
    """
    content = last.path.read_bytes() if last.path.is_file() else b""
    if digest(content) != last.digest:
        return None
    sketches = read_sketches(content, last.password)
    ready = {group: sketches[pages] for group, pages in last.pages.items()}
    if not all(sketch.alike for sketch in chain.from_iterable(ready.values())):
        return None
    made, pages = lay_out_in_turn(rooms, ready)
    return _Drawn(Content(render_in_turn(made.file, pages)), made.counts)
