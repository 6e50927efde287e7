"""The progress page -> the bodies of its pages: a chart for each lift, and boxes for what will be lifted."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from compiler.documents.booklet_value import Wording
from compiler.documents.progress_value import Panel, Progress
from compiler.frozen import frozen
from compiler.layout.chart import Frame, chart, label_text
from compiler.layout.editions import Edition
from compiler.layout.lines import plain
from compiler.layout.measures import BODY_LEAD, MM
from compiler.layout.metrics import Face, width
from compiler.layout.page import Grid, Group, Mark, Part, Role, Text
from compiler.layout.piece import Filler, Piece, centred, decoration, flush_right, paragraph
from compiler.layout.running import title_piece

_BASELINE = 0.82
_PLAN_WEEK = 1.7
_BOX_LEAST = 9.4 * MM
_BOX_HEIGHT = 10 * MM
_AXIS = 2.5 * MM
_TALLEST = 84 * MM
_FEWEST_LINES = 8.0
_BESIDE_BOXES = 2 * MM
_UNDER_FOOT = 2.6 * MM
_OVER_TOP = 2 * MM
_AFTER = 3 * MM
_SLACK = 0.5


@frozen
class _Sizes:
    """Sizes of type on the page."""

    head: float
    small: float
    label: float

    @property
    def under_foot(self) -> float:
        """The room below a chart for the label of its lowest point."""
        return self.label * 0.75 + _UNDER_FOOT


def lay_out_progress(
    progress: Progress, edition: Edition, wording: Wording, above: Sequence[Piece] = ()
) -> tuple[tuple[Part, ...], ...]:
    """Return the parts of each page. `above` stands below the title of the first."""
    sheet, body = edition.sheet, edition.body
    small = max(body - 2.5, edition.floor)
    sizes = _Sizes(body, small, max(small + 0.5, edition.floor))
    title = title_piece(progress.title, sheet.live, edition.style)
    filler = Filler(title, title, sheet.top, sheet.foot)
    for piece in above:
        filler.put(piece, _AFTER)
    intro = paragraph(progress.intro, 0.0, sheet.live, Face.REGULAR, body, body * BODY_LEAD)
    filler.put(intro, _AFTER)
    charts = [part for panel in progress.panels for part in _split(panel, sheet.live, sizes, progress.lifted)]
    least = body * _FEWEST_LINES + _BOX_HEIGHT + 12 * MM
    on_first = max(min(len(charts), int(filler.room // least)), 1)
    height = min((filler.room - _SLACK) / on_first, _TALLEST)
    for panel, first_week in charts:
        filler.put(_panel(panel, first_week, height, sheet.live, sizes, progress, wording))
    return tuple(map(tuple, filler.pages))


def _label_width(panel: Panel, sizes: _Sizes, *, detailed: bool) -> float:
    points = [point for point in (*panel.past[-1:], *panel.plan) if point]
    texts = (label_text(point, detailed=detailed) for point in points)
    return max((width(text, Face.SEMIBOLD, sizes.label) for text in texts), default=0.0)


def _week_least(panel: Panel, sizes: _Sizes, *, detailed: bool) -> float:
    """Return the least width of a week: a box to write in, and labels that do not meet."""
    return max(_BOX_LEAST, 1.5 * _label_width(panel, sizes, detailed=detailed) + 0.5 * MM)


def _axis(panel: Panel, sizes: _Sizes) -> float:
    numbers = (width(plain(line.text), Face.REGULAR, sizes.small) for line in panel.lines)
    return max(numbers, default=0.0) + _AXIS


def _beside_boxes(lifted: str, sizes: _Sizes) -> float:
    return width(plain(lifted), Face.SEMIBOLD, sizes.small) + _BESIDE_BOXES


def _split(panel: Panel, live: float, sizes: _Sizes, lifted: str) -> Iterator[tuple[Panel, int]]:
    """Yield a panel with as many past weeks as there is room for; many weeks in parts, each with its first week."""
    least = _week_least(panel, sizes, detailed=False)
    left = max(_axis(panel, sizes), _beside_boxes(lifted, sizes))
    weeks = len(panel.plan)
    past = len(panel.past)
    while past and _PLAN_WEEK * (live - left) / (past + _PLAN_WEEK * weeks) < least:
        past -= 1
    parts = max(-(-weeks // max(int((live - left) // least), 1)), 1)
    if parts == 1:
        dropped = len(panel.past) - past
        yield replace(panel, past=panel.past[dropped:], past_weeks=panel.past_weeks[dropped:]), 1
        return
    each = -(-weeks // parts)
    for start in range(0, weeks, each):
        yield replace(panel, past=(), past_weeks=(), plan=panel.plan[start : start + each]), start + 1


def _panel(
    panel: Panel,
    first_week: int,
    height: float,
    live: float,
    sizes: _Sizes,
    progress: Progress,
    wording: Wording,
) -> Piece:
    """Return one panel: its title, its chart, the weeks below it, and the boxes."""
    frame = _frame(panel, height, live, sizes, progress.lifted)
    detailed = _week_least(panel, sizes, detailed=True) <= frame.wide
    title = Text(0.0, sizes.head * _BASELINE, plain(panel.title), Face.BOLD, sizes.head)
    baseline = frame.foot + sizes.under_foot + sizes.small
    boxes = baseline + 1.2 * MM
    marks: list[Mark] = []
    for number, words in enumerate(panel.past_weeks):
        middle = frame.left + (number + 0.5) * frame.step
        marks.append(centred(words, middle, baseline, Face.REGULAR, sizes.small))
    for number in range(len(panel.plan)):
        words = _week_words(first_week + number, frame.wide, sizes, wording)
        middle = frame.divide + (number + 0.5) * frame.wide
        marks.append(centred(words, middle, baseline, Face.SEMIBOLD, sizes.small))
    if panel.plan:
        marks.append(Grid(frame.divide, boxes, frame.wide, _BOX_HEIGHT, len(panel.plan)))
    level = boxes + _BOX_HEIGHT * 0.62
    marks.append(flush_right(progress.lifted, frame.divide - _BESIDE_BOXES, level, Face.SEMIBOLD, sizes.small))
    room = frame.divide - frame.left - _beside_boxes(progress.lifted, sizes) - 2 * _BESIDE_BOXES
    if panel.past and width(plain(progress.before), Face.REGULAR, sizes.small) <= room:
        marks.append(Text(frame.left, level, plain(progress.before), Face.REGULAR, sizes.small))
    figure = chart(panel, frame, detailed=detailed)
    return Piece(height, (Group(Role.HEADING, (title,)), figure, decoration(*marks)))


def _frame(panel: Panel, height: float, live: float, sizes: _Sizes, lifted: str) -> Frame:
    left = _axis(panel, sizes)
    past, weeks = len(panel.past), len(panel.plan)
    step = (live - left) / max(past + _PLAN_WEEK * weeks, 1)
    if past * step + left < _beside_boxes(lifted, sizes):
        left = _beside_boxes(lifted, sizes)
        step = (live - left) / max(past + _PLAN_WEEK * weeks, 1)
    top = sizes.head * BODY_LEAD + sizes.label + _OVER_TOP
    below = sizes.under_foot + sizes.small + 1.2 * MM + _BOX_HEIGHT + _AFTER
    return Frame(
        left=left,
        divide=left + past * step,
        right=live,
        step=step,
        wide=_PLAN_WEEK * step,
        top=top,
        foot=height - below,
        small=sizes.small,
        label=sizes.label,
    )


def _week_words(number: int, wide: float, sizes: _Sizes, wording: Wording) -> str:
    words = plain(wording.week.format(number))
    return words if width(words, Face.SEMIBOLD, sizes.small) + 2.0 <= wide else str(number)
