"""Percentage lifts: the 1RM estimated anew from what was lifted in the last full week.

A set with a stated effort counts for what it is. One without is a floor: it may have been easier than it looks, so it
can raise the maximum and never lower it. Only sets that give an estimate without remark count (up to nine
repetitions to failure). A rise goes no higher than the Block's cap; the rest is told.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import date
from decimal import ROUND_FLOOR, Decimal

from compiler.frozen import frozen
from compiler.model.records import Exercise
from compiler.notation.values import PercentLoad
from compiler.progress.month import Month
from compiler.progress.steps import added_words
from compiler.progress.values import NewTest, Proposal
from compiler.quantities import Load, Unit, plain
from compiler.resolve.maxima import lifted_body, maximum
from compiler.resolve.strength import Estimate, Method, estimate_one_rm
from compiler.resolve.values import Maximum
from compiler.review.log_sets import DoneSet
from compiler.review.logged import Logged
from compiler.schema.implements import SYSTEM

NOTICED = Decimal("0.01")
"""A difference smaller than this share of the 1RM is no news: our own choice, under the step of any kit."""

SOURCE = "estimate by {method} from the log"
_TENTH = Decimal("0.1")
_ONE = Decimal(1)


@frozen
class _Found:
    """One set of the log and the maximum that it stands for, of the whole system where the body counts."""

    entry: Logged
    done: DoneSet
    lifted: Load
    one_rm: Load


def reestimated(month: Month, exercise: Exercise) -> Proposal | None:
    """Return the proposal for a percentage lift; None where the log says nothing new."""
    planned = month.of_exercise(exercise)
    if not any(isinstance(month.text(one), PercentLoad) for one in planned):
        return None
    entries = last_full_week(month, exercise)
    body = lifted_body(month.view, exercise) if exercise.implement.value == SYSTEM else None
    if not entries or (exercise.implement.value == SYSTEM and body is None):
        return None
    found = list(_estimates(month, entries, body))
    stated = max((one for one in found if one.done.rpe is not None), key=_size, default=None)
    floor = max((one for one in found if one.done.rpe is None), key=_size, default=None)
    known, _ = maximum(month.view, exercise)
    if known is None:
        return _first(month, exercise, stated, body) if stated else None
    best = _best(known, stated, floor)
    if best is None or _newer(known, month.day(best.entry)):
        return None
    return _proposal(month, exercise, known, best, body)


def last_full_week(month: Month, exercise: Exercise) -> list[Logged]:
    """Return the entries of the last week, not an easier one, in which all that was planned of an exercise was done."""
    planned = month.of_exercise(exercise)
    for week in sorted({one.week for one in planned}, reverse=True):
        wanted = [one for one in planned if one.week == week]
        done = [entry for entry in month.done_of(wanted) if not entry.missed]
        if len(done) == len(wanted):
            return done
    return []


def _size(found: _Found) -> Decimal:
    return found.one_rm.to(Unit.KG).amount


def _estimates(month: Month, entries: Sequence[Logged], body: Load | None) -> Iterator[_Found]:
    method = Method(month.view.book.block.method.needed)
    for entry in entries:
        for done in entry.sets:
            if done.weight is None or not done.reps:
                continue
            lifted = body.plus(done.weight) if body else done.weight
            estimate = estimate_one_rm(lifted, done.reps, done.rpe, method)
            if isinstance(estimate, Estimate) and not estimate.many_reps:
                yield _Found(entry, done, lifted, estimate.one_rm)


def _best(known: Maximum, stated: _Found | None, floor: _Found | None) -> _Found | None:
    """Return the set that says something new: the one that stands for most, a floor only if it raises."""
    best = max((one for one in (stated, floor) if one is not None), key=_size, default=None)
    if best is None or known.one_rm is None:
        return best
    share = best.one_rm.to(known.one_rm.unit).amount / known.one_rm.amount - _ONE
    if share >= NOTICED or (share <= -NOTICED and best is stated):
        return best
    return None


def _newer(known: Maximum, day: date | None) -> bool:
    """Tell whether the maximum was tested after the set was done: the test stands."""
    return day is None or known.tested_on > day


def _set_words(found: _Found) -> str:
    effort = f" at RPE {plain(found.done.rpe)}" if found.done.rpe is not None else ""
    weight = found.done.weight
    shown = added_words(weight) if weight is not None and found.lifted != weight else str(weight)
    return f"{shown} x {found.done.reps}{effort} in week {found.entry.week}"


def _unmoved(month: Month, exercise: Exercise) -> str:
    """Return what is to be said of loads that a new 1RM leaves as they are: shares of a rep maximum that was tested."""
    shares = [one.load.rep_max for one in month.of_exercise(exercise)]
    tested = dict.fromkeys(f"{share.reps}RM" for share in shares if share is not None and share.test is not None)
    return f" Loads that are a share of the {' or '.join(tested)} stay: they rest on its own test." if tested else ""


def _test(month: Month, exercise: Exercise, found: _Found, day: date, body: Load | None) -> NewTest:
    weight = found.done.weight or found.lifted
    return NewTest(
        month.plan.name,
        day,
        exercise.name.needed,
        weight,
        found.done.reps,
        found.done.rpe,
        month.view.body_weight if body else None,
        "log",
    )


def _typed(test: NewTest) -> str:
    """Return what to type on Tests to have a row all the same."""
    effort = f", RPE {plain(test.rpe)}" if test.rpe is not None else ""
    reps = f", Reps {test.reps}" if test.reps else ""
    what = f"{test.client}, {test.day.isoformat()}, {test.exercise}"
    load = f"Load {test.load}" if test.load.amount != 0 else "Load blank"
    return f"Tests: {what}, {load}{reps}{effort}, Source {test.source}"


def _first(month: Month, exercise: Exercise, found: _Found, body: Load | None) -> Proposal | None:
    """List the first maximum of a client who had none: nobody has looked at it yet."""
    day = month.day(found.entry)
    if day is None:
        return None
    return Proposal(
        month.plan.name,
        exercise.name.needed,
        "1RM",
        None,
        _rounded(found.one_rm),
        f"No test so far; {_set_words(found)}.",
        SOURCE.format(method=month.view.book.block.method.needed),
        (found.entry.place,),
        type_this=_typed(_test(month, exercise, found, day, body)),
    )


def _rounded(load: Load) -> Load:
    return Load(load.amount.quantize(_TENTH, rounding=ROUND_FLOOR), load.unit)


def _proposal(month: Month, exercise: Exercise, known: Maximum, found: _Found, body: Load | None) -> Proposal | None:
    day = month.day(found.entry)
    if day is None:
        return None
    old = known.one_rm
    full = _test(month, exercise, found, day, body)
    why = _set_words(found)
    if found.done.rpe is None:
        why += ", no effort written down: at least this much"
    why = f"{why}.{_unmoved(month, exercise)}"
    proposal = Proposal(
        month.plan.name,
        exercise.name.needed,
        "1RM",
        _rounded(old) if old else None,
        _rounded(found.one_rm.to(old.unit) if old else found.one_rm),
        why,
        SOURCE.format(method=month.view.book.block.method.needed),
        (found.entry.place, known.test),
        tests=(full,),
    )
    held_back = month.held_back
    unread = month.unread_since(exercise, found.entry.week)
    if held_back is None and unread is not None:
        held_back = f"the log of week {unread} could not be read"
    return _guarded(month, proposal, old, full, body, held_back)


def _guarded(
    month: Month, proposal: Proposal, old: Load | None, full: NewTest, body: Load | None, held_back: str | None
) -> Proposal:
    """Return the proposal as it may be written: not over the cap, not against what holds it back."""
    new = proposal.new
    if old is None or new is None:
        why = f"{proposal.why} A working max was typed on Tests, and stands."
        return _listed(proposal, why, full)
    if new.amount <= old.amount:
        return proposal
    if held_back is not None:
        return _listed(proposal, f"{proposal.why} Not raised: {held_back}.", full)
    highest = _rounded(old.times(_ONE + month.cap.share))
    if new.amount <= highest.amount:
        return proposal
    told = f"{proposal.why} That is {new}; written is the Block's biggest rise, {month.cap}."
    load = highest.minus(body) if body else highest
    capped = NewTest(full.client, full.day, full.exercise, _rounded(load), 1, None, full.body_weight, "estimate")
    return replace(
        proposal, new=highest, why=told, tests=(capped,), type_this=f"For all of it in place of the row: {_typed(full)}"
    )


def _listed(proposal: Proposal, why: str, full: NewTest) -> Proposal:
    return replace(proposal, why=why, tests=(), type_this=_typed(full))
