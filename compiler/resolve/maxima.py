"""Tests of one client -> the maximum in one exercise, and how it is known.

The exercise's own tests come first: the best of the latest day before the client starts; one from after that counts
only where there is no other, for whoever is tested in week 1. Else the exercise that Load from names, times the
ratio, one step only. Nothing else is ever inferred. A test past its use counts as none; ages count to the
client's start date, never to today.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal

from compiler.cellref import CellRef
from compiler.flags.catalogue import flag
from compiler.flags.model import Flag, Remark
from compiler.folding import name_key
from compiler.model.field import Field, Poisoned
from compiler.model.records import Exercise, Test
from compiler.notation.values import Weight
from compiler.quantities import Load, Percent, Unit
from compiler.resolve.context import ClientView
from compiler.resolve.pair_totals import pair_total
from compiler.resolve.sessions import DAYS_IN_A_WEEK
from compiler.resolve.strength import Estimate, Method, estimate_one_rm, weight_for_reps
from compiler.resolve.values import Maximum, MaxOrigin, RepMaximum
from compiler.schema.implements import SYSTEM

ONE_RM_SOURCES = ("tested", "log", "estimate", "working max")
HUNDRED = Percent(Decimal(100))


def maximum(view: ClientView, exercise: Exercise) -> tuple[Maximum | None, tuple[Flag, ...]]:
    """Return the client's maximum in an exercise, or None, with what the coach should know of the test."""
    asked = view.client.row.row, view.start, exercise.row.row
    known = view.index.maxima.get(asked)
    if known is None:
        found, flags = _maximum(view, exercise)
        known = view.index.maxima[asked] = found, tuple(flags)
    return known


def _maximum(view: ClientView, exercise: Exercise) -> tuple[Maximum | None, list[Flag]]:
    own, flags = _own_maximum(view, exercise)
    if own is not None:
        return own, flags
    lender = view.book.exercise(exercise.load_from.value)
    if lender is None:
        return None, flags
    lent, more = _own_maximum(view, lender)
    if lent is None:
        return None, flags + more
    body = _body_of_borrower(view, exercise, lender, lent)
    if body is None and exercise.implement.value == SYSTEM:
        return None, [*flags, *more, no_body_weight(view, exercise, lent.test)]
    ratio = exercise.ratio.value or HUNDRED
    borrowed = replace(
        lent,
        one_rm=lent.one_rm.times(ratio.share) if lent.one_rm else None,
        working_max=lent.working_max.times(ratio.share),
        ratio=ratio,
        lent_by=lender.name.value,
        body=body,
    )
    return borrowed, flags + more


def _body_of_borrower(view: ClientView, exercise: Exercise, lender: Exercise, lent: Maximum) -> Load | None:
    """Return the part of the body that a borrowed maximum counts: only where the borrower lifts the body.

    A pull-up loaded from a pulldown takes the body off; a row loaded from a weighted pull-up takes nothing off.
    """
    if exercise.implement.value != SYSTEM:
        return None
    if lent.body is not None and (lender.share.value or HUNDRED) == (exercise.share.value or HUNDRED):
        return lent.body
    return lifted_body(view, exercise)


def tests_of(view: ClientView, exercise: Exercise) -> tuple[Test, ...]:
    """Return the client's tests of an exercise, in the order of the sheet. Raises `Poisoned` for a wrong one."""
    tests = view.index.tests.get((name_key(view.name), name_key(exercise.name.needed)), ())
    for test in tests:
        if test.row in view.index.bad_rows:
            raise Poisoned(test.load.place)
    return tests


def _usable(view: ClientView, test: Test) -> bool:
    age = age_in_days(view, test)
    return age is None or age <= (view.book.block.test_used_days.value or age)


def age_in_days(view: ClientView, test: Test) -> int | None:
    """Return how old a test is when the client starts; None where no start is known."""
    if view.start is None:
        return None
    return (view.start - test.date.needed).days


def _own_maximum(view: ClientView, exercise: Exercise) -> tuple[Maximum | None, list[Flag]]:
    flags: list[Flag] = []
    best: Maximum | None = None
    latest: date | None = None
    tests = [test for test in tests_of(view, exercise) if (test.source.value or "tested") in ONE_RM_SOURCES]
    for test in _in_order_of_use(view, tests):
        day = test.date.needed
        if latest is not None and day != latest:
            break
        if not _usable(view, test):
            flags.append(_stale(view, test, used=False))
            continue
        found, more = _from_test(view, exercise, test)
        flags += more
        if found is None:
            continue
        latest = day
        if best is None or _top(found) > _top(best):
            best = found
    if best is not None:
        flags += [
            _stale(view, test, used=True)
            for test in tests
            if test.load.place == best.test and _old(view, test)
        ]
        flags += [
            _in_the_block(view, test, used=test.date.needed == latest)
            for test in tests
            if _after_start(view, test)
        ]
    return best, flags


