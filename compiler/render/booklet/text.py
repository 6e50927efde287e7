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


class TextWriter:
    """Writes the text of one document. It knows which font the page is set in, so as not to say it twice."""

    def __init__(self, fonts: FontSet) -> None:
        self._fonts = fonts
        self._font: tuple[str, float] | None = None

    def new_page(self) -> None:
        """Forget the font: a page begins without one."""
        self._font = None

    def show(self, texts: Iterable[Text], after: str, left: float, top: float) -> list[str]:
        """Return the operators that show some texts, between BT and ET, each with `after` at its end.

        `left` is where x counts from, `top` the height above the foot of the sheet where y does.
        """
        shown = ["BT"]
        for text in texts:
            words = text.text + after
            literal = _alphabet_literal(words)
            place = f"1 0 0 1 {text.x + left:.2f} {top - text.y:.2f} Tm"
            if literal:
                self._set(shown, _first_name(text.face), text.size)
                shown.append(f"{place} {literal} Tj")
                continue
            shown.append(place)
            places = (self._fonts.place(text.face, character) for character in words)
            for name, run in groupby(places, key=_NAME):
                codes = bytes(code for _, code in run)
                self._set(shown, name, text.size)
                shown.append(f"{_literal(codes)} Tj")
        shown.append("ET")
        return shown

    def _set(self, shown: list[str], name: str, size: float) -> None:
        """Set the font, where another is set."""
        if self._font != (name, size):
            self._font = name, size
            shown.append(_font_operator(name, size))
