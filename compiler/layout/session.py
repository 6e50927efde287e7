"""One session -> the bodies of its pages, without footers.

A session keeps to one page if it can: in the first style of its edition, else in a closer one. In a folded booklet
it may stand on two facing pages, parted between blocks as evenly as they allow, or else within one. One that fits
neither stands over as few pages as it can. A short one opens up.
"""

from __future__ import annotations

from compiler.documents.booklet_value import Session, Wording
from compiler.fallback import remembered
from compiler.frozen import frozen
from compiler.layout.block import AFTER_BLOCK, MeasuredBlock, block_rule, bracket, measure_block
from compiler.layout.boxes import log_frame
from compiler.layout.editions import Edition
from compiler.layout.lines import fitted_lines, plain, wrap
from compiler.layout.measures import MM, NOTES_STEP, ROW_OPENING, Sheet, Style
from compiler.layout.metrics import Face
from compiler.layout.notes import NOTES_HEAD, notes_below
from compiler.layout.page import Box, Group, Mark, Part, Role, Stroke, Text
from compiler.layout.piece import Filler, Piece, decoration, rule, text_lines
from compiler.layout.row import RowSpec
from compiler.layout.ticks import tick_list

_FIELD_GAP = 4 * MM
_CAPTION_INSET = 1.1 * MM
_CAPTION_DOWN = 1.06
_TITLE_LEAD = 1.08
_TITLE_BASELINE = 0.75
_AGAIN = 0.75
_AFTER_HEADER = 1.2 * MM
_NOTES_KEPT = 46 * MM
_SMALL_OPENING = 0.8 * MM
_MOSTLY = 0.8
_WHOLE_UP_TO = 4
_FACING = 2
_BLOCK_TOP = 1.1 * MM
_SOME_LINES = 20 * MM


@frozen
class _Measured:
    """A session measured in one style."""

    style: Style
    header: Piece
    header_again: Piece
    warm_up: Piece
    blocks: tuple[MeasuredBlock, ...]
    cool_down: Piece

    @property
    def height(self) -> float:
        """The height of everything on one page."""
        blocks = sum(block.height for block in self.blocks)
        return self.header.height + self.warm_up.height + blocks + self.cool_down_height

    @property
    def cool_down_height(self) -> float:
        """The height of the cool-down and its rule."""
        return self.cool_down.height + _BLOCK_TOP if self.cool_down.parts else 0.0

    @property
    def rows(self) -> int:
        """How many exercises there are."""
        return sum(len(block.rows) for block in self.blocks)


def lay_out_session(session: Session, edition: Edition, wording: Wording) -> tuple[tuple[Part, ...], ...]:
    """Return the parts of each page of a session."""
    sheet = edition.sheet
    room = sheet.foot - sheet.top
    tried: list[_Measured] = []
    for style in edition.styles:
        measured = _measure(session, sheet, style, wording)
        if measured.height <= room:
            return _fill(measured, sheet, wording, _opening(room, measured))
        tried.append(measured)
    for measured in tried if edition.folded else ():
        turn = _even_turn(measured, room)
        if turn:
            return _fill(measured, sheet, wording, 0.0, turn)
    for measured in tried if edition.folded else ():
        facing = _fill(measured, sheet, wording, 0.0, break_all=True)
        if len(facing) == _FACING:
            return facing
    # min keeps the first of those with as few pages: a denser style is taken only where it saves a page.
    return min((_fill(measured, sheet, wording, 0.0) for measured in tried), key=len)


def _even_turn(measured: _Measured, room: float) -> int:
    """Return the block to begin the second of two pages with, so that they are most alike; 0 if two are too few."""
    first = measured.header.height + measured.warm_up.height
    second = measured.header_again.height + measured.cool_down_height
    heights = [block.height for block in measured.blocks]
    choices = []
    for turn in range(1, len(heights)):
        left, right = first + sum(heights[:turn]), second + sum(heights[turn:])
        if max(left, right) <= room:
            choices.append((abs(left - right), turn))
    return min(choices)[1] if choices else 0


def _opening(room: float, measured: _Measured) -> float:
    """Return the space to add after each row: what the notes leave, or what holds no line of notes."""
    spare = room - measured.height
    rows = max(measured.rows, 1)
    if spare < NOTES_HEAD + NOTES_STEP:
        return min(spare * _MOSTLY / rows, _SMALL_OPENING)
    return min(max((spare - _NOTES_KEPT) / rows, 0.0), ROW_OPENING)


def _measure(session: Session, sheet: Sheet, style: Style, wording: Wording) -> _Measured:
    spec = RowSpec(sheet, style, log_frame(session.blocks, sheet, style, wording), wording)
    warm_up = tick_list(session.warm_up, sheet.live, style, wording) if session.warm_up else Piece(0.0, ())
    cool_down = tick_list(session.cool_down, sheet.live, style, wording) if session.cool_down else Piece(0.0, ())
    return _Measured(
        style=style,
        header=_header(session.title, session.when, session.note, sheet, style, wording),
        header_again=_header_again(session.title, session.when, sheet, style, wording),
        warm_up=warm_up,
        blocks=tuple(measure_block(block, spec) for block in session.blocks),
        cool_down=cool_down,
    )


