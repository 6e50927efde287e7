"""Fonts with invented glyphs, made for tests: every letter is a box of a width of its own."""

from __future__ import annotations

from io import BytesIO
from typing import Any

from fontTools.fontBuilder import FontBuilder
from fontTools.pens.t2CharStringPen import T2CharStringPen
from fontTools.pens.ttGlyphPen import TTGlyphPen

EM = 1000


def invented_font(
    letters: str, *, usage: int = 0, width: int = 900, outlines: str = "glyf", axes: bool = False
) -> bytes:
    """Return a font that has some letters. `usage` is what its licence says of embedding (OS/2 fsType)."""
    names = {ord(letter): f"u{ord(letter):04X}" for letter in letters}
    order = [".notdef", *names.values()]
    builder = FontBuilder(EM, isTTF=outlines == "glyf")
    builder.setupGlyphOrder(order)
    builder.setupCharacterMap(names)
    if outlines == "glyf":
        builder.setupGlyf({name: _box(width) for name in order})
    else:
        builder.setupCFF("Invented", {"FullName": "Invented"}, {name: _stroke(width) for name in order}, {})
    builder.setupHorizontalMetrics(dict.fromkeys(order, (width, 50)))
    builder.setupHorizontalHeader(ascent=800, descent=-200)
    builder.setupNameTable({"familyName": "Invented", "styleName": "Regular", "psName": "Invented-Regular"})
    builder.setupOS2(fsType=usage)
    builder.setupPost()
    if axes:
        builder.setupFvar([("wght", 100, 400, 900, "Weight")], [])
    file = BytesIO()
    builder.save(file)
    return file.getvalue()


def _draw(pen: Any, width: int) -> None:
    corners = [(50, 0), (50, 700), (width - 50, 700), (width - 50, 0)]
    pen.moveTo(corners[0])
    for corner in corners[1:]:
        pen.lineTo(corner)
    pen.closePath()


def _box(width: int) -> Any:
    pen = TTGlyphPen(None)
    _draw(pen, width)
    return pen.glyph()


def _stroke(width: int) -> Any:
    pen = T2CharStringPen(width, None)
    _draw(pen, width)
    return pen.getCharString()
