"""The sheet in front: what to fill in, in which order, and how far it has got.

It is written for the coach and never read. Its table of programmes is also the list that the programme
drop-down of Clients offers: each name once, as it grows.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping

from xlsxwriter.worksheet import Worksheet

from compiler.counting import counted
from compiler.folding import name_key
from compiler.frozen import frozen
from compiler.render.formats import Formats, Properties
from compiler.render.template_columns import PlacedColumn
from compiler.render.template_formats import (
    BODY,
    HEADER_NEEDED,
    HEADER_OPTIONAL,
    INK,
    MEDIUM,
    QUIET,
    ROW_HEIGHT,
    RULED,
    WANTED,
    WRONG,
    height_of,
)
from compiler.render.template_rules import entry_range, growing_list, quoted, spoken
from compiler.schema.column import SheetSpec
from compiler.schema.sheets import CLIENTS, NOT_READ, PROGRAMME, SHEETS

NAME = NOT_READ[0]
MOST_PROGRAMMES = 12
"""How many programmes the table has room for."""

_NUMBER, _WHAT, _SAYS, _NEEDED, _COUNT, _STILL = range(6)
_WIDTHS = (4, 25, 76, 11, 9, 19)
_START_DATE = "start_date"
_NO_START, _NOTHING = "no start date", "nothing"

_MARKS: tuple[tuple[str, Properties, str], ...] = (
    ("Header", HEADER_NEEDED, "Every row needs this column."),
    (
        "Header",
        HEADER_OPTIONAL,
        "May stay blank. Rest the pointer on a header: it says what goes there and gives an example.",
    ),
    ("", {**BODY, **WANTED}, "The row has been started and this cell is still to be filled in."),
    (
        "75",
        {**BODY, **WRONG},
        ("Cannot be read as it stands: a number without % or kg, a name that is not on its sheet, a name given twice."),
    ),
)
_COMMANDS = (
    (
        "programme check",
        ("Followed by the name of this workbook: lists what is wrong or missing, cell by cell, and writes nothing."),
    ),
    (
        "programme compile",
        "The same, and makes the booklets, the room sheets and the summary in a folder beside the workbook.",
    ),
    (
        "programme next",
        "Followed by the name, -o and a new name: next month's workbook, from what the Log says was lifted.",
    ),
)


@frozen
class Told:
    """What the front sheet has to know of the rest of the workbook.

    `columns`, `filled` and `wanted` are by sheet: the columns as they stand, how many rows are filled in so far, how
    many needed cells of rows that have been begun are blank. `programmes` and `followed` list the programme of every
    row of Programme and of Clients. `has_start`: the start date stands on the Block sheet.
    """

    weeks: int
    sessions: int
    short: bool
    columns: Mapping[str, tuple[PlacedColumn, ...]]
    filled: Mapping[str, int]
    wanted: Mapping[str, int]
    has_start: bool
    programmes: tuple[str, ...]
    followed: tuple[str, ...]


class _Page:
    """A sheet written from the top down."""

    def __init__(self, sheet: Worksheet, formats: Formats) -> None:
        self.sheet, self.formats, self.row = sheet, formats, 0

    def heading(self, text: str, *, last: tuple[str, ...] = ()) -> None:
        """Write a heading over the whole width; `last`: what heads the last columns."""
        look = self.formats.of(
            BODY,
            {
                "indent": 0,
                "bold": True,
                "font_size": 13,
                "font_color": INK,
                "bottom": MEDIUM,
                "bottom_color": INK,
            },
        )
        self.row += 1
        for column in range(_NUMBER, _STILL + 1):
            self.sheet.write_blank(self.row, column, None, look)
        self.sheet.write_string(self.row, _NUMBER, text, look)
        for column, words in enumerate(last, start=_STILL + 1 - len(last)):
            small = {"font_size": 10, "valign": "bottom", "font_color": QUIET}
            edge = {"bottom": MEDIUM, "bottom_color": INK}
            side = {"align": "right"} if column == _COUNT else {}
            self.sheet.write_string(self.row, column, words, self.formats.of(BODY, edge, small, side))
        self.sheet.set_row(self.row, 24)
        self.row += 1

    def sentence(self, text: str) -> None:
        look = self.formats.of(BODY, {"text_wrap": True, "indent": 0})
        self.sheet.merge_range(self.row, _NUMBER, self.row, _STILL, "", look)
        self.sheet.write_string(self.row, _NUMBER, text, look)
        self.sheet.set_row(self.row, height_of((text, sum(_WIDTHS))))
        self.row += 1

    def pair(self, title: str, look: Properties, says: str) -> None:
        """Write a title in its own look, and what there is to say about it."""
        if title:
            self.sheet.write_string(self.row, _WHAT, title, self.formats.of(look))
        else:
            self.sheet.write_blank(self.row, _WHAT, None, self.formats.of(look))
        self.sheet.write_string(self.row, _SAYS, says, self.formats.of(BODY, RULED, {"text_wrap": True}))
        self.sheet.set_row(self.row, height_of((says, _WIDTHS[_SAYS])))
        self.row += 1


def write_start(sheet: Worksheet, formats: Formats, told: Told) -> str:
    """Write the sheet and return the formula of the list of programmes, for a defined name."""
    sheet.hide_gridlines(2)
    for column, width in enumerate(_WIDTHS):
        sheet.set_column(column, column, width)
    page = _Page(sheet, formats)
    _title(page, told)
    _order(page, told)
    _marks(page)
    _typing(page, told)
    _afterwards(page)
    programmes = _programmes(page, told)
    sheet.set_paper(9)
    sheet.fit_to_pages(1, 1)
    return programmes


def _title(page: _Page, told: Told) -> None:
    page.sheet.set_row(0, 34)
    page.sheet.write_string(
        0,
        _NUMBER,
        "Block workbook",
        page.formats.of(BODY, {"indent": 0, "bold": True, "font_size": 22, "font_color": INK}),
    )
    page.row = 1
    shape = f"{counted(told.weeks, 'week')}, {counted(told.sessions, 'session')} a week"
    page.sentence(f"Room for {shape}. Fill in the sheets below, save, and compile the booklets from it.")


def _order(page: _Page, told: Told) -> None:
    page.heading("Fill in the sheets in this order", last=("Needed", "Rows", "Still to do"))
    body = {**BODY, **RULED}
    for number, spec in enumerate(SHEETS, start=1):
        says, row = _purpose(spec, told), page.row
        needed = "if wanted" if spec.optional else "yes"
        rows = _counted_cells(spec, told)
        words = {"bold": not spec.optional}
        link = page.formats.of(body, {"bold": True, "underline": 1, "font_color": INK})
        page.sheet.write_number(row, _NUMBER, number, page.formats.of(body, {"align": "center", "indent": 0}))
        page.sheet.write_url(row, _WHAT, f"internal:{quoted(spec.name)}!A1", link, spec.name)
        page.sheet.write_string(row, _SAYS, says, page.formats.of(body, {"text_wrap": True}))
        page.sheet.write_string(row, _NEEDED, needed, page.formats.of(body, words))
        count = page.formats.of(body, {"num_format": "0", "align": "right"})
        page.sheet.write_formula(row, _COUNT, f"={rows}", count, told.filled.get(spec.name, 0))
        formula, result = _still_to_do(spec, told, rows)
        page.sheet.write_formula(row, _STILL, formula, page.formats.of(body, {"bold": True}), result)
        page.sheet.set_row(row, height_of((says, _WIDTHS[_SAYS])))
        page.row += 1
    page.sentence(
        "Still to do counts cells with a dark header that are blank in rows you have begun. What is wrong, and not only"
        " blank, programme check tells."
    )


def _still_to_do(spec: SheetSpec, told: Told, rows: str) -> tuple[str, str]:
    """Return the formula of what is left to fill in on a sheet, in words, and what it comes to now."""
    if spec.settings:
        at = 2 + [column.key for column in spec.columns].index(_START_DATE)
        formula = f'=IF({quoted(spec.name)}!$B${at}="","{_NO_START}","{_NOTHING}")'
        return formula, _NOTHING if told.has_start else _NO_START
    begun, needed = _begun(spec, told)
    ranges = [entry_range(spec.name, at) for at in begun]
    filled = "-".join(f"COUNTA({entry_range(spec.name, at)})" for at in needed)
    any_of = "+".join(f'({cells}<>"")' for cells in ranges)
    blank = f"{len(needed)}*SUMPRODUCT(--({any_of}>0))-{filled}"
    none = "" if spec.optional else "to begin"
    left, now = told.wanted.get(spec.name, 0), told.filled.get(spec.name, 0)
    result = f"{left} blank" if left else _NOTHING if now else none
    return f'=IF({blank}>0,{blank}&" blank",IF({rows}=0,"{none}","{_NOTHING}"))', result


def _begun(spec: SheetSpec, told: Told) -> tuple[list[int], list[int]]:
    """Return the columns by which a row counts as begun, and those that such a row needs."""
    placed = [(p.column, p.at) for p in told.columns[spec.name] if p.column and not p.week]
    return [at for c, at in placed if not c.optional], [at for c, at in placed if c.required]


def _purpose(spec: SheetSpec, told: Told) -> str:
    if spec is not PROGRAMME:
        return spoken(spec.help)
    one = "your session" if told.sessions == 1 else f"each of the {told.sessions} sessions"
    return f"{spoken(spec.help)} Give {one} a name and repeat it in every row of that session."


def _counted_cells(spec: SheetSpec, told: Told) -> str:
    at = 2 if spec.settings else told.columns[spec.name][0].at
    return f"COUNTA({entry_range(spec.name, at)})"


def _programmes(page: _Page, told: Told) -> str:
    page.heading("Programmes so far")
    page.sheet.write_string(page.row, _WHAT, "Name", page.formats.of(HEADER_OPTIONAL))
    page.sheet.write_string(page.row, _SAYS, "Clients who follow it", page.formats.of(HEADER_OPTIONAL))
    page.row += 1
    names: dict[str, str] = {}
    for name in told.programmes:
        names.setdefault(name_key(name), name)
    followed = Counter(name_key(name) for name in told.followed)
    known = list(names.items())[:MOST_PROGRAMMES]
    look = page.formats.of(BODY, RULED)
    left = page.formats.of(BODY, RULED, {"num_format": "0", "align": "left"})
    everything = _range(PROGRAMME, told)
    followers = _range(CLIENTS, told)
    first = page.row + 1
    for number in range(MOST_PROGRAMMES):
        row = page.row + 1
        above = f"$B${first - 1}:$B{row - 1}"
        key, name = known[number] if number < len(known) else ("", "")
        next_new = f'INDEX({everything},MATCH(0,COUNTIF({above},{everything})+({everything}=""),0))'
        page.sheet.write_array_formula(page.row, _WHAT, page.row, _WHAT, f'{{=IFERROR({next_new},"")}}', look, name)
        count = f'=IF($B{row}="","",COUNTIF({followers},"="&$B{row}))'
        page.sheet.write_formula(page.row, _SAYS, count, left, followed[key] if name else "")
        page.sheet.set_row(page.row, ROW_HEIGHT)
        page.row += 1
    return growing_list(NAME, _WHAT + 1, first, page.row)


def _range(spec: SheetSpec, told: Told) -> str:
    """Return the cells of the column that names a programme."""
    at = next(
        placed.at
        for placed in told.columns[spec.name]
        if placed.column and (placed.column.kind.names_of == PROGRAMME.name or (spec is PROGRAMME and placed.at == 1))
    )
    return entry_range(spec.name, at)


def _marks(page: _Page) -> None:
    page.heading("What the marks mean")
    for text, look, says in _MARKS:
        page.pair(text, look, says)
    page.sentence("Drop-downs offer what the other sheets hold so far; what is not on them is questioned, not refused.")


def _typing(page: _Page, told: Told) -> None:
    page.heading("What a week's cells may say")
    cells = [(column.header.format(week=1), column) for column in PROGRAMME.weekly]
    if told.short:
        first = PROGRAMME.weekly[0]
        cells[0] = (first.aliases[0].format(week=1), first)
    for title, column in cells:
        page.pair(title, {**BODY, **RULED, "bold": True}, spoken(column.help))
    page.sentence(
        "Write 8-10, never 8/10: some spreadsheet programs make a date of it. Paste as values, so that the "
        "cells stay Text."
    )


def _afterwards(page: _Page) -> None:
    page.heading("Then")
    for command, says in _COMMANDS:
        page.pair(command, {**BODY, **RULED, "font_name": "Courier New", "bold": True}, says)
