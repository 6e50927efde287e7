"""Booklet values -> files, by one process or several; what the last run has drawn is taken from the folder."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Iterable, Iterator
from functools import partial

from compiler.documents.booklet_value import Booklet
from compiler.frozen import frozen
from compiler.layout.booklet import lay_out_booklet
from compiler.pipeline.kept import Drawn, Kept, booklet_key, password_key
from compiler.pipeline.workers import Ready, Workers, in_order
from compiler.render.booklet import render_booklet
from compiler.render.sealing import seal

ALONE = 20
"""So many booklets are drawn before workers start, where a run before has left some: mostly few have changed."""


@frozen
class Wanted:
    """A booklet that is to be made: the name of its file, what its value is made from, and what makes that."""

    name: str
    made_from: object
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

    Where not even what a booklet is made from has changed, its value is not built.
    """
    lock = password_key(password)
    draw = partial(draw_booklet, password=password)
    asked: deque[tuple[str, str, str]] = deque()

    def values() -> Iterator[Booklet | Ready[Drawn]]:
        for one in wanted:
            made_from = booklet_key(one.made_from, lock)
            key = kept.values.get(made_from, "")
            found = kept.booklet(key, one.name)
            if found is None:
                booklet = one.build()
                key = booklet_key(booklet, lock)
                found = kept.booklet(key, one.name)
            asked.append((one.name, made_from, key))
            yield booklet if found is None else Ready(found)

    for drawn in in_order(draw, values(), workers, alone=ALONE if kept.last else 0):
        name, made_from, key = asked.popleft()
        kept.note(made_from, key, drawn)
        yield name, drawn
