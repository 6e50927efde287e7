"""Extra fonts, named by the coach, for characters that the booklet's own fonts lack.

Which of them are in use is ambient, like the context of decimal arithmetic: code that needs to know whether a character
can be printed, how wide it is or how it is drawn asks here. None is in use unless a run says so, nor after that run.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import field
from functools import lru_cache, wraps
from typing import ParamSpec, TypeVar

from compiler.frozen import frozen

_SET_ONE_BY_ONE = (
    "LATIN",
    "GREEK",
    "COPTIC",
    "CYRILLIC",
    "ARMENIAN",
    "GEORGIAN",
    "CHEROKEE",
    "ETHIOPIC",
    "CJK UNIFIED",
    "CJK COMPATIBILITY",
    "HIRAGANA",
    "KATAKANA",
    "BOPOMOFO",
    "HANGUL SYLLABLE",
    "IDEOGRAPHIC",
)
"""How the Unicode names begin of letters that are set one after the other, each in one shape, from left to right."""

_SIGNS = ("P", "S", "N", "Z")

P = ParamSpec("P")
R = TypeVar("R")


@frozen
class Fallback:
    """A font: what messages call it, the hash and the bytes of its file, the code points that it has."""

    name: str
    digest: str
    data: bytes = field(repr=False, compare=False)
    has: frozenset[int] = field(repr=False, compare=False)


Fallbacks = tuple[Fallback, ...]

_IN_USE: ContextVar[Fallbacks] = ContextVar("fallback fonts", default=())


def in_use() -> Fallbacks:
    """Return the fonts in use, in the order in which they are asked for a character."""
    return _IN_USE.get()


def use(fonts: Fallbacks) -> None:
    """Put fonts to use for the rest of this process, as a worker that serves one run does."""
    _IN_USE.set(fonts)


@contextmanager
def using(fonts: Fallbacks) -> Iterator[None]:
    """Put fonts to use within a block."""
    before = _IN_USE.set(fonts)
    try:
        yield
    finally:
        _IN_USE.reset(before)


def remembered(most: int) -> Callable[[Callable[P, R]], Callable[P, R]]:
    """Keep the last results of a function that measures or prints text: by its arguments and the fonts in use."""

    def remembering(function: Callable[P, R]) -> Callable[P, R]:
        kept: Callable[..., R] = lru_cache(maxsize=most)(lambda _, *args, **kwargs: function(*args, **kwargs))

        @wraps(function)
        def asked(*args: P.args, **kwargs: P.kwargs) -> R:
            return kept(in_use(), *args, **kwargs)

        return asked

    return remembering


@lru_cache(maxsize=8192)
def fallback_for(character: str, fonts: Fallbacks) -> Fallback | None:
    """Return the first font that can print a character."""
    if not fonts or not set_one_by_one(character):
        return None
    return next((font for font in fonts if ord(character) in font.has), None)


@lru_cache(maxsize=8192)
def set_one_by_one(character: str) -> bool:
    """Tell whether a character may be drawn by itself, one after the other, from left to right.

    Arabic and Hebrew run from right to left; Arabic, Devanagari, Thai and their like join or move their letters (the
    Unicode standard, annex 9 and chapters 9 to 16): drawn one by one they would be wrong, and so they are not drawn.
    """
    category = unicodedata.category(character)
    if category.startswith("M") or unicodedata.bidirectional(character) in {"R", "AL", "AN"}:
        return False
    return category[0] in _SIGNS or unicodedata.name(character, "").startswith(_SET_ONE_BY_ONE)
