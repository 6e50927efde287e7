"""Weights that are no percentages: working weights (`own`) and weights typed in the programme, by the two-for-two rule.

A working weight is a row of Tests. A weight that the programme types for everybody becomes this client's own by rows of
Changes, one for each run of weeks with the same load, all moved up alike. Lists, ranges and shares of body weight
have no rule of their own: that the client is ready is only listed.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import groupby

from compiler.cellref import CellRef, RowRef
from compiler.folding import name_key
from compiler.model.effective import unroll
from compiler.model.records import Change, Exercise
from compiler.notation.values import BodyWeightLoad, BodyWeightShare, LoadText, OwnWeight, WeightLoad
from compiler.progress.month import Month
from compiler.progress.steps import HANDBOOK, added_words, loadable, rise
from compiler.progress.two_for_two import two_running
from compiler.progress.values import NewChange, NewTest, Proposal
from compiler.quantities import Load
from compiler.resolve.maxima import lifted_body, own_weight
from compiler.resolve.rounding import Rounding
from compiler.resolve.values import LoadKind, PlannedExercise
from compiler.review.logged import Logged
from compiler.schema.implements import SYSTEM

FIRST = "No working weight so far; this is what was lifted in week {0}."
LIGHTER = "No working weight so far; this is what was lifted in week {0}, lighter than the {1} of week {2}."
TWICE, TWO_WEEKS = "twice in week {0}", "in weeks {0} and {1}"
WORKING_WEIGHT = "working weight"


def raised_own(month: Month, exercise: Exercise) -> Proposal | None:
    """Return the proposal for a working weight: the first one, or a higher one."""
    planned = [one for one in month.of_exercise(exercise) if isinstance(month.text(one), OwnWeight)]
    entries = month.done_of(planned)
    if not planned or not entries:
        return None
    known, _ = own_weight(month.view, exercise)
    if known is None:
        return _first(month, exercise, entries)
    running = two_running(planned, entries)
    if running is None:
        return None
    body = lifted_body(month.view, exercise) if exercise.implement.value == SYSTEM else None
    next_one = rise(month.view_of(running[1].planned), exercise, known, month.cap, body)
    day = month.day(running[1])
    proposal = Proposal(
        month.plan.name,
        exercise.name.needed,
        WORKING_WEIGHT,
        known,
        next_one.new or next_one.beyond,
        _rule(running),
        HANDBOOK,
        (running[0].place, running[1].place, *_working_weight_places(month, exercise)),
    )
    new = proposal.new
    if new is None or day is None:
        return _no_more(proposal) if new is None else None
    if new.amount == 0:
        return replace(
            proposal,
            why=f"{proposal.why} That is body weight alone, which is no working weight.",
            type_this=f"Changes: {month.plan.name}, {exercise.name.needed}, Do load, Load body weight",
        )
    test = NewTest(month.plan.name, day, exercise.name.needed, new, None, None, None, WORKING_WEIGHT)
    typed = f"Tests: {test.client}, {day.isoformat()}, {test.exercise}, Load {new}, Source {WORKING_WEIGHT}"
    return _guarded(month, replace(proposal, tests=(test,)), typed, over=next_one.new is None)


def _rule(running: tuple[Logged, Logged]) -> str:
    first, second = running[0].week, running[1].week
    when = (TWICE if first == second else TWO_WEEKS).format(first, second)
    return f"Two-for-two: two to spare in the last set, {when}."


def _working_weight_places(month: Month, exercise: Exercise) -> tuple[CellRef, ...]:
    key = (name_key(month.plan.name), name_key(exercise.name.needed))
    tests = [t for t in month.view.index.tests.get(key, ()) if t.source.known == WORKING_WEIGHT]
    latest = max(tests, key=lambda test: (test.date.needed, test.row), default=None)
    return (latest.load.place,) if latest else ()


def _first(month: Month, exercise: Exercise, entries: Sequence[Logged]) -> Proposal | None:
    """Return the working weight that a client found on the first day: a record, not a rise.

    Where the last day's was lighter, the first was too much: then that is the record.
    """
    there = [entry for entry in entries if not entry.missed]
    first = _found_weight(month, there[0]) if there else None
    if first is None:
        return None
    entry, weight, why = there[0], first, FIRST.format(there[0].week)
    last = _found_weight(month, there[-1])
    if last is not None and last.to(first.unit).amount < first.amount:
        entry, weight, why = there[-1], last, LIGHTER.format(there[-1].week, first, there[0].week)
    day = month.day(entry)
    if day is None:
        return None
    test = NewTest(month.plan.name, day, exercise.name.needed, weight, None, None, None, WORKING_WEIGHT)
    return Proposal(
        month.plan.name,
        exercise.name.needed,
        WORKING_WEIGHT,
        None,
        weight,
        why,
        "the log",
        (entry.place,),
        tests=(test,),
    )


def _found_weight(month: Month, entry: Logged) -> Load | None:
    """Return the one weight of all sets that a client found for `own` without a step, None where there is none."""
    text = month.text(entry.planned)
    weights = {done.weight for done in entry.sets}
    if len(weights) != 1 or not isinstance(text, OwnWeight):
        return None
    weight = weights.pop()
    if weight is None or weight.amount <= 0 or text.step is not None or entry.planned.load.paper_steps:
        return None
    return weight


def _guarded(month: Month, proposal: Proposal, typed: str, *, over: bool) -> Proposal:
    """Return a rise as it may be written; what is held back or over the cap is only listed, with what to type."""
    if month.held_back is not None:
        why = f"{proposal.why} Not raised: {month.held_back}."
    elif over:
        why = f"{proposal.why} The next that the site has is over the Block's biggest rise, {month.cap}."
    else:
        return proposal
    return replace(proposal, why=why, tests=(), changes=(), replaces=(), type_this=typed)


def _no_more(proposal: Proposal) -> Proposal:
    return replace(
        proposal,
        why=f"{proposal.why} The site has nothing heavier.",
        type_this="Add repetitions, or choose another exercise on Changes.",
    )


# ---------------------------------------------------------------- weights typed for everybody


def raised_typed(month: Month) -> Iterator[Proposal]:
    """Yield the proposals for weights that the programme or a change types, row by row."""
    rows: dict[tuple[str, RowRef, RowRef], list[PlannedExercise]] = {}
    names: dict[str, str] = {}
    for session, planned in month.planned():
        if isinstance(month.text(planned), WeightLoad | BodyWeightLoad | BodyWeightShare):
            key = (name_key(session), planned.row.row, planned.exercise.row)
            rows.setdefault(key, []).append(planned)
            names[key[0]] = session
    for (session, _, _), of_row in rows.items():
        heavy = [one for one in of_row if one.week not in month.easier]
        running = two_running(heavy, month.done_of(heavy))
        if running is not None:
            yield _typed(month, names[session], of_row, running)


def _typed(month: Month, session: str, planned: Sequence[PlannedExercise], running: tuple[Logged, Logged]) -> Proposal:
    last = running[1].planned
    proposal = Proposal(
        month.plan.name,
        last.exercise.name.needed,
        "load",
        None,
        None,
        _rule(running),
        HANDBOOK,
        (running[0].place, running[1].place, *((last.load.source,) if last.load.source else ())),
    )
    old = _one_load(last)
    ruled = _one_load_a_week(planned) and all(_has_rule(month, one) for one in planned)
    body = lifted_body(month.view, last.exercise) if last.load.kind is LoadKind.ADDED else None
    if old is None or not ruled or (last.load.kind is LoadKind.ADDED and body is None):
        return replace(
            proposal,
            why=f"{proposal.why} There is no rule for {_text_of(month, planned)}.",
            type_this="Changes: Do load, with this client's own load.",
        )
    next_one = rise(month.view_of(last), last.exercise, old, month.cap, body)
    new = next_one.new or next_one.beyond
    if new is None:
        return _no_more(replace(proposal, old=old))
    loads = [(one.week, _moved(month, one, old, new)) for one in planned]
    changes = tuple(_changes(month, session, last, loads, proposal.why, every=not _says_more(planned)))
    typed = "; ".join(_change_words(change) for change in changes)
    proposal = replace(proposal, old=old, new=new, changes=changes, replaces=tuple(_replaced(month, session, planned)))
    return _guarded(month, proposal, typed, over=next_one.new is None)


def _text_of(month: Month, planned: Sequence[PlannedExercise]) -> str:
    text: LoadText | None = month.text(planned[-1])
    if isinstance(text, BodyWeightShare):
        return "a share of body weight"
    if all(_one_load(one) is not None for one in planned) and not _one_load_a_week(planned):
        return "two loads in one week"
    return "a list, a range or a swapped exercise's load"


def _has_rule(month: Month, planned: PlannedExercise) -> bool:
    """Tell whether a row of Changes could carry this load: not a swap's own, not scaled, not a share."""
    change = month.change(planned)
    swapped = change is not None and change.do.known != "load"
    return not (swapped or planned.load.scaled is not None or isinstance(month.text(planned), BodyWeightShare))


