"""A client's highest effort: `RPE 7` or `80%` of the maximum."""

from __future__ import annotations

from decimal import Decimal

from compiler.flags.model import Remark
from compiler.notation.efforts import effort_of
from compiler.notation.numbers import Refused
from compiler.notation.reading import amount, grammar_text, guarded, quoted, tokens, tree_of
from compiler.notation.values import EffortLimit, EffortScale
from compiler.quantities import Percent, plain

LOWEST_LIMIT, HIGHEST_LIMIT = Decimal(20), Decimal(100)
_HINT = "Write RPE 7, or 80%."

EXAMPLES: tuple[tuple[str, EffortLimit], ...] = (
    ("RPE 7", EffortLimit(Decimal(7), None)),
    ("80%", EffortLimit(None, Percent(Decimal(80)))),
    ("RPE 7.5", EffortLimit(Decimal("7.5"), None)),
    ("80 %", EffortLimit(None, Percent(Decimal(80)))),
)

REFUSED: tuple[tuple[str, str], ...] = (
    ("", "unreadable-load"),
    ("7", "bare-percentage"),
    ("RPE 11", "unreadable-load"),
    ("RPE 7-8", "unreadable-load"),
    ("8000%", "impossible-percentage"),
    ("easy", "unreadable-load"),
    ("60 kg", "unreadable-load"),
)


def read_effort_limit(text: str) -> EffortLimit | Remark:
    """Return a highest effort, or why it could not be read."""
    return guarded(_read, text)


def _read(text: str) -> EffortLimit:
    found = f"{quoted(text)} is not a highest effort; expected one RPE or one percentage."
    unreadable = Remark("unreadable-load", found, _HINT)
    tree = tree_of("effort", grammar_text(text))
    if tree is None:
        raise Refused(unreadable)
    number = amount(next(token for token in tokens(tree) if token.type == "NUMBER"), unreadable)
    if tree.data == "rpe":
        return EffortLimit(effort_of(EffortScale.RPE, number, number, quoted(text)).low, None)
    if tree.data == "bare":
        found = f"{quoted(text)} can be read as an RPE or as a percentage."
        hint = (
            f"Write {plain(number)}%." if number >= LOWEST_LIMIT else f"Write RPE {plain(number)}, or a percentage."
        )
        raise Refused(Remark("bare-percentage", found, hint))
    if not LOWEST_LIMIT <= number <= HIGHEST_LIMIT:
        found = f"{quoted(text)} cannot be right; expected {LOWEST_LIMIT}% to {HIGHEST_LIMIT}%."
        hint = f"Write a percentage from {LOWEST_LIMIT}% to {HIGHEST_LIMIT}%."
        raise Refused(Remark("impossible-percentage", found, hint))
    return EffortLimit(None, Percent(number))
