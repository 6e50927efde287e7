"""What a row of the Programme must say, and how groups hang together."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from compiler.checks import Check
from compiler.checks.groups import (
    check_done_as,
    check_empty_sessions,
    check_members,
    check_order,
    check_overlaps,
    check_rests,
)
from compiler.checks.structure import (
    check_dashes,
    check_first_weeks,
    check_lists,
    check_rows_at_all,
    check_steps,
    check_tempo_and_hold,
)
from compiler.model.book import Book

Finder = Callable[[Check, str], list[tuple[str, str]]]

Expected = list[tuple[str, str]]

BLOCK = "## Block\n| Setting | Value |\n| Weeks | 3 |\n"
LIBRARY = """## Exercises
| Exercise | Implement |
| Squat | barbell |
| Row | band |
| Press-up | body weight |
| Pull-up | body weight plus load |
| Bike | cardio |
"""
HEAD = (
    "| Programme | Session | Part | Order | Exercise | Done as | Tempo | Rest |"
    " Week 1 sets | Week 1 reps | Week 1 load |"
    " Week 2 sets | Week 2 reps | Week 2 load | Week 2 rest | Week 3 sets | Week 3 reps | Week 3 load |"
)


def rows(*lines: str) -> str:
    """Return session A with rows from 2 on: `order; exercise; part; done as; tempo; rest; the week cells`."""
    made = [BLOCK, LIBRARY, "## Programme\n", HEAD, "\n"]
    for line in lines:
        order, exercise, part, done_as, tempo, rest, *weeks = [cell.strip() for cell in line.split(";")]
        made.append(f"| S | A | {part} | {order} | {exercise} | {done_as} | {tempo} | {rest} | {' | '.join(weeks)} |\n")
    return "".join(made)


FIRST_WEEK: tuple[tuple[str, str, Expected], ...] = (
    ("whole", "A; Squat;;;;; 3; 8; 75%", []),
    ("whole prescription in one cell", "A; Squat;;;;; 3 x 8 @ 75%", []),
    ("prescription without a load", "A; Squat;;;;; 3 x 8", [("Programme!I2", "missing-load")]),
    ("no sets", "A; Squat;;;;;; 8; 75%", [("Programme!I2", "missing-sets")]),
    ("no reps", "A; Squat;;;;; 3;; 75%", [("Programme!J2", "missing-reps")]),
    ("no load", "A; Squat;;;;; 3; 8;", [("Programme!K2", "missing-load")]),
    ("an empty row is one mistake", "A; Squat;;;;;;;", [("Programme!I2", "missing-sets")]),
    ("first used in week 2", "A; Squat;;;;;;;; 3; 8;", [("Programme!N2", "missing-load")]),
    ("later blanks mean as before", "A; Squat;;;;; 3; 8; 75%;; 6;", []),
    ("warm-up without sets and load", "; Squat; warm-up;;;;; 8;", []),
    ("band without load", "A; Row;;;;; 3; 12;", []),
    ("cardio without sets and load", "A; Bike;;;;;; 10 min;", []),
    ("reps are needed everywhere", "A; Press-up;;;;; 3;;", [("Programme!J2", "missing-reps")]),
    ("added load is stated", "A; Pull-up;;;;; 3; 8;", [("Programme!K2", "missing-load")]),
    ("a test set finds its load", "A; Squat;;;;; 1; 3RM;", []),
    ("the clock counts the sets", "A; Squat;; EMOM 10 min;;;; 3; 75%", []),
    ("a cell that failed is silent", "A; Squat;;;;; three; 8; 75%", []),
    ("out all the block", "A; Squat;;;;; -;;", []),
)


@pytest.mark.parametrize(("line", "expected"), [c[1:] for c in FIRST_WEEK], ids=[c[0] for c in FIRST_WEEK])
def test_first_week(found: Finder, line: str, expected: Expected) -> None:
    """A blank in the row's first week is an error, but for sets and load where none are needed."""
    assert expected == found(check_first_weeks, rows(line))


