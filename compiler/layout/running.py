"""What the pages of running text share: the title with its rule, framed texts."""

from __future__ import annotations

from collections.abc import Sequence

from compiler.layout.lines import fitted_lines
from compiler.layout.measures import BODY_LEAD, MM, STANDARD, Style
from compiler.layout.metrics import Face
from compiler.layout.page import Box, Group, Role, Stroke
from compiler.layout.piece import Piece, decoration, paragraph, placed, rule, stacked, text_lines

_BASELINE = 0.76
_TITLE_LEAD = 1.08
_UNDER_TITLE = 3 * MM
_AFTER_RULE = 2 * MM


def title_piece(title: str, live: float, style: Style = STANDARD) -> Piece:
    """Return a page title and the rule below it."""
    size, lines = fitted_lines(title, Face.BOLD, style.title, live, style.title_floor)
    lead = size * _TITLE_LEAD
    baseline = size * _BASELINE
    end = baseline + max(len(lines) - 1, 0) * lead + _UNDER_TITLE
    words = Group(Role.TITLE, tuple(text_lines(lines, 0.0, baseline, Face.BOLD, size, lead)))
    return Piece(end + _AFTER_RULE, (words, rule(end, live, Stroke.HEADER)))


def framed(title: str, texts: Sequence[str], live: float, body: float, stroke: Stroke) -> Piece:
    """Return a heading and paragraphs in a frame."""
    inset, lead = 4 * MM, body * BODY_LEAD
    room = live - 2 * inset
    inside = stacked(
        [
            paragraph(title, inset, room, Face.BOLD, body, lead, Role.HEADING),
            *(paragraph(text, inset, room, Face.REGULAR, body, lead) for text in texts),
        ]
    )
    height = inside.height + 6 * MM
    frame = decoration(Box(0.0, 0.0, live, height, stroke))
    return Piece(height, (frame, placed(inside, 3 * MM)))
