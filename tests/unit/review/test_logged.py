"""The log against the plans: what counts, and slips of typing at their cells."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from compiler.notation.values import Count, Distance, DistanceUnit, Tally, Timed
from compiler.pipeline.check import check_source
from compiler.resolve.sessions import names_in_log
from compiler.review.logged import Logged, read_log
from compiler.source.cells import CellType, SourceBook
from tests.unit.progress.months import source_of, with_cell

SQUAT = "A | Back squat | 3 | 8 | 60 kg | | | 2"
DIP = "A | Weighted dip | 3 | 8 | body weight | | | 2"


def flagged(log: str, programme: str = SQUAT) -> list[tuple[str, str]]:
    """Return cell and slug of every flag of the Log."""
    flags = check_source(source_of(programme, log)).flags
    return [(f"{flag.sheet_name}!{flag.cell}", flag.slug) for flag in flags if flag.sheet_name == "Log"]


def entries(log: str, programme: str = SQUAT) -> tuple[Logged, ...]:
    checked = check_source(source_of(programme, log))
    return read_log(checked.book, checked.plans).entries if checked.book else ()


@pytest.mark.parametrize(
    "log",
    [
        "A | Back squat | 60x8, 60x8, 60x7 @9 | 60kgx8 | 60 kg x 8 2 RIR | 12, 12",
        "A | Back squat | 100x8 | 35x8 | ok @8 | -",
        " | | ok | ok @7 | - |",
        "A | Back squat | 132 lb x 8 | 60x0 | 60x16 |",
        " | Back squat | 60x8 | | |",
        "A | | 60x8 | | |",
    ],
)
def test_honest_entries_are_not_flagged(log: str) -> None:
    """Harder or easier than planned, in pounds, by name or by order alone: nothing to say."""
    assert flagged(log) == []


@pytest.mark.parametrize(
    ("log", "cell", "slug"),
    [
        ("A | Back squat | 8x60 | | |", "Log!E2", "log-off-target"),
        ("A | Back squat | 132x8 | | |", "Log!E2", "log-off-target"),
        ("A | Back squat | | 600x8 | |", "Log!F2", "log-off-target"),
        ("A | Back squat | 6x8 | | |", "Log!E2", "log-off-target"),
        ("A | Back squat | 60 | | |", "Log!E2", "log-off-target"),
        ("A | Back squat | 45 s | | |", "Log!E2", "log-off-target"),
        ("A | Back squat | 60x8, 60x8, 60x8, 60x8 | | |", "Log!E2", "sets-and-list-disagree"),
        ("A | Back squat | | | | 60x8, 60x8, 60x8", "Log!H2", "sets-and-list-disagree"),
        ("A | Back sqaut | 60x8 | | |", "Log!D2", "unknown-exercise"),
        ("A | Bench press | 60x8 | | |", "Log!D2", "log-matches-nothing"),
        ("B | Back squat | 60x8 | | |", "Log!D2", "log-matches-nothing"),
        (" | | 60x8 | | |", "Log!E2", "unreadable-reps"),
        ("A | Back squat | 60x | | |", "Log!E2", "unreadable-reps"),
        ("A | Back squat | 60x8 | | |\nA | Back squat | 62.5x8 | | |", "Log!E3", "cells-disagree"),
    ],
)
def test_slips_are_flagged_at_their_cell(log: str, cell: str, slug: str) -> None:
    """Swapped, pounds, a nought too many or few, a weight alone, a time, a set too many, a wrong row, said twice."""
    assert flagged(log) == [(cell, slug)]


def test_a_flagged_cell_counts_for_nothing() -> None:
    """No load comes from a slip: the cell is as if it were blank, its neighbours count."""
    found = entries("A | Back squat | 8x60 | 60x8 | |")
    assert [entry.week for entry in found] == [2]


def test_a_row_given_twice_alike_counts_once() -> None:
    """The same log read twice says the same."""
    row = "A | Back squat | 60x8 | | |"
    assert entries(f"{row}\n{row}") != ()
    assert len(entries(f"{row}\n{row}")) == len(entries(row))
    assert flagged(f"{row}\n{row}") == []


def test_one_entry_stands_for_every_set() -> None:
    """60x8 where three sets were planned: three of them; a list is taken as it stands."""
    one, listed = entries("A | Back squat | 60x8 | 60x8, 60x7 | |")
    assert [done.reps for done in one.sets] == [8, 8, 8]
    assert [done.reps for done in listed.sets] == [8, 7]


def test_the_session_s_row_stands_for_blank_cells() -> None:
    """`ok` there is as planned, without an effort of its own; what is typed for the exercise goes before."""
    whole, own = entries(" | | ok @6 | ok | |\nA | Back squat | | 60x9 | |")
    assert [(str(done.weight), done.reps, done.rpe) for done in whole.sets] == [("60 kg", 8, None)] * 3
    assert [done.reps for done in own.sets] == [9, 9, 9]


def test_body_weight_has_no_target_to_be_far_from() -> None:
    """Whatever is added to a dip is the client's business."""
    assert flagged("A | Weighted dip | BW + 20 x 8 | BW x 8 | 8, 8, 8 |", DIP) == []


