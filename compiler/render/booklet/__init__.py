"""Pages -> PDF bytes."""

from __future__ import annotations

from compiler.render.booklet.document import render_booklet

__all__ = ["render_booklet"]
