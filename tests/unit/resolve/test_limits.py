"""A client's highest effort holds for typed weights, too, where a test says how hard they are.

Percentages at repetitions to failure are the handbook's (NSCA, Essentials of Strength Training and Conditioning, 4th
edition, table 17.7): 6 repetitions at 85%, 12 at 70%.
"""

from __future__ import annotations

import pytest

from compiler.pipeline.check import check_source
from tests.support import source_book

HEADERS = ["Programme", "Session", "Part", "Order", "Exercise", "Week 1 sets", "Week 1 reps", "Week 1 load"]


def stops(load: str, limit: str, *, then: str = "", source: str = "tested", scale: str = "") -> list[str]:
    """Return the errors of a load, and of the step `then` in week 2, for a client with a limit and a test of 100 kg."""
    row = ["One", "Day one", "main", "A", "Back squat", "2", "5", load, then]
    tables = {
        "Block": [["Setting", "Value"], ["Start date", "2026-12-07"], ["Weeks", "2"]],
        "Exercises": [["Exercise", "Implement"], ["Back squat", "barbell"]],
        "Programme": [[*HEADERS, "Week 2 load"], row],
        "Clients": [["Client", "Programme", "Highest effort"], ["Imogen Thackray", "One", limit]],
        "Tests": [
            ["Client", "Date", "Exercise", "Load", "Unit", "Reps", "Source"],
            ["Imogen Thackray", "2026-11-20", "Back squat", "100", "kg", "1", source],
        ],
        "Changes": [
            ["Client", "Session", "Order", "Exercise", "Weeks", "Do", "With"],
            ["Imogen Thackray", "", "", "Back squat", "", "scale", scale],
        ],
    }
    if not scale:
        del tables["Changes"]
    slugs = [flag.slug for flag in check_source(source_book(tables)).flags if flag.touches]
    return list(dict.fromkeys(slugs))


@pytest.mark.parametrize("load", ["85 kg", "85%", "187.5 lb"])
def test_five_at_85_percent_leave_one(load: str) -> None:
    """Six to failure at 85%: one left is RPE 9, over RPE 7, however the weight was typed."""
    assert stops(load, "RPE 7") == ["over-client-limit"]


@pytest.mark.parametrize("load", ["70 kg", "70%"])
def test_five_at_70_percent_leave_plenty(load: str) -> None:
    assert stops(load, "RPE 7") == []


def test_a_typed_weight_over_a_highest_percentage() -> None:
    assert stops("85 kg", "80%") == ["over-client-limit"]
    assert stops("80 kg", "80%") == []


@pytest.mark.parametrize("step", ["+10 kg", "+22 lb"])
def test_weights_added_to_a_percentage_count(step: str) -> None:
    """75% of 100 kg is under 80%; 10 kg more (or 22 lb, 9.98 kg) make 85 kg, which is not."""
    assert stops("75%", "80%") == []
    assert stops("75%", "80%", then=step) == ["over-client-limit"]
    assert stops("75%", "80%", then="+5 kg") == []


def test_a_typed_working_max_measures_a_typed_weight() -> None:
    """95 of a working max of 100 kg is over 80%, though no 1RM is known."""
    assert stops("95 kg", "80%", source="working max") == ["over-client-limit"]
    assert stops("80 kg", "80%", source="working max") == []


def test_a_scale_brings_a_load_under_the_limit() -> None:
    """Four fifths of 90% are 72%: what the flag's hint asks the coach to do is enough."""
    assert stops("90%", "80%") == ["over-client-limit"]
    assert stops("90%", "80%", scale="80%") == []
    assert stops("90%", "80%", scale="90%") == ["over-client-limit"]


def test_the_exercise_that_is_done_is_named() -> None:
    """24 kg are 86% of the 28 kg that Dumbbell press has from Bench press, of which it is no share."""
    tables = {
        "Block": [["Setting", "Value"], ["Start date", "2026-12-07"], ["Weeks", "1"]],
        "Exercises": [
            ["Exercise", "Implement", "Load from", "Ratio"],
            ["Bench press", "barbell", "", ""],
            ["Dumbbell press", "dumbbells", "Bench press", "35%"],
        ],
        "Programme": [HEADERS, ["One", "Day one", "main", "A", "Bench press", "2", "8", "40 kg"]],
        "Clients": [["Client", "Programme", "Highest effort"], ["Imogen Thackray", "One", "80%"]],
        "Tests": [
            ["Client", "Date", "Exercise", "Load", "Unit", "Reps"],
            ["Imogen Thackray", "2026-11-20", "Bench press", "80", "kg", "1"],
        ],
        "Changes": [
            ["Client", "Session", "Order", "Exercise", "Weeks", "Do", "With", "Load"],
            ["Imogen Thackray", "", "", "Bench press", "", "swap", "Dumbbell press", "24 kg"],
        ],
    }
    (told,) = [flag.message for flag in check_source(source_book(tables)).flags if flag.slug == "over-client-limit"]
    assert told.startswith("Dumbbell press asks Imogen Thackray for 85.71% of the working max;")


@pytest.mark.parametrize(
    ("load", "limit", "over"),
    [
        ("RPE 7", "RPE 7", False),
        ("RPE 8", "RPE 7", True),
        ("RPE 6-8", "RPE 7", True),
        ("3 RIR", "RPE 7", False),
        ("2 RIR", "RPE 7", True),
        ("1-3 RIR", "RPE 8", True),
        ("RPE 8", "70%", True),
        ("RPE 8", "90%", False),
    ],
)
def test_an_effort_over_the_limit(load: str, limit: str, over: bool) -> None:
    """The harder end counts; n in reserve is RPE 10 - n (Zourdos MC et al., J Strength Cond Res 2016;30(1):267-275).

    Five that leave two are seven to failure, which the handbook's table puts at 83%: over 70%, under 90%.
    """
    assert stops(load, limit) == ["over-client-limit"] * over
