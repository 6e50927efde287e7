"""The bundled fonts, and those of the coach's: their files, their widths, the glyphs they have.

With `render/` this is the only place that knows ReportLab. Fonts are parsed once a process; a parsed font is
shared by every document drawn in it.
"""

from __future__ import annotations

from enum import Enum
from functools import cache, lru_cache
from importlib.resources import files
from io import BytesIO

from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

from compiler.fallback import Fallback, Fallbacks, fallback_for, in_use

_THOUSAND = 1000


class Face(Enum):
    """A weight of the booklet's typeface, named as ReportLab knows it."""

    REGULAR = "Booklet-Regular"
    SEMIBOLD = "Booklet-SemiBold"
    BOLD = "Booklet-Bold"

    __hash__ = object.__hash__  # an Enum's own is Python code, and every width of a text asks for it


_FILES = {
    Face.REGULAR: "SourceSans3_400Regular.ttf",
    Face.SEMIBOLD: "SourceSans3_600SemiBold.ttf",
    Face.BOLD: "SourceSans3_700Bold.ttf",
}


Source = Face | Fallback
"""What a character is drawn from: a face of the booklet's, or a font of the coach's, which has one weight."""


@cache
def font(source: Source) -> TTFont:
    """Return the parsed font of a face or a file, registered with ReportLab under a name of its own."""
    if isinstance(source, Fallback):
        name, data = f"Fallback-{source.digest}", source.data
    else:
        name, data = source.value, files("compiler.layout").joinpath("fonts", _FILES[source]).read_bytes()
    parsed = TTFont(name, BytesIO(data), shapable=False)
    pdfmetrics.registerFont(parsed)
    return parsed


@cache
def _advances(source: Source) -> dict[str, int]:
    """Return the advance widths of a font in thousandths of an em, by character."""
    widths = font(source).face.charWidths
    return {chr(code): width for code, width in widths.items()}


def source_of(character: str, face: Face, fonts: Fallbacks) -> Source:
    """Return what a character is drawn from: its face, if that has it, else the first further font that does."""
    if character in _advances(face):
        return face
    return fallback_for(character, fonts) or face


@lru_cache(maxsize=65536)
def _ems(text: str, face: Face, fonts: Fallbacks) -> float:
    advances = _advances(face)
    if not fonts:
        return sum(advances[character] for character in text) / _THOUSAND
    return sum(_advances(source_of(character, face, fonts))[character] for character in text) / _THOUSAND


def advance(face: Source, code: int) -> int:
    """Return the advance width of a code point in thousandths of an em, of the missing glyph if it has none."""
    parsed = font(face).face
    return int(parsed.charWidths.get(code, parsed.defaultWidth))


def width(text: str, face: Face, size: float) -> float:
    """Return the width of a text in points. Every character must be in a font in use: see `printable`."""
    return _ems(text, face, in_use()) * size


def characters() -> frozenset[int]:
    """Return the code points that every face has."""
    return frozenset.intersection(*(frozenset(font(face).face.charToGlyph) for face in Face))
