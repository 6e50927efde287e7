"""The how-to page -> the bodies of its pages: a real block with numbered circles, and what they mean."""

from __future__ import annotations

from collections.abc import Mapping

from compiler.documents.booklet_value import Block, CoachNote, EffortStrip, HowTo, Mark, Point, Wording
from compiler.layout.block import bracket, measure_block
from compiler.layout.boxes import log_frame
from compiler.layout.dose import end_of
from compiler.layout.editions import Edition
from compiler.layout.lines import plain, wrap
from compiler.layout.measures import BODY_LEAD, MM
from compiler.layout.metrics import Face, width
from compiler.layout.notes import notes_below
from compiler.layout.page import Box, Circle, Group, Part, Role, Stroke, Text
from compiler.layout.piece import Filler, Piece, centred, decoration, paragraph, placed, rule, run_in, text_lines
from compiler.layout.row import RowSpec
from compiler.layout.running import framed, title_piece

_ROUND_NUMBER = 2.0
_BESIDE = 1.2 * MM
_GUTTER_X = 5.9 * MM
_TEXT_GAP = 4.6 * MM
_IN_BOX = (Mark.BOXES, Mark.REPS_LEFT)
_BASELINE = 0.82
_POINT_SPACE = 1.2 * MM
_MOST_STEPS = 7
_MOST_LINES = 99
_Centre = tuple[float, float, int]
"""Where a circle stands, and its number."""

_SPACINGS = (1.0, 0.4)
"""Shares of the usual space between the parts, tried in turn for one page."""


def lay_out_how_to(how_to: HowTo, edition: Edition, wording: Wording) -> tuple[tuple[Part, ...], ...]:
    """Return the parts of each page: one, if need be closely set, unless the coach's note or the points need another.

    What is left of a further page is ruled for notes.
    """
    numbers: dict[Mark, int] = {}
    for point in how_to.points:
        if point.mark and point.mark not in numbers:
            numbers[point.mark] = len(numbers) + 1
    for spacing in _SPACINGS:
        filler = _filled(how_to, numbers, spacing, edition, wording)
        if len(filler.pages) == 1:
            return tuple(map(tuple, filler.pages))
    filler = _filled(how_to, numbers, _SPACINGS[0], edition, wording)
    notes_below(filler, wording.notes_page, edition.sheet, edition.style, most=_MOST_LINES)
    return tuple(map(tuple, filler.pages))


def _filled(
    how_to: HowTo, numbers: dict[Mark, int], spacing: float, edition: Edition, wording: Wording
) -> Filler:
    """Put everything down, the space between the parts as a share of the usual."""
    sheet = edition.sheet
    title = title_piece(how_to.title, sheet.live, edition.style)
    again = title_piece(wording.continued_title.format(how_to.title), sheet.live, edition.style)
    filler = Filler(title, again, sheet.top, sheet.foot)
    filler.put(_sample(how_to.sample, numbers, edition, wording), spacing * 3 * MM)
    for point in how_to.points:
        filler.put(_point(point, numbers, edition), spacing * _POINT_SPACE)
    filler.put(Piece(2 * MM, ()) if filler.room > 2 * MM else Piece(0.0, ()))
    if how_to.effort:
        filler.put(_effort(how_to.effort, edition), spacing * 5 * MM)
    if how_to.note:
        for piece in note_pieces(how_to.note, edition, filler.fresh_room):
            filler.put(piece, 4 * MM)
    return filler


def note_pieces(note: CoachNote, edition: Edition, most: float) -> list[Piece]:
    """Return the coach's note in a frame; without one if it is longer than a page."""
    live, body = edition.sheet.live, edition.body
    whole = framed(note.title, (note.text,), live, body, Stroke.THIN)
    if whole.height <= most:
        return [whole]
    lead = body * BODY_LEAD
    head = paragraph(note.title, 0.0, live, Face.BOLD, body, lead, Role.HEADING)
    return [head, paragraph(note.text, 0.0, live, Face.REGULAR, body, lead)]


def _radius(edition: Edition) -> float:
    return edition.callout / 2 + _ROUND_NUMBER


def _callout(x: float, y: float, number: int, edition: Edition) -> Group:
    digit = centred(str(number), x, y + edition.callout * 0.35, Face.BOLD, edition.callout)
    return decoration(Circle(x, y, _radius(edition)), digit)


