"""Cells put into a sheet of the coach's: bytes in, bytes out, everything else as it was.

A cell that is there keeps its format; a new one takes that of the cell above it. Texts are stored in the sheet itself,
so that the table of shared texts stays as it is. A blank cell keeps its place and its format.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator, Mapping
from decimal import Decimal
from itertools import groupby

from compiler.cellref import column_letters
from compiler.frozen import frozen
from compiler.quantities import plain
from compiler.render.checked_xml import Edit, Node, appended, edited, parse, prefixed, text_of
from compiler.source.sheet import range_of

Value = str | Decimal | None
"""A text, a number, or nothing. A day is a number: the serial of the workbook."""

Cells = Mapping[tuple[int, int], Value]
SHALLOW = ("c",)


@frozen
class _Row:
    number: int
    node: Node
    cells: dict[int, Node]


def with_cells(data: bytes, cells: Cells, like: Mapping[int, int]) -> bytes:
    """Return a sheet's part with the cells put in. `like`: for a column, the row whose format a new cell takes."""
    if not cells:
        return data
    root = parse(data, SHALLOW)
    table = next(root.all("sheetData"))
    rows = {row.number: row for row in _rows(table)}
    numbers = sorted(rows)
    looks = _Looks(rows, like)
    edits: list[Edit] = [(node.start, node.end, b"") for node in root.all("dimension")]
    last: list[bytes] = []
    for number, group in groupby(sorted(cells), key=lambda place: place[0]):
        new = {column: cells[number, column] for _, column in group}
        row = rows.get(number)
        if row is not None:
            edits += _in_row(data, row, new, looks)
            continue
        markup = _new_row(number, new, looks, table.prefix)
        below = bisect_right(numbers, number)
        if below == len(numbers):
            last.append(markup)
        else:
            start = rows[numbers[below]].node.start
            edits.append((start, start, markup))
    if last:
        edits.append(appended(data, table, b"".join(last)))
    return edited(data, edits)


def _rows(table: Node) -> Iterator[_Row]:
    """Yield the rows with their numbers; one that states none follows the row before."""
    number = 0
    for node in table.all("row"):
        stated = node.get("r")
        number = int(stated) if stated.isdecimal() else number + 1
        yield _Row(number, node, dict(_columns(node)))


def _columns(row: Node) -> Iterator[tuple[int, Node]]:
    column = 0
    for node in row.all("c"):
        place = range_of(node.get("r")) if node.get("r") else None
        column = place[1] if place else column + 1
        yield column, node


class _Looks:
    """The formats of new cells, by column."""

    def __init__(self, rows: Mapping[int, _Row], like: Mapping[int, int]) -> None:
        self._rows, self._like = rows, like

    def of(self, column: int) -> str:
        row = self._rows.get(self._like.get(column, 0))
        node = row.cells.get(column) if row else None
        return node.get("s") if node else ""


def _in_row(data: bytes, row: _Row, new: Mapping[int, Value], looks: _Looks) -> Iterator[Edit]:
    prefix = row.node.prefix
    last: list[bytes] = []
    for column in sorted(new):
        node = row.cells.get(column)
        look = node.get("s") if node else looks.of(column)
        markup = cell_markup(row.number, column, new[column], look, prefix)
        if node is not None:
            yield node.start, node.end, markup
            continue
        after = next((row.cells[other] for other in sorted(row.cells) if other > column), None)
        if after is None:
            last.append(markup)
        else:
            yield after.start, after.start, markup
    if last:
        yield appended(data, row.node, b"".join(last))


def _new_row(number: int, new: Mapping[int, Value], looks: _Looks, prefix: str) -> bytes:
    cells = b"".join(cell_markup(number, column, new[column], looks.of(column), prefix) for column in sorted(new))
    name = f"{prefix}row".encode()
    return b'<%s r="%d">%s</%s>' % (name, number, cells, name)


def cell_markup(row: int, column: int, value: Value, look: str, prefix: str = "") -> bytes:
    """Return a cell as the file stores it. `look` is the number of its format, nothing for the usual one."""
    style = f' s="{look}"' if look else ""
    start = f'<c r="{column_letters(column)}{row}"{style}'
    if value is None or value == "":
        markup = f"{start}/>"
    elif isinstance(value, Decimal):
        markup = f"{start}><v>{plain(value)}</v></c>"
    else:
        markup = f'{start} t="inlineStr"><is><t xml:space="preserve">{text_of(value)}</t></is></c>'
    return prefixed(markup, prefix).encode()
