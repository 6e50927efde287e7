"""The live formulas of one row of the Loads sheet: the way from a test to the load, so that the coach can check it.

They use functions that every spreadsheet program has had since 2010. The exact load is rounded to the millionth, as
in resolving, so that a load half way between two weights is half way here too. (Of a seventh decimal that is just 5
resolving goes to the even and ROUND away from zero; no weight of any kit lies that near.) Formulas name the cells of
their own row by their headings.
"""

from __future__ import annotations

from decimal import Decimal
from sys import intern

from compiler.documents.neutral import Cell, Formula, Number
from compiler.documents.summary_kit import STEP, TABLE_CHANGE, TABLE_PERCENT, TABLE_REPS, Ladder
from compiler.frozen import frozen
from compiler.notation.values import PercentOf
from compiler.quantities import KILOGRAMS_IN_A_POUND, Percent, Unit
from compiler.resolve.rounding import Rounding
from compiler.resolve.strength import Method
from compiler.resolve.values import Fitted, Maximum, MaxOrigin, PlannedLoad, RepMaximum

HUNDRED = Percent(Decimal(100))

SHARES: dict[Method, str] = {
    Method.BRZYCKI: "(1.0278-0.0278*{R})",
    Method.EPLEY: "(30/(30+{R}))",
    Method.LOMBARDI: "({R}^-0.1)",
    Method.OCONNER: "(1/(1+0.025*{R}))",
    Method.MAYHEW: "((52.2+41.9*EXP(-0.055*{R}))/100)",
    Method.WATHAN: "((48.8+53.8*EXP(-0.075*{R}))/100)",
    Method.LANDER: "((101.3-2.67123*{R})/100)",
    Method.TABLE: (
        f"(INDEX({TABLE_PERCENT},MATCH({{R}},{TABLE_REPS},1))"
        f"+INDEX({TABLE_CHANGE},MATCH({{R}},{TABLE_REPS},1))*({{R}}-INDEX({TABLE_REPS},MATCH({{R}},{TABLE_REPS},1))))"
    ),
}
"""The share of 1RM at {R} repetitions to failure: the curves of `resolve.strength`, written out a second time."""


@frozen
class Trace:
    """One load of a plan with what its exact load was made of."""

    load: PlannedLoad
    fitted: Fitted
    percent: Percent | None
    of_first: Percent | None


def _formula(text: str, value: Number) -> Formula:
    """Return a formula; equal texts are one, as thousands of rows have the same few."""
    return Formula(intern(text), value)


def trace(load: PlannedLoad, item: int, *, high: bool) -> Trace:
    """Return one end of one item. A back-off set without a percentage is a share of the first set's exact load."""
    chosen, first = ((each.high if high else each.low) for each in (load.items[item], load.items[0]))
    if chosen.percent is None and load.about and load.back_off is not None:
        return Trace(load, chosen, first.percent, Percent(HUNDRED.value - load.back_off.value))
    return Trace(load, chosen, chosen.percent, None)


def reps_to_failure(known: Maximum) -> Cell:
    """Return the cell of Reps to failure: the test's, and those left by its effort; less than a whole one is none."""
    if known.reps_to_failure is None:
        return None
    left = "" if known.rpe is None else "+IF(10-{RPE}<1,0,10-{RPE})"
    return _formula("={Test reps}" + left, known.reps_to_failure)


def one_rm(known: Maximum, method: Method) -> Cell:
    """Return the cell of 1RM: by the method, a single as it is, times the ratio where another exercise lends it."""
    if known.one_rm is None:
        return None
    share = "" if known.origin is MaxOrigin.SINGLE else f"/{_share(method, '{Reps to failure}')}"
    return _formula("={Test weight}" + share + _ratio(known), known.one_rm)


def working_max(known: Maximum) -> Cell:
    """Return the cell of Working max."""
    if known.origin is MaxOrigin.WORKING_MAX:
        return _formula("={Test weight}" + _ratio(known), known.working_max)
    return _formula("={1RM}*{Share of 1RM}", known.working_max)


