"""Weights typed per hand, `2 x 16 kg`, against the implement of the exercise that they stand beside.

What is typed for two hands is no load of a bar, a machine or a single bell: 16 kg and 32 kg are both readings.
"""

from __future__ import annotations

from collections.abc import Iterator

from compiler.checks.lookups import people_of
from compiler.flags.catalogue import flag
from compiler.flags.model import Flag, Remark
from compiler.model.book import Book
from compiler.model.field import Field
from compiler.model.records import Exercise
from compiler.notation.values import LoadText, WeightLoad
from compiler.quantities import Load
from compiler.schema.implements import PAIRS


def check_hands(book: Book) -> Iterator[Flag]:
    """Check that a weight is typed for as many implements as the exercise has."""
    for row in book.programme:
        exercise = book.exercise(row.exercise.known)
        for cells in row.weeks:
            found = _at_odds(cells.load, exercise)
            if found is not None and exercise is not None:
                related = (exercise.implement.place,)
                yield flag(found, cells.load.place, found=cells.load.text, related=related)
    everybody = people_of(book)
    for change in book.changes:
        named = change.with_ if change.do.known == "swap" else change.exercise
        exercise = book.exercise(named.known)
        found = _at_odds(change.load, exercise)
        if found is not None and exercise is not None:
            yield flag(
                found,
                change.load.place,
                found=change.load.text,
                related=(exercise.implement.place,),
                touches=everybody.stopped_by(change),
            )


def _at_odds(cell: Field[LoadText], exercise: Exercise | None) -> Remark | None:
    load = cell.known
    if exercise is None or not isinstance(load, WeightLoad) or load.implements is None:
        return None
    implement = exercise.implement.known
    if implement is None or load.implements == (2 if implement in PAIRS else 1):
        return None
    one = load.items[0].high
    return Remark(
        "cells-disagree",
        f'The load says {load.implements} of {one}, and {exercise.name.known} is "{implement}".',
        _hint(load.implements, one, implement),
    )


def _hint(implements: int, one: Load, implement: str) -> str:
    if implement in PAIRS:
        return f"Write {one}, the weight in each hand, or correct the implement on the Exercises sheet."
    total = Load(one.amount * implements, one.unit)
    return f"Write {one} or {total}, whichever is the whole load, or correct the implement on the Exercises sheet."