DONE = [
    ("30-45 s", "ok", Timed(30, 30)),
    ("30-45 s", "40", Timed(40, 40)),
    ("400 m", "ok", Distance(Decimal(400), Decimal(400), DistanceUnit.METRE)),
    ("400 m", "500", Distance(Decimal(500), Decimal(500), DistanceUnit.METRE)),
    ("15 cal", "ok", Tally(15, 15, "cal")),
    ("15 cal", "18", Tally(18, 18, "cal")),
    ("8-10", "ok", Count(8, 8)),
    ("8+", "ok", Count(8, 8)),
    ("3RM", "ok", Count(3, 3)),
    ("AMRAP", "ok", None),
    ("AMRAP", "12", Count(12, 12)),
]


@pytest.mark.parametrize(("reps", "log", "done"), DONE)
def test_what_a_set_was(reps: str, log: str, done: object) -> None:
    """`ok` is the least that was planned, and no number where none was; a bare number is in the unit of the row."""
    (entry,) = entries(f"A | Weighted dip | {log} | | |", f"A | Weighted dip | 3 | {reps} | body weight | | | 2")
    assert [one.done for one in entry.sets] == [done] * 3


@pytest.mark.parametrize(
    ("typed", "unit", "said"),
    [
        ("132x8", "", "132 kg is 2.2 times the 60 kg planned, and looks like pounds; the cell was not read."),
        ("140x8", "", "140 kg is 2.3 times the 60 kg planned, and looks like pounds; the cell was not read."),
        ("144x8", "", "144 kg is 2.4 times the 60 kg planned; the cell was not read."),
        ("132 kg x 8", "", "132 kg is 2.2 times the 60 kg planned; the cell was not read."),
        ("27x8", "", "27 kg is less than half the 60 kg planned; the cell was not read."),
        ("8x60", "", "8 x 60 is typed where 60 kg x 8 was planned; it looks swapped; the cell was not read."),
        ("60x27", "", "27 repetitions are typed where 8 were planned; the cell was not read."),
        ("60x18", "", ""),
        ("121x8", "", "121 kg is 2 times the 60 kg planned; the cell was not read."),
        ("120x8", "", ""),
        ("30x8", "", ""),
        (
            "60x8",
            "lb",
            "60 lb is less than half the 132.5 lb planned, and looks like kilograms; the cell was not read.",
        ),
        ("300x8", "lb", "300 lb is 2.3 times the 132.5 lb planned; the cell was not read."),
        ("132x8", "lb", ""),
    ],
)
def test_how_far_a_weight_may_be(typed: str, unit: str, said: str) -> None:
    """Half to twice the weight is no slip. What was read in the one unit may have been lifted in the other: 2.2 times.

    A bare number is in the unit of the kit. A pound is 0.45359237 kg (NIST SP 811, appendix B): 60 kg are 132 lb.
    """
    source = source_of(SQUAT, f"A | Back squat | {typed} | | |")
    for row in (2, 3):  # bar and plates
        source = with_cell(source, "Kit", (row, 5), unit or "kg")
    flags = check_source(source).flags
    told = [flag.message.split(": ", 1)[1] for flag in flags if flag.sheet_name == "Log"]
    assert told == ([said] if said else [])