def _sample(block: Block, numbers: dict[Mark, int], edition: Edition, wording: Wording) -> Piece:
    """Return the sample block, the circles in its white space, and a rule below."""
    sheet, style = edition.sheet, edition.style
    spec = RowSpec(sheet, style, log_frame((block,), sheet, style, wording), wording)
    measured = measure_block(block, spec)
    beside = _radius(edition) + _BESIDE
    y = 1.5 * MM
    parts: list[Part] = [placed(measured.head, y)]
    centres: list[_Centre] = []
    waiting = dict(numbers)
    if Mark.REST in waiting:
        end, middle = end_of(measured.head.parts[0])
        number = waiting.pop(Mark.REST)
        if end + beside + _radius(edition) <= sheet.head:
            centres.append((end + beside, y + middle, number))
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
                centres.append((_place(mark, row.spots, y + down, centres, edition), y + down, number))
        bottom = y + row.piece.height
        y = bottom + measured.row_space
    if measured.joined:
        parts.append(bracket(top, bottom))
    if measured.result:
        parts.append(placed(measured.result, y))
        y += measured.result.height + measured.row_space
    parts += [_callout(x, middle, number, edition) for x, middle, number in centres]
    parts.append(rule(y + 1 * MM, sheet.live, Stroke.BLOCK))
    return Piece(y + 1 * MM, tuple(parts))


def _place(
    mark: Mark, spots: Mapping[Mark, tuple[float, float]], y: float, taken: list[_Centre], edition: Edition
) -> float:
    """Return where the circle of a mark stands: after its text, or before a load that fills its line, or in the gutter.

    After the text it moves right until it touches no other.
    """
    sheet, radius = edition.sheet, _radius(edition)
    beside = radius + _BESIDE
    room = sheet.cue if mark is Mark.CUE else sheet.text
    after = spots[mark][0] + beside
    while not _is_free(after, y, taken, radius):
        after += 1 * MM
    if after + radius < sheet.gutter + room + sheet.gap / 2:
        return after
    before = sheet.gutter + sheet.stop - beside
    dose = spots.get(Mark.DOSE)
    if mark is Mark.LOAD and dose and before - radius > dose[0] and _is_free(before, y, taken, radius):
        return before
    return _GUTTER_X


def _is_free(x: float, y: float, taken: list[_Centre], radius: float) -> bool:
    apart = 2 * radius + 0.6 * MM
    return all((x - other) ** 2 + (y - level) ** 2 >= apart**2 for other, level, _ in taken)


def _point(point: Point, numbers: dict[Mark, int], edition: Edition) -> Piece:
    """Return one paragraph with its bold run-in head, and its number if it has one."""
    body = edition.body
    lead = body * BODY_LEAD
    text_x = 2 * _radius(edition) + _TEXT_GAP
    head = plain(point.head)
    indent = width(f"{head} ", Face.BOLD, body) if head else 0.0
    lines = wrap(point.text, Face.REGULAR, body, edition.sheet.live - text_x, indent)
    heads = [Text(text_x, body * _BASELINE, head, Face.BOLD, body)] if head else []
    text = run_in(lines, text_x, indent, body * _BASELINE, Face.REGULAR, body, lead)
    parts: list[Part] = []
    if point.mark:
        parts.append(_callout(_radius(edition) + 0.4 * MM, body * 0.5, numbers[point.mark], edition))
    parts.append(Group(Role.PARAGRAPH, (*heads, *text)))
    return Piece(max(len(lines), 1) * lead, tuple(parts))


def _effort(strip: EffortStrip, edition: Edition) -> Piece:
    """Return the scale of effort as a strip of fields."""
    live, body = edition.sheet.live, edition.body
    steps = strip.steps[:_MOST_STEPS]
    lead = body * 1.1
    small = max(body - 1.5, edition.floor)
    wide = live / max(len(steps), 1)
    texts = [wrap(step.text, Face.REGULAR, small, wide - 3 * MM) for step in steps]
    height = (1 + max(map(len, texts), default=1)) * lead + 2.6 * MM
    top = body * BODY_LEAD + 1 * MM
    title = Text(0.0, body * _BASELINE, plain(strip.title), Face.BOLD, body)
    parts: list[Part] = [Group(Role.HEADING, (title,))]
    boxes = []
    for index, (step, lines) in enumerate(zip(steps, texts, strict=True)):
        x = index * wide + 1.5 * MM
        head = Text(x, top + lead, plain(step.head), Face.BOLD, body)
        marks = text_lines(lines, x, top + 2 * lead, Face.REGULAR, small, lead)
        parts.append(Group(Role.PARAGRAPH, (head, *marks)))
        boxes.append(Box(index * wide, top, wide, height, Stroke.THIN))
    parts.append(decoration(*boxes))
    return Piece(top + height, tuple(parts))
