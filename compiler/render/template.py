"""The declaration of the sheets -> a block workbook, empty or filled in. In: numbers and rows. Out: bytes.

The same input gives the same bytes. Every text that comes from elsewhere is written as a string.
"""

from __future__ import annotations

from datetime import UTC, datetime
from io import BytesIO

from xlsxwriter import Workbook
from xlsxwriter.worksheet import Worksheet

from compiler.render.formats import Formats
from compiler.render.template_block import has_value, write_block
from compiler.render.template_cells import write_text
from compiler.render.template_columns import Filling, PlacedColumn, filling_of, placed_columns
from compiler.render.template_fill import fill_table, write_own_sheets
from compiler.render.template_formats import (
    HEADER_HEIGHT,
    INK,
    ROW_HEIGHT,
    RULE,
    RULED,
    WANTED,
    WEEK_EDGE,
    WRONG,
    entry,
    header,
)
from compiler.render.template_print import columns_kept, rows_of_form, set_up_page
from compiler.render.template_rules import (
    FIRST_ROW,
    LAST_ROW,
    column_name,
    drop_down,
    entry_range,
    growing_list,
    list_name,
    marks,
    note,
    note_size,
    unique_column,
)
from compiler.render.template_start import NAME as START_HERE
from compiler.render.template_start import Told, write_start
from compiler.schema.column import SheetSpec
from compiler.schema.sheets import BLOCK, FORMAT_VERSION, PROGRAMME, SHEETS, VERSION_PROPERTY
from compiler.source.cells import SourceBook, SourceCell

VERSION_NAME = "Block_workbook_version"
"""The defined name that carries the format version, for programs that drop document properties."""

_MADE = datetime(2026, 1, 1, tzinfo=UTC).replace(tzinfo=None)  # fixed, so that the same call gives the same file
_ROWS_A_SESSION = 14
_ROWS = {
    "Exercises": 60,
    "Clients": 40,
    "Tests": 60,
    "Restrictions": 12,
    "Changes": 24,
    "Sites": 6,
    "Kit": 30,
}
"""About so many rows are drawn as a form. Every row below them takes entries just the same."""
_OTHER_ROWS = 40
_SPARE_ROWS = 8


def render_template(weeks: int, sessions: int, short: bool = False, fill: SourceBook | None = None) -> bytes:
    """Return a block workbook with room for `weeks` weeks of `sessions` sessions; `short`: one column a week.

    `fill`: rows to write under the headers that mean the same, at their places, with their types, formulas,
    merges and hidden rows. Sheets of it that the declaration does not know are added at the end as they are.
    """
    buffer = BytesIO()
    book = Workbook(buffer, {"in_memory": True, "date_1904": bool(fill and fill.date_1904)})
    book.calc_on_load = False  # every stored result is right, and one that a filling stores must be believed
    book.set_properties({"title": "Block workbook", "author": "", "created": _MADE})
    book.set_custom_property(VERSION_PROPERTY, str(FORMAT_VERSION))
    book.define_name(VERSION_NAME, f"={FORMAT_VERSION}")
    formats = Formats(book)
    front = book.add_worksheet(START_HERE)
    front.set_tab_color(INK)
    told = _write_sheets(book, formats, weeks, sessions, short=short, fill=fill)
    programmes = write_start(front, formats, told)
    _define_lists(book, programmes, told)
    write_own_sheets(book, formats, fill)
    front.activate()
    book.close()
    return buffer.getvalue()


def _write_sheets(
    book: Workbook, formats: Formats, weeks: int, sessions: int, *, short: bool, fill: SourceBook | None
) -> Told:
    columns: dict[str, tuple[PlacedColumn, ...]] = {}
    filled: dict[str, int] = {}
    wanted: dict[str, int] = {}
    fillings: dict[str, Filling] = {}
    for spec in SHEETS:
        filling = fillings[spec.name] = filling_of(spec, fill)
        sheet = book.add_worksheet(spec.name)
        sheet.set_tab_color(RULE if spec.optional else INK)
        if spec.settings:
            filled[spec.name] = write_block(sheet, formats, spec, weeks, filling)
            columns[spec.name] = ()
        else:
            columns[spec.name] = placed_columns(spec, weeks, short=short, filling=filling)
            form = rows_of_form(_rows(spec, sessions), spec, columns[spec.name])
            rows = max(form, filling.last_row - 1 + (_SPARE_ROWS if filling.rows else 0))
            _write_table(sheet, formats, spec, columns[spec.name], rows)
            fill_table(sheet, formats, columns[spec.name], filling)
            filled[spec.name] = len(_texts(columns[spec.name][0], filling))
            wanted[spec.name] = _blank_and_needed(columns[spec.name], filling)
        _set_up_view(sheet, spec, columns[spec.name])
        set_up_page(sheet, spec, columns[spec.name])
    programmes = _texts(columns[PROGRAMME.name][0], fillings[PROGRAMME.name])
    followed = [
        text
        for name, placed in ((name, p) for name, some in columns.items() for p in some)
        if placed.column and placed.column.kind.names_of == PROGRAMME.name
        for text in _texts(placed, fillings[name])
    ]
    has_start = has_value(BLOCK, fillings[BLOCK.name], "start_date")
    return Told(weeks, sessions, short, columns, filled, wanted, has_start, tuple(programmes), tuple(followed))


