"""The boxes of the log column: how many on a line, how wide, where captions and numbers stand."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from compiler.documents.booklet_value import Block, LogBoxes, Wording
from compiler.frozen import frozen
from compiler.layout.lines import plain
from compiler.layout.measures import MM, LogPlace, Sheet, Style
from compiler.layout.metrics import Face, width
from compiler.layout.page import Grid, Group, Mark, Text
from compiler.layout.piece import decoration

_INSET = 1.1 * MM
_CAPTION_BAND = 1.32
_NUDGE = 0.5


@frozen
class LogFrame:
    """The log column of one session: where set boxes begin, the width they share, where reps left stands.

    The place for reps left is kept on every row of a session as soon as one row has that box, so that walls
    line up down the page. `inside` is true where numbers and captions stand in the boxes, none above them;
    `reps_left` is then the caption of that box.
    """

    x: float
    sets: float
    reps_left_x: float
    inside: bool = False
    reps_left: str = ""


def log_frame(blocks: Iterable[Block], sheet: Sheet, style: Style, wording: Wording) -> LogFrame:
    """Return the log column of a session."""
    kept = any(row.log.reps_left for block in blocks for row in block.rows)
    taken = style.reps_left_box + style.reps_left_gap if kept else 0.0
    return LogFrame(
        sheet.log_x,
        sheet.log - taken,
        sheet.live - style.reps_left_box,
        sheet.place is not LogPlace.BESIDE,
        plain(wording.reps_left_inside),
    )


def columns_of(logs: Iterable[LogBoxes], style: Style) -> int:
    """Return how many columns the rows of a block share: its most sets, within what the style has on a line."""
    counts = (log.count for log in logs if log.count <= style.most_boxes)
    return max((style.fewest_columns, *counts))


@frozen
class BoxPlan:
    """The boxes of one row, before their height is known: `counts` boxes a line, each `width` wide.

    `band` is the height kept above the boxes for a caption that numbers leave no room for.
    """

    log: LogBoxes
    counts: tuple[int, ...]
    width: float
    band: float

    @property
    def lines(self) -> int:
        """How many lines of boxes there are."""
        return len(self.counts)


def plan_boxes(log: LogBoxes, columns: int, frame: LogFrame, style: Style) -> BoxPlan:
    """Return the boxes of a row: as many on a line as the style has, more on even lines."""
    if log.count <= style.most_boxes:
        counts: tuple[int, ...] = (log.count,) if log.count or log.reps_left else ()
        needed = width(plain(log.caption), Face.REGULAR, style.caption) + 2 * _INSET
        wide = max(frame.sets / max(columns, log.count), needed / max(log.count, 1))
        return BoxPlan(log, counts, min(wide, frame.sets / max(log.count, 1)), 0.0)
    lines = -(-log.count // style.most_boxes)
    most = -(-log.count // lines)
    counts = tuple(min(most, log.count - line * most) for line in range(lines))
    return BoxPlan(log, counts, frame.sets / most, style.caption * _CAPTION_BAND)


def _caption(plan: BoxPlan, frame: LogFrame, style: Style) -> str:
    """Return what stands in the first box: the caption, after its number where that has no other place and fits."""
    caption = plain(plan.log.caption)
    numbered = f"1 {caption}".strip()
    fits = width(numbered, Face.REGULAR, style.caption) + 1.5 * _INSET <= plan.width
    return numbered if frame.inside and plan.log.count > 1 and fits else caption


def _captions(plan: BoxPlan, frame: LogFrame, y: float, height: float, style: Style) -> list[Mark]:
    """Return the caption and, where the boxes stand on several lines, the number of each set."""
    down = style.caption * 1.05
    marks: list[Mark] = []
    if plan.lines == 1:
        numbered = range(1, plan.log.count) if frame.inside else ()
        words = [(0, _caption(plan, frame, style)), *((column, str(column + 1)) for column in numbered)]
        return [
            Text(frame.x + column * plan.width + _INSET, y + down, text, Face.REGULAR, style.caption)
            for column, text in words
            if text and (not column or column * plan.width >= _reach(plan, frame, style))
        ]
    caption = plain(plan.log.caption)
    if caption:
        marks.append(Text(frame.x + _INSET, y - style.caption * 0.3, caption, Face.REGULAR, style.caption))
    number = 0
    for line, count in enumerate(plan.counts):
        for column in range(count):
            number += 1
            x = frame.x + column * plan.width + _INSET
            marks.append(Text(x, y + line * height + down, str(number), Face.REGULAR, style.caption))
    return marks


def box_marks(plan: BoxPlan, frame: LogFrame, height: float, style: Style) -> Group:
    """Return the boxes of a row from its top edge, each `height` high."""
    y = plan.band
    marks: list[Mark] = []
    crossed = int(_reach(plan, frame, style) // plan.width) if plan.lines == 1 and plan.width else 0
    for line, count in enumerate(plan.counts):
        if count:
            short = min(crossed, count - 1)
            lowered = style.caption * _CAPTION_BAND if short else 0.0
            marks.append(Grid(frame.x, y + line * height, plan.width, height, count, short, lowered))
    if plan.log.reps_left:
        last = y + (plan.lines - 1) * height
        marks.append(Grid(frame.reps_left_x, last, style.reps_left_box, height, 1))
        if frame.inside:
            x, down = frame.reps_left_x + _INSET, last + style.caption * 1.05
            marks.append(Text(x, down, frame.reps_left, Face.REGULAR, style.caption))
    if plan.log.count:
        marks += _captions(plan, frame, y, height, style)
    return decoration(*marks)


def _reach(plan: BoxPlan, frame: LogFrame, style: Style) -> float:
    """Return how far the caption of the first box reaches from its left wall."""
    return width(_caption(plan, frame, style), Face.REGULAR, style.caption) + 1.5 * _INSET


def column_heads(
    logs: Sequence[LogBoxes], frame: LogFrame, baseline: float, style: Style, wording: Wording
) -> Group:
    """Return the set numbers above the boxes of a block, and the words above reps left; none where they are inside."""
    marks: list[Mark] = []
    if frame.inside:
        return decoration()
    columns = columns_of(logs, style)
    numbered = max((log.count for log in logs if log.count <= style.most_boxes), default=0)
    if numbered > 1:
        step = frame.sets / columns
        for column in range(numbered):
            head = plain(wording.first_set) if column == 0 else str(column + 1)
            marks.append(Text(frame.x + column * step + _INSET, baseline, head, Face.REGULAR, style.caption))
    if any(log.reps_left for log in logs):
        lead = style.caption * 1.02
        above, below = map(plain, wording.reps_left)
        x = frame.reps_left_x + _INSET
        marks.append(Text(x, baseline - lead / 2 + _NUDGE, above, Face.REGULAR, style.caption))
        marks.append(Text(x, baseline + lead / 2 + _NUDGE, below, Face.REGULAR, style.caption))
    return decoration(*marks)
