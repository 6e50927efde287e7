"""One exercise of a block -> a piece: name, change, ramp, figures, further lines, cue, and its boxes."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from compiler.documents.booklet_value import ExerciseRow, Wording
from compiler.documents.booklet_value import Mark as Meaning
from compiler.fallback import remembered
from compiler.frozen import frozen
from compiler.layout.boxes import BoxPlan, LogFrame, box_marks, plan_boxes
from compiler.layout.dose import Band, dose_band, end_of, extra_band
from compiler.layout.lines import balanced, fitted, plain, wrap
from compiler.layout.measures import MM, NAME_LEAD, LogPlace, Sheet, Style
from compiler.layout.metrics import Face, width
from compiler.layout.page import Box, Group, Mark, Part, Role, Shifted, Stroke, Text
from compiler.layout.piece import Piece, decoration, flush_right, run_in, text_lines

_BASELINE = 0.78
_TAG_BASELINE = 0.86
_LABEL_GAP = 2 * MM
_BRACKET_ROOM = 2.3 * MM
_ABOVE_CORNER = 0.8 * MM
_ABOVE_UNDER = 1.5 * MM
_TAG_INSET = 1.2 * MM
_TAG_GAP = 1.6 * MM
_LAST_LINE = 1.0
_CAPTION_LEAD = 1.25


@frozen
class RowSpec:
    """What all rows of a session share."""

    sheet: Sheet
    style: Style
    frame: LogFrame
    wording: Wording


@frozen
class MeasuredRow:
    """An exercise as a piece, without the space after it.

    `spots` are the places where a numbered circle can stand for what it explains: the end of the text, or the
    middle of the box.
    """

    piece: Piece
    spots: Mapping[Meaning, tuple[float, float]]


@remembered(1024)
def measure_row(row: ExerciseRow, columns: int, spec: RowSpec) -> MeasuredRow:
    """Return an exercise as a piece. Boxes are as high as what stands beside them, within the style's limits.

    Many rows are the same in the next week and for the next client, so the last ones are kept.
    """
    style, sheet = spec.style, spec.sheet
    plan = plan_boxes(row.log, columns, spec.frame, style)
    room = sheet.text if plan.lines else sheet.live - sheet.gutter
    name = _name_band(row, room, spec)
    bands = [
        *([] if row.changed is None else [_changed_band(row.changed, room, spec)]),
        *([_ramp_band(row.ramp, room, spec)] if row.ramp else []),
        dose_band(row, sheet, style),
        *(extra_band(line, sheet, style) for line in row.extra),
    ]
    cue_room = sheet.cue if plan.lines else room
    cue = _cue_band(row.cue, cue_room, spec) if row.cue else Band(Piece(0.0, ()), {})
    texts: list[Mark] = []
    drawn: list[Part] = []
    spots: dict[Meaning, tuple[float, float]] = dict(name.spots)
    y = name.piece.height
    for band in (*bands, cue):
        if band is cue and sheet.place is LogPlace.CORNER:
            y += _ABOVE_CORNER
        _gather(band.piece.parts, y, texts, drawn)
        spots |= {meaning: (x, y + down) for meaning, (x, down) in band.spots.items()}
        y += band.piece.height
    # What stands below the name is read as one paragraph, from the change to the cue.
    parts = [*name.piece.parts, Group(Role.PARAGRAPH, tuple(texts)), *drawn]
    if not plan.lines:
        return MeasuredRow(Piece(y + _LAST_LINE, tuple(parts)), spots)
    top = _boxes_top(y, cue.piece.height, sheet)
    box_height = _box_height(plan, y - top, style)
    parts.append(Shifted(top, (box_marks(plan, spec.frame, box_height, style),)))
    spots |= {mark: (x, top + down) for mark, (x, down) in _box_spots(plan, box_height, spec).items()}
    height = max(y + _LAST_LINE, top + plan.band + plan.lines * box_height)
    return MeasuredRow(Piece(height, tuple(parts)), spots)


def _boxes_top(end: float, cue: float, sheet: Sheet) -> float:
    """Return where the boxes begin, from the end of the text and the height of the cue, which is the last of it."""
    match sheet.place:
        case LogPlace.BESIDE:
            return 0.0
        case LogPlace.CORNER:
            return end - cue
        case LogPlace.UNDER:
            return end + _ABOVE_UNDER


def _gather(parts: Sequence[Part], y: float, texts: list[Mark], drawn: list[Part]) -> None:
    """Sort the marks of a band into what is read and what is only drawn, with y from the top of the row."""
    for part in parts:
        if isinstance(part, Shifted):
            _gather(part.parts, y + part.y, texts, drawn)
        elif isinstance(part, Group) and part.role is not None:
            texts += [
                Text(mark.x, mark.y + y, mark.text, mark.face, mark.size)
                for mark in part.marks
                if isinstance(mark, Text)
            ]
        else:
            drawn.append(Shifted(y, (part,)))


def _box_height(plan: BoxPlan, text_height: float, style: Style) -> float:
    room = (text_height - plan.band) / max(plan.lines, 1)
    return min(max(style.box_floor, room), style.box_ceiling)


def _box_spots(plan: BoxPlan, height: float, spec: RowSpec) -> dict[Meaning, tuple[float, float]]:
    spots = {}
    middle = (height + spec.style.caption * _CAPTION_LEAD) / 2
    if plan.log.count:
        last = spec.frame.x + (plan.counts[0] - 0.5) * plan.width
        spots[Meaning.BOXES] = (last, plan.band + middle)
    if plan.log.reps_left:
        x = spec.frame.reps_left_x + spec.style.reps_left_box / 2
        spots[Meaning.REPS_LEFT] = (x, plan.band + (plan.lines - 1) * height + middle)
    return spots


def _name_band(row: ExerciseRow, room: float, spec: RowSpec) -> Band:
    x, size = spec.sheet.gutter, spec.style.name
    lines = balanced(row.name, Face.BOLD, size, room)
    if len(lines) > 2:
        size = spec.style.name_floor
        lines = balanced(row.name, Face.BOLD, size, room)
    label_room = x - _LABEL_GAP - _BRACKET_ROOM
    label_size = fitted(row.label, Face.BOLD, size, label_room, spec.style.floor)
    label = flush_right(row.label, x - _LABEL_GAP, size * _BASELINE, Face.BOLD, label_size)
    name = text_lines(lines, x, size * _BASELINE, Face.BOLD, size, size * NAME_LEAD)
    group = Group(Role.SUBHEADING, (label, *name))
    return Band(Piece(max(len(lines), 1) * size * NAME_LEAD, (group,)), {Meaning.NAME: end_of(group)})


def changed_piece(words: str, x: float, room: float, style: Style, wording: Wording) -> Piece:
    """Return the Changed tag with the coach's words beside it."""
    size, lead = style.small, style.small_lead
    inside = plain(wording.changed)
    wide = width(inside, Face.BOLD, size) + 2 * _TAG_INSET
    box = Box(x, size * 0.02, wide, size * 1.14, Stroke.TAG)
    head = Text(x + _TAG_INSET, size * _TAG_BASELINE, inside, Face.BOLD, size)
    after = x + wide + _TAG_GAP
    lines = balanced(words, Face.SEMIBOLD, size, x + room - after)
    marks = text_lines(lines, after, size * _TAG_BASELINE, Face.SEMIBOLD, size, lead)
    height = max(len(lines), 1) * lead + size * 0.1
    return Piece(height, (decoration(box), Group(Role.PARAGRAPH, (head, *marks))))


