"""Text -> the operators that show it. The one place where text meets the page's operators."""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache
from itertools import groupby
from operator import itemgetter

from compiler.layout.metrics import Face
from compiler.layout.page import Text
from compiler.render.booklet.fonts import FontSet, first_codes, font_name

_NAME = itemgetter(0)
_ESCAPES = {code: f"\\{code:03o}" for code in (*range(0x20), *range(0x7F, 0x100))} | {
    ord("("): "\\(",
    ord(")"): "\\)",
    ord("\\"): "\\\\",
}


def _literal(codes: bytes) -> str:
    return f"({codes.decode('latin-1').translate(_ESCAPES)})"


@lru_cache(maxsize=65536)
def _alphabet_literal(text: str) -> str:
    """Return the string operand of a text, empty if a character lies outside the fixed alphabet."""
    codes = first_codes()
    if not all(character in codes for character in text):
        return ""
    return _literal(bytes(codes[character] for character in text))


@lru_cache(maxsize=1024)
def _font_operator(name: str, size: float) -> str:
    return f"{name} {size:g} Tf"


@lru_cache(maxsize=len(Face))
def _first_name(face: Face) -> str:
    return font_name(face, 0)


def in_alphabet(texts: Iterable[Text]) -> bool:
    """Tell whether the fixed alphabet has every character of some texts: they are then shown alike in every file."""
    return all(_alphabet_literal(text.text) for text in texts if text.text)


def show(texts: Iterable[Text], after: str, fonts: FontSet) -> str:
    """Return the operators that show some texts, between BT and ET, each with `after` at its end.

    Places count from where y is 0 and down.
    """
    shown = ["BT"]
    font = ""
    for text in texts:
        words = text.text + after
        shown.append(f"1 0 0 1 {text.x:.2f} {-text.y:.2f} Tm")
        for name, literal in _runs(text.face, words, fonts):
            wanted = _font_operator(name, text.size)
            if wanted != font:
                shown.append(wanted)
                font = wanted
            shown.append(f"{literal} Tj")
    shown.append("ET")
    return " ".join(shown)


def _runs(face: Face, words: str, fonts: FontSet) -> Iterable[tuple[str, str]]:
    """Return the stretches of a text that are of one font: its name, and the string operand."""
    if literal := _alphabet_literal(words):
        return ((_first_name(face), literal),)
    places = (fonts.place(face, character) for character in words)
    return (
        (name, _literal(bytes(code for _, code in run))) for name, run in groupby(places, key=_NAME)
    )