@remembered(256)
def _header(title: str, when: str, note: str, sheet: Sheet, style: Style, wording: Wording) -> Piece:
    """Return title, day and week, the fields on the right, and the rule below."""
    fields = sum(style.fields)
    room = sheet.live - fields - _FIELD_GAP
    parts, end = _heading(title, (when, note), room, style.title, style)
    end = max(end, style.field_height + 2 * MM)
    boxes: list[Mark] = []
    x = sheet.live - fields
    for caption, wide in zip((wording.date, wording.effort), style.fields, strict=True):
        boxes.append(Box(x, 0.0, wide, style.field_height, Stroke.BOX))
        inside = plain(caption)
        boxes.append(Text(x + _CAPTION_INSET, style.caption * _CAPTION_DOWN, inside, Face.REGULAR, style.caption))
        x += wide
    ruled = rule(end, sheet.live, Stroke.HEADER)
    return Piece(end + _AFTER_HEADER, (*parts, decoration(*boxes), ruled))


@remembered(256)
def _header_again(title: str, when: str, sheet: Sheet, style: Style, wording: Wording) -> Piece:
    """Return the head of a further page."""
    title = wording.continued_title.format(title)
    parts, end = _heading(title, (when, ""), sheet.live, style.title * _AGAIN, style)
    return Piece(end + _AFTER_HEADER, (*parts, rule(end, sheet.live, Stroke.HEADER)))


def _heading(
    title: str, below: tuple[str, str], room: float, size: float, style: Style
) -> tuple[list[Part], float]:
    """Return the title, what stands below it, and where the rule comes."""
    size, lines = fitted_lines(title, Face.BOLD, size, room, min(style.title_floor, size))
    lead = size * _TITLE_LEAD
    y = size * _TITLE_BASELINE
    parts: list[Part] = [Group(Role.TITLE, tuple(text_lines(lines, 0.0, y, Face.BOLD, size, lead)))]
    y += (len(lines) - 1) * lead
    when, note = below
    for text, face, small in ((when, Face.SEMIBOLD, style.when), (note, Face.REGULAR, style.tick)):
        words = wrap(text, face, small, room)
        if words:
            marks = text_lines(words, 0.0, y + small * 1.3, face, small, small * 1.2)
            parts.append(Group(Role.PARAGRAPH, tuple(marks)))
            y += small * 1.3 + (len(words) - 1) * small * 1.2
    return parts, y + 2.6 * MM


def _fill(
    measured: _Measured,
    sheet: Sheet,
    wording: Wording,
    opening: float,
    turn: int = 0,
    *,
    break_all: bool = False,
) -> tuple[tuple[Part, ...], ...]:
    """Put a session down, `opening` added after each row; a further page begins with block `turn`, if not 0.

    Small groups are kept together unless `break_all`.
    """
    filler = Filler(measured.header, measured.header_again, sheet.top, sheet.foot)
    if measured.warm_up.parts:
        filler.put(measured.warm_up)
    noted = False
    for index, block in enumerate(measured.blocks):
        if turn and index == turn:
            noted = notes_below(filler, wording.notes, sheet, measured.style)
            filler.turn()
        _put_block(filler, block, sheet.live, opening, kept=0 if break_all else _WHOLE_UP_TO)
    if measured.cool_down.parts:
        _put_cool_down(filler, measured, sheet.live)
    if not noted:
        notes_below(filler, wording.notes, sheet, measured.style)
    return tuple(map(tuple, filler.pages))


def _put_block(filler: Filler, block: MeasuredBlock, live: float, opening: float, kept: int) -> None:
    """Put a block down: whole if it fits or, up to `kept` exercises, can be kept whole; else broken between them."""
    whole = len(block.rows) <= kept and block.height <= filler.fresh_room
    if block.height > filler.room and whole:
        _turn_unless_fresh(filler)
    pieces = [row.piece for row in block.rows] + ([block.result] if block.result else [])
    joined: list[float] = []
    head: Piece | None = block.head
    for index, piece in enumerate(pieces):
        if not head and piece.height > filler.room:
            _join(filler, block, joined)
            joined = []
            head = block.head_again()
        if head:
            wanted = head.height + piece.height
            if wanted > filler.fresh_room:  # it is sliced, and its head begins where some lines follow it
                wanted = head.height + _SOME_LINES
            if filler.room < wanted:
                _turn_unless_fresh(filler)
            if not filler.is_fresh:
                filler.add(block_rule(filler.y, live))
            filler.put(head)
            head = None
        top = filler.put(piece, block.row_space + opening)
        if index < len(block.rows):
            joined += [top, top + piece.height]
    _join(filler, block, joined)
    filler.y += AFTER_BLOCK


def _put_cool_down(filler: Filler, measured: _Measured, live: float) -> None:
    """Put the cool-down under a rule, which at the head of a page is the one that is there."""
    if filler.room < measured.cool_down_height <= filler.fresh_room:
        _turn_unless_fresh(filler)
    if not filler.is_fresh:
        filler.add(block_rule(filler.y, live))
        filler.y += _BLOCK_TOP
    filler.put(measured.cool_down)


def _turn_unless_fresh(filler: Filler) -> None:
    if not filler.is_fresh:
        filler.turn()


def _join(filler: Filler, block: MeasuredBlock, edges: list[float]) -> None:
    if block.joined and edges:
        filler.add(bracket(edges[0], edges[-1]))
