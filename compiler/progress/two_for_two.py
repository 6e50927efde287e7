"""The two-for-two rule: a weight goes up when two sessions running had two repetitions to spare in the last set.

Haff and Triplett 2016, credited there to Baechle and Groves: two or more repetitions over the goal in the last set, in
two consecutive sessions. For fixed repetitions those over the goal and those left in reserve, where the effort is
written down, count together. For a range the goal is its top, to be reached in every set: a stricter reading of ours.
"""

from __future__ import annotations

from collections.abc import Sequence

from compiler.notation.values import AtLeast, Count, RepsItem
from compiler.resolve.effort_table import reps_in_reserve
from compiler.resolve.values import PlannedExercise
from compiler.review.log_sets import DoneSet, planned_load
from compiler.review.logged import Logged
from compiler.review.turns import reps_of

SPARE = 2
"""Repetitions over the goal that call for more weight."""

RUNNING = 2
"""Sessions in which they must have been there, one after the other."""


def spared(entry: Logged) -> bool:
    """Tell whether a session was done in full, at the load planned or more, with two to spare at its end."""
    planned, sets = entry.planned, entry.sets
    wanted = planned.sets.low if planned.sets else 1
    if entry.missed or len(sets) < wanted or planned.load.scaled is not None:
        return False
    if not all(_at_load(planned, done, number) for number, done in enumerate(sets)):
        return False
    items = [reps_of(planned, number) for number in range(len(sets))]
    if any(isinstance(item, Count) and item.low != item.high for item in items):
        return all(_reached(item, done) for item, done in zip(items, sets, strict=True))
    last, goal = sets[-1], _goal(items[-1])
    if goal is None or not all(_reached(item, done) for item, done in zip(items, sets, strict=True)):
        return False
    left = reps_in_reserve(last.rpe) if last.rpe is not None else None
    return (last.reps or 0) - goal + (left or 0) >= SPARE


def two_running(planned: Sequence[PlannedExercise], entries: Sequence[Logged]) -> tuple[Logged, Logged] | None:
    """Return the last two sessions in which an exercise was planned, if both were spared. In the order of the plan."""
    found = last_two(planned, entries)
    return found if found and spared(found[0]) and spared(found[1]) else None


def last_two(planned: Sequence[PlannedExercise], entries: Sequence[Logged]) -> tuple[Logged, Logged] | None:
    """Return what was logged of the last two sessions in which an exercise was planned; None where one is not."""
    found = [next((entry for entry in entries if entry.planned is one), None) for one in list(planned)[-RUNNING:]]
    if len(found) < RUNNING or found[0] is None or found[1] is None:
        return None
    return found[0], found[1]


def _goal(item: RepsItem) -> int | None:
    """Return the repetitions that a set asks for: the top of a range, the floor of `8+`."""
    match item:
        case Count(high=high):
            return high
        case AtLeast(count=count):
            return count
    return None


def _reached(item: RepsItem, done: DoneSet) -> bool:
    goal = _goal(item)
    return goal is not None and done.reps is not None and done.reps >= goal


def _at_load(planned: PlannedExercise, done: DoneSet, number: int) -> bool:
    target = planned_load(planned, number)
    wanted = target.low.load if target else None
    if wanted is None or done.weight is None:
        return False
    return done.weight.to(wanted.unit).amount >= wanted.amount
