"""One weight, with or without its unit: body weights, tests, the step of a block."""

from __future__ import annotations

import re
from dataclasses import replace
from decimal import Decimal

from compiler.flags.model import Remark
from compiler.notation.numbers import Refused
from compiler.notation.reading import amount, grammar_text, guarded, kind_of, quoted, tokens, tree_of
from compiler.notation.values import Weight
from compiler.quantities import Unit

HEAVIEST = {Unit.KG: Decimal(1000), Unit.LB: Decimal(2200), None: Decimal(2200)}
"""The most that is read, by the unit typed: more than any lift on record, so a slip."""

_HINT = "Write one number, then kg or lb."
_ALONE = "Leave the cell blank where the body weight alone was lifted, else write the weight."
_NOTHING = re.compile(r"[+-]? ?0+(\.0+)? ?(kg|lb)?")

EXAMPLES: tuple[tuple[str, Weight], ...] = (
    ("80", Weight(Decimal(80), None)),
    ("80 kg", Weight(Decimal(80), Unit.KG)),
    ("176 lb", Weight(Decimal(176), Unit.LB)),
    ("82.5 kg", Weight(Decimal("82.5"), Unit.KG)),
    ("82,5 kg", Weight(Decimal("82.5"), Unit.KG)),
    ("176 pounds", Weight(Decimal(176), Unit.LB)),
    ("72 kg.", Weight(Decimal(72), Unit.KG)),
    ("365 lbs.", Weight(Decimal(365), Unit.LB)),
)

REFUSED: tuple[tuple[str, str], ...] = (
    ("", "not-a-number"),
    ("heavy", "not-a-number"),
    ("0 kg", "not-a-number"),
    ("-80 kg", "not-a-number"),
    ("80-85 kg", "not-a-number"),
    ("80 kg / 176 lb", "not-a-number"),
    ("12 st 8 lb", "not-a-number"),
    ("8O kg", "not-a-number"),
    ("5000 kg", "not-a-number"),
    ("82,25 kg", "ambiguous-number"),
    ("1e2", "not-a-number"),
)


def read_weight(text: str) -> Weight | Remark:
    """Return a weight, or why it could not be read."""
    return guarded(_read, text)


def read_tested_weight(text: str) -> Weight | Remark:
    """Return a weight as a test has it: as `read_weight`, and below zero for help (an assisted pull-up: -20 kg).

    A plus before what is added to the body changes nothing: +10 kg.
    """
    return guarded(_read_tested, text)


def _read_tested(text: str) -> Weight:
    settled = grammar_text(text)
    if _NOTHING.fullmatch(settled):
        raise Refused(Remark("not-a-number", f"{quoted(text)} is not one weight: a number, and kg or lb.", _ALONE))
    if settled.startswith("+"):
        return _read(settled.removeprefix("+"))
    if not settled.startswith("-"):
        return _read(text)
    help_given = _read(settled.removeprefix("-"))
    return replace(help_given, amount=-help_given.amount)


def _read(text: str) -> Weight:
    unreadable = Remark("not-a-number", f"{quoted(text)} is not one weight: a number, and kg or lb.", _HINT)
    tree = tree_of("weight", grammar_text(text))
    if tree is None:
        raise Refused(unreadable)
    number, *units = tokens(tree)
    weight = Weight(amount(number, unreadable), Unit[kind_of(units[0])] if units else None)
    if weight.amount > HEAVIEST[weight.unit]:
        most = f"{HEAVIEST[weight.unit]} {weight.unit or ''}".strip()
        raise Refused(Remark("not-a-number", f"{quoted(text)} is above {most}, the most that is read.", _HINT))
    if weight.amount <= 0:
        raise Refused(unreadable)
    return weight
