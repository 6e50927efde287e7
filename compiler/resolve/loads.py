"""A week's load cell and one client -> the load that client is asked to lift, and the one the site can load.

The exact load is worked out from the last load typed and the steps since; `fit` finds what can be loaded. What is
not known stays blank and is flagged: no load is ever guessed, and none moves from one exercise to another.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from decimal import Decimal

from compiler.flags.catalogue import flag
from compiler.flags.model import Flag, Remark
from compiler.folding import name_key
from compiler.model.effective import EffectiveWeek, LoadChain
from compiler.model.field import Poisoned
from compiler.model.records import Exercise
from compiler.notation.values import (
    AtLeast,
    BodyWeightLoad,
    BodyWeightShare,
    Cluster,
    Count,
    EffortLoad,
    FeelLoad,
    HeartRateLoad,
    NamedLoad,
    OwnWeight,
    PercentLoad,
    PercentOf,
    Reps,
    TestSet,
    WeightLoad,
    WorkUp,
)
from compiler.quantities import Load, Percent
from compiler.resolve.context import ClientView
from compiler.resolve.effort_table import percent_for_effort
from compiler.resolve.fit import Wanted, fit, fit_flags, without_pair_totals
from compiler.resolve.heart import has_band, plan_heart_rate, plan_named
from compiler.resolve.maxima import HUNDRED, SYSTEM, maximum, own_weight, rep_maximum
from compiler.resolve.rounding import Rounding
from compiler.resolve.steps import points_and_loads, step_values, total_of, weights_only
from compiler.resolve.values import LoadKind, Maximum, PlannedLoad, RepMaximum

ROUND_DOWN_FROM = Decimal(90)
"""From this percentage on a load is rounded down whatever the Block says."""


TESTS_NOT_USED = frozenset({"missing-body-weight", "stale-test", "many-rep-test", "pair-total"})
"""Flags at a test that say why it gives no maximum."""


@dataclass(frozen=True, slots=True)
class Asked:
    """One row of one week for one client: what a load is made from."""

    view: ClientView
    exercise: Exercise
    week: EffectiveWeek
    reps: Reps | None
    scale: Percent | None = None


@dataclass(frozen=True, slots=True)
class Loaded:
    """A planned load, and what the coach should know about it."""

    load: PlannedLoad
    flags: tuple[Flag, ...] = ()


def plan_load(asked: Asked) -> Loaded:
    """Return the load of a row in a week. Raises `Poisoned` where a cell it needs could not be read."""
    chain = asked.week.load
    if chain is None:
        return Loaded(_without_cell(asked.exercise))
    base = chain.base.value
    match base:
        case PercentLoad():
            planned = _percent(asked, chain, base)
        case WeightLoad():
            planned = _weight(asked, chain, base)
        case OwnWeight():
            planned = _own(asked, chain, base)
        case FeelLoad(feel=feel) if asked.exercise.implement.value == "band" and has_band(asked.view, str(feel)):
            planned = Loaded(*plan_named(asked.view, NamedLoad(str(feel)), chain.base))
        case EffortLoad() | WorkUp() | FeelLoad():
            planned = _found_by_client(asked, chain, base)
        case BodyWeightLoad():
            planned = _body_weight(asked, chain, base)
        case BodyWeightShare():
            planned = _share_of_body(asked, chain, base)
        case HeartRateLoad():
            planned = Loaded(*plan_heart_rate(asked.view, base, chain.base))
        case NamedLoad():
            planned = Loaded(*plan_named(asked.view, base, chain.base))
        case _:
            raise Poisoned(chain.base.place)  # a step with nothing to start from: flagged at its cell
    return Loaded(replace(planned.load, source=chain.place_field.place, scaled=asked.scale), planned.flags)


def _without_cell(exercise: Exercise) -> PlannedLoad:
    body = exercise.implement.value in {"body weight", SYSTEM}
    return PlannedLoad(LoadKind.BODY_WEIGHT if body else LoadKind.NONE)


def _scaled(asked: Asked, load: Load) -> Load:
    return load.times(asked.scale.share) if asked.scale else load


def _rounding(asked: Asked, percents: Iterable[Decimal] = ()) -> Rounding:
    limited = bool(asked.view.limits)
    return Rounding.DOWN if limited or any(p >= ROUND_DOWN_FROM for p in percents) else asked.view.rounding


def _kit(asked: Asked) -> str | None:
    return asked.view.kit.site if asked.view.kit else None


# ---------------------------------------------------------------- percentages


def _percent(asked: Asked, chain: LoadChain, base: PercentLoad) -> Loaded:
    view, exercise = asked.view, asked.exercise
    known, flags = maximum(view, exercise)
    rep_max = None
    if base.of is PercentOf.REP_MAX:
        rep_max = rep_maximum(view, exercise, base.rep_max or 1, known)
    of = _percent_base(base, known, rep_max)
    if of is None:
        return _no_test(asked, chain, base, flags, tested=known is not None)
    points, steps = points_and_loads(chain)
    wanted = []
    for item in base.items:
        first = _wanted(asked, of, item.low.value + points, steps)
        same = item.low == item.high
        wanted.append((first, first if same else _wanted(asked, of, item.high.value + points, steps)))
    shares = [item.high.value + points for item in base.items]
    rounding = _rounding(asked, shares)
    body = _body(known, rep_max)
    fitted = fit(view, exercise, wanted, rounding, body=body)
    load = PlannedLoad(
        LoadKind.ADDED if exercise.implement.value == SYSTEM else LoadKind.WEIGHT,
        items=fitted,
        stop_at=base.stop_at,
        maximum=known,
        percent_of=base.of,
        rep_max=rep_max,
        counted=body,
        steps=total_of(steps, of.unit),
        rounding=rounding,
        kit=_kit(asked),
    )
    return Loaded(load, (*flags, *fit_flags(view, exercise, load, chain.place_field)))


def _body(known: Maximum | None, rep_max: RepMaximum | None) -> Load | None:
    """Return the part of the body that is in what the percentages are of."""
    if rep_max is not None and rep_max.test is not None:
        return rep_max.body
    return known.body if known else None


def _wanted(asked: Asked, of: Load, percent: Decimal, steps: list[Load]) -> Wanted:
    exact = of.times(Percent(percent).share)
    for step in steps:
        exact = exact.plus(step)
    return Wanted(_scaled(asked, exact), Percent(percent))


def _percent_base(base: PercentLoad, known: Maximum | None, rep_max: RepMaximum | None) -> Load | None:
    match base.of:
        case PercentOf.WORKING_MAX:
            return known.working_max if known else None
        case PercentOf.ONE_RM:
            return known.one_rm if known else None
        case PercentOf.REP_MAX:
            return rep_max.load if rep_max else None


def _no_test(asked: Asked, chain: LoadChain, base: PercentLoad, flags: list[Flag], *, tested: bool) -> Loaded:
    """Give an untested client the fallback that the cell states, else a blank line and a flag; or hold the booklet.

    Where a test that gives no maximum has its flag, the blank is a consequence and told no second time; so where a
    name in the test is misspelt.
    """
    view, exercise = asked.view, asked.exercise
    if base.fallback is not None:
        steps = step_values(chain)
        load = PlannedLoad(
            LoadKind.EFFORT,
            effort=base.fallback,
            paper_week=chain.base_week if steps else None,
            paper_steps=steps,
        )
        return Loaded(load, tuple(flags))
    hold = view.book.block.missing_test.value == "hold the booklet"
    lost = view.index.lost_tests.get((name_key(view.name), name_key(exercise.name.needed)))
    if lost is not None and not tested and hold:
        raise Poisoned(lost)
    told = lost is not None or any(found.slug in TESTS_NOT_USED for found in flags)
    if told and not tested and not hold:
        return Loaded(PlannedLoad(LoadKind.BLANK), tuple(flags))
    remark = Remark(
        "test-required" if hold else "missing-test",
        f"{view.name} has no test for {exercise.name.value}"
        + (", and the Block says to hold the booklet." if hold else "; the load is left blank."),
        f"Add a row to Tests, or give a fallback here: {chain.base.text} or RPE 7.",
    )
    found = flag(
        remark,
        chain.base.place,
        client=view.name,
        found=chain.base.text,
        related=(view.client.name.place,),
        touches=(view.name,) if hold else (),
    )
    return Loaded(PlannedLoad(LoadKind.BLANK), (*flags, found))


# ---------------------------------------------------------------- weights


def _weight(asked: Asked, chain: LoadChain, base: WeightLoad) -> Loaded:
    steps = weights_only(chain)

    def exact(load: Load) -> Wanted:
        for step in steps:
            load = load.plus(step)
        return Wanted(_scaled(asked, load), None)

    wanted = [(exact(item.low), exact(item.high)) for item in base.items]
    planned = _fitted(asked, chain, wanted, LoadKind.WEIGHT)
    items = without_pair_totals(asked.exercise, planned.load.items)
    return replace(planned, load=replace(planned.load, items=items))


def _fitted(
    asked: Asked,
    chain: LoadChain,
    wanted: list[tuple[Wanted, Wanted]],
    kind: LoadKind,
    body: Load | None = None,
) -> Loaded:
    rounding = _rounding(asked)
    fitted = fit(asked.view, asked.exercise, wanted, rounding, body=body)
    load = PlannedLoad(kind, items=fitted, rounding=rounding, kit=_kit(asked), measure=_measure(asked))
    return Loaded(load, tuple(fit_flags(asked.view, asked.exercise, load, chain.place_field)))


def _measure(asked: Asked) -> Maximum | None:
    """Return the client's maximum to measure a typed weight against; a wrong test stops nobody who needs none."""
    try:
        return maximum(asked.view, asked.exercise)[0]
    except Poisoned:
        return None


