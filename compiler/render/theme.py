"""How booklets look where it is not a matter of measure: the strokes. Points, black, never dashed."""

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
}