TWICE = f"{SQUAT}\nB | Back squat | 2 | 12 | 40 kg | | | 2"
PRESS_TOO = f"{SQUAT}\nA2 | Bench press | 2 | 8 | 40 kg | | | -"


def retyped(source: SourceBook, cells: dict[tuple[int, int], str]) -> list[tuple[str, str]]:
    """Return cell and message of every flag of the Log, with some of its cells typed anew."""
    sheets = []
    for sheet in source.sheets:
        there = dict(sheet.cells)
        if sheet.name == "Log":
            for place, text in cells.items():
                there[place] = replace(there[2, 1], place=there[2, 1].place._replace(row=place[0], column=place[1]))
                there[place] = replace(there[place], value=text, type=CellType.TEXT)
        sheets.append(replace(sheet, cells=there))
    flags = check_source(replace(source, sheets=tuple(sheets))).flags
    return [(f"{flag.sheet_name}!{flag.cell}", flag.message) for flag in flags if flag.sheet_name == "Log"]


@pytest.mark.parametrize(
    ("cells", "place", "words"),
    [
        ({(2, 1): "Imogen Thackery"}, "Log!A2", '"Imogen Thackery" is not on the Clients sheet.'),
        ({(2, 2): "Pull"}, "Log!B2", 'Imogen Thackray has no session "Pull" in this block; the row was not read.'),
        ({(1, 9): "Week 1 date", (2, 9): "2027-03-04"}, None, ""),
    ],
    ids=["nobody of that name", "no such session", "a date in the row of an exercise is not read"],
)
def test_whose_row_it_is(cells: dict[tuple[int, int], str], place: str | None, words: str) -> None:
    """Client and session are told at their own cell, with what was typed there."""
    told = retyped(source_of(SQUAT, "A | Back squat | 60x8 | | |"), cells)
    assert told == ([(place, words)] if place else [])


@pytest.mark.parametrize(("day", "far"), [("2027-01-04", False), ("2027-01-18", False), ("2027-01-19", True)])
def test_a_day_far_from_its_week_is_a_slip(day: str, far: bool) -> None:
    """Two weeks off is life; more is another month or year. Week 1 begins on 4 January."""
    told = retyped(source_of(SQUAT, " | | ok | | |"), {(1, 9): "Week 1 date", (2, 9): day})
    assert [place for place, _ in told] == (["Log!I2"] if far else [])


def test_two_days_for_one_session_disagree() -> None:
    """Neither counts: the planned day stands."""
    source = source_of(SQUAT, " | | ok | | |\n | | ok | | |")
    told = retyped(source, {(1, 9): "Week 1 date", (2, 9): "2027-01-05", (3, 9): "2027-01-06"})
    assert [place for place, _ in told] == ["Log!I3"]


def test_an_exercise_twice_in_a_session_is_told_apart_by_its_order() -> None:
    """Each has its own row; one without the order is the first."""
    first, second = entries("A | Back squat | 60x8 | | |\nB | Back squat | 40x12 | | |", TWICE)
    assert [(str(one.sets[0].weight), one.planned.order) for one in (first, second)] == [("60 kg", "A"), ("40 kg", "B")]


def test_a_week_without_the_exercise_takes_no_entry() -> None:
    """The bench press ends with week 3: what stands under week 4 is somebody else's, or another week's."""
    assert flagged("A2 | Bench press | | | | 40x8", PRESS_TOO) == [("Log!H2", "log-matches-nothing")]
    assert flagged("A2 | Bench press | | | 40x8 |", PRESS_TOO) == []


