"""Text folded for reading and for comparing, never for print.

Coaches paste from everywhere: no-break spaces, typographic dashes, full-width digits, Cyrillic x. The
grammars and the name tables see folded text; booklets and messages show the text as typed.
"""

from __future__ import annotations

import re
import unicodedata
from functools import lru_cache

_SPACES = re.compile(r"\s+")
_TABLE = {
    **dict.fromkeys(map(ord, "\u2010\u2011\u2012\u2013\u2014\u2015\u2212\ufe58\ufe63\uff0d"), "-"),
    **dict.fromkeys(map(ord, "\u2018\u2019\u201a\u201b\u2032"), "'"),
    **dict.fromkeys(map(ord, "\u201c\u201d\u201e\u201f\u2033"), '"'),
    **dict.fromkeys(map(ord, "\u00d7\u2715\u2a2f\u0445\u0425"), "x"),
}


def fold(text: str) -> str:
    """Return the text as the grammars read it: one kind of dash, quote, space and times sign, lower case."""
    return fold_marks(text).casefold()


def fold_marks(text: str) -> str:
    """Fold marks and spaces but keep letter case."""
    text = unicodedata.normalize("NFKC", text).translate(_TABLE)
    kept = "".join(" " if c.isspace() else c for c in text if unicodedata.category(c) != "Cf" or c.isspace())
    return _SPACES.sub(" ", kept).strip()


def small_figure(text: str) -> str | None:
    """Return the first raised, lowered, circled or fraction figure in a text, or None.

    Folding would turn 8² into 82 and ½ into 1/2: whoever reads numbers asks here first.
    """
    for char in text:
        if not char.isascii() and unicodedata.decimal(char, None) is None:
            folded = unicodedata.normalize("NFKC", char)
            if any(figure.isdigit() for figure in folded):
                return char
    return None


@lru_cache(maxsize=65536)
def name_key(text: str) -> str:
    """Return the key under which two spellings of one name are the same name."""
    return fold(text)


def header_key(text: str) -> str:
    """Return the key of a column header: case, spaces, line breaks and punctuation do not count."""
    return re.sub(r"[^0-9a-z%]+", " ", fold(text)).strip()
