"""Weights typed per hand, `2 x 16 kg`, or added to the body, against the implement of the exercise beside them.

What is typed for two hands is no load of a bar, a machine or a single bell: 16 kg and 32 kg are both readings. So with
`BW + 10 kg` on a bar, which may be 10 kg, or 10 kg more than the client weighs; and for a pair, in each hand or in all.
"""

from __future__ import annotations

from collections.abc import Iterator

from compiler.checks.lookups import people_of
from compiler.flags.catalogue import flag
from compiler.flags.model import Flag, Remark
from compiler.model.book import Book
from compiler.model.field import Field
from compiler.model.records import Exercise
from compiler.notation.values import BodyWeightLoad, LoadText, WeightLoad
from compiler.quantities import Load
from compiler.schema.implements import IMPLEMENT, PAIRS, SYSTEM, LoadedBy


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
    if exercise is not None and isinstance(load, BodyWeightLoad):
        return _beside_the_body(load, exercise)
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


def _beside_the_body(load: BodyWeightLoad, exercise: Exercise) -> Remark | None:
    implement = IMPLEMENT.get(exercise.implement.known or "")
    if load.added is None or implement is None:
        return None
    if not implement.pair and implement.loaded_by not in (LoadedBy.BAR, LoadedBy.PLATES):
        return None
    added = "adds" if load.added.amount > 0 else "takes"
    to = "to" if load.added.amount > 0 else "off"
    amount = Load(abs(load.added.amount), load.added.unit)
    return Remark(
        "cells-disagree",
        f'The load {added} {amount} {to} body weight, and {exercise.name.known} is "{implement.name}".',
        f'Write the whole load, or make the implement "{SYSTEM}" on the Exercises sheet.',
    )


def _hint(implements: int, one: Load, implement: str) -> str:
    if implement in PAIRS:
        return f"Write {one}, the weight in each hand, or correct the implement on the Exercises sheet."
    total = Load(one.amount * implements, one.unit)
    return f"Write {one} or {total}, whichever is the whole load, or correct the implement on the Exercises sheet."
