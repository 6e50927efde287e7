"""One month's workbook and what becomes of it -> next month's workbook, as bytes.

The coach's file is patched, not written anew: formats, notes, own sheets and columns, charts and formulas with their
results stay. Changed are the start dates, expired rows of Changes (their cells are emptied, the rows stay), the Log
(emptied), and new rows under Tests, Changes and History; a Progress sheet comes in front, in place of an older one.
A formula of the coach's own that looks at a changed cell shows its old result until the spreadsheet works it out again.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime, time
from decimal import Decimal

from compiler.binding.headers import bind_headers, find_sheet
from compiler.cellref import CellRef, RowRef
from compiler.documents.progress_sheet import NAME as PROGRESS
from compiler.documents.progress_sheet import progress_sheet
from compiler.folding import header_key
from compiler.progress.values import DoneRow, NewChange, NewTest, NextMonth
from compiler.quantities import Load, plain
from compiler.render.checked_package import CONTENT_TYPES, Parts
from compiler.render.checked_sheet import SHALLOW, not_selected
from compiler.render.checked_styles import with_styles
from compiler.render.checked_workbook import front_of, listed_sheets, retitle, with_front, with_last
from compiler.render.checked_xml import edited, parse
from compiler.render.plain_sheet import plain_sheet
from compiler.render.sheet_edits import Value, with_cells
from compiler.schema.column import SheetSpec
from compiler.schema.sheets import CHANGES, CLIENTS, HISTORY, LOG_SHEET, TESTS
from compiler.source.cells import CellType, SourceBook, SourceSheet
from compiler.source.serials import serial_of

_HEAD_ROW = 3

Written = str | Decimal | int | date | None
"""What goes into a cell before it is known how the sheet stores such things."""


@dataclass
class _Pad:
    """The cells to be put into one sheet, and where its next row goes. A sheet that is not there yet has no source."""

    spec: SheetSpec
    sheet: SourceSheet | None
    header_row: int
    columns: dict[str, int]
    next_row: int
    date_1904: bool
    cells: dict[tuple[int, int], Value] = field(default_factory=dict)
    stored: dict[int, CellType] = field(default_factory=dict)

    @property
    def name(self) -> str:
        """The sheet's name in the workbook."""
        return self.sheet.name if self.sheet else self.spec.name

    def like(self) -> dict[int, int]:
        """Return, by column, the row whose format new cells take: the one above."""
        return dict.fromkeys(self.columns.values(), self.next_row - 1)

    def add(self, values: Mapping[str, Written]) -> RowRef:
        """Put a row under the table and return it; a column that the sheet lacks is added on its right."""
        row = self.next_row
        for key, value in values.items():
            if value is not None and value != "":
                column = self._column(key)
                self.cells[row, column] = self._stored(column, value)
        self.next_row += 1
        return RowRef(self.name, row)

    def put(self, row: int, key: str, value: Written) -> None:
        """Put a value into a row that is there."""
        column = self._column(key)
        self.cells[row, column] = self._stored(column, value, row)

    def empty(self, row: int) -> None:
        """Empty the declared columns of a row."""
        for column in self.columns.values():
            if self.sheet and (row, column) in self.sheet.cells and not self.sheet.cells[row, column].blank:
                self.cells[row, column] = None

    def _column(self, key: str) -> int:
        if key not in self.columns:
            used = [column for _, column in self.sheet.cells] if self.sheet else []
            self.columns[key] = max([*used, *self.columns.values()], default=0) + 1
            self.cells[self.header_row, self.columns[key]] = self.spec.column(key).header
        return self.columns[key]

    def _stored(self, column: int, value: Written, row: int | None = None) -> Value:
        """Return a value as the column stores such: a number where the cell above is one, else a text."""
        kept = self._above(column, row)
        if isinstance(value, date):
            if kept is CellType.DATE:
                return serial_of(datetime.combine(value, time()), epoch_1904=self.date_1904)
            return value.isoformat()
        if isinstance(value, Decimal | int):
            return Decimal(value) if kept is CellType.NUMBER else plain(Decimal(value))
        return value

    def _above(self, column: int, row: int | None) -> CellType | None:
        """Return how the sheet stores a column: as in the cell itself, else as in the last one filled."""
        if row is not None and self.sheet and (row, column) in self.sheet.cells:
            return self.sheet.cells[row, column].type
        if not self.stored and self.sheet:
            self.stored = {
                at: cell.type
                for (number, at), cell in sorted(self.sheet.cells.items())
                if number > self.header_row and not cell.blank
            }
        return self.stored.get(column)