ROW_CASES: tuple[tuple[str, Check, str, Expected], ...] = (
    ("dash alone", check_dashes, "A; Squat;;;;; 3; 8; 75%; -", []),
    ("dash with reps", check_dashes, "A; Squat;;;;; 3; 8; 75%; -; 8", [("Programme!L2", "unreadable-reps")]),
    ("dash with rest", check_dashes, "A; Squat;;;;; 3; 8; 75%; -;;; 90", [("Programme!L2", "unreadable-reps")]),
    ("after the dash, no sets", check_dashes, "A; Squat;;;;; 3; 8; 75%; -;;;;; 6", [("Programme!P2", "missing-sets")]),
    ("after the dash, sets again", check_dashes, "A; Squat;;;;; 3; 8; 75%; -;;;; 3; 6", []),
    ("step in the first week", check_steps, "A; Squat;;;;; 3; 8; +2.5 kg", [("Programme!K2", "step-without-start")]),
    ("same in the first week", check_steps, "A; Squat;;;;; 3; 8; same", [("Programme!K2", "step-without-start")]),
    (
        "step in the first used week",
        check_steps,
        "A; Squat;;;;;;;; 3; 8; +2.5 kg",
        [("Programme!N2", "step-without-start")],
    ),
    ("step on a percentage", check_steps, "A; Squat;;;;; 3; 8; 75%;;; +2.5%", []),
    ("points on a weight", check_steps, "A; Squat;;;;; 3; 8; 60 kg;;; +2.5%", [("Programme!N2", "step-without-start")]),
    (
        "weight on a heart rate",
        check_steps,
        "A; Bike;;;;; 1; 10 min; 60-70% HRR;;; +5 kg",
        [("Programme!N2", "step-without-start")],
    ),
    ("step after a load that failed", check_steps, "A; Squat;;;;; 3; 8; 75;;; +2.5%", []),
    (
        "list longer than the sets",
        check_lists,
        "A; Squat;;;;; 2; 12, 10, 8; 75%",
        [("Programme!J2", "sets-and-list-disagree")],
    ),
    (
        "list of reps shorter",
        check_lists,
        "A; Squat;;;;; 4; 12, 10, 8; 75%",
        [("Programme!J2", "sets-and-list-disagree")],
    ),
    ("list of loads shorter repeats", check_lists, "A; Squat;;;;; 3; 8; 70, 75%", []),
    (
        "list of loads longer",
        check_lists,
        "A; Squat;;;;; 3; 8; 60, 65, 70, 75 kg",
        [("Programme!K2", "sets-and-list-disagree")],
    ),
    (
        "sets change under a list",
        check_lists,
        "A; Squat;;;;; 3; 12, 10, 8; 75%; 4",
        [("Programme!L2", "sets-and-list-disagree")],
    ),
    (
        "told once, not every week",
        check_lists,
        "A; Squat;;;;; 2; 12, 10, 8; 75%;;;;; 2",
        [("Programme!J2", "sets-and-list-disagree"), ("Programme!P2", "sets-and-list-disagree")],
    ),
    ("a range of sets", check_lists, "A; Squat;;;;; 2-3; 12, 10, 8; 75%", []),
    ("tempo on a hold", check_tempo_and_hold, "A; Press-up;;; 3-1-1-0;; 3; 30 s", [("Programme!G2", "tempo-and-hold")]),
    ("tempo on repetitions", check_tempo_and_hold, "A; Press-up;;; 3-1-1-0;; 3; 8", []),
)


@pytest.mark.parametrize(("check", "line", "expected"), [c[1:] for c in ROW_CASES], ids=[c[0] for c in ROW_CASES])
def test_row(found: Finder, check: Check, line: str, expected: Expected) -> None:
    """What stands in one row agrees with itself."""
    assert expected == found(check, rows(line))


