"""Where everything of a block workbook stands: the columns of its sheets, and the cells to fill in.

In: the declaration of a sheet and, if the workbook is to be filled, the rows as they were written elsewhere.
Cells go under the header that means the same; a column that the declaration does not know is kept at the end.
"""

from __future__ import annotations

from dataclasses import field

from compiler.binding.headers import bind_headers
from compiler.folding import header_key
from compiler.frozen import frozen
from compiler.notation.weeks import LAST_WEEK
from compiler.schema.column import Column, SheetSpec, weekly_header
from compiler.source.cells import SourceBook, SourceCell, SourceSheet

OWN_WIDTH = 16
WHOLE_WIDTH = 20
"""Characters of a column of the coach's own, and of one for prescriptions such as 3 x 8-10 @ 75%, stop at RPE 8."""


@frozen
class Filling:
    """The rows to fill in on one sheet.

    `headers` and `rows` are by column of the source; rows are numbered as they will stand, the first under
    the header being 2.
    """

    headers: dict[int, str] = field(default_factory=dict)
    rows: dict[int, dict[int, SourceCell]] = field(default_factory=dict)
    merges: tuple[tuple[int, int, int, int], ...] = ()
    hidden_rows: frozenset[int] = frozenset()
    hidden: bool = False

    @property
    def last_row(self) -> int:
        """The last row that holds anything; 1 where there is none."""
        return max(self.rows, default=1)


@frozen
class PlacedColumn:
    """One column: its position from 1, its header, and what it is; `column` is None for the coach's own.

    `week` is 0 where the column is not weekly. `opens_week` marks the first column of a week. `source` is
    the column of the filling that goes here. `whole`: a whole prescription is typed into it.
    """

    at: int
    header: str
    column: Column | None
    week: int = 0
    opens_week: bool = False
    source: int | None = None
    whole: bool = False

    @property
    def width(self) -> int:
        """How wide the column is, in characters."""
        if self.column is None:
            return OWN_WIDTH
        return WHOLE_WIDTH if self.whole else self.column.width


def filling_of(spec: SheetSpec, book: SourceBook | None) -> Filling:
    """Return what a filled workbook has for a sheet; nothing where it lacks the sheet."""
    names = {header_key(name) for name in (spec.name, *spec.aliases)}
    sheet = next((s for s in book.sheets if header_key(s.name) in names), None) if book else None
    if sheet is None or not sheet.cells:
        return Filling()
    table = None if spec.settings else bind_headers(sheet, spec)[0]
    return _filling(sheet, table.header_row if table else min(row for row, _ in sheet.cells))


def _filling(sheet: SourceSheet, header_row: int) -> Filling:
    up = header_row - 1
    rows = dict(sheet.rows())
    headers = {at: str(cell.value) for at, cell in rows.get(header_row, {}).items() if not cell.blank}
    return Filling(
        headers,
        {number - up: cells for number, cells in rows.items() if number > header_row},
        tuple((top - up, left, bottom - up, right) for top, left, bottom, right in sheet.merges if top > header_row),
        frozenset(number - up for number in sheet.hidden_rows if number > header_row),
        sheet.hidden,
    )


def placed_columns(spec: SheetSpec, weeks: int, *, short: bool, filling: Filling) -> tuple[PlacedColumn, ...]:
    """Return the columns of a sheet in order.

    A weekly column that only overrides one of the row (a week's own rest) stands there if the filling has it.
    `short`: one column a week, into which the whole prescription is typed.
    """
    sources, own = sources_of(spec, filling)
    placed = [
        PlacedColumn(at, column.header, column, source=sources.get((column.key, 0)))
        for at, column in enumerate(spec.columns, start=1)
    ]
    row_keys = {column.key for column in spec.columns}
    for week in range(1, max([weeks, *(week for _, week in sources)]) + 1):
        for number, column in enumerate(spec.weekly):
            source = sources.get((column.key, week))
            usual = number == 0 or not (short or column.key in row_keys)
            if usual or source:
                header = _weekly_header(column, week, short=short)
                whole = short and bool(column.aliases)
                placed.append(PlacedColumn(len(placed) + 1, header, column, week, number == 0, source, whole))
    for source in own:
        placed.append(PlacedColumn(len(placed) + 1, filling.headers[source], None, source=source))
    return tuple(placed)


def _weekly_header(column: Column, week: int, *, short: bool) -> str:
    if short and column.aliases:
        return column.aliases[0].format(week=week)
    return weekly_header(column, week)


def sources_of(spec: SheetSpec, filling: Filling) -> tuple[dict[tuple[str, int], int], list[int]]:
    """Return source columns by what they mean, and those that mean nothing here or mean it a second time."""
    meanings: dict[str, tuple[str, int]] = {}
    for column in spec.columns:
        for name in (column.header, *column.aliases):
            meanings.setdefault(header_key(name), (column.key, 0))
    for column in spec.weekly:
        for week in range(1, LAST_WEEK + 1):
            for name in (column.header, *column.aliases):
                meanings.setdefault(header_key(name.format(week=week)), (column.key, week))
    sources: dict[tuple[str, int], int] = {}
    own: list[int] = []
    for position, text in sorted(filling.headers.items()):
        meaning = meanings.get(header_key(text))
        if meaning is None or meaning in sources:
            own.append(position)
        else:
            sources[meaning] = position
    return sources, own