def _own(asked: Asked, chain: LoadChain, base: OwnWeight) -> Loaded:
    view, exercise = asked.view, asked.exercise
    known, flags = own_weight(view, exercise)
    steps = weights_only(chain)
    if known is None:
        every = (*((base.step,) if base.step is not None else ()), *steps)
        remark = Remark(
            "no-working-weight",
            f"{view.name} has no working weight for {exercise.name.value} yet; the page has a line to write it on.",
            "Add a row to Tests with the source `working weight`.",
        )
        found = flag(
            remark,
            chain.base.place,
            client=view.name,
            found=chain.base.text,
            related=(view.client.name.place,),
        )
        load = PlannedLoad(LoadKind.OWN, paper_week=chain.base_week, paper_steps=every)
        return Loaded(load, tuple(flags) or (found,))
    exact = known
    if isinstance(base.step, Load):
        exact = exact.plus(base.step)
    elif isinstance(base.step, Percent):
        exact = exact.times((HUNDRED.value + base.step.value) / HUNDRED.value)
    for step in steps:
        exact = exact.plus(step)
    fitted = _fitted(asked, chain, [(Wanted(_scaled(asked, exact), None),) * 2], LoadKind.WEIGHT)
    return replace(fitted, flags=(*flags, *fitted.flags))