def _in_order_of_use(view: ClientView, tests: list[Test]) -> list[Test]:
    """Return tests latest first, and after them those that were done when the client had already started."""
    latest_first = sorted(tests, key=lambda test: test.date.needed, reverse=True)
    return sorted(latest_first, key=lambda test: _after_start(view, test))


def _after_start(view: ClientView, test: Test) -> bool:
    age = age_in_days(view, test)
    return age is not None and -age > DAYS_IN_A_WEEK * ((view.client.first_week.value or 1) - 1)


def _in_the_block(view: ClientView, test: Test, *, used: bool) -> Flag:
    what = "it was used, as there is no other" if used else "an earlier one was used"
    remark = Remark(
        "test-after-start",
        f"{view.name}'s test of {test.exercise.value} was done after the client's start; {what}.",
        "If the date is a slip, correct it. A test at the end of the block counts for the next one.",
    )
    return flag(remark, test.date.place, client=view.name, found=test.date.text)


def _top(maximum: Maximum) -> Decimal:
    return (maximum.one_rm or maximum.working_max).to(Unit.KG).amount


def _old(view: ClientView, test: Test) -> bool:
    age = age_in_days(view, test)
    good = view.book.block.test_good_days.value
    return age is not None and good is not None and age > good


def _stale(view: ClientView, test: Test, *, used: bool) -> Flag:
    days = age_in_days(view, test)
    what = "it was used all the same" if used else "it was not used"
    remark = Remark(
        "stale-test",
        f"{view.name}'s test of {test.exercise.value} is {days} days old on the start date; {what}.",
        "Test again, or change how long a test is good for on the Block sheet.",
    )
    return flag(remark, test.date.place, client=view.name, found=test.date.text)


def test_load(view: ClientView, test: Test, field: Field[Weight]) -> Load | None:
    """Return a weight of a Tests row with its unit: its own, else the row's, else the Block's."""
    typed = field.value
    if typed is None:
        return None
    unit = typed.unit or (Unit(test.unit.value) if test.unit.value else view.unit)
    return Load(typed.amount, unit)


def maximum_of(view: ClientView, exercise: Exercise, test: Test) -> Maximum | None:
    """Return the maximum that one test stands for, however old it is; None where it stands for none."""
    return _from_test(view, exercise, test)[0]


def _from_test(view: ClientView, exercise: Exercise, test: Test) -> tuple[Maximum | None, list[Flag]]:
    load = test_load(view, test, test.load)
    if load is not None and (total := pair_total(view, exercise, load, test.load)) is not None:
        return None, [total]
    reps = test.reps.value or 1
    lifted, body = _system(view, exercise, test, load)
    if lifted is None:
        system = exercise.implement.value == SYSTEM
        return None, [no_body_weight(view, exercise, test.load.place)] if system else []
    share = view.client.working_max.value or view.book.block.working_max.value or HUNDRED
    if test.source.value == "working max":
        return _typed(test, lifted, body), []
    result = estimate_one_rm(lifted, reps, test.rpe.value, Method(view.book.block.method.needed))
    if not isinstance(result, Estimate):
        return None, [_no_estimate(view, test, result.reason)]
    flags = [_many_reps(view, test, result)] if result.many_reps else []
    single = result.method is None
    found = Maximum(
        one_rm=result.one_rm,
        working_max=result.one_rm.times(share.share),
        origin=MaxOrigin.SINGLE if single else MaxOrigin.ESTIMATE,
        test=test.load.place,
        tested_on=test.date.needed,
        method=None if result.method is None else str(result.method),
        reps_to_failure=None if single else result.reps_to_failure,
        share=share,
        body=body,
        lifted=lifted,
        reps=reps,
        rpe=test.rpe.value,
    )
    return found, flags


def _typed(test: Test, lifted: Load, body: Load | None) -> Maximum:
    """Return a working max as it was typed: of no 1RM, and all of itself."""
    return Maximum(
        one_rm=None,
        working_max=lifted,
        origin=MaxOrigin.WORKING_MAX,
        test=test.load.place,
        tested_on=test.date.needed,
        method=None,
        reps_to_failure=None,
        share=HUNDRED,
        body=body,
        lifted=lifted,
    )


def _system(
    view: ClientView, exercise: Exercise, test: Test, load: Load | None
) -> tuple[Load | None, Load | None]:
    """Return what was lifted in a test, with the body of that day where it counts; and the body in it now.

    Nothing where there is no load, or where the body counts and its weight is not known.
    """
    if exercise.implement.value != SYSTEM:
        return load, None
    that_day = lifted_body(view, exercise, test)
    if that_day is None:
        return None, None
    return that_day.plus(load) if load else that_day, lifted_body(view, exercise) or that_day


def lifted_body(view: ClientView, exercise: Exercise, test: Test | None = None) -> Load | None:
    """Return the part of the body that an exercise lifts: body weight (that day's, for a test) times its share."""
    weight = test_load(view, test, test.body_weight) if test is not None else None
    weight = weight or view.body_weight
    share = exercise.share.value or HUNDRED
    return weight.times(share.share) if weight else None


