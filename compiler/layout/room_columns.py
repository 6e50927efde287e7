"""The exercises of a room sheet -> columns side by side, on as few pages as they fit on."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import accumulate

from compiler.documents.room_sheet_value import RoomBlock, RoomColumn, RoomSheet
from compiler.frozen import frozen
from compiler.layout.measures import MM
from compiler.layout.room_cells import Need, block_need, cell_need, fits_beside, head_need
from compiler.layout.room_style import RoomStyle

INSET = 4.2 * MM
"""The room left of a cell: for the line between blocks and the bracket of those who share a bar."""

PAD = 1 * MM
NAME_GAP = 2 * MM


@frozen
class Span:
    """Columns side by side on one page: the number of the first, their left edges and widths, and their blocks.

    `beside` tells for each whether the small words of all its cells fit beside their loads; `easy` whether every
    column is as wide as it wants to be.
    """

    first: int
    xs: tuple[float, ...]
    widths: tuple[float, ...]
    blocks: tuple[RoomBlock, ...]
    beside: tuple[bool, ...]
    easy: bool


@frozen
class _Column:
    block: RoomBlock
    column: RoomColumn
    need: Need


def deal_columns(sheet: RoomSheet, names: float, live: float, style: RoomStyle) -> tuple[Span, ...]:
    """Return the columns that stand beside the names on each page: block by block, a wide block column by column."""
    room = live - names
    stretches: list[list[_Column]] = [[]]
    taken = 0.0
    for group in _columns(sheet, style):
        whole = sum(column.need.least for column in group)
        if taken + whole > room and stretches[-1]:
            stretches.append([])
            taken = 0.0
        for column in group:
            if taken + column.need.least > room and stretches[-1]:
                stretches.append([])
                taken = 0.0
            stretches[-1].append(column)
            taken += column.need.least
    firsts = accumulate((len(stretch) for stretch in stretches[:-1]), initial=0)
    return tuple(
        _span(sheet, first, stretch, names, room, style)
        for first, stretch in zip(firsts, stretches, strict=True)
        if stretch
    )


def _columns(sheet: RoomSheet, style: RoomStyle) -> Iterator[list[_Column]]:
    """Yield the columns of each block with the widths that they need, the room round their cells in it."""
    number = 0
    for block in sheet.blocks:
        share = block_need(block, style) / max(len(block.columns), 1)
        group = []
        for column in block.columns:
            cells = dict.fromkeys(row.cells[number] for row in sheet.rows)
            needs = [head_need(column, style), *(cell_need(cell, style) for cell in cells)]
            least = max(share, *(need.least for need in needs)) + INSET + PAD
            wanted = max(least, max(need.wanted for need in needs) + INSET + PAD)
            group.append(_Column(block, column, Need(least, wanted)))
            number += 1
        yield group


def _span(
    sheet: RoomSheet, first: int, stretch: Sequence[_Column], names: float, room: float, style: RoomStyle
) -> Span:
    wanted = sum(column.need.wanted for column in stretch)
    widths = _shared_out([column.need for column in stretch], room)
    blocks: list[RoomBlock] = []
    last = None
    for column in stretch:
        if column.block is last:
            blocks[-1] = replace(blocks[-1], columns=(*blocks[-1].columns, column.column))
        else:
            blocks.append(replace(column.block, columns=(column.column,)))
        last = column.block
    return Span(
        first=first,
        xs=tuple(names + x for x in accumulate(widths[:-1], initial=0.0)),
        widths=widths,
        blocks=tuple(blocks),
        beside=tuple(
            all(fits_beside(cell, wide - INSET - PAD, style) for cell in {row.cells[number] for row in sheet.rows})
            for number, wide in enumerate(widths, start=first)
        ),
        easy=wanted <= room,
    )


def _shared_out(needs: Sequence[Need], room: float) -> tuple[float, ...]:
    """Return widths that fill the room: what all want and as much more for each, or between least and wanted."""
    least, wanted = sum(need.least for need in needs), sum(need.wanted for need in needs)
    if wanted <= room:
        return tuple(need.wanted + (room - wanted) / len(needs) for need in needs)
    if least >= room:
        return tuple(need.least * room / least for need in needs)
    share = (room - least) / (wanted - least)
    return tuple(need.least + (need.wanted - need.least) * share for need in needs)
