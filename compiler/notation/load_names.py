"""A text that the grammar of loads does not read -> the name of a band or a heart-rate zone, or what is wrong with it.

Whether there is such a name is for the caller, who knows the kit.
"""

from __future__ import annotations

import re

from compiler.notation.load_amounts import HINT, unreadable
from compiler.notation.reading import cleaned
from compiler.notation.values import NamedLoad

_OWN_WORDS = frozenset(
    [
        "about",
        "approx",
        "around",
        "at",
        "bodyweight",
        "bpm",
        "bw",
        "ca",
        "circa",
        "hr",
        "hrmax",
        "hrr",
        "kg",
        "lb",
        "max",
        "own",
        "rir",
        "rpe",
        "same",
        "stop",
        "then",
        "work",
    ]
)
_NAME = re.compile(r"[^\W\d_][\w \-/&'.()+]*")
_LONGEST_NAME = 60
_FIRST_WORD = re.compile(r"[^\W\d_]+")
_NUMBER_WITH_UNIT = re.compile(r"[0-9] ?(%|(kgs?|lbs?|bpm|rir)(?![a-z]))")
_LETTER_FOR_DIGIT = re.compile(r"[0-9][oil](?![a-z])|(?<![a-z])[oil][0-9]")


def named_load(text: str) -> NamedLoad:
    """Return a text that is not a load as a name. Raises `Refused` with what is wrong with it."""
    folded = cleaned(text).casefold()
    if _LETTER_FOR_DIGIT.search(folded):
        raise unreadable(
            text, "has a letter O or l where a digit was expected", "Type the number again, in figures alone."
        )
    if "@" in folded[1:]:
        hint = "Put the whole prescription into the sets column and leave the load blank, or keep the load alone here."
        raise unreadable(text, "holds more than the load", hint)
    word = _FIRST_WORD.match(folded)
    named = _NAME.fullmatch(folded) and len(folded) <= _LONGEST_NAME and not _NUMBER_WITH_UNIT.search(folded)
    if word is None or word.group() in _OWN_WORDS or not named:
        raise unreadable(text, "is not a load; expected a percentage, a weight, an effort or a name", HINT)
    return NamedLoad(folded)