def _blank_and_needed(columns: tuple[PlacedColumn, ...], filling: Filling) -> int:
    """Return how many needed cells are blank in rows that have been begun."""
    usual = [p for p in columns if p.column and not p.week and not p.column.optional]

    def filled(row: dict[int, SourceCell], placed: PlacedColumn) -> bool:
        return placed.source in row and not row[placed.source].blank

    begun = [row for row in filling.rows.values() if any(filled(row, placed) for placed in usual)]
    return sum(1 for row in begun for p in usual if p.column and p.column.required and not filled(row, p))


def _rows(spec: SheetSpec, sessions: int) -> int:
    return sessions * _ROWS_A_SESSION if spec is PROGRAMME else _ROWS.get(spec.name, _OTHER_ROWS)


def _texts(placed: PlacedColumn, filling: Filling) -> list[str]:
    cells = [row[placed.source] for row in filling.rows.values() if placed.source in row] if placed.source else []
    return [str(cell.value) for cell in cells if not cell.blank]


def _write_table(
    sheet: Worksheet, formats: Formats, spec: SheetSpec, columns: tuple[PlacedColumn, ...], rows: int
) -> None:
    """Write headers, formats, drop-downs, marks and the ruled rows of a sheet."""
    sheet.set_default_row(ROW_HEIGHT)
    sheet.set_row(0, HEADER_HEIGHT)
    unique = unique_column(spec)
    for placed in columns:
        column, at = placed.column, placed.at - 1
        edge = WEEK_EDGE if placed.opens_week else {}
        sheet.set_column(at, at, placed.width, formats.of(entry(column)))
        write_text(sheet, formats, (1, placed.at), placed.header, {**header(column), **edge})
        ruled = formats.of(entry(column), RULED, edge)
        for row in range(1, rows + 1):
            sheet.write_blank(row, at, None, ruled)
        if column is None:
            continue
        text = note(column)
        sheet.write_comment(0, at, text, note_size(text))
        offered = drop_down(column)
        if offered:
            sheet.data_validation(FIRST_ROW - 1, at, LAST_ROW - 1, at, offered)
        wanted, wrong = marks(placed, columns, unique=column is unique)
        for formula, look in [*((f, WANTED) for f in wanted), *((f, WRONG) for f in wrong)]:
            rule = {"type": "formula", "criteria": formula, "format": formats.of(look)}
            sheet.conditional_format(FIRST_ROW - 1, at, LAST_ROW - 1, at, rule)


def _set_up_view(sheet: Worksheet, spec: SheetSpec, columns: tuple[PlacedColumn, ...]) -> None:
    """Set what stays in view, where typing begins, and what is no mistake though a program may take it for one."""
    sheet.freeze_panes(1, columns_kept(spec, columns))
    first = 1 if spec.settings else 0  # of a setting the value is typed
    sheet.set_selection(1, first, 1, first)
    sheet.ignore_errors({"number_stored_as_text": f"A1:XFD{LAST_ROW}", "two_digit_text_year": f"A1:XFD{LAST_ROW}"})


def _define_lists(book: Workbook, programmes: str, told: Told) -> None:
    """Define the names behind drop-downs and marks, for every sheet whose names another one takes."""
    wanted = {p.column.kind.names_of for some in told.columns.values() for p in some if p.column}
    for spec in SHEETS:
        if spec.name in wanted:
            at = told.columns[spec.name][0].at
            book.define_name(list_name(spec.name), programmes if spec is PROGRAMME else growing_list(spec.name, at))
            book.define_name(column_name(spec.name), f"={entry_range(spec.name, at)}")
