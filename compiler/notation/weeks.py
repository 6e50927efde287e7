"""Weeks of a block: `1-4`, `2, 4`, `all`."""

from __future__ import annotations

from compiler.flags.model import Remark
from compiler.notation.numbers import Refused, had_decimal_comma
from compiler.notation.reading import Node, branches, grammar_text, guarded, quoted, tokens, tree_of, whole_amount
from compiler.notation.values import Weeks

LAST_WEEK = 12
"""The most weeks that a block can have."""

_HINT = "Write 1-4; or 2, 4; or all."

EXAMPLES: tuple[tuple[str, Weeks], ...] = (
    ("1-4", Weeks((1, 2, 3, 4))),
    ("2, 4", Weeks((2, 4))),
    ("all", Weeks(None)),
    ("4", Weeks((4,))),
    ("1-2, 4", Weeks((1, 2, 4))),
    ("1 and 3", Weeks((1, 3))),
    ("weeks 1 to 3", Weeks((1, 2, 3))),
    ("4, 2, 2", Weeks((2, 4))),
)

REFUSED: tuple[tuple[str, str], ...] = (
    ("", "not-a-number"),
    ("some", "not-a-number"),
    ("0", "not-a-number"),
    ("13", "not-a-number"),
    ("4-1", "not-a-number"),
    ("2.5", "not-a-number"),
    ("2,4", "ambiguous-number"),
    ("2,10", "ambiguous-number"),
)


def read_weeks(text: str) -> Weeks | Remark:
    """Return the weeks, each once and in order, or why they could not be read."""
    return guarded(_read, text)


def _read(text: str) -> Weeks:
    unreadable = Remark("not-a-number", f"{quoted(text)} does not name weeks from 1 to {LAST_WEEK}.", _HINT)
    tree = tree_of("weeks", grammar_text(text))
    if tree is None:
        raise Refused(unreadable)
    if tree.data == "all":
        return Weeks(None)
    if had_decimal_comma(text):
        found = f"The comma in {quoted(text)} can be read as a decimal or as a list; weeks are whole numbers."
        raise Refused(Remark("ambiguous-number", found, "Put a space after each comma of a list: 2, 4."))
    return Weeks(tuple(sorted({week for span in branches(tree) for week in _span(span, unreadable)})))


def _span(node: Node, unreadable: Remark) -> range:
    ends = [whole_amount(token, unreadable) for token in tokens(node)]
    if not 1 <= ends[0] <= ends[-1] <= LAST_WEEK:
        raise Refused(unreadable)
    return range(ends[0], ends[-1] + 1)