def render_next_workbook(workbook: bytes, source: SourceBook, start_cell: CellRef, month: NextMonth) -> bytes:
    """Return next month's workbook. `start_cell` holds the start date. Equal input gives equal bytes."""
    pads = {spec.name: _pad(source, spec) for spec in (CLIENTS, TESTS, CHANGES, LOG_SHEET, HISTORY)}
    rows = _fill(pads, month)
    parts = Parts(workbook)
    parts_of = {sheet.name: sheet.part for sheet in listed_sheets(parts)}
    styles = with_styles(parts).cells
    for pad in pads.values():
        if pad.sheet is not None and pad.sheet.name in parts_of:
            part = parts_of[pad.sheet.name]
            parts.write(part, with_cells(parts.read(part), pad.cells, pad.like()))
        elif pad.cells:
            with_last(parts, pad.name, _new_part(parts, _as_plain(pad, parts.space, styles)))
    if month.start is not None:
        _put_start(parts, parts_of, source, start_cell, month.start)
    _put_progress(parts, styles, month, rows)
    _without_calculation_chain(parts)
    return parts.to_bytes()


def _pad(source: SourceBook, spec: SheetSpec) -> _Pad:
    """Return the pad of a sheet; where there are no headers yet, they go in too."""
    sheet, _ = find_sheet(source, spec)
    table = bind_headers(sheet, spec)[0] if sheet is not None else None
    if sheet is None or table is None:
        columns = {column.key: at for at, column in enumerate(spec.columns, start=1)}
        headers: dict[tuple[int, int], Value] = {(1, at): spec.column(key).header for key, at in columns.items()}
        return _Pad(spec, sheet, 1, columns, 2, source.date_1904, headers)
    filled = [row for (row, _), cell in sheet.cells.items() if not cell.blank]
    columns = {(key if not week else f"{key} {week}"): at for (key, week), at in table.columns.items()}
    return _Pad(spec, sheet, table.header_row, columns, max(filled) + 1, source.date_1904)


def _fill(pads: Mapping[str, _Pad], month: NextMonth) -> dict[int, list[RowRef]]:
    """Put everything into the pads; return the rows that carry each proposal, by its place."""
    rows: dict[int, list[RowRef]] = {}
    for number, proposal in enumerate(month.proposals):
        carried = [pads[TESTS.name].add(_test_cells(test)) for test in proposal.tests]
        carried += [pads[CHANGES.name].add(_change_cells(change)) for change in proposal.changes]
        rows[number] = carried
    for done in month.history:
        pads[HISTORY.name].add(_done_cells(done))
    for dropped in month.dropped:
        pads[CHANGES.name].empty(dropped.row)
    for client in month.clients:
        if client.start_date is not None:
            pads[CLIENTS.name].put(client.row.row, "start_date", client.start_date)
        if client.joins_late:
            pads[CLIENTS.name].put(client.row.row, "first_week", None)
    log = pads[LOG_SHEET.name]
    for row in sorted({row for row, _ in log.sheet.cells}) if log.sheet else ():
        if row > log.header_row:
            log.empty(row)
    for pad in pads.values():
        if set(pad.cells) <= {(1, at) for at in pad.columns.values()} and pad.next_row == 2:
            pad.cells.clear()  # a sheet that nothing goes into is not made for its headers
    return rows


def _load_cells(load: Load | None) -> dict[str, Written]:
    """Return what a load says on Tests and History: blank where the body alone was lifted, as those sheets want it."""
    if load is None or load.amount == 0:
        return {}
    return {"load": load.amount, "unit": str(load.unit)}


def _test_cells(test: NewTest) -> dict[str, Written]:
    return {
        "client": test.client,
        "date": test.day,
        "exercise": test.exercise,
        **_load_cells(test.load),
        "reps": test.reps,
        "rpe": test.rpe,
        "body_weight": str(test.body_weight) if test.body_weight else None,
        "source": test.source,
    }


