"""A warm-up or a cool-down -> a piece: heading, then lines with a box to tick, in two columns or one."""

from __future__ import annotations

from compiler.documents.booklet_value import TickItem, TickList, Wording
from compiler.fallback import remembered
from compiler.layout.lines import plain, unbroken, wrap
from compiler.layout.measures import MM, Style
from compiler.layout.metrics import Face, width
from compiler.layout.page import Box, Branch, Group, Part, Role, Stroke, Text
from compiler.layout.piece import Piece, decoration, placed, text_lines
from compiler.layout.row import changed_piece

_COLUMN_GAP = 6 * MM
_LEAD = 1.2
_STEP = 1.42
_AFTER_TITLE = 1.4 * MM
_AFTER = 1.6 * MM
_BASELINE = 0.8


def _words(item: TickItem, room: float, size: float) -> str:
    """Return the words of an item, its detail kept together if that fits on a line."""
    if not item.detail:
        return item.text
    fits = width(plain(item.detail), Face.REGULAR, size) <= room
    detail = unbroken(item.detail) if fits else item.detail
    return f"{item.text}, {detail}" if item.text else detail


def _item(item: TickItem, x: float, room: float, style: Style, wording: Wording) -> Piece:
    size = style.tick
    text_x = x + style.tick_text
    text_room = room - style.tick_text
    lines = wrap(_words(item, text_room, size), Face.REGULAR, size, text_room)
    marks = text_lines(lines, text_x, size * _BASELINE, Face.REGULAR, size, size * _LEAD)
    box = decoration(Box(x, 0.3 * MM, style.tick_box, style.tick_box, Stroke.TICK))
    inner: list[Part] = [Group(Role.BODY, tuple(marks))]
    y = size * _STEP + max(len(lines) - 1, 0) * size * _LEAD
    extras = []
    if item.changed is not None:
        extras.append(changed_piece(item.changed, text_x, text_room, style, wording))
    if item.cue:
        cue = wrap(item.cue, Face.REGULAR, style.small, text_room)
        below = text_lines(cue, text_x, style.small * _BASELINE, Face.REGULAR, style.small, style.small_lead)
        extras.append(Piece(len(cue) * style.small_lead, (Group(Role.PARAGRAPH, tuple(below)),)))
    for extra in extras:
        inner.append(placed(extra, y - size * (_STEP - _LEAD)))
        y += extra.height
    return Piece(y, (box, Branch(Role.ITEM, tuple(inner))))


@remembered(256)
def tick_list(ticks: TickList, live: float, style: Style, wording: Wording) -> Piece:
    """Return the list, filled column by column where there are two; nothing if it has no lines.

    A warm-up is the same week after week and for many clients, so the last ones are kept.
    """
    if not ticks.items:
        return Piece(0.0, ())
    count = min(style.tick_columns, len(ticks.items))
    room = (live - (count - 1) * _COLUMN_GAP) / count
    title = Text(0.0, style.tick * 0.95, plain(ticks.title), Face.BOLD, style.head)
    top = style.head * 1.2 + _AFTER_TITLE
    columns: list[list[Part]] = []
    ends = [top]
    each = -(-len(ticks.items) // count)
    for column in range(count):
        y = top
        parts: list[Part] = []
        for item in ticks.items[column * each : (column + 1) * each]:
            piece = _item(item, column * (room + _COLUMN_GAP), room, style, wording)
            parts.append(placed(piece, y))
            y += piece.height
        columns.append(parts)
        ends.append(y)
    branch = Branch(Role.LIST, tuple(part for parts in columns for part in parts))
    return Piece(max(ends) + _AFTER, (Group(Role.HEADING, (title,)), branch))
