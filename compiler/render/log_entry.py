"""The log entry workbook -> bytes. Made for typing fast: the names stay in sight, every cell takes what is typed.

Nothing is protected, nothing is offered in a list. Targets are told from entries by their letters and a box, not by
a tone, so that the sheet prints on any printer. Equal values give equal bytes.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product

from xlsxwriter.format import Format
from xlsxwriter.worksheet import Worksheet

from compiler.documents.log_entry import LogEntry, LogEntryRow
from compiler.render.clean import clean_text
from compiler.render.formats import Formats, Properties
from compiler.render.sheet_rows import RowBook, SheetRows, letters
from compiler.render.sheets import CREATED, LONGEST_HEADER, PAPERS
from compiler.render.template_cells import storable, write_text
from compiler.render.template_formats import BODY, HAIR, HEADER_HEIGHT, MEDIUM, ROW_HEIGHT, THIN
from compiler.render.template_rules import note, note_size
from compiler.schema.column import weekly_header
from compiler.schema.sheets import LOG_SHEET
from compiler.schema.sheets.log import BLOCK_START

NAMES = 4
_NAME_WIDTHS = (22, 18, 7, 30)
_TARGET_WIDTH, _ENTRY_WIDTH, _DATE_WIDTH = 18, 20, 12
_HEAD: Properties = {**BODY, "bold": True, "text_wrap": True, "bottom": MEDIUM, "num_format": "@"}
_NAME: Properties = {**BODY, "bottom": HAIR, "shrink": True, "num_format": "@"}
_TARGET: Properties = {**_NAME, "font_size": 10, "italic": True, "align": "right", "left": MEDIUM}
_ENTRY: Properties = {**BODY, "border": THIN, "num_format": "@"}
_DATE: Properties = {**_ENTRY, "num_format": "yyyy-mm-dd"}
_NEW_CLIENT: Properties = {"top": MEDIUM}
_SESSION: Properties = {"bold": True, "top": THIN}
TARGET_NOTE = "What the booklet says. Not read; leave it as it is.\nExample: 4 × 5 @ 95 kg"
NOT_PLANNED = "–"


def render_log_entry(entry: LogEntry) -> bytes:
    """Return the workbook."""
    made = RowBook()
    book = made.book
    book.set_properties({"title": "Log", "created": CREATED})
    if entry.start is not None:
        book.set_custom_property(BLOCK_START, entry.start.isoformat())
    formats = Formats(book)
    sheet = book.add_worksheet(LOG_SHEET.name)
    _write_heads(sheet, formats, entry.weeks)
    rows = made.rows_of(sheet)
    kinds = {kind: _Cells(rows, formats, entry.weeks, *kind) for kind in product((False, True), repeat=2)}
    before: LogEntryRow | None = None
    for number, row in enumerate(entry.rows, start=1):
        new = before is not None and before.client != row.client
        rows.add(number, kinds[not row.exercise, new].of(row), ROW_HEIGHT)
        before = row
    _set_up(sheet, entry)
    return made.close()


def _target_column(week: int) -> int:
    return NAMES + 2 * week - 1


def _date_column(weeks: int, week: int) -> int:
    return NAMES + 2 * weeks + week


def _write_heads(sheet: Worksheet, formats: Formats, weeks: int) -> None:
    sheet.set_default_row(ROW_HEIGHT)
    sheet.set_row(0, HEADER_HEIGHT)
    done, day = LOG_SHEET.column("done"), LOG_SHEET.column("date")
    for at, (column, width) in enumerate(zip(LOG_SHEET.columns, _NAME_WIDTHS, strict=True), start=1):
        _head(sheet, formats, at, column.header, width, note(column))
    for week in range(1, weeks + 1):
        at = _target_column(week)
        _head(sheet, formats, at, f"Week {week} target", _TARGET_WIDTH, TARGET_NOTE)
        _head(sheet, formats, at + 1, weekly_header(done, week), _ENTRY_WIDTH, note(done))
        _head(sheet, formats, _date_column(weeks, week), weekly_header(day, week), _DATE_WIDTH, note(day))


def _head(sheet: Worksheet, formats: Formats, at: int, text: str, width: int, says: str) -> None:
    sheet.set_column(at - 1, at - 1, width, formats.of({**BODY, "num_format": "@"}))
    write_text(sheet, formats, (1, at), text, _HEAD)
    sheet.write_comment(0, at - 1, says, note_size(says))


class _Cells:
    """What the cells are of one kind of row: a session's own or an exercise's, the first of a client or not.

    Texts are made once: a client's name, a session and a target are those of many rows.
    """

    def __init__(self, rows: SheetRows, formats: Formats, weeks: int, whole: bool, new: bool) -> None:
        edge = _NEW_CLIENT if new else {}
        look = {**(_SESSION if whole else {}), **edge}
        self._rows = rows
        self._name, self._target = formats.of({**_NAME, **look}), formats.of({**_TARGET, **edge})
        self._names: dict[str, str] = {}
        self._targets: dict[str, str] = {}
        self._letters = [letters(column) for column in range(_date_column(weeks, weeks))]
        self._entry, self._no_entry = rows.blank(formats.of({**_ENTRY, **look})), rows.blank(self._name)
        no_date = rows.blank(formats.of({**_NAME, **edge}))
        self._date = rows.blank(formats.of({**_DATE, **edge})) if whole else no_date
        self._no_date = no_date

    def of(self, row: LogEntryRow) -> Iterator[tuple[str, str]]:
        """Return the cells of a row, each with the letters of its column."""
        names = row.client, row.session, row.order, row.exercise
        made = [self._text(self._names, name, self._name) for name in names]
        for target in row.targets:
            made.append(self._text(self._targets, target or NOT_PLANNED, self._target))
            made.append(self._entry if target else self._no_entry)
        made += [self._no_date if target is None else self._date for target in row.targets]
        return zip(self._letters, made, strict=True)

    def _text(self, known: dict[str, str], text: str, look: Format) -> str:
        made = known.get(text)
        if made is None:
            made = known[text] = self._rows.text(storable(text), look)
        return made


def _set_up(sheet: Worksheet, entry: LogEntry) -> None:
    """Set what stays in view and how the sheet is printed: landscape, names and heads on every page."""
    sheet.hide_gridlines(2)
    sheet.freeze_panes(1, NAMES)
    sheet.set_selection(1, NAMES + 1, 1, NAMES + 1)
    sheet.set_landscape()
    sheet.set_paper(PAPERS.get(entry.paper, PAPERS["A4"]))
    sheet.set_margins(left=0.4, right=0.4, top=0.75, bottom=0.6)
    last = NAMES + 2 * entry.weeks - 1
    sheet.print_area(0, 0, max(len(entry.rows), 1), last)
    sheet.fit_to_pages(1, 0)
    sheet.repeat_rows(0)
    title = clean_text(entry.title).replace("\n", " ")[:LONGEST_HEADER].replace("&", "&&")
    sheet.set_header(f"&L{title}")
    sheet.set_footer("&L&A&RPage &P of &N")
    sheet.ignore_errors({"number_stored_as_text": "A1:XFD1048576", "two_digit_text_year": "A1:XFD1048576"})
