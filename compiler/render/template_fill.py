"""The cells of a filling, written into the template: each under its header, the coach's own beside and behind."""

from __future__ import annotations

from collections.abc import Iterator

from xlsxwriter import Workbook
from xlsxwriter.worksheet import Worksheet

from compiler.folding import header_key
from compiler.render.formats import Formats
from compiler.render.template_cells import write_cell
from compiler.render.template_columns import Filling, PlacedColumn
from compiler.render.template_formats import (
    BODY,
    HEADER_OPTIONAL,
    ROW_HEIGHT,
    RULED,
    WEEK_EDGE,
    entry,
    height_of,
    wraps,
)
from compiler.schema.sheets import NOT_READ, SHEETS
from compiler.source.cells import CellType, SourceBook, SourceCell, SourceSheet


def fill_table(sheet: Worksheet, formats: Formats, columns: tuple[PlacedColumn, ...], filling: Filling) -> None:
    """Write the rows of a filling under the headers that mean the same, with merges and hidden rows."""
    by_source = {placed.source: placed for placed in columns if placed.source}
    for number, cells in filling.rows.items():
        for source, cell in cells.items():
            placed = by_source.get(source)
            at = placed.at if placed else len(columns) + source  # under no header: beside the table
            look = entry(placed.column if placed else None)
            edge = WEEK_EDGE if placed and placed.opens_week else {}
            write_cell(sheet, formats, (number, at), cell, {**look, **RULED, **edge})
        height = height_of(*_long_texts(cells, by_source))
        hidden = number in filling.hidden_rows
        if hidden or height > ROW_HEIGHT:
            sheet.set_row(number - 1, height, None, {"hidden": hidden})
    _merge(sheet, formats, by_source, filling)
    if filling.hidden:
        sheet.hide()


def _long_texts(cells: dict[int, SourceCell], by_source: dict[int, PlacedColumn]) -> Iterator[tuple[str, float]]:
    """Yield the texts of a row that may need more than one line, with the width they have."""
    for source, cell in cells.items():
        column = by_source[source].column if source in by_source else None
        if column and wraps(column) and cell.type is CellType.TEXT:
            yield str(cell.value), column.width


def _merge(sheet: Worksheet, formats: Formats, by_source: dict[int, PlacedColumn], filling: Filling) -> None:
    for top, left, bottom, right in filling.merges:
        first, last = by_source.get(left), by_source.get(right)
        if first and last:
            origin = filling.rows.get(top, {}).get(left)
            look = {**entry(first.column), **RULED}
            sheet.merge_range(top - 1, first.at - 1, bottom - 1, last.at - 1, "", formats.of(look))
            if origin:
                write_cell(sheet, formats, (top, first.at), origin, look)


def write_own_sheets(book: Workbook, formats: Formats, fill: SourceBook | None) -> None:
    """Add the sheets of a filling that the declaration does not know, as they are."""
    known = {header_key(name) for spec in SHEETS for name in (spec.name, *spec.aliases)}
    known |= {header_key(name) for name in NOT_READ}
    for own in fill.sheets if fill else ():
        if header_key(own.name) not in known:
            _write_own_sheet(book.add_worksheet(own.name), formats, own)


def _write_own_sheet(sheet: Worksheet, formats: Formats, own: SourceSheet) -> None:
    first = min((row for row, _ in own.cells), default=1)
    for (row, column), cell in sorted(own.cells.items()):
        look = HEADER_OPTIONAL if row == first else {**BODY, "num_format": "@"}
        write_cell(sheet, formats, (row, column), cell, look)
    for row in own.hidden_rows:
        sheet.set_row(row - 1, None, None, {"hidden": True})
    if own.hidden:
        sheet.hide()
