"""Ruled lines to write on: what is left of a page, and whole pages.

A page of them fills a folded booklet up, and faces a session that its neighbour would tear apart.
"""

from __future__ import annotations

from compiler.documents.booklet_value import Wording
from compiler.layout.editions import Edition
from compiler.layout.lines import plain
from compiler.layout.measures import MM, NOTES_MOST, NOTES_STEP, Sheet, Style
from compiler.layout.metrics import Face
from compiler.layout.page import Group, Line, Part, Role, Stroke, Text
from compiler.layout.piece import Filler, decoration, placed, rule
from compiler.layout.running import title_piece

NOTES_HEAD = 4 * MM
_LAST = 1 * MM
_BASELINE = 0.78
_BELOW_RULE = 1.1 * MM


def notes_below(filler: Filler, title: str, sheet: Sheet, style: Style, most: int = NOTES_MOST) -> bool:
    """Rule what is left of a page, `most` lines of it; false if not one fits."""
    lines = min(int((filler.room - NOTES_HEAD - _LAST) // NOTES_STEP), most)
    if lines < 1:
        return False
    y = filler.y
    head = Text(0.0, y + style.head * _BASELINE + _BELOW_RULE, plain(title), Face.BOLD, style.head)
    ruled = _ruled(y + NOTES_HEAD, lines, sheet)
    filler.add(rule(y, sheet.live, Stroke.BLOCK), Group(Role.HEADING, (head,)), ruled)
    return True


def notes_page(edition: Edition, wording: Wording) -> tuple[Part, ...]:
    """Return the parts of the page."""
    sheet = edition.sheet
    title = title_piece(wording.notes_page, sheet.live, edition.style)
    top = sheet.top + title.height
    lines = int((sheet.foot - _LAST - top) // NOTES_STEP)
    return placed(title, sheet.top), _ruled(top, lines, sheet)


def _ruled(top: float, count: int, sheet: Sheet) -> Group:
    """Return lines to write on, the first a step below the top."""
    lows = (top + (line + 1) * NOTES_STEP for line in range(count))
    return decoration(*(Line(0.0, low, sheet.live, low, Stroke.WRITING) for low in lows))
