"""The figures of one exercise: dose and load at their stops, small words after them, further lines below."""

from __future__ import annotations

from collections.abc import Sequence

from compiler.documents.booklet_value import BlankLoad, ExerciseRow, ExtraLine, Figure
from compiler.documents.booklet_value import Mark as Meaning
from compiler.frozen import frozen
from compiler.layout.lines import balanced, fitted, plain, unbroken, wrap
from compiler.layout.measures import FIGURE_LEAD, MM, Sheet, Style
from compiler.layout.metrics import Face, width
from compiler.layout.page import Group, Line, Mark, Part, Role, Shifted, Stroke, Text
from compiler.layout.piece import Piece, decoration, text_lines

_BASELINE = 0.78
_FIGURE_BASELINE = 0.82
_NOTE_GAP = 4.5
_STOP_GAP = 4.0
_BELOW_GAP = 7.0
_WRITING_LINE = 17 * MM
_WRITING_LINE_LEAST = 9 * MM
_WRITING_ROOM = 1.6 * MM


@frozen
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


@frozen
class _Stop:
    """What stands under one stop: its marks, what is only drawn, the height, and notes that found no room."""

    marks: tuple[Mark, ...]
    drawn: tuple[Mark, ...]
    height: float
    left_over: str


def _beside(notes: Sequence[str], taken: float, room: float, style: Style) -> tuple[str, str]:
    """Return the notes that fit on the figure's line, and those that do not."""
    beside: list[str] = []
    rest: list[str] = []
    for note in notes:
        trial = ", ".join([*beside, note])
        if not rest and taken + _NOTE_GAP + width(plain(trial), Face.REGULAR, style.small) <= room:
            beside.append(note)
        else:
            rest.append(unbroken(note))
    return plain(", ".join(beside)), ", ".join(rest)


def _small_lines(lines: Sequence[str], x: float, top: float, face: Face, style: Style) -> list[Mark]:
    return text_lines(lines, x, top + style.small * _BASELINE, face, style.small, style.small_lead)


def _figure_stop(figure: Figure, x: float, room: float, style: Style, strong: str = "") -> _Stop:
    """Return a figure, `strong` words in semibold after it, then as many of its notes as fit on the line."""
    size = fitted(figure.text, Face.BOLD, style.figure, room, style.figure_floor)
    lines = balanced(figure.text, Face.BOLD, size, room)
    lead = style.figure * FIGURE_LEAD
    baseline = style.figure * _FIGURE_BASELINE
    marks = text_lines(lines, x, baseline, Face.BOLD, size, lead)
    last = baseline + max(len(lines) - 1, 0) * lead
    taken = width(lines[-1], Face.BOLD, size) if lines else -_NOTE_GAP
    height = max(len(lines), 1) * lead
    words = plain(strong)
    if words and taken + _NOTE_GAP + width(words, Face.SEMIBOLD, style.small) <= room:
        marks.append(Text(x + taken + _NOTE_GAP, last, words, Face.SEMIBOLD, style.small))
        taken += _NOTE_GAP + width(words, Face.SEMIBOLD, style.small)
    elif words:
        more = wrap(strong, Face.SEMIBOLD, style.small, room)
        marks += _small_lines(more, x, height, Face.SEMIBOLD, style)
        height += len(more) * style.small_lead
    beside, left_over = _beside(figure.notes, taken, room, style)
    if beside:
        marks.append(Text(x + taken + _NOTE_GAP, last, beside, Face.REGULAR, style.small))
    return _Stop(tuple(marks), (), height, left_over)


def _blank_stop(blank: BlankLoad, x: float, room: float, style: Style, strong: str) -> _Stop:
    """Return a line to write a load on and its unit; `strong` words below in semibold."""
    baseline = style.figure * _FIGURE_BASELINE
    unit = plain(blank.unit)
    size = fitted(unit, Face.SEMIBOLD, style.extra, room - _WRITING_LINE_LEAST - _NOTE_GAP, style.small)
    taken = width(unit, Face.SEMIBOLD, size)
    line = max(min(_WRITING_LINE, room - taken - _NOTE_GAP), _WRITING_LINE_LEAST)
    height = style.figure * FIGURE_LEAD
    more = wrap(strong, Face.SEMIBOLD, style.small, room)
    marks = [
        Text(x + line + _NOTE_GAP * 0.7, baseline, unit, Face.SEMIBOLD, size),
        *_small_lines(more, x, height, Face.SEMIBOLD, style),
    ]
    drawn = Line(x, baseline + 1.5, x + line, baseline + 1.5, Stroke.BOX)
    left_over = ", ".join(map(unbroken, blank.notes))
    return _Stop(tuple(marks), (drawn,), height + len(more) * style.small_lead, left_over)


