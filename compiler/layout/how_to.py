"""The how-to page -> the bodies of its pages: a real block with numbered circles, and what they mean."""

from __future__ import annotations

from compiler.documents.booklet_value import Block, CoachNote, EffortStrip, HowTo, Mark, Point, Wording
from compiler.layout.block import bracket, measure_block
from compiler.layout.boxes import log_frame
from compiler.layout.lines import plain, wrap
from compiler.layout.measures import BODY, BODY_LEAD, MM, STANDARD, Sheet
from compiler.layout.metrics import Face, width
from compiler.layout.page import Box, Circle, Group, Part, Role, Stroke, Text
from compiler.layout.piece import Filler, Piece, centred, decoration, paragraph, placed, rule, text_lines
from compiler.layout.row import RowSpec
from compiler.layout.running import framed, title_piece

_RADIUS = 2.2 * MM
_NUMBER_SIZE = 8.5
_BESIDE = 3.4 * MM
_GUTTER_X = 5.9 * MM
_TEXT_X = 9 * MM
_IN_BOX = (Mark.BOXES, Mark.REPS_LEFT)
_BASELINE = 0.82
_POINT_SPACE = 1.2 * MM
_MOST_STEPS = 7


def lay_out_how_to(how_to: HowTo, sheet: Sheet, wording: Wording) -> tuple[tuple[Part, ...], ...]:
    """Return the parts of each page: one, unless the coach's note or the points need another."""
    title = title_piece(how_to.title, sheet.live)
    filler = Filler(title, title, sheet.top, sheet.foot)
    numbers: dict[Mark, int] = {}
    for point in how_to.points:
        if point.mark and point.mark not in numbers:
            numbers[point.mark] = len(numbers) + 1
    filler.put(_sample(how_to.sample, numbers, sheet, wording), 3 * MM)
    for point in how_to.points:
        filler.put(_point(point, numbers, sheet.live), _POINT_SPACE)
    filler.put(Piece(2 * MM, ()) if filler.room > 2 * MM else Piece(0.0, ()))
    if how_to.effort:
        filler.put(_effort(how_to.effort, sheet.live), 5 * MM)
    if how_to.note:
        for piece in note_pieces(how_to.note, sheet, filler.fresh_room):
            filler.put(piece)
    return tuple(map(tuple, filler.pages))


def note_pieces(note: CoachNote, sheet: Sheet, most: float) -> list[Piece]:
    """Return the coach's note in a frame; without one if it is longer than a page."""
    whole = framed(note.title, (note.text,), sheet.live, BODY, Stroke.THIN)
    if whole.height <= most:
        return [whole]
    lead = BODY * BODY_LEAD
    head = paragraph(note.title, 0.0, sheet.live, Face.BOLD, BODY, lead, Role.HEADING)
    return [head, paragraph(note.text, 0.0, sheet.live, Face.REGULAR, BODY, lead)]


def _callout(x: float, y: float, number: int) -> Group:
    digit = centred(str(number), x, y + 1.05 * MM, Face.BOLD, _NUMBER_SIZE)
    return decoration(Circle(x, y, _RADIUS), digit)


def _sample(block: Block, numbers: dict[Mark, int], sheet: Sheet, wording: Wording) -> Piece:
    """Return the sample block, the circles in its white space, and a rule below."""
    spec = RowSpec(sheet, STANDARD, log_frame((block,), sheet, STANDARD), wording)
    measured = measure_block(block, spec)
    y = 1.5 * MM
    parts: list[Part] = [placed(measured.head, y)]
    centres: list[tuple[float, float, int]] = []
    waiting = dict(numbers)
    if Mark.REST in waiting:
        middle = y + 1.1 * MM + STANDARD.head * 0.5
        centres.append((_end_of_head(block) + _BESIDE, middle, waiting.pop(Mark.REST)))
    y += measured.head.height
    top = bottom = y
    for row in measured.rows:
        parts.append(placed(row.piece, y))
        for mark in [mark for mark in waiting if mark in row.spots]:
            x, down = row.spots[mark]
            number = waiting.pop(mark)
            if mark in _IN_BOX:
                centres.append((x, y + down, number))
            else:
                centres.append((_free_x(x + _BESIDE, y + down, centres, sheet), y + down, number))
        bottom = y + row.piece.height
        y = bottom + measured.row_space
    if measured.joined:
        parts.append(bracket(top, bottom))
    if measured.result:
        parts.append(placed(measured.result, y))
        y += measured.result.height + measured.row_space
    parts += [_callout(x, middle, number) for x, middle, number in centres]
    parts.append(rule(y + 1 * MM, sheet.live, Stroke.BLOCK))
    return Piece(y + 1 * MM, tuple(parts))


