"""Text -> the operators that show it. The one place where text meets the page's operators."""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache
from itertools import groupby
from operator import itemgetter

from compiler.layout.metrics import Face
from compiler.layout.page import Text
from compiler.render.booklet.fonts import FontSet, first_codes

_SUBSET = itemgetter(0)
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


class TextWriter:
    """Writes the text of one document. It knows which font the page is set in, so as not to say it twice."""

    def __init__(self, fonts: FontSet) -> None:
        self._fonts = fonts
        self._font: tuple[Face, int, float] | None = None

    def new_page(self) -> None:
        """Forget the font: a page begins without one."""
        self._font = None

    def show(self, texts: Iterable[Text], after: str, left: float, top: float) -> list[str]:
        """Return the operators that show some texts, between BT and ET, each with `after` at its end.

        `left` is where x counts from, `top` the height above the foot of the sheet where y does.
        """
        shown = ["BT"]
        for text in texts:
            shown.append(f"1 0 0 1 {text.x + left:.2f} {top - text.y:.2f} Tm")
            words = text.text + after
            literal = _alphabet_literal(words)
            if literal:
                self._run(shown, text.face, 0, text.size, literal)
                continue
            places = (self._fonts.place(text.face, character) for character in words)
            for subset, run in groupby(places, key=_SUBSET):
                codes = bytes(code for _, code in run)
                self._run(shown, text.face, subset, text.size, _literal(codes))
        shown.append("ET")
        return shown

    def _run(self, shown: list[str], face: Face, subset: int, size: float, literal: str) -> None:
        wanted = (face, subset, size)
        if self._font != wanted:
            self._font = wanted
            shown.append(f"{self._fonts.name(face, subset)} {size:g} Tf")
        shown.append(f"{literal} Tj")
