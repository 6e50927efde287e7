"""What all kinds share: from a coach's text to a tree of its grammar, or to the reason why not.

Each kind has a grammar file with one start symbol of the same name. A parser is built when its kind is first
read, and kept. The parser's own words are thrown away; every reason is worded by the module of the kind.
"""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal
from typing import TypeVar

from lark import Token, Tree
from lark.exceptions import UnexpectedInput

from compiler.flags.model import Remark
from compiler.folding import fold_marks, small_figure
from compiler.notation.numbers import Refused, decimal, settle_commas, whole
from compiler.notation.tables import parser_of

LONGEST_TEXT = 200
_QUOTED = 60
_UNREADABLE = "\ufffd"  # the replacement character
Node = Tree[Token]
Child = Node | Token | None
T = TypeVar("T")


def quoted(text: str) -> str:
    """Return the coach's text in quotes, for a message, on one line; shortened where it is long."""
    typed = " ".join("".join(c if c.isprintable() else " " for c in text).split())
    return f'"{typed if len(typed) <= _QUOTED else typed[: _QUOTED - 1] + "…"}"'


def guarded(read: Callable[[str], T], text: str) -> T | Remark:
    """Return what a reader makes of a text, or the reason it refused it with."""
    if len(text) > LONGEST_TEXT:
        return Remark(
            "too-long",
            f"The text has {len(text)} characters; a cell of this kind has at most {LONGEST_TEXT}.",
            "Keep the numbers here and move the words to a cue or a note.",
        )
    try:
        return read(text)
    except Refused as refused:
        return refused.reason


def grammar_text(text: str) -> str:
    """Return the text as the grammars take it: folded, commas decided, without the quotes round it."""
    return settle_commas(cleaned(text).casefold()).text


def cleaned(text: str) -> str:
    """Return the text with marks folded and without the quotes round it, letter case kept.

    A quote in front is what is left of an apostrophe typed to keep the cell as text; `90"` keeps its own. Small
    and circled digits must not join the digits beside them (10² is not 102): no grammar accepts what they become.
    """
    marked = fold_marks("".join(_UNREADABLE if small_figure(letter) else letter for letter in text))
    while marked[:1] in {"'", '"'}:
        quote, marked = marked[0], marked[1:].lstrip()
        marked = marked.removesuffix(quote).rstrip()
    return marked


def tree_of(kind: str, settled: str) -> Node | None:
    """Return the tree of a settled text, or None where the grammar has no place for it."""
    try:
        return parser_of(kind).parse(settled)
    except UnexpectedInput:
        return None


def branches(node: Node) -> list[Node]:
    """Return the children that are trees."""
    return [child for child in node.children if isinstance(child, Tree)]


def tokens(node: Node) -> list[Token]:
    """Return the children that are tokens."""
    return [child for child in node.children if isinstance(child, Token)]


def amount(token: Token, otherwise: Remark) -> Decimal:
    """Return a number token exactly; a number far too long is refused with the kind's own reason."""
    number = decimal(str(token))
    if number is None:
        raise Refused(otherwise)
    return number


def whole_amount(token: Token, otherwise: Remark) -> int:
    """Return a number token as a whole number, or refuse it."""
    number = whole(amount(token, otherwise))
    if number is None:
        raise Refused(otherwise)
    return number


def kind_of(token: Token) -> str:
    """Return the name of a terminal; lark puts the grammar it was imported from in front."""
    return token.type.removeprefix("shared__")
