"""The log entry workbook -> bytes. Made for typing fast: the names stay in sight, every cell takes what is typed.

Nothing is protected, nothing is offered in a list. Targets are told from entries by their letters and a box, not by
a tone, so that the sheet prints on any printer. Equal values give equal bytes.
"""

from __future__ import annotations

from dataclasses import dataclass
from io import BytesIO
from itertools import product

from xlsxwriter import Workbook
from xlsxwriter.format import Format
from xlsxwriter.worksheet import Worksheet

from compiler.documents.log_entry import LogEntry, LogEntryRow
from compiler.render.clean import clean_text
from compiler.render.formats import Formats, Properties
from compiler.render.sheets import CREATED, LONGEST_HEADER, PAPERS
from compiler.render.template_cells import write_looking, write_text
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
    stream = BytesIO()
    book = Workbook(stream, {"in_memory": True})
    book.set_properties({"title": "Log", "created": CREATED})
    if entry.start is not None:
        book.set_custom_property(BLOCK_START, entry.start.isoformat())
    formats = Formats(book)
    looks = {kind: _looks(formats, *kind) for kind in product((False, True), repeat=2)}
    sheet = book.add_worksheet(LOG_SHEET.name)
    _write_heads(sheet, formats, entry.weeks)
    before: LogEntryRow | None = None
    for number, row in enumerate(entry.rows, start=2):
        new = before is not None and before.client != row.client
        _write_row(sheet, number, row, looks[not row.exercise, new])
        before = row
    _set_up(sheet, entry)
    book.close()
    return stream.getvalue()


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


@dataclass(frozen=True, slots=True)
class _Looks:
    """The formats of one kind of row."""

    name: Format
    target: Format
    entry: Format
    no_entry: Format
    date: Format
    no_date: Format


def _looks(formats: Formats, whole: bool, new: bool) -> _Looks:
    """Return the formats of a session's own row or an exercise's, the first of a client or not."""
    edge = _NEW_CLIENT if new else {}
    look = {**(_SESSION if whole else {}), **edge}
    return _Looks(
        name=formats.of({**_NAME, **look}),
        target=formats.of({**_TARGET, **edge}),
        entry=formats.of({**_ENTRY, **look}),
        no_entry=formats.of({**_NAME, **look}),
        date=formats.of({**_DATE, **edge}),
        no_date=formats.of({**_NAME, **edge}),
    )


def _write_row(sheet: Worksheet, number: int, row: LogEntryRow, looks: _Looks) -> None:
    for at, text in enumerate((row.client, row.session, row.order, row.exercise), start=1):
        write_looking(sheet, (number, at), text, looks.name)
    weeks = len(row.targets)
    for week, target in enumerate(row.targets, start=1):
        at = _target_column(week)
        write_looking(sheet, (number, at), target or NOT_PLANNED, looks.target)
        sheet.write_blank(number - 1, at, None, looks.entry if target else looks.no_entry)
        dated = not row.exercise and target is not None
        sheet.write_blank(number - 1, _date_column(weeks, week) - 1, None, looks.date if dated else looks.no_date)


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