def _ratio(known: Maximum) -> str:
    return "" if known.ratio is None else "*{Ratio}"


def _share(method: Method, reps: str) -> str:
    return SHARES[method].replace("{R}", reps)


def rep_maximum(found: RepMaximum | None, method: Method) -> Cell:
    """Return the cell of Rep max: a test of its own as it is, else the 1RM read backwards."""
    if found is None:
        return None
    if found.test is not None:
        return found.load
    return _formula("={1RM}" + ("" if found.reps == 1 else f"*{_share(method, str(found.reps))}"), found.load)


def exact_load(traced: Trace) -> Cell:
    """Return the cell of Exact load, in the unit of the kit."""
    load, fitted = traced.load, traced.fitted
    base = _base(load)
    if traced.percent is None or base is None:
        return fitted.exact
    heading, unit = base
    sum_ = f"{{{heading}}}*{{Percentage}}"
    if load.steps is not None:
        sum_ = f"({sum_}+{{Steps}})"
    if load.scaled is not None:
        sum_ += "*{Scaled to}"
    if traced.of_first is not None:
        sum_ += "*{Share of first set}"
    if load.counted is not None:
        sum_ = f"({sum_}-{{Body counted}}{_into(load.counted.unit, unit)})"
    return _formula(f"=ROUND({sum_}{_into(unit, fitted.exact.unit)},6)", fitted.exact)


def _base(load: PlannedLoad) -> tuple[str, Unit] | None:
    """Return the heading of what the percentages are of, and its unit."""
    known = load.maximum
    match load.percent_of:
        case PercentOf.REP_MAX if load.rep_max is not None:
            return "Rep max", load.rep_max.load.unit
        case PercentOf.ONE_RM if known is not None and known.one_rm is not None:
            return "1RM", known.one_rm.unit
        case PercentOf.WORKING_MAX if known is not None:
            return "Working max", known.working_max.unit
        case _:
            return None


def _into(unit: Unit, other: Unit) -> str:
    """Return what turns an amount in one unit into the other."""
    if unit is other:
        return ""
    return f"{'*' if other is Unit.KG else '/'}{KILOGRAMS_IN_A_POUND}"


def loadable(traced: Trace, ladder: Ladder | None) -> Cell:
    """Return the cell of Load: the exact load looked up among what the site has, or brought to the Block's step."""
    load, rounding = traced.fitted.load, traced.load.rounding
    if load is None or rounding is None or traced.percent is None or _base(traced.load) is None:
        return load
    return _formula(_by_step(rounding) if ladder is None else _look_up(ladder, rounding), load)


def _look_up(ladder: Ladder, rounding: Rounding) -> str:
    name, exact = ladder.name, "{Exact load}"
    if len(ladder.loads) == 1:
        return f"=INDEX({name},1)"
    match rounding:
        case Rounding.NEAREST:
            return f'=INDEX({name},COUNTIF({ladder.half_ways},"<"&{exact})+1)'
        case Rounding.DOWN:
            return f'=INDEX({name},COUNTIF({name},"<="&{exact}))'
        case Rounding.UP:
            return f'=INDEX({name},MIN(ROWS({name}),COUNTIF({name},"<"&{exact})+1))'


def _by_step(rounding: Rounding) -> str:
    """Return the multiple of the step: INT goes down, below zero too; nine decimals hide what binary numbers add."""
    match rounding:
        case Rounding.NEAREST:
            steps = f"-INT(-ROUND({{Exact load}}/{STEP}-0.5,9))"
        case Rounding.DOWN:
            steps = f"INT(ROUND({{Exact load}}/{STEP},9))"
        case Rounding.UP:
            steps = f"-INT(-ROUND({{Exact load}}/{STEP},9))"
    return f"=ROUND({steps}*{STEP},6)"
