"""Which characters the fonts in use can print, without loading a font or a PDF library.

`font_coverage.RANGES` is generated from the bundled fonts by `layout/coverage.py`; a test keeps it current.
Marks that have no composed form are left out on purpose: ReportLab would set them beside their letter.
"""

from __future__ import annotations

import re
import unicodedata
from functools import lru_cache

from compiler.fallback import Fallbacks, fallback_for, in_use
from compiler.font_coverage import RANGES

_COVERED = frozenset(code for first, last in RANGES for code in range(first, last + 1))
_BREAKS = re.compile(r"\s*[\t\n\v\f\r\u0085\u2028\u2029]+\s*")
_SILENT = ("Cc", "Cf", "Cs")
_VARIATION_SELECTORS = range(0xFE00, 0xFE10)
_PICTURES = ("So", "Sk", "Co", "Cn")
_PLACEHOLDER = "?"


def _is_silent(character: str) -> bool:
    """Tell whether a character leaves no mark of its own, so that nobody would miss it."""
    return ord(character) in _VARIATION_SELECTORS or unicodedata.category(character) in _SILENT


def _composed(text: str) -> str:
    return _BREAKS.sub(" ", unicodedata.normalize("NFC", text))


def unprintable(text: str) -> str:
    """Return the characters of a text that the booklet cannot print, each once, in order of appearance."""
    if text.isascii():
        return ""
    fonts = in_use()
    missing = (c for c in _composed(text) if not _has(c, fonts) and not _is_silent(c))
    return "".join(dict.fromkeys(missing))


def _has(character: str, fonts: Fallbacks) -> bool:
    return ord(character) in _COVERED or fallback_for(character, fonts) is not None


def printable(text: str) -> str:
    """Return the text as it can be printed: composed, on one line, every character in the fonts in use.

    Control characters, emoji and other pictures that the fonts lack are dropped, and the space beside them
    with them; a letter or a sign that the fonts lack becomes a question mark.
    """
    if text.isascii() and text.isprintable():
        return text
    return _printable(text, in_use())


@lru_cache(maxsize=8192)
def _printable(text: str, fonts: Fallbacks) -> str:
    kept = []
    dropped = False
    for character in _composed(text):
        if _has(character, fonts):
            kept.append(character)
        elif _is_silent(character) or unicodedata.category(character) in _PICTURES:
            dropped = True
        else:
            kept.append(_PLACEHOLDER)
    result = "".join(kept)
    return re.sub(" {2,}", " ", result).strip() if dropped else result
