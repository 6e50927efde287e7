"""The Tests sheet against itself: contradicting sets, help where nothing can help, days that have not come yet.

A row that is wrong here leaves every client who needs a test of that exercise without a plan.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from datetime import date, timedelta
from decimal import ROUND_FLOOR, Decimal

from compiler.checks.lookups import key_of
from compiler.checks.people import start_of
from compiler.flags.catalogue import flag
from compiler.flags.model import Flag, Remark
from compiler.frozen import frozen
from compiler.model.book import Book
from compiler.model.records import Test
from compiler.quantities import Unit, converted, plain
from compiler.schema.implements import SYSTEM

LIFTED = frozenset({"tested", "log"})
"""Sources that say what was lifted; the others are worked out or agreed."""

CLOSE = timedelta(days=30)
"""Tests no further apart than this are of the same strength: common practice, no source."""

DAYS_IN_A_WEEK = 7
HARDEST = Decimal(10)
EASIEST = Decimal(6)


@frozen
class _Lift:
    """What one row says was lifted. `possible`: how often it could have been, by its RPE; blank leaves nothing."""

    test: Test
    kilograms: Decimal
    day: date
    reps: int
    possible: int | None


def check_help(book: Book) -> Iterator[Flag]:
    """Check that a load below zero, which is help, stands only where an exercise can be helped."""
    for test in book.tests:
        load, exercise = test.load.known, book.exercise(test.exercise.known)
        if load is None or load.amount >= 0 or exercise is None:
            continue
        implement = exercise.implement.known
        if implement is None or implement == SYSTEM:
            continue
        remark = Remark(
            "cells-disagree",
            f'The load says "{test.load.text}", which is help, and {exercise.name.known} is "{implement}";'
            f' only "{SYSTEM}" can be helped.',
            f'Correct the load, or make the exercise "{SYSTEM}" on the Exercises sheet.',
        )
        client = test.client.known
        yield flag(remark, test.load.place, client=client, found=test.load.text, related=(exercise.implement.place,))


def check_test_days(book: Book) -> Iterator[Flag]:
    """Check that no test is dated after the block: it has not been done yet, so its date is a slip."""
    weeks = book.block.weeks.known
    for test in book.tests:
        start, day = _start(book, test), test.date.known
        if day is None or start is None or weeks is None:
            continue
        last = start + timedelta(days=DAYS_IN_A_WEEK * weeks - 1)
        if day <= last:
            continue
        remark = Remark(
            "unreadable-date",
            f"The test is dated {day.isoformat()}, and the block ends on {last.isoformat()}; tests are done before.",
            "Correct the date of the test: perhaps its year.",
        )
        yield flag(remark, test.date.place, client=test.client.known, found=test.date.text)


def check_singles(book: Book) -> Iterator[Flag]:
    """Check that no set of several repetitions is heavier than the best single of about the same time.

    Tests that are past their use contradict nothing any more. A single counts with the repetitions it left: at RPE 8
    a set of three may be as heavy.
    """
    lifts: defaultdict[tuple[str, str], list[_Lift]] = defaultdict(list)
    for test in book.tests:
        lift = _lift(book, test)
        if lift is not None:
            lifts[key_of(test.client), key_of(test.exercise)].append(lift)
    for own in lifts.values():
        singles = [lift for lift in own if lift.reps == 1 and lift.possible is not None]
        for lift in own:
            near = [single for single in singles if abs(single.day - lift.day) <= CLOSE]
            if lift.reps == 1 or not near:
                continue
            best = max(near, key=lambda single: single.kilograms)
            if lift.kilograms > best.kilograms and lift.reps > (best.possible or 1):
                yield _disagree(lift.test, best.test)


def _start(book: Book, test: Test) -> date | None:
    """Return the day that the age of a test counts to: the start of its client, or the Block's."""
    client = book.client_named.get(key_of(test.client))
    return book.block.start_date.known if client is None else start_of(book, client)


def _lift(book: Book, test: Test) -> _Lift | None:
    load, day = test.load.known, test.date.known
    cells = (test.load, test.unit, test.reps, test.rpe, test.source)
    if load is None or day is None or any(cell.failed for cell in cells):
        return None
    if not key_of(test.client) or not key_of(test.exercise):
        return None
    if (test.source.known or "tested") not in LIFTED or _past_use(book, test, day):
        return None
    typed = test.unit.known
    if load.unit is not None and typed is not None and load.unit.value != typed:
        return None  # which of the two units is meant is not clear; `check_test_units` flags that
    unit = load.unit or (Unit(typed) if typed else book.block.kit_unit)
    kilograms = converted(load.amount, unit, Unit.KG)
    return _Lift(test, kilograms, day, test.reps.known or 1, _possible(test))


def _possible(test: Test) -> int | None:
    """Return how often the load could have been lifted at most; None where the effort is off the scale."""
    rpe = test.rpe.known
    reps = test.reps.known or 1
    if rpe is None:
        return reps
    return reps + int((HARDEST - rpe).to_integral_value(ROUND_FLOOR)) if rpe >= EASIEST else None


def _past_use(book: Book, test: Test, day: date) -> bool:
    start = _start(book, test)
    used = book.block.test_used_days.known
    return start is not None and used is not None and start - day > timedelta(days=used)


def _disagree(set_of_several: Test, single: Test) -> Flag:
    later, earlier = (set_of_several, single) if set_of_several.row.row > single.row.row else (single, set_of_several)
    remark = Remark(
        "tests-disagree",
        f"{set_of_several.client.known} lifted {_shown(set_of_several)} for {set_of_several.reps.known} repetitions of"
        f" {set_of_several.exercise.known}, and no more than {_shown(single)} for one.",
        "Correct the slip, or delete the test that was not a best effort.",
    )
    return flag(
        remark,
        later.load.place,
        client=set_of_several.client.known,
        found=later.load.text,
        related=(earlier.load.place,),
    )


def _shown(test: Test) -> str:
    load = test.load.known
    if load is None:
        return test.load.text
    unit = load.unit or test.unit.known
    return f"{plain(load.amount)} {unit}" if unit else plain(load.amount)
