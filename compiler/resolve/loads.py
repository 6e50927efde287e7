"""A week's load cell and one client -> the load that client is asked to lift, and the one the site can load.

The exact load is worked out from the last load typed and the steps since; `fit` finds what can be loaded. What is
not known stays blank and is flagged: no load is ever guessed, and none moves from one exercise to another.
"""

from __future__ import annotations

from typing import assert_never

from compiler.flags.catalogue import flag
from compiler.flags.model import Remark
from compiler.model.effective import LoadChain
from compiler.model.field import Poisoned
from compiler.model.records import Exercise
from compiler.notation.values import (
    BodyWeightLoad,
    BodyWeightShare,
    EffortLoad,
    FeelLoad,
    HeartRateLoad,
    NamedLoad,
    OwnWeight,
    PercentLoad,
    PercentOf,
    Step,
    WeightLoad,
    WorkUp,
)
from compiler.quantities import Load, Percent
from compiler.resolve.asked import Asked, Planned, kit_of, placed, rounding_of, scaled
from compiler.resolve.effort_table import heaviest_reps, percent_for_effort
from compiler.resolve.fit import Wanted, fit, fit_flags, typed_flags, without_pair_totals
from compiler.resolve.heart import has_band, plan_heart_rate, plan_named
from compiler.resolve.maxima import HUNDRED, maximum, no_body_weight, own_weight, share_of_system
from compiler.resolve.percentages import plan_percentages, wanted_share
from compiler.resolve.rounding import Rounding
from compiler.resolve.steps import weights_only
from compiler.resolve.values import LoadKind, Maximum, PlannedLoad
from compiler.schema.implements import SYSTEM, WITH_BODY


def plan_load(asked: Asked) -> Planned:
    """Return the load of a row in a week. Raises `Poisoned` where a cell it needs could not be read."""
    chain = asked.week.load
    if chain is None:
        return Planned(_without_cell(asked.exercise))
    base = chain.base.value
    match base:
        case PercentLoad():
            return plan_percentages(asked, chain, base)
        case WeightLoad():
            planned = _weight(asked, chain, base)
        case OwnWeight():
            planned = _own(asked, chain, base)
        case FeelLoad(feel=feel) if asked.exercise.implement.value == "band" and has_band(asked.view, str(feel)):
            planned = plan_named(asked.view, NamedLoad(str(feel)), chain.base)
        case EffortLoad() | WorkUp() | FeelLoad():
            planned = _found_by_client(asked, chain, base)
        case BodyWeightLoad():
            planned = _body_weight(asked, chain, base)
        case BodyWeightShare():
            planned = _share_of_body(asked, chain, base)
        case HeartRateLoad():
            planned = plan_heart_rate(asked.view, base, chain.base)
        case NamedLoad():
            planned = plan_named(asked.view, base, chain.base)
        case Step() | None:
            raise Poisoned(chain.base.place)  # nothing to start from: flagged at its cell
        case _:
            assert_never(base)
    return placed(asked, chain, planned)


def _without_cell(exercise: Exercise) -> PlannedLoad:
    body = exercise.implement.value in WITH_BODY
    return PlannedLoad(LoadKind.BODY_WEIGHT if body else LoadKind.NONE)


# ---------------------------------------------------------------- weights


def _weight(asked: Asked, chain: LoadChain, base: WeightLoad) -> Planned:
    exact = [(item.low, item.high) for item in base.items]
    for step in weights_only(chain):
        exact = [(low.plus(step), high.plus(step)) for low, high in exact]
    planned = _fitted(asked, chain, exact, _kind(asked.exercise))
    items = without_pair_totals(asked.exercise, planned.load.items)
    if items is planned.load.items:
        return planned
    return Planned(planned.load._replace(items=items), planned.flags)


def _fitted(asked: Asked, chain: LoadChain, exact: list[tuple[Load, Load]], kind: LoadKind) -> Planned:
    """Return weights, or what is added to the body, as the client can load them, scaled where a change says so."""
    view, exercise = asked.view, asked.exercise
    wanted = []
    for pair in exact:
        low, high = pair if asked.scale is None else (_scaled(asked, end, kind) for end in pair)
        if low is None or high is None:
            return _without_body_weight(asked, chain)
        first = Wanted.of(low)
        wanted.append((first, first if low is high else Wanted.of(high)))
    rounding = rounding_of(view)
    fitted = fit(view, exercise, wanted, rounding)
    load = PlannedLoad(kind, items=fitted, rounding=rounding, kit=kit_of(view), measure=_measure(asked))
    typed = asked.scale is None and isinstance(chain.base.value, WeightLoad | BodyWeightLoad)
    told = typed_flags if typed else fit_flags
    return Planned(load, told(view, exercise, load, chain.place_field))


def _scaled(asked: Asked, load: Load, kind: LoadKind) -> Load | None:
    """Return a load as the client's scale has it; None where the body is in it and not known."""
    if asked.scale is None or kind is not LoadKind.ADDED:
        return scaled(asked, load)
    return share_of_system(asked.view, asked.exercise, load, asked.scale)


def _kind(exercise: Exercise) -> LoadKind:
    return LoadKind.ADDED if exercise.implement.value == SYSTEM else LoadKind.WEIGHT


