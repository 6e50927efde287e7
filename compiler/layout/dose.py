"""The figures of one exercise: dose and load at their stops, small words after them, further lines below."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from compiler.documents.booklet_value import BlankLoad, ExerciseRow, ExtraLine, Figure
from compiler.documents.booklet_value import Mark as Meaning
from compiler.layout.lines import balanced, fitted, plain, unbroken, wrap
from compiler.layout.measures import FIGURE_LEAD, MM, Sheet, Style
from compiler.layout.metrics import Face, width
from compiler.layout.page import Group, Line, Mark, Part, Role, Shifted, Stroke, Text
from compiler.layout.piece import Piece, decoration, text_lines

_BASELINE = 0.78
_FIGURE_BASELINE = 0.82
_NOTE_GAP = 4.5
_STOP_GAP = 7.0
_WRITING_LINE = 17 * MM
_WRITING_LINE_LEAST = 9 * MM
_WRITING_ROOM = 1.6 * MM


@dataclass(frozen=True, slots=True)
class Band:
    """A piece across the text column, and the places in it where a numbered circle can stand."""

    piece: Piece
    spots: dict[Meaning, tuple[float, float]]


def end_of(part: Part) -> tuple[float, float]:
    """Return where the last line of a group ends, and half the height of its small letters."""
    texts = [mark for mark in part.marks if isinstance(mark, Text)] if isinstance(part, Group) else []
    if not texts:
        return (0.0, 0.0)
    line = [text for text in texts if text.y == texts[-1].y]
    end = max(text.x + width(text.text, text.face, text.size) for text in line)
    return (end, texts[-1].y - texts[-1].size * 0.27)


@dataclass(frozen=True, slots=True)
class _Stop:
    """A figure and its words under one stop: marks, what is only drawn, the height it takes."""

    marks: tuple[Mark, ...]
    drawn: tuple[Mark, ...]
    height: float


def _split_notes(
    notes: Sequence[str], taken: float, room: float, style: Style
) -> tuple[str, tuple[str, ...]]:
    """Return the notes that stand on the figure's line, and the lines of those that go below."""
    beside: list[str] = []
    below: list[str] = []
    for note in notes:
        trial = ", ".join([*beside, note])
        if not below and taken + _NOTE_GAP + width(plain(trial), Face.REGULAR, style.small) <= room:
            beside.append(note)
        else:
            below.append(unbroken(note))
    return plain(", ".join(beside)), wrap(", ".join(below), Face.REGULAR, style.small, room)


def _figure_stop(figure: Figure, x: float, room: float, style: Style, strong: str = "") -> _Stop:
    """Return a figure with its notes; `strong` words follow in semibold, on their own line if need be."""
    size = fitted(figure.text, Face.BOLD, style.figure, room, style.figure_floor)
    lines = balanced(figure.text, Face.BOLD, size, room)
    lead = style.figure * FIGURE_LEAD
    baseline = style.figure * _FIGURE_BASELINE
    marks = text_lines(lines, x, baseline, Face.BOLD, size, lead)
    last = baseline + max(len(lines) - 1, 0) * lead
    taken = width(lines[-1], Face.BOLD, size) if lines else -_NOTE_GAP
    beside, below = _split_notes(figure.notes, taken, room, style)
    if beside:
        marks.append(Text(x + taken + _NOTE_GAP, last, beside, Face.REGULAR, style.small))
    y = max(len(lines), 1) * lead + style.small * _BASELINE
    marks += text_lines(below, x, y, Face.REGULAR, style.small, style.small_lead)
    height = max(len(lines), 1) * lead + len(below) * style.small_lead
    if strong:
        words = plain(strong)
        if not figure.notes and taken + _NOTE_GAP + width(words, Face.SEMIBOLD, style.small) <= room:
            marks.append(Text(x + taken + _NOTE_GAP, last, words, Face.SEMIBOLD, style.small))
        else:
            more = wrap(strong, Face.SEMIBOLD, style.small, room)
            top = height + style.small * _BASELINE
            marks += text_lines(more, x, top, Face.SEMIBOLD, style.small, style.small_lead)
            height += len(more) * style.small_lead
    return _Stop(tuple(marks), (), height)


