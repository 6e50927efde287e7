"""The bundled fonts: their files, their widths, the glyphs they have.

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


@cache
def font(face: Face) -> TTFont:
    """Return the parsed font of a face, registered with ReportLab under the face's name."""
    data = files("compiler.layout").joinpath("fonts", _FILES[face]).read_bytes()
    parsed = TTFont(face.value, BytesIO(data), shapable=False)
    pdfmetrics.registerFont(parsed)
    return parsed


@cache
def _advances(face: Face) -> dict[str, int]:
    """Return the advance widths of a face in thousandths of an em, by character."""
    widths = font(face).face.charWidths
    return {chr(code): width for code, width in widths.items()}


@lru_cache(maxsize=65536)
def _ems(text: str, face: Face) -> float:
    advances = _advances(face)
    return sum(advances[character] for character in text) / _THOUSAND


def advance(face: Face, code: int) -> int:
    """Return the advance width of a code point in thousandths of an em, of the missing glyph if it has none."""
    parsed = font(face).face
    return int(parsed.charWidths.get(code, parsed.defaultWidth))


def width(text: str, face: Face, size: float) -> float:
    """Return the width of a text in points. Every character must be in the font: see `printable`."""
    return _ems(text, face) * size


def characters() -> frozenset[int]:
    """Return the code points that every face has."""
    return frozenset.intersection(*(frozenset(font(face).face.charToGlyph) for face in Face))