def _without_body_weight(asked: Asked, chain: LoadChain) -> Planned:
    return Planned(PlannedLoad(LoadKind.BLANK), (no_body_weight(asked.view, asked.exercise, chain.base.place),))


def _measure(asked: Asked) -> Maximum | None:
    """Return the client's maximum to measure a typed weight against; a wrong test stops nobody who needs none."""
    try:
        return maximum(asked.view, asked.exercise)[0]
    except Poisoned:
        return None


def _own(asked: Asked, chain: LoadChain, base: OwnWeight) -> Planned:
    view, exercise = asked.view, asked.exercise
    known, flags = own_weight(view, exercise)
    steps = weights_only(chain)
    if known is None:
        remark = Remark(
            "no-working-weight",
            f"{view.name} has no working weight for {exercise.name.value} yet; the page has a line to write it on.",
            'Add a row to Tests with the source "working weight".',
        )
        found = flag(
            remark,
            chain.base.place,
            client=view.name,
            found=chain.base.text,
            related=(view.client.name.place,),
        )
        load = PlannedLoad(
            LoadKind.OWN, paper_steps=tuple(steps), paper_from=chain.base.place, own_step=base.step
        )
        return Planned(load, tuple(flags) or (found,))
    exact = known
    if isinstance(base.step, Load):
        exact = exact.plus(base.step)
    elif isinstance(base.step, Percent):
        share = Percent(HUNDRED.value + base.step.value)
        of_system = exercise.implement.value == SYSTEM
        left = share_of_system(view, exercise, exact, share) if of_system else exact.times(share.share)
        if left is None:
            return _without_body_weight(asked, chain)
        exact = left
    for step in steps:
        exact = exact.plus(step)
    fitted = _fitted(asked, chain, [(exact, exact)], _kind(exercise))
    return Planned(fitted.load, (*flags, *fitted.flags))


def _share_of_body(asked: Asked, chain: LoadChain, base: BodyWeightShare) -> Planned:
    body = asked.view.body_weight
    if body is None:
        return _without_body_weight(asked, chain)
    exact = body.times(base.percent.share)
    for step in weights_only(chain):
        exact = exact.plus(step)
    return _fitted(asked, chain, [(exact, exact)], _kind(asked.exercise))


def _body_weight(asked: Asked, chain: LoadChain, base: BodyWeightLoad) -> Planned:
    steps = weights_only(chain)
    if base.added is None and not steps:
        return Planned(PlannedLoad(LoadKind.BODY_WEIGHT))
    added = base.added
    for step in steps:
        added = step if added is None else added.plus(step)
    if added is None or added.amount == 0:
        return Planned(PlannedLoad(LoadKind.BODY_WEIGHT))
    return _fitted(asked, chain, [(added, added)], LoadKind.ADDED)


# ---------------------------------------------------------------- found by the client


def _found_by_client(asked: Asked, chain: LoadChain, base: EffortLoad | WorkUp | FeelLoad) -> Planned:
    steps = tuple(weights_only(chain))
    asks = chain.base.place
    match base:
        case FeelLoad():
            load = PlannedLoad(LoadKind.FEEL, feel=base.feel, paper_steps=steps, paper_from=asks)
        case WorkUp():
            load = PlannedLoad(LoadKind.WORK_UP, effort=base.until, paper_steps=steps, paper_from=asks)
        case EffortLoad():
            load = PlannedLoad(
                LoadKind.EFFORT, effort=base.effort, back_off=base.back_off, paper_steps=steps, paper_from=asks
            )
            if not steps:
                return _with_suggestion(asked, base, load)
    return Planned(load)


def _with_suggestion(asked: Asked, base: EffortLoad, load: PlannedLoad) -> Planned:
    """Add the load that the effort suggests, where the client has a test: by the table, rounded down, only 'about'."""
    count = heaviest_reps(asked.reps)
    span = percent_for_effort(count, base.effort) if count is not None else None
    if span is None:
        return Planned(load)
    known, flags = maximum(asked.view, asked.exercise)
    if known is None or known.one_rm is None:
        return Planned(load, tuple(found for found in flags if found.slug == "pair-total"))
    low, high = (wanted_share(known.one_rm, percent, asked.scale) for percent in (span.low, span.high))
    wanted = [(low, high)]
    sets = asked.week.sets_value
    if base.back_off is not None and sets is not None and sets.high > 1:
        lighter = (HUNDRED.value - base.back_off.value) / HUNDRED.value
        wanted += [
            (Wanted(low.amount * lighter, low.unit, None), Wanted(high.amount * lighter, high.unit, None))
        ] * (sets.high - 1)
    items = fit(asked.view, asked.exercise, wanted, Rounding.DOWN, body=known.body)
    if any(end.load is None or end.miss is not None for item in items for end in (item.low, item.high)):
        return Planned(load)
    suggested = load._replace(
        items=items,
        about=True,
        maximum=known,
        percent_of=PercentOf.ONE_RM,
        counted=known.body,
        rounding=Rounding.DOWN,
        kit=kit_of(asked.view),
    )
    return Planned(suggested, flags)
