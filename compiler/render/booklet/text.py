"""Text -> the operators that show it. The one place where text meets the page's operators."""

from __future__ import annotations

from functools import lru_cache
from itertools import groupby

from compiler.layout.metrics import Face
from compiler.render.booklet.fonts import FontSet, first_codes

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

    def show(self, text: str, face: Face, size: float, place: str) -> str:
        """Return the operators that show a text; `place` is the text matrix's x and y. Within BT and ET."""
        literal = _alphabet_literal(text)
        if literal:
            return f"{self._set(face, 0, size)}1 0 0 1 {place} Tm {literal} Tj"
        shown = []
        places = (self._fonts.place(face, character) for character in text)
        for subset, run in groupby(places, key=lambda found: found[0]):
            codes = bytes(code for _, code in run)
            shown.append(f"{self._set(face, subset, size)}{_literal(codes)} Tj")
        return f"1 0 0 1 {place} Tm {' '.join(shown)}"

    def _set(self, face: Face, subset: int, size: float) -> str:
        wanted = (face, subset, size)
        if self._font == wanted:
            return ""
        self._font = wanted
        return f"{self._fonts.name(face, subset)} {size:g} Tf "
