"""One row of a programme for one client, Ada, who weighs 80 kg unless it says otherwise: what its load comes to."""

from __future__ import annotations

from collections.abc import Sequence

from compiler.binding.records import bind_book
from compiler.resolve.plan import Resolution, resolve_book
from compiler.resolve.values import PlannedExercise
from tests.support import source_book

ADA = "Ada Thornby"
Rows = Sequence[Sequence[str]]


def resolve_row(exercise: str, load: str, exercises: Rows, tests: Rows, weight: str, scale: str = "") -> Resolution:
    """Return what becomes of a load. Rows come with their headers; `scale` is that of a change for the exercise."""
    tables = {
        "Block": [["Setting", "Value"], ["Start date", "2026-12-07"], ["Weeks", "1"]],
        "Exercises": exercises,
        "Programme": [
            ["Programme", "Session", "Part", "Order", "Exercise", "Week 1 sets", "Week 1 reps", "Week 1 load"],
            ["Strength", "One", "main", "A", exercise, "3", "5", load],
        ],
        "Clients": [["Client", "Programme", "Body weight"], [ADA, "Strength", weight]],
        "Tests": tests,
        "Changes": [
            ["Client", "Session", "Order", "Exercise", "Weeks", "Do", "With", "Sets", "Reps", "Load"],
            *([[ADA, "", "", exercise, "", "scale", scale]] if scale else []),
        ],
    }
    bound = bind_book(source_book(tables))
    assert bound.book is not None, bound.flags
    return resolve_book(bound.book)


def only(resolution: Resolution) -> PlannedExercise:
    """Return the one exercise of the one session."""
    (session,) = resolution.plans[0].sessions
    ((planned,),) = (part for part in session.parts.values() if part)
    return planned
