"""Cells, names and heads of a room sheet -> pieces measured from their own top left corner."""

from __future__ import annotations

from compiler.documents.room_sheet_value import RoomBlock, RoomCell, RoomColumn, RoomRow
from compiler.fallback import remembered
from compiler.frozen import frozen
from compiler.layout.lines import glued, plain, wrap
from compiler.layout.measures import MM
from compiler.layout.metrics import Face, width
from compiler.layout.page import Group, Line, Mark, Role, Stroke, Text
from compiler.layout.piece import Piece, decoration, text_lines
from compiler.layout.room_style import RoomStyle

_BASELINE = 0.8
_SPACE = 4.0
_BLANK = 11 * MM
_BLANK_GAP = 2.5
_JOIN = ", "


@frozen
class Need:
    """How wide something must be so that no word breaks, and how wide it wants to be."""

    least: float
    wanted: float


@remembered(4096)
def cell_piece(cell: RoomCell, x: float, room: float, style: RoomStyle, *, beside: bool) -> Piece:
    """Return what a client does of one exercise: its load, small words beside it if wanted and it fits, or below.

    Down a column many cells are alike, so the last ones are kept.
    """
    baseline = style.load * _BASELINE
    drawn: list[Mark] = []
    texts: list[Mark] = []
    end = x
    lines: tuple[str, ...] = ()
    if cell.blank is not None:
        drawn.append(Line(x, baseline + 1.0, x + _BLANK, baseline + 1.0, Stroke.WRITING))
        unit = plain(cell.blank)
        texts.append(Text(x + _BLANK + _BLANK_GAP, baseline, unit, Face.REGULAR, style.small))
        end = x + _BLANK + _BLANK_GAP + width(unit, Face.REGULAR, style.small)
        lines = ("",)
    elif cell.text:
        lines = wrap(cell.text, Face.BOLD, style.load, room)
        texts += text_lines(lines, x, baseline, Face.BOLD, style.load, style.load_lead)
        end = x + width(lines[-1], Face.BOLD, style.load)
    low = baseline + max(len(lines) - 1, 0) * style.load_lead
    noted = plain(_JOIN.join(cell.notes))
    start = end + _SPACE if lines else x
    if not noted or (beside and start + width(noted, Face.REGULAR, style.small) <= x + room):
        if noted:
            texts.append(Text(start, low, noted, Face.REGULAR, style.small))
        height = max(len(lines), 1) * style.load_lead
    else:
        below = [line for note in cell.notes for line in wrap(note, Face.REGULAR, style.small, room)]
        down = len(lines) * style.load_lead
        texts += text_lines(below, x, down + style.small * _BASELINE, Face.REGULAR, style.small, style.small_lead)
        height = down + len(below) * style.small_lead
    parts = [Group(Role.CELL, tuple(texts))]
    return Piece(height, (*parts, decoration(*drawn)) if drawn else tuple(parts))


def fits_beside(cell: RoomCell, room: float, style: RoomStyle) -> bool:
    """Tell whether a cell's small words fit beside its load."""
    noted = width(plain(_JOIN.join(cell.notes)), Face.REGULAR, style.small)
    return not cell.notes or _load_width(cell, style) + _SPACE + noted <= room


@remembered(4096)
def cell_need(cell: RoomCell, style: RoomStyle) -> Need:
    """Return the widths of a cell: so that no word breaks, and so that its small words keep to a line each."""
    load = _load_width(cell, style)
    notes = [width(plain(note), Face.REGULAR, style.small) for note in cell.notes]
    unbroken = load if cell.blank is not None else _longest(cell.text, Face.BOLD, style.load)
    least = max(unbroken, *(_longest(note, Face.REGULAR, style.small) for note in cell.notes), 0.0)
    wanted = max(load, *notes, 0.0)
    if style.flat and notes:
        wanted = max(least, load + _SPACE + width(plain(_JOIN.join(cell.notes)), Face.REGULAR, style.small))
    return Need(least, wanted)


