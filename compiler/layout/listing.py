"""What the lists beside the booklets share: rows dealt out to pages, a table of them, the foot of a page."""

from __future__ import annotations

from collections.abc import Sequence

from compiler.layout.lines import plain
from compiler.layout.measures import FOOTER_SIZE, MM
from compiler.layout.metrics import Face, width
from compiler.layout.page import Branch, Group, Part, Role, Stroke, Text
from compiler.layout.piece import Piece, decoration, flush_right, placed, rule

FOOT_GAP = 6 * MM
_RULE_UP = FOOTER_SIZE * 0.78 + 1.8 * MM


def dealt(rows: Sequence[Piece], first_room: float, room: float) -> tuple[tuple[Piece, ...], ...]:
    """Return the rows of each page: those that fit below each other; at least one a page."""
    pages: list[list[Piece]] = [[]]
    left = first_room
    for row in rows:
        if row.height > left and pages[-1]:
            pages.append([])
            left = room
        pages[-1].append(row)
        left -= row.height
    return tuple(map(tuple, pages))


def table(rows: Sequence[Piece]) -> Piece:
    """Return rows below each other as one table."""
    parts: list[Part] = []
    y = 0.0
    for row in rows:
        parts.append(placed(row, y))
        y += row.height
    return Piece(y, (Branch(Role.TABLE, tuple(parts)),))


def foot(words: Sequence[str], number: str, live: float, baseline: float) -> Group:
    """Return the foot of a page: words on the left as far as they fit, the page's number on the right."""
    right = flush_right(number, live, baseline, Face.SEMIBOLD, FOOTER_SIZE)
    x = 0.0
    left = []
    for text in filter(None, map(plain, words)):
        if x + width(text, Face.REGULAR, FOOTER_SIZE) > right.x - FOOT_GAP:
            break
        left.append(Text(x, baseline, text, Face.REGULAR, FOOTER_SIZE))
        x += width(text, Face.REGULAR, FOOTER_SIZE) + FOOT_GAP
    return decoration(*rule(baseline - _RULE_UP, live, Stroke.THIN).marks, *left, right)
