"""The Block sheet -> its record. One row a setting; what is not there is read as its default."""

from __future__ import annotations

from typing import Any

from compiler.binding.headers import duplicate_column, find_sheet
from compiler.binding.rows import read_cell
from compiler.cellref import CellRef
from compiler.flags.catalogue import flag
from compiler.flags.model import Flag, Remark
from compiler.flags.nearest import nearest
from compiler.folding import header_key
from compiler.model.field import Field
from compiler.model.records import Block
from compiler.schema.column import Column, SheetSpec
from compiler.source.cells import SourceBook, SourceCell, SourceSheet

SETTING, VALUE = "Setting", "Value"


def bind_block(book: SourceBook, spec: SheetSpec) -> tuple[Block, list[Flag]]:
    """Return the settings of the block; a workbook without the sheet has the defaults."""
    sheet, flags = find_sheet(book, spec)
    written: dict[str, SourceCell | None] = {}
    places: dict[str, CellRef] = {}
    doubled: list[Flag] = []
    if sheet is not None:
        written, places, found = _settings(sheet, spec)
        doubled = _doubled(sheet)
        flags += [*doubled, *found]
    twice = {first: f.place for f in flags if f.slug == "duplicate-column" for first in f.related}
    fields: dict[str, Field[Any]] = {}
    for column in spec.columns:
        place = places.get(column.key, CellRef(spec.name, 1, 1))
        again = doubled[0].place if doubled and column.key in places else twice.get(place)
        if again is not None:  # there is no telling which of the two is meant
            fields[column.key] = Field(again, "", None, failed=True)
            continue
        fields[column.key], found = read_cell(written.get(column.key), column, place)
        flags += found
    return Block(**fields), flags


def _settings(
    sheet: SourceSheet, spec: SheetSpec
) -> tuple[dict[str, SourceCell | None], dict[str, CellRef], list[Flag]]:
    known: dict[str, Column] = {
        header_key(name): column for column in spec.columns for name in (column.header, *column.aliases)
    }
    name_at, value_at = positions_of(sheet)
    written: dict[str, SourceCell | None] = {}
    places: dict[str, CellRef] = {}
    flags: list[Flag] = []
    own: list[str] = []
    for number, cells in sheet.rows():
        name = cells.get(name_at)
        if name is None or name.blank:
            continue
        text = str(name.value).strip()
        column = known.get(header_key(text))
        if column is None:
            if header_key(text) != header_key(SETTING):
                near = nearest(text, [c.header for c in spec.columns], most=1)
                own.append(f'"{text}"' + (f' (the Block has "{near[0]}")' if near else ""))
            continue
        place = CellRef(sheet.name, number, value_at)
        if column.key in places:
            remark = Remark(
                "duplicate-column", f'"{column.header}" is there twice.', "Keep one of the two rows."
            )
            flags.append(flag(remark, place, related=(places[column.key],)))
            continue
        places[column.key] = place
        written[column.key] = cells.get(value_at)
    if own:
        remark = Remark("extra-column", f"Unknown settings were left alone: {', '.join(own)}.")
        flags.append(flag(remark, sheet=sheet.name))
    return written, places, flags


def positions_of(sheet: SourceSheet) -> tuple[int, int]:
    """Return the columns of setting and value: where their headers stand in one row, else the first two."""
    heads = _heads(sheet)
    if heads is None:
        return 1, 2
    name_at, values = heads
    return name_at, values[0].column if values else name_at + 1


def _heads(sheet: SourceSheet) -> tuple[int, list[CellRef]] | None:
    """Return the column headed Setting and every cell of its row that says Value; None without such a row."""
    for number, cells in sheet.rows():
        keys = {column: header_key(str(cell.value)) for column, cell in cells.items() if not cell.blank}
        name_at = next((column for column, key in keys.items() if key == header_key(SETTING)), None)
        if name_at is not None:
            values = [CellRef(sheet.name, number, at) for at, key in keys.items() if key == header_key(VALUE)]
            return name_at, values
    return None


def _doubled(sheet: SourceSheet) -> list[Flag]:
    """Return an error at a second column of values: nothing says which of the two counts."""
    _, values = _heads(sheet) or (0, [])
    if len(values) < 2:
        return []
    return [duplicate_column(VALUE, values[1], values[0])]
