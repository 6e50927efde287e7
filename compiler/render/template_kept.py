"""What of a block workbook lasts into a new one: people, exercises, places and their kit, without a programme.

In: the old workbook as written. Out: rows to fill a new one in with, and what was left out, sheet by sheet. Nothing
is read as a value: texts stay as they were typed, numbers and dates keep their type and format. A formula gives way
to its result, because the cells that it names may not be where they were.
"""

from __future__ import annotations

from dataclasses import replace

from compiler.binding.headers import find_sheet
from compiler.binding.settings import SETTING, VALUE, positions_of
from compiler.cellref import CellRef
from compiler.folding import header_key, name_key
from compiler.frozen import frozen
from compiler.render.template_columns import Filling, filling_of, sources_of
from compiler.schema.column import SheetSpec
from compiler.schema.sheets import BLOCK, CHANGES, CLIENTS, EXERCISES, HISTORY, KIT, RESTRICTIONS, SITES, TESTS
from compiler.source.cells import CellType, SourceBook, SourceCell, SourceSheet

VALUE_AT = 2
"""The column of the values in the settings that are handed on."""

KEPT_SHEETS = (BLOCK, EXERCISES, CLIENTS, TESTS, RESTRICTIONS, CHANGES, SITES, KIT, HISTORY)

OF_ONE_BLOCK = ("title", "start_date", "weeks", "easier_weeks", "closed_dates")
"""Settings that speak of one block; all others last. The new workbook has weeks of its own."""

OF_ONE_CALENDAR = ("first_week", "start_date")
"""Columns of Clients that speak of one block: a late start, a calendar of somebody's own."""

Row = dict[int, SourceCell]
Cells = dict[str, SourceCell]


@frozen
class Kept:
    """Rows for a new workbook, and how many rows of each kept sheet there are; changes that went with the block."""

    book: SourceBook
    rows: dict[str, int]
    changes_left: int


def kept_of(old: SourceBook) -> Kept:
    """Return what lasts of a workbook whose kept sheets have their columns."""
    sheets: list[SourceSheet] = []
    rows: dict[str, int] = {}
    changes_left = 0
    for spec in KEPT_SHEETS:
        found, _ = find_sheet(old, spec)
        if found is None or not found.cells:
            continue
        filling = _settings(found) if spec is BLOCK else filling_of(spec, replace(old, sheets=(found,)))
        lasting = _lasting(spec, filling)
        if spec is CHANGES:
            changes_left = len(_filled(filling.rows)) - len(lasting.rows)
        rows[spec.name] = len(_set(lasting.rows) if spec is BLOCK else _filled(lasting.rows))
        sheets.append(_as_sheet(spec.name, lasting))
    return Kept(SourceBook(old.name, tuple(sheets), old.date_1904), rows, changes_left)


def _filled(rows: dict[int, Row]) -> list[Row]:
    return [cells for cells in rows.values() if any(not cell.blank for cell in cells.values())]


def _set(rows: dict[int, Row]) -> list[Row]:
    """Return the settings that have a value; every workbook has a row for the others."""
    return [cells for cells in rows.values() if VALUE_AT in cells and not cells[VALUE_AT].blank]


def _settings(sheet: SourceSheet) -> Filling:
    """Return the settings that last, wherever their two columns stand; those that are not known, too."""
    name_at, value_at = positions_of(sheet)
    gone = {header_key(name) for key in OF_ONE_BLOCK for name in (BLOCK.column(key).header, *BLOCK.column(key).aliases)}
    gone.add(header_key(SETTING))
    rows = [
        {1: cells[name_at], **({VALUE_AT: cells[value_at]} if value_at in cells else {})}
        for _, cells in sheet.rows()
        if name_at in cells and not cells[name_at].blank and header_key(str(cells[name_at].value)) not in gone
    ]
    return Filling({1: SETTING, VALUE_AT: VALUE}, dict(enumerate(rows, start=2)))


def _lasting(spec: SheetSpec, filling: Filling) -> Filling:
    sources, _ = sources_of(spec, filling)
    at = {key: source for (key, _), source in sources.items()}
    if spec is CHANGES:
        lasting = [row for row in _filled(filling.rows) if _lasts({key: row[s] for key, s in at.items() if s in row})]
        return replace(filling, rows=dict(enumerate(lasting, start=2)), merges=(), hidden_rows=frozenset())
    if spec is CLIENTS:
        gone = {at[key] for key in OF_ONE_CALENDAR if key in at}
        rows = {n: {c: cell for c, cell in row.items() if c not in gone} for n, row in filling.rows.items()}
        return replace(filling, rows=rows)
    return filling


def _lasts(change: Cells) -> bool:
    """Tell whether a change is the client's and not the block's.

    One for a session, an order or some weeks speaks of rows that are not there any more; a load was chosen for the
    sets and repetitions of its row; who is away is back. What is left goes with an exercise or a place.
    """

    def says(key: str) -> str:
        return "" if key not in change or change[key].blank else name_key(str(change[key].value))

    of_block = says("session") or says("order") or says("weeks") not in ("", "all") or says("load")
    away = says("do") == "leave out" and not says("exercise")
    return not (of_block or away or says("do") == "load")


def _as_sheet(name: str, filling: Filling) -> SourceSheet:
    headers = {(1, at): SourceCell(CellRef(name, 1, at), text, CellType.TEXT) for at, text in filling.headers.items()}
    cells = {
        (number, at): _without_formula(cell) for number, row in filling.rows.items() for at, cell in row.items()
    }
    return SourceSheet(name, {**headers, **cells}, filling.hidden, filling.hidden_rows, filling.merges)


def _without_formula(cell: SourceCell) -> SourceCell:
    """Return a cell with its result; a formula that nobody has worked out becomes its text, which will be flagged."""
    if cell.type is CellType.UNCALCULATED:
        return replace(cell, value=cell.formula or "=", type=CellType.TEXT, formula=None, number_format="@")
    return replace(cell, formula=None)