def _one_load(planned: PlannedExercise) -> Load | None:
    """Return the one load of all sets, None where there are several or none."""
    loads = {end.load for item in planned.load.items for end in (item.low, item.high)}
    return loads.pop() if len(loads) == 1 else None


def _one_load_a_week(planned: Sequence[PlannedExercise]) -> bool:
    """Tell whether each week asks for one load, also where a session comes twice in it: Changes name weeks."""
    weeks: dict[int, Load] = {}
    for one in planned:
        load = _one_load(one)
        if load is None or weeks.setdefault(one.week, load) != load:
            return False
    return True


def _says_more(planned: Sequence[PlannedExercise]) -> bool:
    """Tell whether the programme has another load in weeks in which the client did not do the row."""
    sources = {one.load.source for one in planned}
    done = {one.week for one in planned}
    rest = [says for week, says in unroll(planned[0].row).items() if week not in done]
    return any(says.load is None or says.load.place_field.place not in sources for says in rest)


def _moved(month: Month, planned: PlannedExercise, old: Load, new: Load) -> Load:
    """Return the load of one week, moved up as the last one is: by the same share, or for body weight the same step."""
    load = _one_load(planned) or old
    if planned.load.kind is LoadKind.ADDED:
        return load.plus(new.minus(old))
    exact = load.times(new.to(old.unit).amount / old.amount)
    return loadable(month.view_of(planned), planned.exercise, exact, Rounding.DOWN) or load


