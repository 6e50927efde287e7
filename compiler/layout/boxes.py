"""The boxes of the log column: how many on a line, how wide, where captions and numbers stand."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from compiler.documents.booklet_value import Block, LogBoxes, Wording
from compiler.layout.lines import plain
from compiler.layout.measures import MM, Sheet, Style
from compiler.layout.metrics import Face, width
from compiler.layout.page import Grid, Group, Mark, Text
from compiler.layout.piece import decoration

_FEWEST_COLUMNS = 3
_MOST_ON_A_LINE = 5
_INSET = 1.1 * MM
_CAPTION_BAND = 1.32
_NUDGE = 0.5


@dataclass(frozen=True, slots=True)
class LogFrame:
    """The log column of one session: where set boxes begin, the width they share, where reps left stands.

    The place for reps left is kept on every row of a session as soon as one row has that box, so that walls
    line up down the page.
    """

    x: float
    sets: float
    reps_left_x: float


def log_frame(blocks: Iterable[Block], sheet: Sheet, style: Style) -> LogFrame:
    """Return the log column of a session."""
    kept = any(row.log.reps_left for block in blocks for row in block.rows)
    taken = style.reps_left_box + style.reps_left_gap if kept else 0.0
    return LogFrame(sheet.log_x, sheet.log - taken, sheet.live - style.reps_left_box)


def columns_of(block: Block) -> int:
    """Return how many columns the rows of a block share: its most sets, three to five."""
    counts = (row.log.count for row in block.rows if row.log.count <= _MOST_ON_A_LINE)
    return max((_FEWEST_COLUMNS, *counts))


@dataclass(frozen=True, slots=True)
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
    """Return the boxes of a row: up to five on a line, six and more on even lines."""
    if log.count <= _MOST_ON_A_LINE:
        counts: tuple[int, ...] = (log.count,) if log.count or log.reps_left else ()
        needed = width(plain(log.caption), Face.REGULAR, style.caption) + 2 * _INSET
        wide = max(frame.sets / max(columns, log.count), needed / max(log.count, 1))
        return BoxPlan(log, counts, min(wide, frame.sets / max(log.count, 1)), 0.0)
    lines = -(-log.count // _MOST_ON_A_LINE)
    most = -(-log.count // lines)
    counts = tuple(min(most, log.count - line * most) for line in range(lines))
    return BoxPlan(log, counts, frame.sets / most, style.caption * _CAPTION_BAND)


def _captions(plan: BoxPlan, frame: LogFrame, y: float, height: float, style: Style) -> list[Mark]:
    """Return the caption and, where the boxes stand on several lines, the number of each set."""
    caption = plain(plan.log.caption)
    down = style.caption * 1.05
    if plan.lines == 1:
        return [Text(frame.x + _INSET, y + down, caption, Face.REGULAR, style.caption)] if caption else []
    marks: list[Mark] = []
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
    needed = width(plain(plan.log.caption), Face.REGULAR, style.caption) + 2 * _INSET
    crossed = int(needed // plan.width) if plan.lines == 1 and plan.width else 0
    for line, count in enumerate(plan.counts):
        if count:
            short = min(crossed, count - 1)
            lowered = style.caption * _CAPTION_BAND if short else 0.0
            marks.append(Grid(frame.x, y + line * height, plan.width, height, count, short, lowered))
    if plan.log.reps_left:
        last = y + (plan.lines - 1) * height
        marks.append(Grid(frame.reps_left_x, last, style.reps_left_box, height, 1))
    if plan.log.count:
        marks += _captions(plan, frame, y, height, style)
    return decoration(*marks)


def column_heads(block: Block, frame: LogFrame, baseline: float, style: Style, wording: Wording) -> Group:
    """Return the set numbers above the boxes of a block, and the words above reps left."""
    marks: list[Mark] = []
    columns = columns_of(block)
    numbered = max((row.log.count for row in block.rows if row.log.count <= _MOST_ON_A_LINE), default=0)
    if numbered > 1:
        step = frame.sets / columns
        for column in range(numbered):
            head = plain(wording.first_set) if column == 0 else str(column + 1)
            marks.append(Text(frame.x + column * step + _INSET, baseline, head, Face.REGULAR, style.caption))
    if any(row.log.reps_left for row in block.rows):
        lead = style.caption * 1.02
        above, below = map(plain, wording.reps_left)
        x = frame.reps_left_x + _INSET
        marks.append(Text(x, baseline - lead / 2 + _NUDGE, above, Face.REGULAR, style.caption))
        marks.append(Text(x, baseline + lead / 2 + _NUDGE, below, Face.REGULAR, style.caption))
    return decoration(*marks)
