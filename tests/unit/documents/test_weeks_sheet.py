"""The weeks of a session side by side: what is the same is said once, what differs in its week."""

from __future__ import annotations

from pathlib import Path

from compiler.documents.booklet import build_booklet
from compiler.documents.weeks_value import WeeksRow, WeeksSheet
from compiler.pipeline.check import check_source
from tests.fragments import case_book

SHARED = (Path(__file__).parents[2] / "cases" / "ottermere.md").read_text(encoding="utf-8")
BOOK = """
## Block

| Setting    | Value       |
| ---------- | ----------- |
| Start date | 2027-01-04  |
| Weeks      | 3           |
| Booklet    | weeks sheet |
| Easier weeks | 3         |
| Closed dates | 2027-01-12 |
| Ramp sets  | bar x 8     |

## Exercises

| Exercise     | Implement   | Each side | Cue       |
| ------------ | ----------- | --------- | --------- |
| Back squat   | barbell     |           | Knees out |
| Split squat  | dumbbells   | yes       |           |
| Push-up      | body weight |           |           |
| Calf stretch | body weight |           | Heel down |
| Hip circles  | body weight |           |           |

## Programme

{heads}
| --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- |
{rows}

## Clients

| Client          | Programme | Site | Training days | Screening | Screened on |
| --------------- | --------- | ---- | ------------- | --------- | ----------- |
| Imogen Thackray | Strength  | Gym  | {days}        | clear     | 2026-12-01  |
"""
HEADS = ("Programme", "Session", "Part", "Order", "Exercise", "Ramp", "Week 1 sets", "Week 1 reps", "Week 1 load")
HEADS += ("Week 2 sets", "Week 2 load", "Week 3 sets")
SQUAT = "| Strength | Legs | main | A | Back squat | | 3 | 5 | 60 kg | 4 | 62.5 kg | 2 |"
SPLIT = "| Strength | Legs | main | B | Split squat | | 3 | 8 | 10 kg | | own | |"


def sheets(*rows: str, days: str = "Tue") -> tuple[WeeksSheet, ...]:
    """Return the sheets of the one client of a programme of these rows."""
    text = BOOK.format(heads=f"| {' | '.join(HEADS)} |", rows="\n".join(rows), days=days)
    checked = check_source(case_book(text, SHARED))
    assert checked.book is not None
    assert checked.plans, [flag.message for flag in checked.flags]
    return build_booklet(checked.book, checked.plans[0]).sheets


def rows_of(sheet: WeeksSheet) -> list[WeeksRow]:
    return [row for block in sheet.blocks for row in block.rows]


def test_a_session_of_three_weeks_is_one_sheet() -> None:
    """Its weeks stand under their day; a day on which the site is closed has no date, and an easier week says so."""
    (found,) = sheets(SQUAT)
    assert (found.title, found.bookmark, len(found.keys)) == ("Legs", "Legs, weeks 1 to 3", 3)
    assert [(head.title, head.when) for head in found.heads] == [
        ("Week 1", "Tuesday 5 January"),
        ("Week 2", "Tuesday, closed that day"),
        ("Week 3", "Tuesday 19 January"),
    ]
    assert [bool(head.note) for head in found.heads] == [False, False, True]


def test_without_training_days_no_day_is_printed() -> None:
    """Blank on Clients: the weeks alone."""
    (found,) = sheets(SQUAT, days="")
    assert [head.when for head in found.heads] == ["", "", ""]


def test_what_differs_stands_in_its_week() -> None:
    """Sets, loads and plates by week; the cue once, beside the name."""
    (squat,) = rows_of(sheets(SQUAT)[0])
    assert [(cell.dose, cell.load, cell.sets) for cell in squat.cells if cell] == [
        ("3 × 5", "60 kg", 3),
        ("4 × 5", "62.5 kg", 4),
        ("2 × 5", "62.5 kg", 2),
    ]
    assert squat.cue == "Knees out"
    assert squat.log == "Boxes: kg × reps; the last one: reps left."
    assert next(cell.lines for cell in squat.cells if cell) == ("20 a side",)


