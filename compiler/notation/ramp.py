"""Ramps: lighter sets before the first working set, each heavier than the last: `bar x 8, 50% x 5`."""

from __future__ import annotations

from decimal import Decimal
from itertools import pairwise

from compiler.flags.model import Remark
from compiler.notation.numbers import Refused
from compiler.notation.reading import (
    Node,
    amount,
    branches,
    grammar_text,
    guarded,
    quoted,
    tokens,
    tree_of,
    whole_amount,
)
from compiler.notation.values import Ramp, RampStep
from compiler.quantities import Percent

MOST_REPS = 20
_HINT = "Write bar x 8, 50% x 5, 70% x 3: the bar or a percentage of the first working set, and repetitions."


def _step(percent: int | None, reps: int) -> RampStep:
    return RampStep(None if percent is None else Percent(Decimal(percent)), reps)


EXAMPLES: tuple[tuple[str, Ramp], ...] = (
    ("bar x 8, 50% x 5, 70% x 3, 85% x 1", Ramp((_step(None, 8), _step(50, 5), _step(70, 3), _step(85, 1)))),
    ("50% x 5", Ramp((_step(50, 5),))),
    ("empty bar x 10; 60 % x 5", Ramp((_step(None, 10), _step(60, 5)))),
)

REFUSED: tuple[tuple[str, str], ...] = (
    ("", "unreadable-load"),
    ("easy", "unreadable-load"),
    ("50 x 5", "bare-percentage"),
    ("40 kg x 5", "unreadable-load"),
    ("5 x 50%", "unreadable-load"),
    ("70% x 3, 50% x 5", "unreadable-load"),
    ("50% x 5, bar x 8", "unreadable-load"),
    ("100% x 1", "impossible-percentage"),
    ("50% x 0", "unreadable-load"),
    ("bar x 8,50% x 5", "ambiguous-number"),
)


def read_ramp(text: str) -> Ramp | Remark:
    """Return a ramp, or why it could not be read."""
    return guarded(_read, text)


def _refusal(text: str, found: str, slug: str = "unreadable-load") -> Refused:
    return Refused(Remark(slug, f"{quoted(text)} {found}.", _HINT))


def _read(text: str) -> Ramp:
    tree = tree_of("ramp", grammar_text(text))
    if tree is None:
        raise _refusal(text, "is not a ramp")
    steps = tuple(_one(node, text) for node in branches(tree))
    shares = [step.percent.value if step.percent else Decimal(0) for step in steps]
    if any(later <= earlier for earlier, later in pairwise(shares)):
        raise _refusal(text, "does not get heavier from step to step")
    return Ramp(steps)


def _one(node: Node, text: str) -> RampStep:
    unreadable = _refusal(text, "is not a ramp").reason
    numbers = [token for token in tokens(node) if token.type == "NUMBER"]
    if node.data == "bare":
        raise _refusal(text, "has a number that can be read as a percentage or as a weight", "bare-percentage")
    if node.data == "weight":
        raise _refusal(text, "has a weight; a ramp goes by the first working set of each client")
    reps = whole_amount(numbers[-1], unreadable)
    if not 1 <= reps <= MOST_REPS:
        raise _refusal(text, f"has repetitions that are not from 1 to {MOST_REPS}")
    if node.data == "bar":
        return RampStep(None, reps)
    share = amount(numbers[0], unreadable)
    if not 0 < share < 100:
        found = "has a step that is not between 0% and 100% of the first working set"
        raise _refusal(text, found, "impossible-percentage")
    return RampStep(Percent(share), reps)
