"""What several tests need: workbooks as written, made from rows of text, without a file."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from compiler.cellref import CellRef
from compiler.source.cells import CellType, SourceBook, SourceCell, SourceSheet

Tables = Mapping[str, Iterable[Sequence[str]]]


def source_sheet(name: str, rows: Iterable[Sequence[str]]) -> SourceSheet:
    """Return a sheet of text cells; an empty text stores no cell."""
    cells = {}
    for number, row in enumerate(rows, start=1):
        for column, text in enumerate(row, start=1):
            if text:
                place = CellRef(name, number, column)
                cells[number, column] = SourceCell(place, text, CellType.TEXT)
    return SourceSheet(name, cells)


def source_book(tables: Tables, name: str = "block.xlsx") -> SourceBook:
    """Return a workbook of text cells: sheet name -> rows, the first the headers."""
    return SourceBook(name, tuple(source_sheet(sheet, rows) for sheet, rows in tables.items()))


def markdown_table(lines: Iterable[str]) -> list[list[str]]:
    """Return the cells of the lines of one Markdown pipe table, without the line under the header."""
    rows = []
    for line in lines:
        cells = [cell.strip() for cell in line.strip().strip("|").split("|")]
        if not all(set(cell) <= {"-", ":"} and cell for cell in cells):
            rows.append(cells)
    return rows


CLIENTS = (2, 3, 12)
"""Rows of the clients that are kept: the tests are quicker with three."""


def few_clients(source: SourceBook) -> SourceBook:
    """Return a workbook with three clients."""
    sheets = [
        replace(sheet, cells={at: cell for at, cell in sheet.cells.items() if at[0] == 1 or at[0] in CLIENTS})
        if sheet.name == "Clients"
        else sheet
        for sheet in source.sheets
    ]
    return replace(source, sheets=tuple(sheets))


def with_cell(source: SourceBook, row: int, header: str, text: str) -> SourceBook:
    """Return a workbook with another text in a row of the Clients sheet."""
    clients = next(sheet for sheet in source.sheets if sheet.name == "Clients")
    column = next(at[1] for at, cell in clients.cells.items() if cell.value == header)
    cell = SourceCell(CellRef("Clients", row, column), text, CellType.TEXT)
    edited = replace(clients, cells={**clients.cells, (row, column): cell})
    return replace(source, sheets=tuple(edited if sheet is clients else sheet for sheet in source.sheets))
