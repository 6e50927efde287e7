"""How booklets look where it is not a matter of measure: the strokes. Points, black."""

from __future__ import annotations

from compiler.layout.page import Stroke

STROKES = {
    Stroke.COVER: 3.0,
    Stroke.HEADER: 1.5,
    Stroke.FRAME: 1.5,
    Stroke.BRACKET: 1.4,
    Stroke.TABLE: 1.2,
    Stroke.BLOCK: 0.75,
    Stroke.BOX: 0.75,
    Stroke.TAG: 0.75,
    Stroke.TICK: 0.6,
    Stroke.THIN: 0.5,
    Stroke.WRITING: 0.4,
    Stroke.GRID: 0.5,
    Stroke.PAST: 1.2,
    Stroke.PLAN: 0.9,
}

DASHES = {Stroke.GRID: (0.5, 2.0), Stroke.PLAN: (3.0, 2.0)}
"""Black and gap of the strokes that are broken: in charts alone, where a copy still tells plan from record."""
