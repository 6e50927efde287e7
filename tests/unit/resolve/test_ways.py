"""How a group is done holds for all of it: also where its first row is left out."""

from __future__ import annotations

import pytest

from compiler.binding.records import bind_book
from compiler.documents.figures import Figures
from compiler.documents.log_entry import target_words
from compiler.notation.values import DoneAsKind
from compiler.resolve.plan import resolve_book
from compiler.resolve.values import Part, PlannedExercise
from tests.support import source_book

PROGRAMME = (
    ["Programme", "Session", "Part", "Order", "Exercise", "Done as"]
    + [f"Week {week} {what}" for week in (1, 2) for what in ("sets", "reps", "load")],
    ["Strength", "One", "main", "B1", "Press-up", "circuit", "3", "8", "", "", "", ""],
    ["Strength", "One", "main", "B2", "Squat", "", "3", "10", "", "", "", ""],
    ["Strength", "One", "main", "C1", "Press-up", "EMOM 10 min", "", "5", "", "-", "", ""],
    ["Strength", "One", "main", "C2", "Squat", "", "", "6", "", "", "", ""],
    ["Strength", "One", "main", "D1", "Press-up", "AMRAP 12 min", "", "5", "", "-", "", ""],
    ["Strength", "One", "main", "D1", "Squat", "", "-", "", "", "3", "5", ""],
    ["Strength", "One", "main", "D2", "Squat", "", "3", "7", "", "", "", ""],
)


def planned(*changes: list[str]) -> dict[tuple[int, str], PlannedExercise]:
    tables = {
        "Block": [["Setting", "Value"], ["Weeks", "2"]],
        "Exercises": [["Exercise", "Implement"], ["Press-up", "body weight"], ["Squat", "body weight"]],
        "Programme": PROGRAMME,
        "Clients": [["Client", "Programme"], ["Ada Thornby", "Strength"]],
        "Changes": [
            ["Client", "Session", "Order", "Exercise", "Weeks", "Do", "With", "Sets", "Reps", "Load"],
            *changes,
        ],
    }
    bound = bind_book(source_book(tables))
    assert bound.book is not None, bound.flags
    (plan,) = resolve_book(bound.book).plans
    return {(session.week, one.order): one for session in plan.sessions for one in session.parts[Part.MAIN]}


def way(one: PlannedExercise) -> DoneAsKind | None:
    return one.done_as.kind if one.done_as else None


@pytest.mark.parametrize("changes", [(), (["Ada Thornby", "", "B1", "", "", "leave out", "", "", "", ""],)])
def test_the_way_stays_where_the_first_row_is_left_out(changes: tuple[list[str], ...]) -> None:
    """Who leaves out the first station still does the others as a circuit."""
    assert way(planned(*changes)[1, "B2"]) is DoneAsKind.CIRCUIT


def test_a_dash_in_the_first_row_leaves_the_way() -> None:
    """The row is out in week 2; what is left is done by the clock all the same."""
    assert way(planned()[2, "C2"]) is DoneAsKind.EMOM


def test_a_row_that_takes_its_turn_says_its_own_way() -> None:
    """Two rows share D1: the way of the first is over when the second takes its place."""
    assert way(planned()[1, "D2"]) is DoneAsKind.AMRAP
    assert way(planned()[2, "D2"]) is None


def test_by_the_clock_one_set_is_what_is_done_each_time() -> None:
    """Five a minute for ten minutes is not one set of five."""
    found = planned()
    assert target_words(found[1, "C1"], Figures()) == "5 reps @ BW"
    assert target_words(found[1, "C2"], Figures()) == "6 reps @ BW"
    assert target_words(found[1, "B2"], Figures()) == "3 × 10 @ BW"
