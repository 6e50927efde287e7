"""Parts of a block workbook as Markdown tables -> a whole SourceBook, for tests that tell only what they are about."""

from __future__ import annotations

from dataclasses import replace

from compiler.cellref import CellRef
from compiler.schema.column import weekly_header
from compiler.schema.sheets import SHEETS
from compiler.source.cells import CellType, SourceBook, SourceCell, SourceSheet
from compiler.source.grid import book_from_grid


def fragment_book(text: str, name: str = "block.xlsx") -> SourceBook:
    """Return the workbook of some tables, with the sheets and columns that it needs and the text leaves out."""
    told = book_from_grid(text, name)
    there = {sheet.name: sheet for sheet in told.sheets}
    needed = [spec.name for spec in SHEETS if not spec.optional]
    sheets = [there.get(sheet, SourceSheet(sheet, {})) for sheet in dict.fromkeys((*there, *needed))]
    return replace(told, sheets=tuple(map(_completed, sheets)))


def _completed(sheet: SourceSheet) -> SourceSheet:
    """Return a sheet with the columns that it cannot do without on its right."""
    spec = next((spec for spec in SHEETS if spec.name == sheet.name and not spec.settings), None)
    if spec is None:
        return sheet
    headers = {str(cell.value) for (row, _), cell in sheet.cells.items() if row == 1}
    needed = [column.header for column in spec.columns if not column.optional]
    needed += [weekly_header(column, 1) for column in spec.weekly if not column.optional]
    cells = dict(sheet.cells)
    right = max((column for _, column in cells), default=0)
    for header in needed:
        if header not in headers:
            right += 1
            cells[1, right] = SourceCell(CellRef(sheet.name, 1, right), header, CellType.TEXT)
    return replace(sheet, cells=cells)


def case_book(text: str, shared: str, name: str = "block.xlsx") -> SourceBook:
    """Return the workbook of a case: its own tables, and of the shared ones what it leaves out."""
    told, common = book_from_grid(text, name), book_from_grid(shared)
    settings = {spec.name for spec in SHEETS if spec.settings}
    own = {sheet.name: sheet for sheet in told.sheets}
    sheets = list(told.sheets)
    for sheet in common.sheets:
        if sheet.name not in own:
            sheets.append(sheet)
        elif sheet.name in settings:
            sheets[sheets.index(own[sheet.name])] = _with_settings(own[sheet.name], sheet)
    return replace(told, sheets=tuple(sheets))


def _with_settings(sheet: SourceSheet, common: SourceSheet) -> SourceSheet:
    """Return a sheet of settings with the rows of another that it does not name, under its own."""
    named = {str(cell.value) for (_, column), cell in sheet.cells.items() if column == 1}
    cells, bottom = dict(sheet.cells), max((row for row, _ in sheet.cells), default=0)
    for _, row in common.rows():
        if str(row[1].value) not in named:
            bottom += 1
            for column, cell in row.items():
                cells[bottom, column] = replace(cell, place=CellRef(sheet.name, bottom, column))
    return replace(sheet, cells=cells)
