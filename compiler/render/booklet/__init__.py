"""Pages -> PDF bytes."""

from __future__ import annotations

from compiler.render.booklet.document import render_booklet, render_in_turn
from compiler.render.booklet.sketch import Sketch, read_sketches

__all__ = ["Sketch", "read_sketches", "render_booklet", "render_in_turn"]