def _free_x(x: float, y: float, taken: list[tuple[float, float, int]], sheet: Sheet) -> float:
    """Return where a circle touches no other: further right, or in the gutter if the column ends."""
    apart = 2 * _RADIUS + 0.6 * MM
    while any((x - other) ** 2 + (y - level) ** 2 < apart**2 for other, level, _ in taken):
        x += 1 * MM
    return x if x + _RADIUS < sheet.gutter + sheet.text + sheet.gap / 2 else _GUTTER_X


def _end_of_head(block: Block) -> float:
    """Return where the head of a block ends, when it takes one line as in a sample."""
    title = "  ".join(filter(None, (plain(block.letter), plain(block.kind))))
    rest = width(plain(block.rest), Face.REGULAR, STANDARD.head)
    return width(title, Face.BOLD, STANDARD.head) + 8.0 + rest


def _point(point: Point, numbers: dict[Mark, int], live: float) -> Piece:
    """Return one paragraph with its bold run-in head, and its number if it has one."""
    lead = BODY * BODY_LEAD
    head = plain(point.head)
    indent = width(f"{head} ", Face.BOLD, BODY) if head else 0.0
    lines = wrap(point.text, Face.REGULAR, BODY, live - _TEXT_X, indent)
    marks = [Text(_TEXT_X, BODY * _BASELINE, head, Face.BOLD, BODY)] if head else []
    for i, line in enumerate(lines):
        x = _TEXT_X + (0.0 if i else indent)
        if line:
            marks.append(Text(x, BODY * _BASELINE + i * lead, line, Face.REGULAR, BODY))
    parts: list[Part] = []
    if point.mark:
        parts.append(_callout(2.6 * MM, BODY * 0.5, numbers[point.mark]))
    parts.append(Group(Role.PARAGRAPH, tuple(marks)))
    return Piece(max(len(lines), 1) * lead, tuple(parts))


def _effort(strip: EffortStrip, live: float) -> Piece:
    """Return the scale of effort as a strip of fields."""
    steps = strip.steps[:_MOST_STEPS]
    lead = BODY * 1.1
    small = BODY - 1.5
    wide = live / max(len(steps), 1)
    texts = [wrap(step.text, Face.REGULAR, small, wide - 3 * MM) for step in steps]
    height = (1 + max(map(len, texts), default=1)) * lead + 2.6 * MM
    top = BODY * BODY_LEAD + 1 * MM
    title = Text(0.0, BODY * _BASELINE, plain(strip.title), Face.BOLD, BODY)
    parts: list[Part] = [Group(Role.HEADING, (title,))]
    boxes = []
    for index, (step, lines) in enumerate(zip(steps, texts, strict=True)):
        x = index * wide + 1.5 * MM
        head = Text(x, top + lead, plain(step.head), Face.BOLD, BODY)
        marks = text_lines(lines, x, top + 2 * lead, Face.REGULAR, small, lead)
        parts.append(Group(Role.PARAGRAPH, (head, *marks)))
        boxes.append(Box(index * wide, top, wide, height, Stroke.THIN))
    parts.append(decoration(*boxes))
    return Piece(top + height, tuple(parts))