def _blank_stop(blank: BlankLoad, x: float, room: float, style: Style, strong: str) -> _Stop:
    """Return a line to write a load on, its unit, and the notes below."""
    baseline = style.figure * _FIGURE_BASELINE
    unit = plain(blank.unit)
    size = fitted(unit, Face.SEMIBOLD, style.extra, room - _WRITING_LINE_LEAST - _NOTE_GAP, style.small)
    taken = width(unit, Face.SEMIBOLD, size)
    line = max(min(_WRITING_LINE, room - taken - _NOTE_GAP), _WRITING_LINE_LEAST)
    marks: list[Mark] = [Text(x + line + _NOTE_GAP * 0.7, baseline, unit, Face.SEMIBOLD, size)]
    height = style.figure * FIGURE_LEAD
    notes = wrap(", ".join(map(unbroken, blank.notes)), Face.REGULAR, style.small, room)
    more = wrap(strong, Face.SEMIBOLD, style.small, room)
    for lines, face in ((notes, Face.REGULAR), (more, Face.SEMIBOLD)):
        marks += text_lines(lines, x, height + style.small * _BASELINE, face, style.small, style.small_lead)
        height += len(lines) * style.small_lead
    drawn = Line(x, baseline + 1.5, x + line, baseline + 1.5, Stroke.BOX)
    return _Stop(tuple(marks), (drawn,), height)


def dose_band(row: ExerciseRow, sheet: Sheet, style: Style) -> Band:
    """Return the line with sets × reps at the text column and the load at its stop."""
    x, stop = sheet.gutter, sheet.text * sheet.load_stop
    load_room = sheet.text - stop
    alone = row.load is None and not row.spotter
    dose = _figure_stop(row.dose, x, sheet.text if alone else stop - _STOP_GAP, style)
    if isinstance(row.load, BlankLoad):
        load = _blank_stop(row.load, x + stop, load_room, style, row.spotter)
    else:
        load = _figure_stop(row.load or Figure(""), x + stop, load_room, style, row.spotter)
    group = Group(Role.PARAGRAPH, dose.marks + load.marks)
    spots = {}
    for meaning, part in ((Meaning.DOSE, dose), (Meaning.LOAD, load)):
        if part.marks:
            first = part.marks[0].y
            line = tuple(mark for mark in part.marks if mark.y == first)
            spots[meaning] = end_of(Group(None, line))
    height = max(dose.height, load.height if load.marks else 0.0)
    if not load.drawn:
        return Band(Piece(height, (group,)), spots)
    lower = Shifted(_WRITING_ROOM, (group, decoration(*load.drawn)))
    spots = {meaning: (end, y + _WRITING_ROOM) for meaning, (end, y) in spots.items()}
    return Band(Piece(height + _WRITING_ROOM, (lower,)), spots)


def extra_band(line: ExtraLine, sheet: Sheet, style: Style) -> Band:
    """Return one further line: head and dose at the text column, load and its notes at the load stop."""
    x, stop = sheet.gutter, sheet.text * sheet.load_stop
    lead = style.extra * FIGURE_LEAD
    baseline = style.extra * _FIGURE_BASELINE
    head, dose, load = plain(line.head), plain(line.dose), plain(line.load)
    room = stop - _STOP_GAP if load or line.notes else sheet.text
    taken = width(head, Face.REGULAR, style.small) + (_NOTE_GAP if head and dose else 0)
    marks: list[Mark] = []
    y = 0.0
    if taken + width(dose, Face.BOLD, style.extra) > room:
        lines = wrap(line.head, Face.REGULAR, style.small, sheet.text)
        marks += text_lines(lines, x, style.small * _BASELINE, Face.REGULAR, style.small, style.small_lead)
        y, taken = len(lines) * style.small_lead, 0.0
    elif head:
        marks.append(Text(x, baseline, head, Face.REGULAR, style.small))
    if y and not dose and not load:
        return Band(Piece(y, (Group(Role.PARAGRAPH, tuple(marks)),)), {})
    doses = wrap(line.dose, Face.BOLD, style.extra, room)
    marks += text_lines(doses, x + taken, y + baseline, Face.BOLD, style.extra, lead)
    loads = wrap(line.load, Face.BOLD, style.extra, sheet.text - stop)
    marks += text_lines(loads, x + stop, y + baseline, Face.BOLD, style.extra, lead)
    below = y + max(len(doses), len(loads), 1 if head and not y else 0) * lead
    if line.notes:
        beside_x = width(loads[-1], Face.BOLD, style.extra) if loads else -_NOTE_GAP
        beside, under = _split_notes(line.notes, beside_x, sheet.text - stop, style)
        if beside:
            last = y + baseline + max(len(loads) - 1, 0) * lead
            marks.append(Text(x + stop + beside_x + _NOTE_GAP, last, beside, Face.REGULAR, style.small))
        top = y + len(loads) * lead
        marks += text_lines(
            under, x + stop, top + style.small * _BASELINE, Face.REGULAR, style.small, style.small_lead
        )
        below = max(below, top + len(under) * style.small_lead)
    return Band(Piece(below, (Group(Role.PARAGRAPH, tuple(marks)),)), {})
