"""Cells of a table -> fields. A kind says what a cell means; this stage adds the place and poisons what failed.

Rows without a single value are skipped, never taken for the end. A merged value holds for every row it covers.
A lone cell under the last record is flagged, not read.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import Any

from compiler.binding.headers import Table
from compiler.cellref import CellRef, RowRef, column_letters
from compiler.flags.catalogue import flag
from compiler.flags.model import Flag, Remark
from compiler.frozen import frozen
from compiler.model.field import Field
from compiler.schema.column import Column, weekly_header
from compiler.schema.kinds import Refusal, Understood
from compiler.source.cells import CellType, SourceCell, SourceSheet
from compiler.source.shown import shown


@frozen
class BoundRow:
    """One row: its fields by (key, week), week 0 for what is not weekly."""

    row: RowRef
    fields: dict[tuple[str, int], Field[Any]]

    @property
    def plain(self) -> dict[str, Field[Any]]:
        """The fields that are not weekly, by key."""
        return {key: field for (key, week), field in self.fields.items() if week == 0}

    @property
    def weekly(self) -> list[dict[str, Field[Any]]]:
        """The weekly fields by key, one dictionary a week, week 1 first."""
        weeks: dict[int, dict[str, Field[Any]]] = {}
        for (key, week), field in self.fields.items():
            if week:
                weeks.setdefault(week, {})[key] = field
        return [weeks[week] for week in sorted(weeks)]


@frozen
class _Reading:
    """What a cell means, wherever it stands."""

    text: str
    content: Any
    failed: bool
    remarks: tuple[Remark, ...]


Seen = dict[tuple[object, ...], _Reading]
"""What cells of a table meant, by everything that their kind looks at: a sheet repeats itself a great deal."""


def read_cell(cell: SourceCell | None, column: Column, place: CellRef) -> tuple[Field[Any], list[Flag]]:
    """Return the field of one cell, with the default of a blank one, and what its kind remarked."""
    if cell is None or cell.blank:
        return Field(place, "", default_of(column)), []
    found = _reading(cell, column, {})
    return Field(place, found.text, found.content, found.failed), list(_flags(found, place))


def _reading(cell: SourceCell, column: Column, seen: Seen) -> _Reading:
    value = cell.value if cell.type is CellType.TEXT else str(cell.value)
    key = (id(column.kind), cell.type, value, cell.number_format, cell.formula, cell.struck, cell.serial_epoch_1904)
    found = seen.get(key)
    if found is None:
        found = seen[key] = _read(cell, column)
    return found


def _read(cell: SourceCell, column: Column) -> _Reading:
    match column.kind.read(cell):
        case Understood(value=value, remarks=remarks):
            return _Reading(shown(cell), value, failed=False, remarks=tuple(remarks))
        case Refusal(remark=remark):
            return _Reading(shown(cell), None, failed=True, remarks=(remark,))


def _flags(found: _Reading, place: CellRef) -> Iterator[Flag]:
    return (flag(remark, place, found=found.text) for remark in found.remarks)


def default_of(column: Column) -> Any:
    """Return what a blank cell of a column means: the declared default, read by the column's own kind."""
    if column.default is None:
        return None
    if column.default == "":
        return ""
    place = CellRef(column.header, 1, 1)
    result = column.kind.read(SourceCell(place, column.default, CellType.TEXT))
    return result.value if isinstance(result, Understood) else None


@frozen
class _Slot:
    """One field of every row of a table: its column, where that stands (0: nowhere), and what a blank cell means."""

    key: tuple[str, int]
    column: Column
    position: int
    default: Any


_Filled = dict[int, SourceCell]
"""The cells of one row that say anything, by column."""


def bind_rows(table: Table, weeks: int) -> tuple[list[BoundRow], list[Flag]]:
    """Return the filled rows of a table, with `weeks` weeks of its weekly columns (0: it has none), and the flags.

    A log of years has thousands of rows: what is the same for all of them is worked out once.
    """
    sheet, flags = _unmerged(table)
    rows: list[BoundRow] = []
    hidden: list[int] = []
    slots = _slots(table, weeks)
    filled = list(_filled_rows(table, sheet))
    last = _last_record(table, filled)
    anchor = _anchor(table)
    seen: Seen = {}
    for number, cells in filled:
        if number in sheet.totals_rows:
            continue
        if number > last:
            flags.append(_under_table(next(iter(cells.values()))))
            continue
        if number in sheet.hidden_rows:
            hidden.append(number)
        row, found = _bind_row(RowRef(sheet.name, number), cells, slots, anchor, seen)
        rows.append(row)
        flags += found
    return rows, [*flags, *_hidden(table, hidden)]


def _slots(table: Table, weeks: int) -> tuple[_Slot, ...]:
    return tuple(
        _Slot((column.key, week), column, table.columns.get((column.key, week), 0), default_of(column))
        for column, week in _columns(table, weeks)
    )


def _filled_rows(table: Table, sheet: SourceSheet) -> Iterator[tuple[int, _Filled]]:
    """Yield the rows under the headers that say anything in a column of ours, in order."""
    ours = set(table.columns.values())
    for number, cells in sheet.rows():
        if number > table.header_row:
            filled = {column: cell for column, cell in cells.items() if column in ours and not cell.blank}
            if filled:
                yield number, filled


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


def _last_record(table: Table, rows: Iterable[tuple[int, _Filled]]) -> int:
    """Return the last row that can be a record: one with two cells filled, or any where one cell makes a record."""
    required = [column for column in table.spec.columns if column.required and (column.key, 0) in table.columns]
    fewest = min(2, len(required))
    return max((number for number, cells in rows if len(cells) >= fewest), default=table.header_row)


def _under_table(cell: SourceCell) -> Flag:
    text = shown(cell)
    remark = Remark(
        "text-under-table",
        f'"{text}" is alone in its row and was not read.',
        "Fill in the rest of the row, or move the remark to a column of your own.",
    )
    return flag(remark, cell.place, found=text)


def _bind_row(
    ref: RowRef, cells: _Filled, slots: Iterable[_Slot], anchor: int, seen: Seen
) -> tuple[BoundRow, list[Flag]]:
    """Return one row. A column that was left out of the sheet has its place at the anchor."""
    flags: list[Flag] = []
    fields: dict[tuple[str, int], Field[Any]] = {}
    for slot in slots:
        place = CellRef(ref.sheet, ref.row, slot.position or anchor)
        cell = cells.get(slot.position)
        if cell is None:
            field = Field(place, "", slot.default)
        else:
            found = _reading(cell, slot.column, seen)
            field = Field(place, found.text, found.content, found.failed)
            if found.remarks:
                flags += _flags(found, place)
        if slot.column.required and field.content is None and not field.failed:
            remark = Remark(
                "missing-name",
                f'"{_header(slot)}" is blank, and this row needs it.',
                "Fill it in, or delete the row.",
            )
            flags.append(flag(remark, place))
            field = replace(field, failed=True)
        fields[slot.key] = field
    return BoundRow(ref, fields), flags


def _header(slot: _Slot) -> str:
    week = slot.key[1]
    return weekly_header(slot.column, week) if week else slot.column.header


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