def _share_of_body(asked: Asked, chain: LoadChain, base: BodyWeightShare) -> Loaded:
    body = asked.view.body_weight
    if body is None:
        remark = Remark(
            "missing-body-weight",
            f"{asked.view.name} has no body weight, and this load is a share of it; it is left blank.",
            "Fill in Body weight on the Clients sheet.",
        )
        place = asked.view.client.body_weight.place
        found = flag(remark, place, client=asked.view.name, related=(chain.base.place,))
        return Loaded(PlannedLoad(LoadKind.BLANK), (found,))
    exact = body.times(base.percent.share)
    for step in weights_only(chain):
        exact = exact.plus(step)
    return _fitted(asked, chain, [(Wanted(_scaled(asked, exact), None),) * 2], LoadKind.WEIGHT)


def _body_weight(asked: Asked, chain: LoadChain, base: BodyWeightLoad) -> Loaded:
    steps = weights_only(chain)
    if base.added is None and not steps:
        return Loaded(PlannedLoad(LoadKind.BODY_WEIGHT))
    added = base.added
    for step in steps:
        added = step if added is None else added.plus(step)
    if added is None or added.amount == 0:
        return Loaded(PlannedLoad(LoadKind.BODY_WEIGHT))
    return _fitted(asked, chain, [(Wanted(_scaled(asked, added), None),) * 2], LoadKind.ADDED)


