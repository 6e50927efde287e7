"""The boxes of comments: an old drawing language that spreadsheet programs still read comments' places from.

Such a part need not be sound XML (programs write their own line breaks into it), so shapes are found as text, and
all others are left as they are. Bytes in, bytes out.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from itertools import chain, count

from compiler.frozen import frozen
from compiler.render.checked_xml import Edit, Node, edited

Place = tuple[int, int]
LAST_ROW, LAST_COLUMN = 1_048_576, 16_384
BOX_WIDTH = 340  # pixels
LINE_LETTERS, LINE_HEIGHT, BOX_ROOM = 52, 18, 14  # letters of a line, pixels
TALLEST = 620  # pixels
_STANDARD_COLUMN, _STANDARD_ROW = 64, 20  # pixels
_DIGIT, _COLUMN_ROOM = 7, 5  # pixels, of the usual font
_SENSIBLE = 100_000  # above every width, height and column number of a sheet
_BLOCK = 1024  # shape numbers come in blocks of this size

_NAMESPACES = (
    'xmlns:v="urn:schemas-microsoft-com:vml" xmlns:o="urn:schemas-microsoft-com:office:office"'
    ' xmlns:x="urn:schemas-microsoft-com:office:excel"'
)
_TYPE = (
    '<v:shapetype{} id="_x0000_t202" coordsize="21600,21600" o:spt="202" path="m,l,21600r21600,l21600,xe">'
    '<v:stroke joinstyle="miter"/><v:path gradientshapeok="t" o:connecttype="rect"/></v:shapetype>'
)
_SHAPE = re.compile(rb"<(\w+:)?shape\s(?:[^>]*[^>/])?>.*?</(?:\w+:)?shape\s*>", re.DOTALL)
_NOTE = re.compile(rb"""ObjectType\s*=\s*["']Note["']""")
_ROW = re.compile(rb"<(?:\w+:)?Row>\s*(\d+)\s*<")
_COLUMN = re.compile(rb"<(?:\w+:)?Column>\s*(\d+)\s*<")
_ANCHOR = re.compile(rb"(<(?:\w+:)?Anchor>)([^<]*)(</(?:\w+:)?Anchor>)")
_SHAPE_NUMBER = re.compile(rb"_x0000_s(\d+)")
_IDMAP = re.compile(rb"""<(?:\w+:)?idmap\b[^>]*?\sdata\s*=\s*["']([\d,\s]*)["']""")
_END = re.compile(rb"</(?:\w+:)?xml\s*>\s*$")


@frozen
class Box:
    """The box of one comment: the row and column of its cell, counted from 1, and the text that it shows."""

    row: int
    column: int
    text: str

    def height(self) -> int:
        """Return how tall the box is to show its text, in pixels; a very long text is scrolled."""
        lines = sum(1 + len(line) // LINE_LETTERS for line in self.text.split("\n"))
        return min(TALLEST, lines * LINE_HEIGHT + BOX_ROOM)


class Grid:
    """Widths and heights of a sheet in pixels, as far as the boxes need them."""

    def __init__(self, sheet: Node) -> None:
        standard = sheet.first("sheetFormatPr")
        height = _number(standard.get("defaultRowHeight")) if standard else 0
        width = _number(standard.get("defaultColWidth")) if standard else 0
        self._row = round(height * 4 / 3) or _STANDARD_ROW
        self._column = _pixels(width) if width else _STANDARD_COLUMN
        self._columns = [
            (int(_number(col.get("min"))), int(_number(col.get("max"))), _width(col, self._column))
            for col in sheet.all("cols", "col")
        ]

    def anchor(self, box: Box) -> str:
        """Return where a box stands: column, pixels into it, row, pixels into it; then the same of its far corner."""
        left = min(box.column, LAST_COLUMN - 8)
        top = max(0, min(box.row - 2, LAST_ROW - 40))
        right, rest = left, BOX_WIDTH + 12
        while rest >= self._width(right) and right < LAST_COLUMN - 1:
            rest -= self._width(right)
            right += 1
        bottom, into = divmod(box.height() + 8, self._row)
        end = min(LAST_ROW - 1, top + bottom)
        return f"{left}, 12, {top}, 8, {right}, {min(rest, self._width(right))}, {end}, {into}"

    def last_row(self, top: int, box: Box) -> int:
        """Return the row, counted from 0, that a box reaches down to from a row."""
        return min(LAST_ROW - 1, top + -(-box.height() // self._row))

    def _width(self, column: int) -> int:
        """Return the width of a column counted from 0."""
        for first, last, width in self._columns:
            if first <= column + 1 <= last:
                return width
        return self._column


def without_boxes(data: bytes, places: set[Place]) -> bytes:
    """Return the drawing without the boxes of comments at these places."""
    return edited(data, [(found.start(), found.end(), b"") for found in _notes(data, places)])


def has_shapes(data: bytes) -> bool:
    """Tell whether anything is drawn."""
    return _SHAPE.search(data) is not None


def new_drawing(block: int) -> bytes:
    """Return a drawing without shapes, whose shapes will have numbers of a block."""
    layout = f'<o:shapelayout v:ext="edit"><o:idmap v:ext="edit" data="{block}"/></o:shapelayout>'
    return f"<xml {_NAMESPACES}>{layout}</xml>".encode()


def next_block(drawings: Iterable[bytes]) -> int:
    """Return a block of shape numbers that none of the drawings uses."""
    return max(chain.from_iterable(map(_blocks, drawings)), default=0) + 1


def with_boxes(data: bytes, boxes: Iterable[Box], grid: Grid, fresh: int) -> bytes:
    """Return the drawing with a box for every comment: a new one, or the one that is there made tall enough.

    `fresh` is a block of shape numbers that may be used when those of the drawing are spent.
    """
    there = {_place(found.group()): found for found in _notes(data, None)}
    free = _free_numbers(data, fresh)
    edits: list[Edit] = []
    spaces = "" if all(space.encode() in data for space in _NAMESPACES.split()) else f" {_NAMESPACES}"
    new = [] if b"_x0000_t202" in data else [_TYPE.format(spaces)]
    used: set[int] = set()
    for box in boxes:
        found = there.get((box.row, box.column))
        if found is None:
            number = next(free)
            used.add(number // _BLOCK)
            new.append(_shape(box, grid, number, spaces))
        else:
            edits += _grown(found, box, grid)
    idmap = _IDMAP.search(data)
    more = sorted(used.difference(_blocks(data)))
    if idmap and more:
        listed = ",".join(map(str, (*_blocks(data), *more)))
        edits.append((idmap.start(1), idmap.end(1), listed.encode()))
    end = _END.search(data)
    at = end.start() if end else len(data)
    return edited(data, [*edits, (at, at, "".join(new).encode())])


def _notes(data: bytes, places: set[Place] | None) -> Iterator[re.Match[bytes]]:
    for found in _SHAPE.finditer(data):
        if _NOTE.search(found.group()) and (places is None or _place(found.group()) in places):
            yield found


def _place(shape: bytes) -> Place:
    row, column = _ROW.search(shape), _COLUMN.search(shape)
    return (int(row[1]) + 1 if row else 0, int(column[1]) + 1 if column else 0)


def _grown(found: re.Match[bytes], box: Box, grid: Grid) -> Iterator[tuple[int, int, bytes]]:
    """Yield the edit that makes a box reach down far enough for its text."""
    anchor = _ANCHOR.search(found.group())
    numbers = [part.strip() for part in anchor[2].decode("ascii", "replace").split(",")] if anchor else []
    if anchor is None or len(numbers) != 8 or not all(number.lstrip("-").isdecimal() for number in numbers):
        return
    wanted = grid.last_row(int(numbers[2]), box)
    if wanted > int(numbers[6]):
        numbers[6] = str(wanted)
        start = found.start() + anchor.start(2)
        yield start, start + len(anchor[2]), ", ".join(numbers).encode()


def _blocks(data: bytes) -> list[int]:
    found = _IDMAP.search(data)
    return [int(part) for part in found[1].split(b",") if part.strip().isdigit()] if found else []


def _free_numbers(data: bytes, fresh: int) -> Iterator[int]:
    taken = {int(number) for number in _SHAPE_NUMBER.findall(data)}
    listed = _blocks(data)
    for block in chain(listed, (block for block in count(fresh) if block not in listed)):
        yield from (n for n in range(block * _BLOCK + 1, (block + 1) * _BLOCK) if n not in taken)


def _shape(box: Box, grid: Grid, number: int, spaces: str) -> str:
    return (
        f'<v:shape{spaces} id="_x0000_s{number}" type="#_x0000_t202" '
        'style="position:absolute;margin-left:0;margin-top:0;'
        f'width:{BOX_WIDTH * 3 // 4}pt;height:{box.height() * 3 // 4}pt;z-index:1;visibility:hidden" '
        'fillcolor="#ffffe1" o:insetmode="auto"><v:fill color2="#ffffe1"/><v:shadow on="t" color="black" '
        'obscured="t"/><v:path o:connecttype="none"/><v:textbox style="mso-direction-alt:auto">'
        '<div style="text-align:left"></div></v:textbox><x:ClientData ObjectType="Note"><x:MoveWithCells/>'
        f"<x:SizeWithCells/><x:Anchor>{grid.anchor(box)}</x:Anchor><x:AutoFill>False</x:AutoFill>"
        f"<x:Row>{box.row - 1}</x:Row><x:Column>{box.column - 1}</x:Column></x:ClientData></v:shape>"
    )


def _number(text: str) -> float:
    try:
        number = float(text)
    except ValueError:
        return 0.0
    return number if 0 < number < _SENSIBLE else 0.0


def _pixels(width: float) -> int:
    return max(1, int(width * _DIGIT) + _COLUMN_ROOM)


def _width(col: Node, standard: int) -> int:
    if col.get("hidden") in {"1", "true"}:
        return 0
    width = _number(col.get("width"))
    return _pixels(width) if width else standard
