"""Cells of a table -> fields. A kind says what a cell means; this stage adds the place and poisons what failed.

Rows without a single value are skipped, never taken for the end. A merged value holds for every row it covers.
A lone cell under the last record is told, not read.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any

from compiler.binding.headers import Table
from compiler.cellref import CellRef, RowRef, column_letters
from compiler.flags.catalogue import flag
from compiler.flags.model import Flag, Remark
from compiler.model.field import Field
from compiler.schema.column import Column, weekly_header
from compiler.schema.kinds import Refusal, Understood
from compiler.source.cells import CellType, SourceCell, SourceSheet
from compiler.source.shown import shown


@dataclass(frozen=True, slots=True)
class BoundRow:
    """One row: its fields by (key, week), week 0 for what is not weekly."""

    row: RowRef
    fields: dict[tuple[str, int], Field[Any]]

    def field(self, key: str) -> Field[Any]:
        """Return a field that is not weekly."""
        return self.fields[key, 0]


Reading = tuple[Understood[Any] | Refusal, str]
Seen = dict[tuple[object, ...], Reading]
"""What cells of a table meant, by everything that their kind looks at: a sheet says the same thing many times."""


def read_cell(
    cell: SourceCell | None, column: Column, place: CellRef, seen: Seen | None = None
) -> tuple[Field[Any], list[Flag]]:
    """Return the field of one cell, with the default of a blank one, and what its kind remarked."""
    if cell is None or cell.blank:
        return Field(place, "", default_of(column)), []
    result, text = _reading(cell, column, {} if seen is None else seen)
    match result:
        case Understood(value=value, remarks=remarks):
            return Field(place, text, value), [flag(remark, place, found=text) for remark in remarks]
        case Refusal(remark=remark):
            return Field(place, text, None, failed=True), [flag(remark, place, found=text)]


def _reading(cell: SourceCell, column: Column, seen: Seen) -> Reading:
    stored = (cell.type, str(cell.value), cell.number_format, cell.formula, cell.struck, cell.serial_epoch_1904)
    key = (id(column.kind), *stored)
    found = seen.get(key)
    if found is None:
        found = seen[key] = column.kind.read(cell), shown(cell)
    return found


def default_of(column: Column) -> Any:
    """Return what a blank cell of a column means: the declared default, read by the column's own kind."""
    if column.default is None:
        return None
    if column.default == "":
        return ""
    place = CellRef(column.header, 1, 1)
    result = column.kind.read(SourceCell(place, column.default, CellType.TEXT))
    return result.value if isinstance(result, Understood) else None


def bind_rows(table: Table, weeks: int = 0) -> tuple[list[BoundRow], list[Flag]]:
    """Return the filled rows of a table, with `weeks` weeks of its weekly columns, and the flags."""
    sheet, flags = _unmerged(table)
    rows: list[BoundRow] = []
    hidden: list[int] = []
    last = _last_record(table, sheet)
    seen: Seen = {}
    for number, cells in sheet.rows():
        if number <= table.header_row or number in sheet.totals_rows:
            continue
        filled = {c: cell for c, cell in cells.items() if not cell.blank and c in table.columns.values()}
        if not filled:
            continue
        ref = RowRef(sheet.name, number)
        if number > last:
            flags.append(_under_table(next(iter(filled.values()))))
            continue
        if number in sheet.hidden_rows:
            hidden.append(number)
        row, found = _bind_row(table, ref, cells, weeks, seen)
        rows.append(row)
        flags += found
    return rows, [*flags, *_hidden(table, hidden)]


def _hidden(table: Table, rows: list[int]) -> list[Flag]:
    """Return a warning for the hidden rows that were read, and one for the hidden columns."""
    sheet = table.sheet
    flags = []
    if rows:
        numbers = ", ".join(map(str, rows))
        remark = Remark("hidden-rows", f"Hidden rows were read: {numbers}.", "Delete them if they should not count.")
        flags.append(flag(remark, CellRef(sheet.name, rows[0], 1)))
    columns = sorted(set(table.columns.values()) & sheet.hidden_columns)
    if columns:
        letters = ", ".join(map(column_letters, columns))
        remark = Remark("hidden-rows", f"Hidden columns were read: {letters}.", "Clear them if they should not count.")
        flags.append(flag(remark, CellRef(sheet.name, table.header_row, columns[0])))
    return flags


def _last_record(table: Table, sheet: SourceSheet) -> int:
    """Return the last row that can be a record: one with two cells filled, or any where one cell makes a record."""
    required = [column for column in table.spec.columns if column.required and (column.key, 0) in table.columns]
    fewest = min(2, len(required))
    ours = set(table.columns.values())
    rows = (number for number, cells in sheet.rows() if sum(not cells[c].blank for c in ours & cells.keys()) >= fewest)
    return max(rows, default=table.header_row)


def _under_table(cell: SourceCell) -> Flag:
    text = shown(cell)
    remark = Remark(
        "text-under-table",
        f'"{text}" stands alone in its row and was not read.',
        "Fill in the rest of the row, or move the remark to a column of your own.",
    )
    return flag(remark, cell.place, found=text)


def _bind_row(
    table: Table, ref: RowRef, cells: dict[int, SourceCell], weeks: int, seen: Seen
) -> tuple[BoundRow, list[Flag]]:
    flags: list[Flag] = []
    fields: dict[tuple[str, int], Field[Any]] = {}
    for column, week in _columns(table, weeks):
        position = table.columns.get((column.key, week))
        place = ref.cell(position or _anchor(table))
        field, found = read_cell(cells.get(position) if position else None, column, place, seen)
        flags += found
        if column.required and field.content is None and not field.failed:
            header = weekly_header(column, week) if week else column.header
            remark = Remark(
                "missing-name",
                f'"{header}" is blank, and this row needs it.',
                "Fill it in, or delete the row.",
            )
            flags.append(flag(remark, place))
            field = replace(field, failed=True)
        fields[column.key, week] = field
    return BoundRow(ref, fields), flags


def _columns(table: Table, weeks: int) -> Iterator[tuple[Column, int]]:
    for column in table.spec.columns:
        yield column, 0
    for week in range(1, weeks + 1):
        for column in table.spec.weekly:
            yield column, week


def _anchor(table: Table) -> int:
    """Return the column that stands for one that was left out of the sheet: the first there is."""
    return min(table.columns.values())


def _unmerged(table: Table) -> tuple[SourceSheet, list[Flag]]:
    """Return the sheet with every merged value in all the rows it covers, and a note for each merge in the table."""
    sheet = table.sheet
    cells = dict(sheet.cells)
    flags: list[Flag] = []
    for top, left, bottom, _ in sheet.merges:
        origin = cells.get((top, left))
        if top <= table.header_row or origin is None or origin.blank or bottom == top:
            continue
        for row in range(top + 1, bottom + 1):
            cells[row, left] = replace(origin, place=CellRef(sheet.name, row, left))
        remark = Remark(
            "merged-cells", f'"{shown(origin)}" is merged over rows {top} to {bottom} and was read in each.'
        )
        flags.append(flag(remark, origin.place, found=shown(origin)))
    return replace(sheet, cells=cells), flags