# ---------------------------------------------------------------- found by the client


def _found_by_client(asked: Asked, chain: LoadChain, base: EffortLoad | WorkUp | FeelLoad) -> Loaded:
    steps = weights_only(chain)
    paper_week = chain.base_week if steps else None
    match base:
        case FeelLoad():
            load = PlannedLoad(LoadKind.FEEL, feel=base.feel, paper_week=paper_week, paper_steps=tuple(steps))
        case WorkUp():
            load = PlannedLoad(
                LoadKind.WORK_UP, effort=base.until, paper_week=paper_week, paper_steps=tuple(steps)
            )
        case EffortLoad():
            load = PlannedLoad(
                LoadKind.EFFORT,
                effort=base.effort,
                back_off=base.back_off,
                paper_week=paper_week,
                paper_steps=tuple(steps),
            )
            if not steps:
                return _with_suggestion(asked, base, load)
    return Loaded(load)


def _with_suggestion(asked: Asked, base: EffortLoad, load: PlannedLoad) -> Loaded:
    """Add the load that the effort suggests, where the client has a test: by the table, rounded down, only 'about'."""
    count = heaviest_reps(asked.reps)
    span = percent_for_effort(count, base.effort) if count is not None else None
    if span is None:
        return Loaded(load)
    known, flags = maximum(asked.view, asked.exercise)
    if known is None or known.one_rm is None:
        return Loaded(load)
    first = tuple(Wanted(_scaled(asked, known.one_rm.times(p.share)), p) for p in (span.low, span.high))
    wanted = [(first[0], first[1])]
    sets = asked.week.sets_value
    if base.back_off is not None and sets is not None and sets.high > 1:
        lighter = (HUNDRED.value - base.back_off.value) / HUNDRED.value
        wanted += [
            (Wanted(first[0].exact.times(lighter), None), Wanted(first[1].exact.times(lighter), None))
        ] * (sets.high - 1)
    items = fit(asked.view, asked.exercise, wanted, Rounding.DOWN, body=known.body)
    if any(end.load is None or end.miss is not None for item in items for end in (item.low, item.high)):
        return Loaded(load)
    suggested = replace(
        load,
        items=items,
        about=True,
        maximum=known,
        percent_of=PercentOf.ONE_RM,
        counted=known.body,
        rounding=Rounding.DOWN,
        kit=_kit(asked),
    )
    return Loaded(suggested, tuple(flags))


def heaviest_reps(reps: Reps | None) -> int | None:
    """Return the most repetitions that one set is sure to ask for: what an effort or a check must reckon with.

    The upper end of a range, the floor of `8+`; None for what is not counted in repetitions.
    """
    counts = []
    for item in reps.items if reps else ():
        match item:
            case Count(high=high):
                counts.append(high)
            case AtLeast(count=count) | TestSet(count=count):
                counts.append(count)
            case Cluster(counts=parts):
                counts.append(max(parts))
            case _:
                return None
    return max(counts, default=None)
