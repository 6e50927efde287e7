"""Text -> the operators that show it. The one place where characters become glyph codes.

Every document begins its fonts with the same alphabet, so that its characters have the same codes in all
documents and their operators are made once a process. What lies outside goes into a further subset.
"""

from __future__ import annotations

from functools import cache, lru_cache

from reportlab.pdfbase.pdfdoc import PDFDocument

from compiler.layout.metrics import Face, characters, font

_ALPHABET = "".join(
    chr(code)
    for code in (
        *range(0x20, 0x7F),
        *range(0xA1, 0xAD),
        *range(0xAE, 0x100),
        *map(ord, "ŒœŠšŽžŸĆćČčĐđŁłŚśŹźŻż–—‘’‚“”„…•−×½¼¾⅓⅔→✓€"),
    )
    if code in characters()
)
_ESCAPES = {code: f"\\{code:03o}" for code in (*range(0x20), *range(0x7F, 0x100))} | {
    ord("("): "\\(",
    ord(")"): "\\)",
    ord("\\"): "\\\\",
}


def _literal(codes: bytes) -> str:
    return f"({codes.decode('latin-1').translate(_ESCAPES)})"


@cache
def _fixed_codes(face: Face) -> dict[str, int]:
    """Return the code of every character of the alphabet in the first subset of any document."""
    [(_, codes)] = font(face).splitString(_ALPHABET, PDFDocument())
    return dict(zip(_ALPHABET, codes, strict=True))


@lru_cache(maxsize=65536)
def _fixed_literal(text: str, face: Face) -> str:
    """Return the string operand of a text, empty if a character lies outside the alphabet."""
    codes = _fixed_codes(face)
    if not all(character in codes for character in text):
        return ""
    return _literal(bytes(codes[character] for character in text))


class TextWriter:
    """Writes the text of one document. It knows which font the page is set in, so as not to say it twice."""

    def __init__(self, document: PDFDocument) -> None:
        self._document = document
        self._names: dict[tuple[Face, int], str] = {}
        self._font: tuple[str, float] | None = None
        for face in Face:
            font(face).splitString(_ALPHABET, document)
            self._name(face, 0)

    def _name(self, face: Face, subset: int) -> str:
        key = (face, subset)
        if key not in self._names:
            self._names[key] = font(face).getSubsetInternalName(subset, self._document)
        return self._names[key]

    def new_page(self) -> None:
        """Forget the font: a page begins without one."""
        self._font = None

    def show(self, text: str, face: Face, size: float, place: str) -> str:
        """Return the operators that show a text; `place` is the text matrix's x and y. Within BT and ET."""
        literal = _fixed_literal(text, face)
        if literal:
            return f"{self._set(self._name(face, 0), size)}1 0 0 1 {place} Tm {literal} Tj"
        runs = font(face).splitString(text, self._document)
        shown = (
            f"{self._set(self._name(face, subset), size)}{_literal(codes)} Tj" for subset, codes in runs
        )
        return f"1 0 0 1 {place} Tm {' '.join(shown)}"

    def _set(self, name: str, size: float) -> str:
        if self._font == (name, size):
            return ""
        self._font = (name, size)
        return f"{name} {size:g} Tf "
