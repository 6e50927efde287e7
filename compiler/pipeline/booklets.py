"""Booklet values -> files, by one process or several; what the last run has drawn is taken from the folder."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Iterator
from functools import partial

from compiler.documents.booklet_value import Booklet
from compiler.layout.booklet import lay_out_booklet
from compiler.pipeline.kept import Drawn, Kept, booklet_key, password_key
from compiler.pipeline.workers import Ready, Workers, in_order
from compiler.render.booklet import render_booklet
from compiler.render.sealing import seal

ALONE = 20
"""So many booklets are drawn before workers start, where a run before has left some: mostly few have changed."""


def draw_booklet(booklet: Booklet, password: str = "") -> Drawn:
    """Return a booklet as a file; with a password it opens by that alone."""
    pages = lay_out_booklet(booklet)
    number = {session.key: place for place, session in enumerate(booklet.sessions)}
    content = render_booklet(pages)
    long = tuple((number[key], count) for key, count in pages.long_sessions)
    return Drawn(seal(content, password) if password else content, long)


def draw_changed(
    named: Iterable[tuple[str, Booklet]], kept: Kept, workers: Workers, password: str = ""
) -> Iterator[tuple[str, Booklet, Drawn]]:
    """Yield (name, value, file) in order; drawn are those alone that the last run has not drawn just so."""
    lock = password_key(password)
    draw = partial(draw_booklet, password=password)
    asked: deque[tuple[str, Booklet, str]] = deque()

    def values() -> Iterator[Booklet | Ready[Drawn]]:
        for name, booklet in named:
            key = booklet_key(booklet, lock)
            asked.append((name, booklet, key))
            found = kept.booklet(key, name)
            yield booklet if found is None else Ready(found)

    for drawn in in_order(draw, values(), workers, alone=ALONE if kept.last else 0):
        name, booklet, key = asked.popleft()
        kept.note(key, drawn)
        yield name, booklet, drawn
