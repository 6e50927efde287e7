"""The look of the block workbook: inks, lines and cell formats. Data, no rules.

It is printed on black-and-white printers: what matters is told by weight, lines and boxes; ink only helps.
"""

from __future__ import annotations

from dataclasses import replace
from math import ceil

from compiler.render.formats import Properties
from compiler.schema.column import Column
from compiler.schema.kinds import (
    CUE,
    DATE,
    DATES,
    DONE_AS,
    LONG_TEXT,
    NAMES,
    RAMP,
    RAMP_OR_NO,
    SIZES_OR_BANDS,
    ZONES,
)

INK = "#16353C"
PAPER = "#FFFFFF"
MIST = "#DFE8E6"
RULE = "#9FB1AE"
QUIET = "#4A5F63"
STRAW = "#FBEFC9"

FONT = "Calibri"
HEADER_HEIGHT = 34
ROW_HEIGHT = 18
_LINE_HEIGHT, _FILLED_SHARE = 15, 1.05
SHORTEST_WRAP = 40
"""Columns of this width and more wrap their text."""
_GO_ON = (CUE, LONG_TEXT, DONE_AS, RAMP, RAMP_OR_NO, SIZES_OR_BANDS, ZONES, DATES)
"""Kinds whose texts may be long; they wrap, and all others are shrunk where they do not fit."""

THIN, MEDIUM, HAIR = 1, 2, 7  # line styles as the file format numbers them

BODY: Properties = {
    "font_name": FONT,
    "font_size": 11,
    "font_color": "#000000",
    "valign": "vcenter",
    "indent": 1,
}
HEADER_NEEDED: Properties = {
    **BODY,
    "bold": True,
    "font_color": PAPER,
    "bg_color": INK,
    "text_wrap": True,
    "border": THIN,
    "border_color": INK,
    "bottom": MEDIUM,
}
HEADER_OPTIONAL: Properties = {
    **HEADER_NEEDED,
    "bold": False,
    "font_color": INK,
    "bg_color": MIST,
}
RULED: Properties = {"border": HAIR, "border_color": RULE}
WEEK_EDGE: Properties = {"left": MEDIUM, "left_color": INK}

WANTED: Properties = {"bg_color": STRAW, "border": THIN, "border_color": "#000000"}
"""A cell that its row needs and that is still blank."""

WRONG: Properties = {**WANTED, "bold": True, "underline": 1}
"""A cell that cannot be read as it stands."""


def entry(column: Column | None) -> Properties:
    """Return how the cells under a header are written: as text where typing must stay as it is typed."""
    if column is None:
        return BODY
    fit = "text_wrap" if wraps(column) else "shrink"  # either way no entry is cut off in print
    return {**BODY, "num_format": number_format(column), fit: True}


def wraps(column: Column) -> bool:
    """Return whether the text of a column goes on in a second line."""
    several = replace(column.kind, names_of=None) == NAMES
    return several or column.kind in _GO_ON or column.width >= SHORTEST_WRAP


def number_format(column: Column) -> str:
    """Return the number format of a column's cells: Text, an unmistakable date, or General."""
    if column.kind == DATE:
        return "yyyy-mm-dd"
    return "@" if column.kind.as_text else "General"


def header(column: Column | None) -> Properties:
    """Return the look of a header: dark where every row needs the column, pale where it may stay blank."""
    return HEADER_NEEDED if column is not None and column.required else HEADER_OPTIONAL


def height_of(*texts: tuple[str, float]) -> float:
    """Return the height of a row that shows each text whole in a column of that width, for any usual font.

    Spreadsheet programs do not all fit the rows of a file that they open.
    """
    lines = 1
    for text, width in texts:
        lines = max(lines, sum(ceil(max(len(line), 1) / (width * _FILLED_SHARE)) for line in text.split("\n")))
    return max(ROW_HEIGHT, _LINE_HEIGHT * lines + 4)