def _changed_band(words: str, room: float, spec: RowSpec) -> Band:
    piece = changed_piece(words, spec.sheet.gutter, room, spec.style, spec.wording)
    return Band(piece, {Meaning.CHANGED: end_of(piece.parts[-1])})


def _ramp_band(ramp: str, room: float, spec: RowSpec) -> Band:
    x, size, lead = spec.sheet.gutter, spec.style.small, spec.style.small_lead
    head = plain(spec.wording.ramp)
    indent = width(f"{head}  ", Face.SEMIBOLD, size)
    lines = wrap(ramp, Face.REGULAR, size, room, indent)
    marks = run_in(lines, x, indent, size * _BASELINE, Face.REGULAR, size, lead)
    group = Group(Role.PARAGRAPH, (Text(x, size * _BASELINE, head, Face.SEMIBOLD, size), *marks))
    return Band(Piece(len(lines) * lead, (group,)), {Meaning.RAMP: end_of(group)})


def _cue_band(cue: str, room: float, spec: RowSpec) -> Band:
    x, size, lead = spec.sheet.gutter, spec.style.small, spec.style.small_lead
    lines = balanced(cue, Face.REGULAR, size, room)
    group = Group(Role.PARAGRAPH, tuple(text_lines(lines, x, size * _BASELINE, Face.REGULAR, size, lead)))
    return Band(Piece(len(lines) * lead, (group,)), {Meaning.CUE: end_of(group)})