def _change_cells(change: NewChange) -> dict[str, Written]:
    return {
        "who": change.client,
        "session": change.session,
        "order": change.order,
        "exercise": change.exercise,
        "weeks": ", ".join(map(str, change.weeks)) if change.weeks else None,
        "do": change.do,
        "with_": change.with_,
        "load": change.load,
        "words": change.words,
        "why": change.why,
    }


def _done_cells(done: DoneRow) -> dict[str, Written]:
    return {
        "client": done.client,
        "date": done.day,
        "week": done.week,
        "session": done.session,
        "order": done.order,
        "exercise": done.exercise,
        "set": str(done.first) if done.first == done.last else f"{done.first}-{done.last}",
        **_load_cells(done.load),
        "reps": done.reps,
        "rpe": done.rpe,
    }


# ---------------------------------------------------------------- parts


def _put_start(parts: Parts, parts_of: Mapping[str, str], source: SourceBook, cell: CellRef, start: date) -> None:
    """Put the start date where the old one stands, stored as that was."""
    sheet = next((sheet for sheet in source.sheets if sheet.name == cell.sheet), None)
    old = sheet.cells.get((cell.row, cell.column)) if sheet else None
    if sheet is None or old is None or sheet.name not in parts_of:
        return
    as_day = old.type is CellType.DATE
    moment = datetime.combine(start, time())
    value: Value = serial_of(moment, epoch_1904=source.date_1904) if as_day else start.isoformat()
    part = parts_of[sheet.name]
    parts.write(part, with_cells(parts.read(part), {(cell.row, cell.column): value}, {}))


def _as_plain(pad: _Pad, space: str, styles: Mapping[str, int]) -> bytes:
    columns = sorted(pad.columns.items(), key=lambda item: item[1])
    headings = [(pad.spec.column(key).header, pad.spec.column(key).width) for key, _ in columns]
    rows = [[str(pad.cells.get((row, at)) or "") for _, at in columns] for row in range(2, pad.next_row)]
    return plain_sheet(space, headings, rows, styles)


def _new_part(parts: Parts, data: bytes) -> str:
    """Put the part of a sheet in; return the relationship by which the workbook is to list it."""
    part = parts.free_name("xl/worksheets/sheet{}.xml")
    parts.write(part, data)
    parts.set_type(part, CONTENT_TYPES["worksheet"])
    return parts.relate(parts.main, "worksheet", part)


def _put_progress(
    parts: Parts,
    styles: Mapping[str, int],
    month: NextMonth,
    rows: Mapping[int, Sequence[RowRef]],
) -> None:
    """Put the Progress sheet in front, in place of the one of an earlier month."""
    value = progress_sheet(month, rows)
    before = listed_sheets(parts)
    for sheet in before:
        _unselect(parts, sheet.part)
    gone = {place for place, sheet in enumerate(before) if header_key(sheet.name) == header_key(PROGRESS)}
    parts.cut([before[place].relation for place in gone])
    headings = [(heading.text, heading.width) for heading in value.headings]
    texts = [[str(cell or "") for cell in row] for row in value.rows]
    sheet_part = plain_sheet(parts.space, headings, texts, styles, value.title, value.frozen, front=True)
    relation = _new_part(parts, sheet_part)
    with_front(parts, gone, front_of(value.name, relation, _HEAD_ROW, len(headings), len(texts)))
    sheets = [(place, sheet.name) for place, sheet in enumerate(before) if sheet.kind == "worksheet"]
    retitle(parts, [name for _, name in sheets], [value.name, *(name for place, name in sheets if place not in gone)])


def _unselect(parts: Parts, part: str) -> None:
    """Leave a sheet unselected: with two selected, what is typed into one would go into both."""
    data = parts.read(part) if part in parts else b""
    if b"tabSelected" in data:
        parts.write(part, edited(data, not_selected(data, parse(data, SHALLOW))))


def _without_calculation_chain(parts: Parts) -> None:
    """Take out the order of calculation: cells in it may be formulas no more. Programs make it anew."""
    parts.cut([relation.id for relation in parts.relations(parts.main) if relation.kind == "calcChain"])
