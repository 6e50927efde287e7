"""A client's highest effort holds for typed weights, too, where a test says how hard they are.

Percentages at repetitions to failure are the handbook's (NSCA, Essentials of Strength Training and Conditioning, 4th
edition, table 17.7): 6 repetitions at 85%, 12 at 70%.
"""

from __future__ import annotations

import pytest

from compiler.pipeline.check import check_source
from tests.support import source_book

HEADERS = ["Programme", "Session", "Part", "Order", "Exercise", "Week 1 sets", "Week 1 reps", "Week 1 load"]


def stops(load: str, limit: str) -> list[str]:
    tables = {
        "Block": [["Setting", "Value"], ["Start date", "2026-12-07"], ["Weeks", "1"]],
        "Exercises": [["Exercise", "Implement"], ["Back squat", "barbell"]],
        "Programme": [HEADERS, ["One", "Day one", "main", "A", "Back squat", "2", "5", load]],
        "Clients": [["Client", "Programme", "Highest effort"], ["Imogen Thackray", "One", limit]],
        "Tests": [
            ["Client", "Date", "Exercise", "Load", "Unit", "Reps"],
            ["Imogen Thackray", "2026-11-20", "Back squat", "100", "kg", "1"],
        ],
    }
    return [flag.slug for flag in check_source(source_book(tables)).flags if flag.touches]


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