def _load_notes(
    notes: str, stop: float, room: float, *, may_widen: bool, style: Style
) -> tuple[float, tuple[str, ...]]:
    """Return the lines of notes below a load and where they begin.

    They stand under the load stop, or further left where that saves a line and nothing stands there.
    """
    lines = wrap(notes, Face.REGULAR, style.small, room - stop)
    wide = wrap(notes, Face.REGULAR, style.small, room)
    if may_widen and len(wide) < len(lines):
        longest = max(width(line, Face.REGULAR, style.small) for line in wide)
        return max(min(stop, room - longest), 0.0), wide
    return stop, lines


def dose_band(row: ExerciseRow, sheet: Sheet, style: Style) -> Band:
    """Return the line with sets × reps at the text column and the load at its stop."""
    x, stop = sheet.gutter, sheet.stop
    alone = row.load is None and not row.spotter
    room = sheet.text if alone else stop - _STOP_GAP
    dose = _figure_stop(row.dose, x, room, style)
    if isinstance(row.load, BlankLoad):
        load = _blank_stop(row.load, x + stop, sheet.text - stop, style, row.spotter)
    else:
        load = _figure_stop(row.load or Figure(""), x + stop, sheet.text - stop, style, row.spotter)
    below = wrap(dose.left_over, Face.REGULAR, style.small, room if alone else stop - _BELOW_GAP)
    level = dose.height >= load.height and not below
    may_widen = level and style.notes_give_way
    indent, notes = _load_notes(load.left_over, stop, sheet.text, may_widen=may_widen, style=style)
    marks = (
        *dose.marks,
        *_small_lines(below, x, dose.height, Face.REGULAR, style),
        *load.marks,
        *_small_lines(notes, x + indent, max(load.height, dose.height if level else 0.0), Face.REGULAR, style),
    )
    group = Group(Role.PARAGRAPH, marks)
    spots = {
        meaning: end_of(Group(None, tuple(mark for mark in part.marks if mark.y == part.marks[0].y)))
        for meaning, part in ((Meaning.DOSE, dose), (Meaning.LOAD, load))
        if part.marks
    }
    ends = [dose.height + len(below) * style.small_lead]
    if load.marks or notes:
        ends.append(max(load.height, dose.height if level else 0.0) + len(notes) * style.small_lead)
    if not load.drawn:
        return Band(Piece(max(ends), (group,)), spots)
    lower = Shifted(_WRITING_ROOM, (group, decoration(*load.drawn)))
    spots = {meaning: (end, y + _WRITING_ROOM) for meaning, (end, y) in spots.items()}
    return Band(Piece(max(ends) + _WRITING_ROOM, (lower,)), spots)


def extra_band(line: ExtraLine, sheet: Sheet, style: Style) -> Band:
    """Return one further line: head and dose at the text column, load and its notes at the load stop."""
    x, stop = sheet.gutter, sheet.stop
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
    below = y + max(len(doses), len(loads), 1 if (head or line.notes) and not y else 0) * lead
    if line.notes:
        taken = width(loads[-1], Face.BOLD, style.extra) if loads else -_NOTE_GAP
        beside, left_over = _beside(line.notes, taken, sheet.text - stop, style)
        if beside:
            last = y + baseline + max(len(loads) - 1, 0) * lead
            marks.append(Text(x + stop + taken + _NOTE_GAP, last, beside, Face.REGULAR, style.small))
        under = wrap(left_over, Face.REGULAR, style.small, sheet.text - stop)
        top = y + max(len(loads), 1 if beside else 0) * lead
        marks += _small_lines(under, x + stop, top, Face.REGULAR, style)
        below = max(below, top + len(under) * style.small_lead)
    return Band(Piece(below, (Group(Role.PARAGRAPH, tuple(marks)),)), {})