def test_weeks_not_done_are_missed() -> None:
    """A dash is typed on purpose; a blank cell says nothing."""
    (found,) = entries("A | Back squat | - | | |")
    assert (found.missed, found.sets, found.week) == (True, (), 1)


HELP = "A | Weighted dip | 3 | 8 | BW - 20 kg | | | 2"


def test_help_is_written_with_the_body() -> None:
    """`20x8` where 20 kg of help were planned may be help or 20 kg more than the body: it is not read."""
    assert flagged("A | Weighted dip | BW - 20 x 8 | BW + 2.5 x 8 | 8, 8, 8 | ok", HELP) == []
    assert flagged("A | Weighted dip | 20x8 | | |", HELP) == [("Log!E2", "log-off-target")]
    assert entries("A | Weighted dip | 20x8 | | |", HELP) == ()


def test_a_load_below_nothing_is_refused_with_what_to_write() -> None:
    """A dash before a number is no form of the log; the hint says how help is written."""
    (found,) = (flag for flag in check_source(source_of(HELP, "A | Weighted dip | -20x8 | | |")).flags if flag.cell)
    assert (found.slug, found.hint) == ("unreadable-reps", "Write BW - 20 x 5 for help with body weight.")


# ---------------------------------------------------------------- a session twice in one week

TURNS = """A | Back squat | 60x8 @7 | 60x8 @7 | 60x8 @7 |"""


def test_a_session_twice_in_a_week_has_two_places() -> None:
    """Each has its own cell, its own day and what was done then; the second is known by the number after its name."""
    source = source_of(SQUAT, f"{TURNS}\n{TURNS.replace('60x8 @7', '62.5x8 @9')}", rotating="Mon Thu")
    source = with_cell(source, "Log", (3, 2), "Press (2)")
    checked = check_source(source)
    assert [flag for flag in checked.flags if flag.sheet_name == "Log"] == []
    assert checked.book is not None
    found = read_log(checked.book, checked.plans).entries
    assert [(entry.session, entry.week, str(entry.day), str(entry.sets[0].weight)) for entry in found] == [
        ("Press", 1, "2027-01-04", "60 kg"),
        ("Press", 1, "2027-01-07", "62.5 kg"),
        ("Press", 2, "2027-01-11", "60 kg"),
        ("Press", 2, "2027-01-14", "62.5 kg"),
        ("Press", 3, "2027-01-18", "60 kg"),
        ("Press", 3, "2027-01-21", "62.5 kg"),
    ]


def test_one_row_is_the_first_time_of_the_week() -> None:
    """What is not typed for the second time is not known, and nothing is concluded from the first."""
    checked = check_source(source_of(SQUAT, TURNS, rotating="Mon Thu"))
    assert checked.book is not None
    found = read_log(checked.book, checked.plans).entries
    assert [str(entry.day) for entry in found] == ["2027-01-04", "2027-01-11", "2027-01-18"]


def test_a_time_that_nobody_has_is_flagged() -> None:
    """There is no third time in a week of two days."""
    source = with_cell(source_of(SQUAT, TURNS, rotating="Mon Thu"), "Log", (2, 2), "Press (3)")
    (found,) = [flag for flag in check_source(source).flags if flag.sheet_name == "Log"]
    assert (found.slug, found.hint) == ("log-matches-nothing", "The sessions are Press (2).")


@pytest.mark.parametrize(
    ("names", "expected"),
    [
        (["Push", "Pull", "Push"], ["Push", "Pull", "Push (2)"]),
        (["Push", "Push (2)", "push"], ["Push", "Push (2)", "push (3)"]),
        (["Push"] * 4, ["Push", "Push (2)", "Push (3)", "Push (4)"]),
    ],
)
def test_names_in_the_log(names: list[str], expected: list[str]) -> None:
    """No two of a week are called alike, whatever the coach has called the others."""
    assert list(names_in_log([(name, 1) for name in names])) == expected
    assert names_in_log([("Push", 1), ("Push", 2)]) == ("Push", "Push")