def share_of_system(view: ClientView, exercise: Exercise, added: Load, share: Percent) -> Load | None:
    """Return what is added when body and added load together are taken by a share; None without a body weight.

    Nine tenths of the load alone would take help away, and so make the lift harder.
    """
    body = lifted_body(view, exercise)
    return body.plus(added).times(share.share).minus(body) if body else None


def rep_maximum(
    view: ClientView, exercise: Exercise, reps: int, known: Maximum | None
) -> tuple[RepMaximum | None, tuple[Flag, ...]]:
    """Return the load of a rep maximum: a good test of that many repetitions, else the 1RM read backwards.

    The best test of the latest day counts, as for a maximum; and the flag of one that is getting old.
    """
    found: tuple[RepMaximum, Test] | None = None
    for test in _that_count(view, exercise):
        if test.reps.value != reps or test.rpe.value not in (None, 10):
            continue
        if found is not None and found[1].date.needed != test.date.needed:
            break
        shown = _rep_test(view, exercise, test, reps)
        if shown is not None and (found is None or shown.load.to(Unit.KG).amount > found[0].load.to(Unit.KG).amount):
            found = shown, test
    if found is not None:
        told = _old(view, found[1]) and (known is None or known.test != found[0].test)
        return found[0], (_stale(view, found[1], used=True),) if told else ()
    if known is None or known.one_rm is None:
        return None, ()
    load = weight_for_reps(known.one_rm, reps, Method(view.book.block.method.needed))
    return (RepMaximum(load, reps) if load else None), ()


def _that_count(view: ClientView, exercise: Exercise) -> list[Test]:
    """Return the tests that may be read as they stand, latest first; from after the start where there are no others."""
    tests = [
        test
        for test in tests_of(view, exercise)
        if (test.source.value or "tested") in {"tested", "log"} and _usable(view, test)
    ]
    before = [test for test in tests if not _after_start(view, test)]
    return _in_order_of_use(view, before or tests)


def _rep_test(view: ClientView, exercise: Exercise, test: Test, reps: int) -> RepMaximum | None:
    load = test_load(view, test, test.load)
    if load is not None and pair_total(view, exercise, load, test.load) is not None:
        return None
    lifted, body = _system(view, exercise, test, load)
    return None if lifted is None else RepMaximum(lifted, reps, test.load.place, body)


def own_weight(view: ClientView, exercise: Exercise) -> tuple[Load | None, list[Flag]]:
    """Return the client's latest working weight in an exercise, and those that look like the total of a pair.

    Of one day it is the lower row: `next` writes its rows under those that there are.
    """
    flags: list[Flag] = []
    tests = [test for test in tests_of(view, exercise) if test.source.value == "working weight"]
    for test in sorted(tests, key=lambda test: (test.date.needed, test.row), reverse=True):
        lifted = test_load(view, test, test.load)
        if lifted is None:
            continue
        total = pair_total(view, exercise, lifted, test.load)
        if total is None:
            return lifted, flags
        flags.append(total)
    return None, flags


def most_reps(view: ClientView, exercise: Exercise) -> int | None:
    """Return the most repetitions of the latest day with a test that counts repetitions and no load."""
    most: tuple[date, int] | None = None
    tests = [test for test in tests_of(view, exercise) if test.load.value is None and _usable(view, test)]
    for test in _in_order_of_use(view, tests):
        result, day = test.result.value, test.date.needed
        reps = test.reps.value if result is None else int(result.amount) if result.word == "reps" else None
        if most is not None and day != most[0]:
            break
        if reps is not None and (most is None or reps > most[1]):
            most = day, reps
    return most[1] if most else None


def no_body_weight(view: ClientView, exercise: Exercise, test: CellRef) -> Flag:
    """Return the flag of a client whose body weight is needed by the cell `test`."""
    remark = Remark(
        "missing-body-weight",
        f"{view.name} has no body weight, and {exercise.name.value} counts it.",
        "Fill in Body weight on the Clients sheet.",
    )
    return flag(remark, view.client.body_weight.place, client=view.name, related=(test,))


def _no_estimate(view: ClientView, test: Test, why: str) -> Flag:
    remark = Remark(
        "many-rep-test",
        f"{view.name}'s test of {test.exercise.value} gives no estimate: {why}.",
        "Test with fewer repetitions, closer to the last one possible.",
    )
    return flag(remark, test.reps.place, client=view.name, found=test.reps.text)


def _many_reps(view: ClientView, test: Test, estimate: Estimate) -> Flag:
    remark = Remark(
        "many-rep-test",
        f"{view.name}'s test of {test.exercise.value} counts as {estimate.reps_to_failure} repetitions to the last one"
        " possible; an estimate is fair up to nine.",
        "Take the loads as a first guess, or test with fewer repetitions.",
    )
    return flag(remark, test.reps.place, client=view.name, found=test.reps.text)
