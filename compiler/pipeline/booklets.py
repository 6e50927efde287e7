"""Booklet values -> files, by one process or several; what the last run has drawn is taken from the folder."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Iterable, Iterator
from functools import partial

from compiler.documents.booklet_value import Booklet
from compiler.frozen import frozen
from compiler.layout.booklet import lay_out_booklet
from compiler.pipeline.kept import Drawn, Kept, key_of, password_key
from compiler.pipeline.workers import Ready, Workers, in_order
from compiler.render.booklet import render_booklet
from compiler.render.sealing import seal

FEW = 20
"""So many booklets are drawn here before workers would have started."""


@frozen
class Wanted:
    """A booklet that is to be made: the name of its file, the key of what its value is made from, what makes that."""

    name: str
    made_from: str
    build: Callable[[], Booklet]


def draw_booklet(booklet: Booklet, password: str = "") -> Drawn:
    """Return a booklet as a file; with a password it opens by that alone."""
    pages = lay_out_booklet(booklet)
    content = render_booklet(pages)
    return Drawn(seal(content, password) if password else content, pages.long_sessions)


def draw_changed(
    wanted: Iterable[Wanted], kept: Kept, workers: Workers, password: str = ""
) -> Iterator[tuple[str, Drawn]]:
    """Yield each name and its file, in order. Drawn are those alone that the last run has not drawn just so.

    Where not even what a booklet is made from has changed, its value is not built; where that is so of all but a few,
    no workers are woken.
    """
    lock = password_key(password)
    draw = partial(draw_booklet, password=password)
    waiting = deque(wanted)
    asked: deque[tuple[str, str, str]] = deque()
    if sum(one.made_from not in kept.values for one in waiting) > FEW:
        workers.wake()

    def values() -> Iterator[Booklet | Ready[Drawn]]:
        while waiting:
            one = waiting.popleft()
            key = kept.values.get(one.made_from, "")
            found = kept.booklet(key, one.name)
            if found is None:
                booklet = one.build()
                key = key_of(booklet, lock)
                found = kept.booklet(key, one.name)
            asked.append((one.name, one.made_from, key))
            yield booklet if found is None else Ready(found)

    for drawn in in_order(draw, values(), workers):
        name, made_from, key = asked.popleft()
        kept.note(made_from, key, drawn)
        yield name, drawn
