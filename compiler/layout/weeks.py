"""A weeks sheet -> the body of one lying page, or nothing if something on it finds no room.

Nothing is cut and nothing gets smaller than a page can bear: every box is at least 9 mm wide and high, every word of
every cue is there. What does not fit stands on pages of its own.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from compiler.documents.booklet_value import Wording
from compiler.documents.weeks_value import WeekCell, WeekHead, WeeksBlock, WeeksRow, WeeksSheet
from compiler.frozen import frozen
from compiler.layout.lines import balanced, fitted, fitted_lines, plain, wrap
from compiler.layout.measures import MM, Sheet
from compiler.layout.metrics import Face, width
from compiler.layout.page import Bracket, Grid, Group, Line, Mark, Part, Role, Shifted, Stroke, Text
from compiler.layout.piece import Piece, decoration, flush_right, paragraph, placed, rule, run_in, stacked, text_lines

_TITLE = 18.0
_TITLE_FLOOR = 14.0
_HEAD = 10.0
_WEEK = 11.0
_NAME = 10.5
_FIGURE = 11.0
_FIGURE_FLOOR = 10.0
_SMALL = 9.0
_SMALL_LEAD = 1.17
_CAPTION = 8.0
_BASELINE = 0.8
_BOX = 9 * MM
_BOX_MOST = 15 * MM
_FEWEST_BOXES = 4
_EXERCISE = 65 * MM
_GAP = 2.6 * MM
_LABEL_GAP = 1.4 * MM
_LABEL_ROOM = 5 * MM
_ROW_SPACE = 1.4 * MM
_BLOCK_HEAD = 5.2 * MM
_BRACKET_X = 0.6 * MM
_BRACKET_FOOT = 1.4 * MM
_WRITING_LINE = 9 * MM
_OPENING = 3 * MM


@frozen
class _Grid:
    """The columns of a sheet: where the weeks begin, how wide each is."""

    sheet: Sheet
    weeks: int

    @property
    def first(self) -> float:
        """The left edge of the first week."""
        return self.sheet.gutter + _EXERCISE

    @property
    def step(self) -> float:
        """From one week to the next."""
        return (self.sheet.live - self.first) / self.weeks

    def left(self, week: int) -> float:
        """Return the left edge of what stands in a week."""
        return self.first + week * self.step + _GAP

    @property
    def wide(self) -> float:
        """The room of a week."""
        return self.step - _GAP - 0.5 * MM


def lay_out_weeks(weeks: WeeksSheet, sheet: Sheet, wording: Wording) -> tuple[Part, ...] | None:
    """Return the parts of the page, on a lying sheet; None if it has no room for everything."""
    grid = _Grid(sheet, len(weeks.heads))
    if any(_boxes_of(cell, grid) is None for cell in _cells(weeks)):
        return None
    heads = _heads(weeks.heads, grid, wording)
    top = stacked([_title(weeks, sheet), _running(weeks.before, sheet)])
    blocks = [_block(block, grid, wording) for block in weeks.blocks]
    after = _running(weeks.after, sheet)
    height = top.height + heads.height + sum(block.height for block in blocks) + after.height
    spare = sheet.foot - sheet.top - height
    if spare < 0:
        return None
    parts: list[Part] = [placed(top, sheet.top)]
    y = sheet.top + top.height
    parts.append(placed(heads, y))
    walls = list(_walls(y, y + heads.height, 0.0, 0.0, grid))
    y += heads.height
    opening = min(spare / max(len(blocks), 1), _OPENING)
    for block in blocks:
        parts += [rule(y, sheet.live, Stroke.THIN), placed(block.piece, y)]
        walls += _walls(y, y + block.height + opening, block.head, block.reach, grid)
        y += block.height + opening
    parts.append(decoration(*walls))
    if after.parts:
        parts += [rule(y, sheet.live, Stroke.THIN), placed(after, y)]
    return tuple(parts)


def _walls(top: float, bottom: float, head: float, reach: float, grid: _Grid) -> Iterator[Line]:
    """Yield the lines between the weeks, from below a head of this height where it reaches as far."""
    for week in range(1, grid.weeks):
        x = grid.first + week * grid.step + _GAP / 2
        yield Line(x, top + (head if reach > x - _GAP / 2 else 0.0), x, bottom, Stroke.THIN)


def _cells(weeks: WeeksSheet) -> Sequence[WeekCell]:
    return [cell for block in weeks.blocks for row in block.rows for cell in row.cells if cell]


def _title(weeks: WeeksSheet, sheet: Sheet) -> Piece:
    size, lines = fitted_lines(weeks.title, Face.BOLD, _TITLE, sheet.live, _TITLE_FLOOR)
    marks = text_lines(lines, 0.0, size * _BASELINE, Face.BOLD, size, size * 1.1)
    return Piece(len(lines) * size * 1.1 + 1.2 * MM, (Group(Role.TITLE, tuple(marks)),))


def _running(text: str, sheet: Sheet) -> Piece:
    piece = paragraph(text, 0.0, sheet.live, Face.REGULAR, _SMALL, _SMALL * 1.2)
    return Piece(piece.height + (1.5 * MM if piece.parts else 0.0), (Shifted(0.8 * MM, piece.parts),))


def _heads(heads: Sequence[WeekHead], grid: _Grid, wording: Wording) -> Piece:
    """Return the heads of the weeks: number and day, fields for date and effort, a remark if there is one."""
    parts: list[Part] = [rule(0.0, grid.sheet.live, Stroke.HEADER)]
    drawn: list[Mark] = []
    noted = max((len(wrap(head.note, Face.REGULAR, _SMALL, grid.wide)) for head in heads), default=0)
    fields = 4.8 * MM + noted * _SMALL * _SMALL_LEAD + 5.4 * MM
    for week, head in enumerate(heads):
        x = grid.left(week)
        marks: list[Text] = [Text(x, 4.6 * MM, plain(head.title), Face.BOLD, _WEEK)]
        room = grid.wide - width(plain(head.title), Face.BOLD, _WEEK) - 2 * MM
        size = fitted(head.when, Face.REGULAR, _SMALL, room, _CAPTION)
        marks.append(flush_right(head.when, x + grid.wide, 4.6 * MM, Face.REGULAR, size))
        for number, line in enumerate(wrap(head.note, Face.REGULAR, _SMALL, grid.wide)):
            marks.append(Text(x, 4.8 * MM + (number + 0.95) * _SMALL * _SMALL_LEAD, line, Face.REGULAR, _SMALL))
        parts.append(Group(Role.HEADING, tuple(mark for mark in marks if mark.text)))
        for words, start, share in ((wording.date, 0.0, 0.56), (wording.effort_short, 0.58, 1.0)):
            text = plain(words)
            drawn.append(Text(x + start * grid.wide, fields, text, Face.REGULAR, _CAPTION))
            after = x + start * grid.wide + width(text, Face.REGULAR, _CAPTION) + 1 * MM
            drawn.append(Line(after, fields + 0.5, x + share * grid.wide, fields + 0.5, Stroke.WRITING))
    return Piece(fields + 1.8 * MM, (*parts, decoration(*drawn)))


# ---------------------------------------------------------------- blocks and rows


@frozen
class _Block:
    """A block as a piece; the height of its head, and how far to the right that reaches."""

    piece: Piece
    head: float
    reach: float

    @property
    def height(self) -> float:
        """The height of the whole block."""
        return self.piece.height


def _block(block: WeeksBlock, grid: _Grid, wording: Wording) -> _Block:
    live = grid.sheet.live
    title = plain("  ".join(filter(None, (block.letter, block.kind))))
    titles = wrap(title, Face.BOLD, _HEAD, live)
    beside = width(titles[-1], Face.BOLD, _HEAD) + 8.0 if titles else 0.0
    rest = wrap(block.rest, Face.REGULAR, _HEAD, live, beside)
    lead = _HEAD * 1.2
    baseline = _HEAD * _BASELINE + 1 * MM
    marks = text_lines(titles, 0.0, baseline, Face.BOLD, _HEAD, lead)
    down = baseline + max(len(titles) - 1, 0) * lead
    marks += run_in(rest, 0.0, beside, down, Face.REGULAR, _HEAD, lead)
    texts = [mark for mark in marks if isinstance(mark, Text)]
    reach = max((mark.x + width(mark.text, mark.face, mark.size) for mark in texts), default=0.0)
    y = _BLOCK_HEAD + (max(len(titles), 1) - 1 + max(len(rest), 1) - 1) * lead
    parts: list[Part] = [Group(Role.HEADING, tuple(marks))]
    top = bottom = y
    for row in block.rows:
        piece = _row(row, grid, wording)
        parts.append(placed(piece, y))
        bottom = y + piece.height
        y = bottom + _ROW_SPACE
    if block.joined:
        parts.append(decoration(Bracket(_BRACKET_X, top, bottom, _BRACKET_FOOT)))
    return _Block(Piece(y + 0.4 * MM, tuple(parts)), top, reach)


def _row(row: WeeksRow, grid: _Grid, wording: Wording) -> Piece:
    x = grid.sheet.gutter
    changed = "" if row.changed is None else f"{wording.changed}: {row.changed}"
    names = balanced(row.name, Face.BOLD, _NAME, _EXERCISE)
    size = fitted(row.label, Face.BOLD, _NAME, _LABEL_ROOM, _CAPTION)
    label = flush_right(row.label, x - _LABEL_GAP, _NAME * _BASELINE, Face.BOLD, size)
    name = text_lines(names, x, _NAME * _BASELINE, Face.BOLD, _NAME, _NAME * 1.08)
    parts: list[Part] = [Group(Role.SUBHEADING, (label, *name))]
    y = max(len(names), 1) * _NAME * 1.08
    marks: list[Mark] = []
    y = _add(marks, changed, x, y, _EXERCISE, Face.SEMIBOLD)
    y = _add(marks, " ".join(filter(None, (*row.lines, row.cue, row.log))), x, y, _EXERCISE, Face.REGULAR)
    parts.append(Group(Role.PARAGRAPH, tuple(marks)))
    pieces = [_cell(cell, grid) if cell else Piece(0.0, ()) for cell in row.cells]
    above = max((piece.height for piece in pieces), default=0.0)
    boxed = any(_boxes_of(cell, grid) for cell in row.cells if cell)
    for week, (cell, piece) in enumerate(zip(row.cells, pieces, strict=True)):
        left = grid.left(week)
        if cell is None:
            dash = Text(left, _FIGURE * _BASELINE, "–", Face.REGULAR, _FIGURE)
            parts.append(Group(Role.PARAGRAPH, (dash,)))
            continue
        parts += [_moved(part, left) for part in piece.parts]
        count = cell.sets + cell.reps_left
        wide = _boxes_of(cell, grid)
        if wide:
            parts.append(decoration(Grid(left, above, wide, _BOX, count)))
    return Piece(max(y, above + (_BOX if boxed else 0.0)), tuple(parts))


def _add(marks: list[Mark], text: str, x: float, y: float, room: float, face: Face) -> float:
    """Add small lines to some marks; return where the next begins."""
    lines = wrap(text, face, _SMALL, room)
    lead = _SMALL * _SMALL_LEAD
    marks += text_lines(lines, x, y + _SMALL * _BASELINE, face, _SMALL, lead)
    return y + len(lines) * lead


def _moved(part: Part, right: float) -> Part:
    """Return a group of texts and lines further right."""
    if not isinstance(part, Group):
        return part
    marks: list[Mark] = []
    for mark in part.marks:
        if isinstance(mark, Text):
            marks.append(Text(mark.x + right, mark.y, mark.text, mark.face, mark.size))
        elif isinstance(mark, Line):
            marks.append(Line(mark.x + right, mark.y, mark.to_x + right, mark.to_y, mark.stroke))
    return Group(part.role, tuple(marks))


def _cell(cell: WeekCell, grid: _Grid) -> Piece:
    """Return dose and load and the small lines below them, without the boxes; x counts from the edge of the week."""
    room = grid.wide
    lead = _FIGURE * 1.16
    marks: list[Mark] = []
    drawn: list[Mark] = []
    dose_size = fitted(cell.dose, Face.BOLD, _FIGURE, room, _FIGURE_FLOOR)
    load_size = fitted(cell.load, Face.BOLD, _FIGURE, room, _FIGURE_FLOOR)
    doses = wrap(cell.dose, Face.BOLD, dose_size, room)
    loads = wrap(cell.load, Face.BOLD, load_size, room)
    taken = width(doses[-1], Face.BOLD, dose_size) if doses else 0.0
    needed = width(loads[0], Face.BOLD, load_size) if loads else 0.0
    if cell.blank:
        needed = _WRITING_LINE + 2.0 + width(plain(cell.blank), Face.SEMIBOLD, _SMALL)
    marks += text_lines(doses, 0.0, _FIGURE * _BASELINE, Face.BOLD, dose_size, lead)
    together = len(doses) <= 1 and len(loads) <= 1 and taken + needed + 3 * MM <= room
    y = 0.0 if together else len(doses) * lead
    if cell.blank:
        unit = flush_right(cell.blank, room, y + _FIGURE * _BASELINE, Face.SEMIBOLD, _SMALL)
        marks.append(unit)
        low = y + _FIGURE * _BASELINE + 1.5
        drawn.append(Line(unit.x - 2.0 - _WRITING_LINE, low, unit.x - 2.0, low, Stroke.BOX))
    for number, line in enumerate(loads):
        level = y + number * lead + _FIGURE * _BASELINE
        marks.append(flush_right(line, room, level, Face.BOLD, load_size))
    y += max(len(loads), len(doses) if together else 0, 1 if cell.blank else 0) * lead
    for text in cell.lines:
        y = _add(marks, text, 0.0, y, room, Face.REGULAR)
    group = Group(Role.PARAGRAPH, tuple(marks))
    return Piece(y + 1.0, (group, decoration(*drawn)) if drawn else (group,))


def _boxes_of(cell: WeekCell, grid: _Grid) -> float | None:
    """Return how wide each box of a cell is, 0 where there is none; None if they would be too narrow to write in."""
    count = cell.sets + cell.reps_left
    if not count:
        return 0.0
    wide = min(grid.wide / max(count, _FEWEST_BOXES), _BOX_MOST)
    return wide if wide >= _BOX else None
