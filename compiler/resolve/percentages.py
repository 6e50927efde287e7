"""A percentage and one client -> the load, with all that it rests on.

What depends on the client and the exercise alone is worked out once (`Basis`, `Rack`), what depends on the cell alone
as well (`Percentages`): there are thousands of loads, and here each of them is only multiplied and rounded.
"""

from __future__ import annotations

from decimal import Decimal

from compiler.flags.catalogue import flag
from compiler.flags.model import Remark
from compiler.folding import name_key
from compiler.model.effective import LoadChain, Percentages
from compiler.model.field import Poisoned
from compiler.model.records import Exercise
from compiler.notation.values import PercentLoad, PercentOf
from compiler.quantities import Load, Percent, Unit
from compiler.resolve.asked import Asked, Planned, kit_of, placed, rounding_of
from compiler.resolve.context import Basis, ClientView
from compiler.resolve.fit import Wanted, fit_alike, fit_each, fit_flags
from compiler.resolve.maxima import maximum, rep_maximum
from compiler.resolve.rounding import Rounding
from compiler.resolve.steps import step_values, total_of
from compiler.resolve.values import LoadKind, Maximum, PlannedLoad, RepMaximum

ROUND_DOWN_FROM = Decimal(90)
"""From this percentage on a load is rounded down whatever the Block says."""

TESTS_NOT_USED = frozenset({"missing-body-weight", "stale-test", "many-rep-test", "pair-total"})
"""Flags at a test that say why it gives no maximum."""

_WEIGHT, _ADDED = LoadKind.WEIGHT, LoadKind.ADDED
_DOWN = Rounding.DOWN


def plan_percentages(asked: Asked, chain: LoadChain, base: PercentLoad) -> Planned:
    """Return the load of a percentage. Raises `Poisoned` where a cell it needs could not be read."""
    view, exercise = asked.view, asked.exercise
    basis = _basis(view, exercise, base)
    of, percentages = basis.of, chain.percentages
    if of is None:
        return placed(asked, chain, _no_test(asked, chain, base, basis))
    if percentages is None:
        raise Poisoned(next(step.place for step in chain.steps if step.failed))
    rounding = _DOWN if percentages.heaviest >= ROUND_DOWN_FROM else basis.rounding
    rack, body, added = basis.rack or view.rack(exercise), basis.body, percentages.added
    single, scale = percentages.single, asked.scale
    if single is None:
        items = fit_each(rack, _each(of, percentages, scale), rounding, body)
    else:
        amount = of.amount * single[1]
        if added or scale is not None:
            amount = _changed(amount, of.unit, scale, added)
        if body is not None:
            amount -= body.to(of.unit).amount
        items = fit_alike(rack, amount, of.unit, single[0], rounding)
    cell = chain.place_field
    load = PlannedLoad(  # by place: names take as long as the rounding
        _ADDED if rack.with_body else _WEIGHT,
        items,
        cell.place,
        scale,
        basis.maximum,
        rounding,
        basis.kit,
        base.of,
        basis.rep_max,
        body,
        total_of(added, of.unit) if added else None,
        base.stop_at,
    )
    return Planned(load, basis.flags + fit_flags(view, exercise, load, cell))


def wanted_share(of: Load, percent: Percent, scale: Percent | None, added: tuple[Load, ...] = ()) -> Wanted:
    """Return the exact load of a percentage and the weights added to it, as the client's scale has it."""
    return Wanted(_changed(of.amount * percent.share, of.unit, scale, added), of.unit, percent)


def _changed(amount: Decimal, unit: Unit, scale: Percent | None, added: tuple[Load, ...]) -> Decimal:
    for step in added:
        amount += step.to(unit).amount
    return amount if scale is None else amount * scale.share


def _each(of: Load, percentages: Percentages, scale: Percent | None) -> list[tuple[Wanted, Wanted]]:
    wanted = []
    for low, high in percentages.items:
        first = wanted_share(of, low, scale, percentages.added)
        wanted.append((first, first if low is high else wanted_share(of, high, scale, percentages.added)))
    return wanted


# ---------------------------------------------------------------- what the percentages are of


def _basis(view: ClientView, exercise: Exercise, base: PercentLoad) -> Basis:
    """Return what the percentages are of, worked out once for a client and exercise."""
    asked = exercise.row.row, base.of, base.rep_max
    found = view.bases.get(asked)
    if found is None:
        found = view.bases[asked] = _make_basis(view, exercise, base)
    return found


def _make_basis(view: ClientView, exercise: Exercise, base: PercentLoad) -> Basis:
    known, flags = maximum(view, exercise)
    rep_max = None
    if base.of is PercentOf.REP_MAX:
        rep_max, more = rep_maximum(view, exercise, base.rep_max or 1, known)
        flags += more
    of = _percent_base(base, known, rep_max)
    try:
        rack = view.rack(exercise)
    except Poisoned:
        rack = None  # whoever needs it asks again, and stops there
    return Basis(of, known, rep_max, _body(known, rep_max), rounding_of(view), kit_of(view), rack, flags)


def _body(known: Maximum | None, rep_max: RepMaximum | None) -> Load | None:
    """Return the part of the body that is in what the percentages are of."""
    if rep_max is not None and rep_max.test is not None:
        return rep_max.body
    return known.body if known else None


def _percent_base(base: PercentLoad, known: Maximum | None, rep_max: RepMaximum | None) -> Load | None:
    match base.of:
        case PercentOf.WORKING_MAX:
            return known.working_max if known else None
        case PercentOf.ONE_RM:
            return known.one_rm if known else None
        case PercentOf.REP_MAX:
            return rep_max.load if rep_max else None


def _no_test(asked: Asked, chain: LoadChain, base: PercentLoad, basis: Basis) -> Planned:
    """Give an untested client the fallback that the cell states, else a blank line and a flag; or hold the booklet.

    Where a test that gives no maximum has its flag, the blank is a consequence and told no second time; so where a
    name in the test is misspelt.
    """
    view, exercise, flags, tested = asked.view, asked.exercise, basis.flags, basis.maximum is not None
    if base.fallback is not None:
        load = PlannedLoad(
            LoadKind.EFFORT, effort=base.fallback, paper_steps=step_values(chain), paper_from=chain.base.place
        )
        return Planned(load, flags)
    hold = view.book.block.missing_test.value == "hold the booklet"
    lost = view.index.lost_tests.get((name_key(view.name), name_key(exercise.name.needed)))
    if lost is not None and not tested and hold:
        raise Poisoned(lost)
    told = lost is not None or any(found.slug in TESTS_NOT_USED for found in flags)
    if told and not tested and not hold:
        return Planned(PlannedLoad(LoadKind.BLANK), flags)
    remark = Remark(
        "test-required" if hold else "missing-test",
        f"{view.name} has no test for {exercise.name.value}"
        + (", and the Block says to hold the booklet." if hold else "; the load is left blank."),
        f"Add a row to Tests, or say here what to do without one: {_with_fallback(chain.base.text)}.",
    )
    found = flag(
        remark,
        chain.base.place,
        client=view.name,
        found=chain.base.text,
        related=(view.client.name.place,),
        touches=(view.name,) if hold else (),
    )
    return Planned(PlannedLoad(LoadKind.BLANK), (*flags, found))


def _with_fallback(text: str) -> str:
    """Return the text of a percentage with a fallback where the grammar has it: before an effort to stop at."""
    head, stop, tail = text.partition("stop")
    return f"{head.rstrip(' ,')} or RPE 7, {stop}{tail}" if stop else f"{text} or RPE 7"
