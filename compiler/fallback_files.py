"""Files named as fallback fonts -> fonts that can be typeset and may be embedded, or a sentence that says why not."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable
from io import BytesIO
from pathlib import Path
from typing import Any

from fontTools.ttLib import TTFont, TTLibError

from compiler.fallback import Fallback, Fallbacks

_COLLECTION = b"ttcf"
_USAGE = 0x000F
_RESTRICTED, _NO_SUBSETS, _BITMAPS_ALONE = 0x0002, 0x0100, 0x0200
_NEEDED = ("head", "hhea", "hmtx", "maxp", "name", "post", "loca")
_UNICODE_MAPS = {(3, 1), (3, 10), (0, 3), (0, 4)}


class FontRefused(Exception):  # noqa: N818 - the name says what is the matter, as a coach would
    """A file cannot serve as a fallback font. `message` is a sentence for a coach."""

    def __init__(self, message: str) -> None:
        super().__init__(message)
        self.message = message


def read_fallbacks(files: Iterable[Path]) -> Fallbacks:
    """Return the fonts of some files, each once, in order. Raises `FontRefused`."""
    return tuple(dict.fromkeys(map(_read, files)))


def _read(file: Path) -> Fallback:
    try:
        data = file.read_bytes()
    except OSError:
        raise FontRefused(f"The font {file} cannot be read.") from None
    if data.startswith(_COLLECTION):
        raise FontRefused(f"{file} holds several fonts; name a file of one font, which ends in .ttf.")
    try:
        with TTFont(BytesIO(data), lazy=True) as font:
            why = _why_not(font)
            if why:
                raise FontRefused(f"{file} {why}")
            has = frozenset(_codes(font))
    except (TTLibError, AssertionError, LookupError, ValueError, TypeError, AttributeError, OverflowError):
        # a damaged file fails in many ways while it is read
        raise FontRefused(f"{file} is not a TrueType font, or is damaged.") from None
    return Fallback(file.name, hashlib.sha256(data).hexdigest(), data, has)


def _why_not(font: Any) -> str | None:
    """Return the end of a sentence about a font that cannot be set or may not be embedded (OpenType 1.9)."""
    if "glyf" not in font:
        return "is an OpenType font with PostScript outlines; the booklet needs one with TrueType outlines, .ttf."
    if "fvar" in font:
        return "is a variable font; name one of its fixed weights, usually in a folder called static."
    usage = font["OS/2"].fsType if "OS/2" in font else 0
    if usage & _USAGE == _RESTRICTED or usage & (_NO_SUBSETS | _BITMAPS_ALONE):
        return "may not be put into other files, by its own licence; use a font that may."
    if not _codes(font):
        return "has no table of characters in Unicode; use another font."
    if any(table not in font for table in _NEEDED):
        return "lacks a part that printing needs; use another font."
    return None


def _codes(font: Any) -> set[int]:
    tables = [table for table in font["cmap"].tables if (table.platformID, table.platEncID) in _UNICODE_MAPS]
    return {code for table in tables for code, glyph in table.cmap.items() if glyph != ".notdef"}
