"""The turns of a planned session: exercises done in turn, or one by itself. And how often, and with what rest.

Neighbours with the same letter are one turn, as on the page. Ranges are read at their upper end: what a set is
guarded with.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import lru_cache
from typing import NamedTuple

from compiler.notation.values import DoneAs, DoneAsKind, RepsItem
from compiler.resolve.values import Part, PlannedExercise, PlannedSession
from compiler.resolve.ways import WHOLE_GROUP

MINUTE = 60
WORK = (Part.MAIN, Part.CONDITIONING)
"""The parts that are trained for; the others are warmed up and cooled down in."""


class Turn(NamedTuple):
    """Exercises done in turn. `how` is the way the whole turn is done, None where set by set."""

    part: Part
    exercises: tuple[PlannedExercise, ...]
    how: DoneAs | None = None

    @property
    def rest_of_a_round(self) -> int | None:
        """The seconds of rest typed for one round, all exercises together; None where none was typed."""
        rests = [planned.rest.high for planned in self.exercises if planned.rest is not None]
        return sum(rests) if rests else None


def turns_of(session: PlannedSession) -> tuple[Turn, ...]:
    """Return the turns of a session in the order they are done."""
    return tuple(turn for part in Part for turn in turns_of_part(part, session.parts[part]))


def lines_of(session: PlannedSession) -> Iterator[tuple[PlannedExercise, Turn]]:
    """Yield what is done in the parts that are trained for, each exercise with its turn."""
    for part in WORK:
        for turn in turns_of_part(part, session.parts[part]):
            for planned in turn.exercises:
                yield planned, turn


def turns_of_part(part: Part, exercises: Sequence[PlannedExercise]) -> list[Turn]:
    """Return the turns of one part of a session."""
    return [Turn(part, tuple(group), _way(group)) for group in grouped(exercises)]


def grouped(exercises: Sequence[PlannedExercise]) -> list[list[PlannedExercise]]:
    """Return the exercises by group, in the order they stand; neighbours with the same letter are one group."""
    groups: list[list[PlannedExercise]] = []
    last = ""
    for planned in exercises:
        letter = letter_of(planned)
        if letter and letter == last:
            groups[-1].append(planned)
        else:
            groups.append([planned])
        last = letter
    return groups


def letter_of(planned: PlannedExercise) -> str:
    """Return the letters of an order label: B of B2."""
    return _letters(planned.order)


@lru_cache(maxsize=1024)  # a programme has a few dozen labels, and each is asked for with every exercise of everybody
def _letters(order: str) -> str:
    return order.rstrip("0123456789").strip()


def _way(group: Sequence[PlannedExercise]) -> DoneAs | None:
    for planned in group:
        way = planned.done_as
        if way is not None and way.kind in WHOLE_GROUP:
            return way
    return None


def rounds_of(way: DoneAs | None) -> int | None:
    """Return how often the clock says that a turn is done; None where it does not say."""
    match way:
        case DoneAs(kind=DoneAsKind.EMOM, seconds=int(seconds)):
            return seconds // MINUTE
        case DoneAs(kind=DoneAsKind.EVERY, rounds=int(rounds)):
            return rounds
        case _:
            return None


def sets_of(planned: PlannedExercise) -> int:
    """Return the most sets of an exercise: those typed, the entries of a list, else one."""
    return max(planned.sets.high if planned.sets else 1, len(planned.reps.items))


def reps_of(planned: PlannedExercise, number: int) -> RepsItem:
    """Return what is done in one set, counted from 0; a shorter list repeats its last."""
    items = planned.reps.items
    return items[min(number, len(items) - 1)]