def test_a_note_of_every_week_is_said_once() -> None:
    """Each side, in every week: under the name, and in no cell."""
    (split,) = rows_of(sheets(SPLIT)[0])
    assert "Each side." in split.lines
    assert not any("each side" in line for cell in split.cells if cell for line in cell.lines)


def test_a_load_that_nobody_can_state_has_a_line_to_write_on() -> None:
    """With its unit, and where the client takes it from."""
    cell = rows_of(sheets(SPLIT)[0])[0].cells[1]
    assert cell is not None
    assert (cell.load, cell.blank, cell.lines) == ("", "kg each hand", ("your last working weight",))


def test_an_exercise_that_a_week_leaves_out_has_an_empty_cell() -> None:
    """A dash is a week without it."""
    (found,) = sheets(SQUAT, "| Strength | Legs | main | B | Push-up | | 2 | 10 | | - | | 2 |")
    push = rows_of(found)[1]
    assert [cell is not None for cell in push.cells] == [True, False, True]


def test_a_ramp_stands_in_the_week_of_its_load() -> None:
    """Its loads are those of the week."""
    (squat,) = rows_of(sheets(SQUAT.replace("Back squat | |", "Back squat | yes |"))[0])
    assert [any(line.startswith("ramp ") for line in cell.lines) for cell in squat.cells if cell] == [True] * 3


def test_a_warm_up_is_running_text() -> None:
    """It is read once and remembered; a cue follows its exercise."""
    (found,) = sheets(
        "| Strength | Legs | warm-up | | Hip circles | | 1 | 10 | | | | |",
        "| Strength | Legs | warm-up | | Calf stretch | | 1 | 30 s | | | | |",
        SQUAT,
    )
    assert found.before == "Warm-up: Hip circles, 10. •\u00a0Calf stretch, 30\u00a0s. Heel down"
    assert found.after == ""


def test_a_warm_up_that_changes_from_week_to_week_is_no_one_thing_to_say() -> None:
    """Each session keeps its own page then."""
    assert sheets("| Strength | Legs | warm-up | | Hip circles | | 1 | 10 | | - | | 1 |", SQUAT) == ()


def test_a_block_of_a_later_week_stands_below_that_of_an_earlier_one() -> None:
    """In week 3 there is one set, which is said in the head: another block, below the usual one."""
    [found] = sheets(
        SQUAT,
        "| Strength | Legs | main | B | Push-up | | 3 | 8 | | | | 1 |",
    )
    assert [block.letter for block in found.blocks] == ["A", "B", "B"]
    assert [[cell is not None for cell in block.rows[0].cells] for block in found.blocks[1:]] == [
        [True, True, False],
        [False, False, True],
    ]


def test_a_set_left_over_in_some_weeks_stands_there_and_the_block_is_one() -> None:
    """Three and three sets, then four and three, then two and two: only in week 2 has a set no partner."""
    squat = "| Strength | Legs | main | B1 | Back squat | | 3 | 5 | 60 kg | 4 | | 2 |"
    push = "| Strength | Legs | main | B2 | Push-up | | 3 | 8 | bw | 3 | | 2 |"
    [sheet] = sheets(squat, push)
    [block] = sheet.blocks
    assert block.rest == "B1 then B2"
    assert [cell is not None and "the last of B1 alone" in cell.lines for cell in block.rows[0].cells] == [
        *(False, True, False),
    ]


def test_a_set_left_over_in_every_week_is_said_once() -> None:
    """Two sets more than the partner has are told with their number."""
    squat = "| Strength | Legs | main | B1 | Back squat | | 4 | 5 | 60 kg | | | |"
    push = "| Strength | Legs | main | B2 | Push-up | | 2 | 8 | bw | | | |"
    [sheet] = sheets(squat, push)
    [block] = sheet.blocks
    assert block.rest == "B1 then B2; the last 2 of B1 alone"
