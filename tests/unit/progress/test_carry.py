"""What becomes of a month's rows: missed weeks, expired changes, dates, history."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from compiler.source.grid import book_from_grid
from tests.unit.progress.months import month_of, source_of

PERCENT = "A | Back squat | 3 | 5 | 75% | | | 2"
TESTED = "2026-12-20 | Back squat | 100 | kg | 1 | | tested"


def test_two_missed_weeks_lighten_the_block() -> None:
    """A tenth less, in one row of Changes for the lift; what else the log says is left aside (common practice)."""
    month = month_of(source_of(PERCENT, " | | ok | - | - |\nA | Back squat | 95x5 @8 | | |", TESTED))
    (found,) = month.proposals
    (change,) = found.changes
    assert (change.exercise, change.do, change.with_, change.weeks) == ("Back squat", "scale", "90%", (1, 2, 3, 4))


def test_weeks_away_are_not_missed() -> None:
    """Away in weeks 2 and 3: no pages, no log, and no lighter block."""
    away = "| Imogen Thackray | | | | 2-3 | leave out | | |"
    month = month_of(source_of(PERCENT, " | | ok | | | ok", TESTED, changes=away))
    assert month.proposals == ()


def test_blank_weeks_are_told_and_not_taken_for_missed() -> None:
    """Blank may be untyped; only a dash is missed."""
    month = month_of(source_of(PERCENT, " | | ok | | |", TESTED))
    assert month.proposals == ()
    assert month.without == (("Imogen Thackray", "The log says nothing of weeks 2, 3, 4: type - if they were missed."),)


def test_no_log_no_change() -> None:
    """Nothing is proposed without a log, and it is said."""
    month = month_of(source_of(PERCENT, "", TESTED))
    assert (month.proposals, month.history) == ((), ())
    assert month.without == (("Imogen Thackray", "No log: every load stays as it is."),)


def test_changes_for_some_weeks_go_and_lasting_ones_stay() -> None:
    """Blank and `all` last; some weeks do not; loads that together cover every week do."""
    rows = [
        "| Imogen Thackray | | | Back squat | 3 | load | | 70% |",
        "| Imogen Thackray | | | Back squat | all | scale | 95% | |",
        "| Imogen Thackray | Press | A | Back squat | 1-2 | load | | 60% |",
        "| Imogen Thackray | Press | A | Back squat | 3-4 | load | | 65% |",
        "| Imogen Thackray | | | | 1-4 | scale | 90% | |",
    ]
    month = month_of(source_of(PERCENT, "", TESTED, changes="\n".join(rows)))
    assert [row.row for row in month.dropped] == [2, 6]


def test_the_block_starts_after_its_last_week() -> None:
    """Four weeks after Monday 4 January is Monday 1 February."""
    assert month_of(source_of(PERCENT, "", TESTED)).start == date(2027, 2, 1)


def test_sets_that_were_alike_are_one_row_of_history() -> None:
    """Two alike and a third; the day is the first of its week where no training days are set."""
    month = month_of(source_of(PERCENT, "A | Back squat | | 75x5, 75x5, 75x4 @9 | |", TESTED))
    told = [(row.day, row.week, row.first, row.last, str(row.load), row.reps, row.rpe) for row in month.history]
    assert told == [
        (date(2027, 1, 11), 2, 1, 2, "75 kg", "5", None),
        (date(2027, 1, 11), 2, 3, 3, "75 kg", "4", 9),
    ]


HISTORY = """
## History

| Client          | Date       | Week | Session | Order | Exercise   | Set | Load | Unit | Reps |
| --------------- | ---------- | ---- | ------- | ----- | ---------- | --- | ---- | ---- | ---- |
| Imogen Thackray | 2027-01-11 | 2    | Press   | A     | back squat | {}  | 75   | kg   | 5    |
"""


@pytest.mark.parametrize(("sets", "added"), [("1-3", 0), ("1", 1), ("2-3", 1)])
def test_a_log_read_twice_adds_nothing(sets: str, added: int) -> None:
    """The three sets of 11 January stand in History; a row of other sets is other news."""
    source = source_of(PERCENT, "A | Back squat | | 75x5 | |", TESTED)
    (history,) = book_from_grid(HISTORY.format(sets), "block.xlsx").sheets
    month = month_of(replace(source, sheets=(*source.sheets, history)))
    assert [(row.first, row.last) for row in month.history] == [(1, 3)] * added


def test_history_keeps_what_was_done_without_a_weight() -> None:
    """Repetitions with the body alone are news; `ok` for as many as possible says no number at all."""
    dip = "A | Weighted dip | 2 | {} | body weight | | | 2"
    (row,) = month_of(source_of(dip.format("AMRAP"), "A | Weighted dip | 12 | | |")).history
    assert (row.first, row.last, row.load, row.reps) == (1, 2, None, "12")
    assert month_of(source_of(dip.format("AMRAP"), "A | Weighted dip | ok | | |")).history == ()


def test_loads_for_all_weeks_but_one_expire() -> None:
    """A load that lasted would hold in every week; three of four do not."""
    rows = [
        "| Imogen Thackray | Press | A | Back squat | 1-2 | load | | 60% |",
        "| Imogen Thackray | Press | A | Back squat | 3 | load | | 65% |",
    ]
    month = month_of(source_of(PERCENT, "", TESTED, changes="\n".join(rows)))
    assert [row.row for row in month.dropped] == [2, 3]


def test_a_log_without_news_is_said_to_be_read() -> None:
    """Who is in the log and has no proposal is told with the sessions done, missed and not typed."""
    month = month_of(source_of(PERCENT, " | | ok | - | ok |", TESTED))
    assert month.without == (
        (
            "Imogen Thackray",
            "The log was read and no load changes: 2 of 4 sessions done, 1 missed, 1 not in the log.",
        ),
    )


def test_who_has_no_plan_is_told_so() -> None:
    """A client whose row is wrong has no loads to carry on, and is not passed over in silence."""
    source = source_of(PERCENT, " | | ok | ok | ok | ok", TESTED)
    (clients,) = (sheet for sheet in source.sheets if sheet.name == "Clients")
    cells = dict(clients.cells)
    for column, text in ((1, "Edwin Larkspur"), (2, "Sprints")):
        above = cells[2, column]
        cells[3, column] = replace(above, place=above.place._replace(row=3), value=text)
    sheets = tuple(replace(clients, cells=cells) if sheet is clients else sheet for sheet in source.sheets)
    told = dict(month_of(replace(source, sheets=sheets)).without)
    assert told["Edwin Larkspur"] == "No plan in this block: an error held the booklet."