def _load_width(cell: RoomCell, style: RoomStyle) -> float:
    if cell.blank is not None:
        return _BLANK + _BLANK_GAP + width(plain(cell.blank), Face.REGULAR, style.small)
    return width(plain(cell.text), Face.BOLD, style.load)


def _longest(text: str, face: Face, size: float) -> float:
    """Return the width of the longest run that a line does not break."""
    return max((width(plain(word), face, size) for word in glued(text).split(" ")), default=0.0)


def name_piece(row: RoomRow, room: float, style: RoomStyle) -> Piece:
    """Return the name of a client, and below it what to have in mind."""
    lines = wrap(row.name, Face.SEMIBOLD, style.name, room)
    marks = text_lines(lines, 0.0, style.load * _BASELINE, Face.SEMIBOLD, style.name, style.load_lead)
    height = len(lines) * style.load_lead
    noted = plain("; ".join(row.notes))
    beside = width(lines[-1], Face.SEMIBOLD, style.name) + _SPACE if lines else 0.0
    if noted and beside + width(noted, Face.REGULAR, style.small) <= room:
        last = style.load * _BASELINE + (len(lines) - 1) * style.load_lead
        marks.append(Text(beside, last, noted, Face.REGULAR, style.small))
    elif noted:
        notes = wrap("; ".join(row.notes), Face.REGULAR, style.small, room)
        top = height + style.small * _BASELINE
        marks += text_lines(notes, 0.0, top, Face.REGULAR, style.small, style.small_lead)
        height += len(notes) * style.small_lead
    return Piece(height, (Group(Role.HEADER_CELL, tuple(marks)),))


def column_head(column: RoomColumn, x: float, room: float, style: RoomStyle) -> Piece:
    """Return the head of a column: label and exercise, what is done of it."""
    lead = style.head * 1.14
    name = " ".join(filter(None, (column.label, column.name)))
    y = style.head * _BASELINE
    marks: list[Mark] = []
    for words, face in ((name, Face.BOLD), (column.dose, Face.SEMIBOLD)):
        lines = wrap(words, face, style.head, room)
        marks += text_lines(lines, x, y, face, style.head, lead)
        y += len(lines) * lead
    small = style.small
    for note in column.notes:
        lines = wrap(note, Face.REGULAR, small, room)
        marks += text_lines(lines, x, y, Face.REGULAR, small, style.small_lead)
        y += len(lines) * style.small_lead
    return Piece(y - style.head * _BASELINE, (Group(Role.HEADER_CELL, tuple(marks)),))


def block_head(block: RoomBlock, x: float, room: float, style: RoomStyle) -> Piece:
    """Return the head over the columns of a block: its letter and kind, the rest."""
    lead = style.head * 1.14
    heads = wrap(block.head, Face.BOLD, style.head, room)
    rest = wrap(block.rest, Face.REGULAR, style.small, room)
    y = style.head * _BASELINE
    marks = text_lines(heads, x, y, Face.BOLD, style.head, lead)
    below = y + len(heads) * lead
    marks += text_lines(rest, x, below, Face.REGULAR, style.small, style.small_lead)
    return Piece(len(heads) * lead + len(rest) * style.small_lead, (Group(Role.HEADER_CELL, tuple(marks)),))


def head_need(column: RoomColumn, style: RoomStyle) -> Need:
    """Return the widths of the head of a column."""
    names = f"{column.label} {column.name}", column.dose
    bold = max(_longest(words, Face.BOLD, style.head) for words in names)
    notes = max((_longest(note, Face.REGULAR, style.small) for note in column.notes), default=0.0)
    return Need(max(bold, notes), max(bold, notes))


def block_need(block: RoomBlock, style: RoomStyle) -> float:
    """Return the width under which the head of a block would break within a word."""
    return max(_longest(block.head, Face.BOLD, style.head), _longest(block.rest, Face.REGULAR, style.small))
