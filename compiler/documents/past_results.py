"""What a client lifted before this block: rows of Tests and of History as one kind of value."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from datetime import date

from compiler.folding import name_key
from compiler.frozen import frozen
from compiler.model.book import Book
from compiler.notation.values import Count, Reps, Weight
from compiler.quantities import Load, Unit

LIFTED = ("tested", "log", "working weight")
"""Sources of a test that say what was lifted; an estimate or a working max was not."""


@frozen
class PastResult:
    """A load lifted on a day, as the workbook has it; `reps` None where nobody wrote how often."""

    date: date
    load: Load
    reps: int | None = None


def past_results(book: Book, client: str) -> dict[str, tuple[PastResult, ...]]:
    """Return what a client lifted, by the folded name of the exercise. Cells that failed give nothing.

    A working weight without repetitions counts where History has nothing of that day: there it may be what comes next.
    """
    found: defaultdict[str, list[PastResult]] = defaultdict(list)
    logged = tuple(_history(book, name_key(client)))
    days = {(name_key(exercise), result.date) for exercise, result in logged}
    tests = (
        (exercise, result)
        for exercise, result in _tests(book, name_key(client))
        if result.reps is not None or (name_key(exercise), result.date) not in days
    )
    for exercise, result in (*tests, *logged):
        found[name_key(exercise)].append(result)
    return {exercise: tuple(results) for exercise, results in found.items()}


def _tests(book: Book, client: str) -> Iterator[tuple[str, PastResult]]:
    for test in book.tests_of.get(client, ()):
        day, load, exercise = test.date.known, test.load.known, test.exercise.known
        if not (day and load and exercise):
            continue
        source = test.source.known or "tested"
        if source in LIFTED:
            reps = test.reps.known or (1 if source == "tested" else None)
            yield exercise, PastResult(day, _load(book, load, test.unit.known), reps)


def _history(book: Book, client: str) -> Iterator[tuple[str, PastResult]]:
    for row in book.history_of.get(client, ()):
        day, load, exercise = row.date.known, row.load.known, row.exercise.known
        if day and load and exercise:
            yield exercise, PastResult(day, _load(book, load, row.unit.known), _count(row.reps.known))


def _load(book: Book, typed: Weight, unit: str | None) -> Load:
    return Load(typed.amount, typed.unit or (Unit(unit) if unit else book.block.kit_unit))


def _count(reps: Reps | None) -> int | None:
    match reps.items if reps else ():
        case (Count(low=low, high=high),) if low == high:
            return low
        case _:
            return None
