"""The turns of a planned session: exercises done in turn, or one by itself. And how often, and with what rest.

Neighbours with the same letter are one turn, as on the page. Ranges are read at their upper end: what a set is
guarded with.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from compiler.notation.values import DoneAs, DoneAsKind, RepsItem
from compiler.resolve.values import Part, PlannedExercise, PlannedSession
from compiler.resolve.ways import WHOLE_GROUP

MINUTE = 60


@dataclass(frozen=True, slots=True)
class Turn:
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


def turns_of_part(part: Part, exercises: Sequence[PlannedExercise]) -> list[Turn]:
    """Return the turns of one part of a session."""
    return [Turn(part, tuple(group), _way(group)) for group in grouped(exercises)]


def grouped(exercises: Sequence[PlannedExercise]) -> list[list[PlannedExercise]]:
    """Return the exercises by group, in the order they stand; neighbours with the same letter are one group."""
    groups: list[list[PlannedExercise]] = []
    for planned in exercises:
        letter = letter_of(planned)
        if groups and letter and letter_of(groups[-1][0]) == letter:
            groups[-1].append(planned)
        else:
            groups.append([planned])
    return groups


def letter_of(planned: PlannedExercise) -> str:
    """Return the letters of an order label: B of B2."""
    return planned.order.rstrip("0123456789").strip()


def _way(group: Sequence[PlannedExercise]) -> DoneAs | None:
    ways = (planned.done_as for planned in group if planned.done_as is not None)
    return next((way for way in ways if way.kind in WHOLE_GROUP), None)


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
