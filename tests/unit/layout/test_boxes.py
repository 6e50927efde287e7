"""The log column: how many boxes on a line, and captions that find room."""

from __future__ import annotations

from itertools import pairwise

import pytest

from compiler.documents.booklet_value import Block, LogBoxes, Paper, Wording
from compiler.layout.boxes import box_marks, column_heads, columns_of, log_frame, plan_boxes
from compiler.layout.measures import DENSE, MM, SHEETS, STANDARD
from compiler.layout.page import Grid, Text
from tests.unit.layout.sample_booklet import MAIN_LIFT, PLANK, RING_ROW, TRIO_C, loaded

SHEET = SHEETS[Paper.A4]
FRAME = log_frame((MAIN_LIFT,), SHEET, STANDARD, Wording())


def logs_of(block: Block) -> tuple[LogBoxes, ...]:
    return tuple(row.log for row in block.rows)


@pytest.mark.parametrize(
    ("count", "lines"), [(1, (1,)), (3, (3,)), (5, (5,)), (6, (3, 3)), (7, (4, 3)), (10, (5, 5)), (12, (4, 4, 4))]
)
def test_six_boxes_and_more_stand_on_several_lines(count: int, lines: tuple[int, ...]) -> None:
    assert plan_boxes(loaded(count), 3, FRAME, STANDARD).counts == lines


def test_rows_of_a_block_share_columns() -> None:
    """As many columns as the most sets, never fewer than three: the walls stand under each other."""
    assert columns_of(logs_of(MAIN_LIFT), STANDARD) == 4
    assert columns_of(logs_of(TRIO_C), STANDARD) == 3
    four = plan_boxes(loaded(4), 4, FRAME, STANDARD)
    two = plan_boxes(loaded(2), 4, FRAME, STANDARD)
    assert four.width == two.width


def test_reps_left_takes_room_only_where_it_is_asked_for() -> None:
    free = Block("A", "Pair", "", (PLANK, RING_ROW))
    assert log_frame((free,), SHEET, STANDARD, Wording()).sets == SHEET.log
    assert FRAME.sets == pytest.approx(SHEET.log - 13.5 * MM)


def test_a_long_caption_lowers_the_walls_it_crosses() -> None:
    marks = box_marks(plan_boxes(loaded(4, "kg each hand × reps"), 4, FRAME, STANDARD), FRAME, 40.0, STANDARD).marks
    grid = next(mark for mark in marks if isinstance(mark, Grid))
    caption = next(mark for mark in marks if isinstance(mark, Text))
    assert (grid.short_walls, grid.count) == (1, 4)
    assert grid.lowered > caption.y - grid.y


def test_a_short_caption_leaves_the_walls_alone() -> None:
    marks = box_marks(plan_boxes(LogBoxes("reps", 4), 4, FRAME, STANDARD), FRAME, 40.0, STANDARD).marks
    assert next(mark for mark in marks if isinstance(mark, Grid)).short_walls == 0


@pytest.mark.parametrize("style", [STANDARD, DENSE])
def test_floors_of_the_styles(style: object) -> None:
    """The floors that no text and no box goes below, from the measures of the booklet (common practice, no source)."""
    assert style.box_floor >= 9.5 * MM
    assert style.caption >= 8
    assert style.small >= 9
    assert style.name_floor >= 11
    assert style.figure_floor >= 12.5


def test_the_boxes_are_numbered_from_the_first_set() -> None:
    """Each number stands over the wall of its box."""
    above = column_heads(logs_of(MAIN_LIFT), FRAME, 40.0, STANDARD, Wording())
    heads = [mark for mark in above.marks if isinstance(mark, Text)]
    assert [head.text for head in heads][:4] == ["set 1", "2", "3", "4"]
    step = FRAME.sets / columns_of(logs_of(MAIN_LIFT), STANDARD)
    assert [later.x - earlier.x for earlier, later in pairwise(heads[:4])] == pytest.approx([step] * 3)
