"""The amounts of a load cell: numbers with what they are of, ranges and lists of them, all in one unit."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from lark import Token, Tree

from compiler.flags.model import Remark
from compiler.frozen import frozen
from compiler.notation.numbers import Refused
from compiler.notation.reading import Child, Node, amount, branches, kind_of, quoted, tokens, whole_amount
from compiler.notation.values import PercentOf
from compiler.notation.weight import HEAVIEST
from compiler.quantities import Unit, plain

MOST_REP_MAX = 20
HINT = "Write 75%, 60 kg, 135 lb, 2 x 16 kg, RPE 8, BW + 10 kg, own, light, or a band's name."


@frozen
class LoadUnit:
    """What a number of a load counts: kg, `%` alone, `%` of an 8RM (with `reps` 8), beats a minute."""

    name: str
    reps: int | None = None


PERCENT = LoadUnit("%")
RIR = LoadUnit("rir")
BPM = LoadUnit("bpm")
BODY_WEIGHT = LoadUnit("% body_weight_share")
RESERVE = LoadUnit("% reserve")
MAX_RATE = LoadUnit("% max_rate")
_PERCENT_OF = {
    "%": PercentOf.WORKING_MAX,
    "% working_max": PercentOf.WORKING_MAX,
    "% rep_max": PercentOf.REP_MAX,
}
_WEIGHTS = {"kg": Unit.KG, "lb": Unit.LB}


@frozen
class Amount:
    """A number and its unit; None where none was typed."""

    number: Decimal
    unit: LoadUnit | None

    @property
    def weight(self) -> Unit | None:
        """The unit of a weight."""
        return weight_unit(self.unit)


@frozen
class Span:
    """One amount (both ends equal) or a range, smaller end first, in one unit."""

    low: Decimal
    high: Decimal
    unit: LoadUnit | None


def unreadable(text: str, found: str, hint: str = HINT) -> Refused:
    """Return the refusal of a load; `found` follows the coach's text in quotes."""
    return Refused(Remark("unreadable-load", f"{quoted(text)} {found}.", hint))


def percent_of(unit: LoadUnit) -> tuple[PercentOf, int | None] | None:
    """Return what a percentage of a load is of, with the repetitions of a rep max; None for other units."""
    if unit == LoadUnit("% rep_max", 1):
        return PercentOf.ONE_RM, None
    kind = _PERCENT_OF.get(unit.name)
    return (kind, unit.reps) if kind else None


def weight_unit(unit: LoadUnit | None) -> Unit | None:
    """Return the unit where it is one of weight."""
    return _WEIGHTS.get(unit.name) if unit else None


def check_weight(number: Decimal, unit: Unit, text: str) -> None:
    """Refuse a weight of nothing, and one that no gym holds."""
    if not 0 < number <= HEAVIEST[unit]:
        raise unreadable(text, f"has a weight that is not between 0 and {HEAVIEST[unit]} {unit}")


def amount_of(node: Node, text: str) -> Amount:
    """Return what an `amount` node says."""
    number, unit = node.children
    if not isinstance(number, Token):
        raise unreadable(text, "is not a load")
    typed = amount(number, unreadable(text, "is not a load").reason)
    return Amount(typed, _unit_of(unit, typed, text))


def _unit_of(typed_unit: Child, number: Decimal, text: str) -> LoadUnit | None:
    if not isinstance(typed_unit, Tree):
        return None
    sign = kind_of(tokens(typed_unit)[0])
    if sign != "PERCENT":
        return LoadUnit(sign.lower())
    owners = branches(typed_unit)
    if not owners:
        return PERCENT
    owner = str(owners[0].data)
    if owner == "some_max":
        share = f"{plain(number)}%"
        hint = f"Write {share} (of the working max) or {share} 1RM."
        raise unreadable(text, "does not say which maximum is meant", hint)
    if owner != "rep_max":
        return LoadUnit(f"% {owner}")
    reps = whole_amount(tokens(owners[0])[0], unreadable(text, "has a rep maximum that is not whole").reason)
    if not 1 <= reps <= MOST_REP_MAX:
        raise unreadable(text, f"is a percentage of a maximum that is not of 1 to {MOST_REP_MAX} repetitions")
    return LoadUnit("% rep_max", reps)


def span_of(node: Node, text: str) -> Span:
    """Return a `span` node in one unit: the first end takes that of the last where it has none."""
    ends = [amount_of(child, text) for child in branches(node) if child.data == "amount"]
    low, high = ends[0], ends[-1]
    if low.unit is None or (low.unit == PERCENT and high.unit and high.unit.name.startswith("%")):
        low = replace(low, unit=high.unit)
    if low.unit != high.unit:
        raise unreadable(text, "is a range whose ends are not in the same unit", "Write 60-65 kg, or 70-75%.")
    if low.number > high.number:
        raise unreadable(text, f"is a range that runs down, from {plain(low.number)} to {plain(high.number)}")
    return Span(low.number, high.number, high.unit)


def spans_of(nodes: list[Node], text: str) -> tuple[Span, ...]:
    """Return a list in one unit: items take that of the last where they have none."""
    spans = [span_of(node, text) for node in nodes]
    unit = spans[-1].unit
    if unit is None and any(span.unit for span in spans):
        raise unreadable(text, "has no unit after its last number", "Put the unit at the end: 60, 65, 70 kg.")
    if any(span.unit not in {None, unit} for span in spans):
        raise unreadable(text, "mixes units in one list", "Use one unit for the whole list: 60, 65, 70 kg.")
    return tuple(replace(span, unit=unit) for span in spans)
