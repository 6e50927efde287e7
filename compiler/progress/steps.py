"""How much a load goes up when it goes up: the handbook's amounts, fitted to the site's kit, under the Block's cap.

Haff GG, Triplett NT (eds), Essentials of Strength Training and Conditioning, 4th ed., Human Kinetics, 2016, Table
17.8, for people who are smaller, weaker or less trained: upper body 2.5 to 5 lb, lower body 5 to 10 lb. The pounds
were read on a page that cites the table; the kilograms (1 to 2, 2 to 4) are from memory. The larger amounts for
stronger people are from memory too and are not used: nothing in the workbook says who is strong. The table is of the
whole load, so each hand takes half of it.
"""

from __future__ import annotations

from decimal import Decimal

from compiler.frozen import frozen
from compiler.model.records import Exercise
from compiler.quantities import Load, Percent, Unit, plain
from compiler.resolve.context import ClientView
from compiler.resolve.fit import Wanted, fit
from compiler.resolve.rounding import Rounding
from compiler.schema.implements import PAIRS

HANDBOOK = "Haff and Triplett 2016, two-for-two rule and Table 17.8 (kg amounts from memory)"
MOST = {
    ("lower", Unit.KG): Decimal(4),
    ("lower", Unit.LB): Decimal(10),
    ("upper", Unit.KG): Decimal(2),
    ("upper", Unit.LB): Decimal(5),
}
"""The largest amount for an area; what is neither takes that of the upper body, the smaller one."""

HALF = Decimal("0.5")
_BARELY = Decimal("0.001")


@frozen
class Rise:
    """The next load: `new` within the cap, or None and the next there is, `beyond` it (None: there is none)."""

    new: Load | None
    beyond: Load | None


def most_at_once(exercise: Exercise, unit: Unit) -> Load:
    """Return the most that one rise adds, per hand for a pair."""
    area = "lower" if exercise.area.known == "lower" else "upper"
    amount = MOST[area, unit]
    return Load(amount * HALF if exercise.implement.known in PAIRS else amount, unit)


def ceiling(load: Load, cap: Percent, body: Load | None = None) -> Load:
    """Return the highest load that the cap allows; where the body is lifted too it counts."""
    whole = load.plus(body) if body else load
    return load.plus(whole.times(cap.share))


def rise(view: ClientView, exercise: Exercise, load: Load, cap: Percent, body: Load | None = None) -> Rise:
    """Return the next load: the handbook's amount to the nearest that the kit has, less where the cap is lower."""
    highest = ceiling(load, cap, body)
    wanted = load.plus(most_at_once(exercise, load.unit))
    for exact, way in ((wanted, Rounding.NEAREST), (_lower(wanted, highest), Rounding.DOWN)):
        new = loadable(view, exercise, exact, way)
        if new is not None and _above(new, load) and not _above(new, highest):
            return Rise(new, None)
    above = loadable(view, exercise, Load(load.amount + _BARELY, load.unit), Rounding.UP)
    return Rise(None, above if above is not None and _above(above, load) else None)


def loadable(view: ClientView, exercise: Exercise, exact: Load, way: Rounding) -> Load | None:
    """Return the load that the client's site has for an exact one, in the unit of its kit; None where it has none."""
    wanted = Wanted.of(exact)
    fitted = fit(view, exercise, [(wanted, wanted)], way)[0].low
    return fitted.load if fitted.miss is None else None


def _lower(one: Load, other: Load) -> Load:
    return other if _above(one, other) else one


def _above(one: Load, other: Load) -> bool:
    return one.to(other.unit).amount > other.amount


def added_words(load: Load) -> str:
    """Return what is added to body weight as a load cell says it: BW + 10 kg, BW - 20 kg, body weight."""
    if load.amount == 0:
        return "body weight"
    return f"BW {'-' if load.amount < 0 else '+'} {plain(abs(load.amount))} {load.unit}"
