"""Pages -> PDF bytes."""

from __future__ import annotations

from compiler.render.booklet.document import render_booklet, render_in_turn

__all__ = ["render_booklet", "render_in_turn"]