def _changes(
    month: Month, session: str, planned: PlannedExercise, loads: Sequence[tuple[int, Load]], why: str, *, every: bool
) -> Iterator[NewChange]:
    """Yield a change for each run of weeks with the same load; one for all weeks where `every` week has that load."""
    every = every and len({load for _, load in loads}) == 1
    ordered = sorted(dict(loads).items())
    for load, run in groupby(ordered, key=lambda pair: pair[1]):
        weeks = tuple(week for week, _ in run)
        yield NewChange(
            month.plan.name,
            session,
            planned.order,
            planned.row.exercise.needed,
            None if every else weeks,
            "load",
            "",
            _load_text(planned, load),
            "",
            f"Raised for the new block. {why}",
        )


def _load_text(planned: PlannedExercise, load: Load) -> str:
    return added_words(load) if planned.load.kind is LoadKind.ADDED else str(load)


def _change_words(change: NewChange) -> str:
    weeks = f", Weeks {', '.join(map(str, change.weeks))}" if change.weeks else ""
    where = f"{change.client}, {change.session}, {change.order} {change.exercise}"
    return f"Changes: {where}{weeks}, Do load, Load {change.load}"


def _replaced(month: Month, session: str, planned: Sequence[PlannedExercise]) -> Iterator[RowRef]:
    """Yield the rows of Changes that only gave this client this load: the new ones stand in for them."""
    seen: set[RowRef] = set()
    for one in planned:
        change = month.change(one)
        if change is not None and change.row not in seen and _is_own(change, month.plan.name, session, one):
            seen.add(change.row)
            yield change.row


def _is_own(change: Change, client: str, session: str, planned: PlannedExercise) -> bool:
    who = change.who.known or ()
    return (
        change.do.known == "load"
        and [name_key(word) for word in who] == [name_key(client)]
        and name_key(change.session.known or "") == name_key(session)
        and name_key(change.order.known or "") == name_key(planned.order)
        and name_key(change.exercise.known or "") == name_key(planned.row.exercise.needed)
        and change.sets.blank
        and change.reps.blank
    )