GROUP_CASES: tuple[tuple[str, Check, tuple[str, ...], Expected], ...] = (
    (
        "order twice in one week",
        check_overlaps,
        ("A; Squat;;;;; 3; 8; 75%", "A; Row;;;;; 3; 8; light"),
        [("Programme!D3", "weeks-overlap")],
    ),
    (
        "order twice in weeks that do not meet",
        check_overlaps,
        ("A; Squat;;;;; 3; 8; 75%; -", "A; Row;;;;;;;; 3; 8; light"),
        [],
    ),
    ("blank orders are free", check_overlaps, ("; Squat; warm-up;;;; 1; 8", "; Row; warm-up;;;; 1; 8"), []),
    ("A then C", check_order, ("A; Squat;;;;; 3; 8; 75%", "C; Row;;;;; 3; 8; light"), [("Programme!D3", "order-gap")]),
    (
        "A1 then A3",
        check_order,
        ("A1; Squat;;;;; 3; 8; 75%", "A3; Row;;;;; 3; 8; light"),
        [("Programme!D3", "order-gap")],
    ),
    ("A2 without A1", check_order, ("A2; Squat;;;;; 3; 8; 75%",), [("Programme!D2", "order-gap")]),
    ("in order", check_order, ("A1; Squat;;;;; 3; 8; 75%", "A2; Row;;;;; 3; 8", "B; Bike;;;;;; 10 min"), []),
    ("words of the coach's own", check_order, ("first; Squat;;;;; 3; 8; 75%", "1; Row;;;;; 3; 8"), []),
    ("A1 alone", check_members, ("A1; Squat;;;;; 3; 8; 75%", "B; Row;;;;; 3; 8"), [("Programme!D2", "lone-member")]),
    (
        "unequal sets",
        check_members,
        ("A1; Squat;;;;; 3; 8; 75%", "A2; Row;;;;; 4; 8"),
        [("Programme!I3", "unequal-sets")],
    ),
    (
        "unequal from week 2",
        check_members,
        ("A1; Squat;;;;; 3; 8; 75%", "A2; Row;;;;; 3; 8;; 4"),
        [("Programme!L3", "unequal-sets")],
    ),
    (
        "long rest inside",
        check_rests,
        ("A1; Squat;;;; 60; 3; 8; 75%", "A2; Row;;;; 90; 3; 8"),
        [("Programme!H2", "rest-inside-group")],
    ),
    ("change-over", check_rests, ("A1; Squat;;;; 20; 3; 8; 75%", "A2; Row;;;; 2 min; 3; 8"), []),
    ("thirty seconds are allowed", check_rests, ("A1; Squat;;;; 30; 3; 8; 75%", "A2; Row;;;; 90; 3; 8"), []),
    (
        "long rest in one week",
        check_rests,
        ("A1; Squat;;;; 0; 3; 8; 75%;;;; 90", "A2; Row;;;; 90; 3; 8"),
        [("Programme!O2", "rest-inside-group")],
    ),
    ("alone in a week, the rest is its own", check_rests, ("A1; Squat;;;; 90; 3; 8; 75%", "A2; Row;;;; 90; -"), []),
    (
        "done as below the first",
        check_done_as,
        ("A1; Squat;;;;; 3; 8; 75%", "A2; Row;; circuit;;; 3; 8"),
        [("Programme!F3", "misplaced-done-as")],
    ),
    (
        "a drop set belongs to its row",
        check_done_as,
        ("A1; Squat;;;;; 3; 8; 75%", "A2; Row;; drop last set 20% x 2;;; 3; 8"),
        [],
    ),
    (
        "nothing in week 2",
        check_empty_sessions,
        ("A; Squat;;;;; 3; 8; 75%; -;;;; 3", "B; Row;;;;; 3; 8;; -;;;; 3"),
        [("Programme!L2", "empty-session")],
    ),
)


@pytest.mark.parametrize(("check", "lines", "expected"), [c[1:] for c in GROUP_CASES], ids=[c[0] for c in GROUP_CASES])
def test_group(found: Finder, check: Check, lines: tuple[str, ...], expected: Expected) -> None:
    """Rows of one session agree with each other."""
    assert expected == found(check, rows(*lines))


def test_only_shared_rows(found: Finder) -> None:
    """A programme whose rows are all for `all` sessions has no session."""
    text = rows("; Squat; warm-up;;;; 1; 8").replace("| S | A |", "| S | all |")
    assert found(check_empty_sessions, text) == [("Programme!B2", "empty-session")]


def test_messages_name_the_headers(book_of: Callable[[str], Book]) -> None:
    """A blank is told by the header of its column."""
    (flag,) = check_first_weeks(book_of(rows("A; Squat;;;;; 3; 8;")))
    assert flag.message == "Week 1 load is blank, and this is the row's first week."


def test_sheets_without_rows(book_of: Callable[[str], Book]) -> None:
    """Headers alone make no booklet: an error on each sheet that has no rows."""
    found = [(flag.slug, flag.sheet) for flag in check_rows_at_all(book_of("## Clients\n| Client |\n"))]
    assert found == [("missing-name", "Clients"), ("missing-name", "Programme"), ("missing-name", "Exercises")]
