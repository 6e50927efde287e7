"""Markdown tables -> SourceBook, for tests, explain pages and docs; no file is touched.

`## Programme` heads a sheet; the first row of the pipe table under it is row 1, column A its first cell. Cells are
text as typed. Anything else is written in braces:

    {number 75}   {number 0.75 as 0%}   {date 2026-08-10}   {date 46244 as d-mmm}
    {formula =A1*2 gives 5}   {formula =A1 gives "60 kg"}   {formula =A1}   (the last: never calculated)
    {error #N/A}   {truth TRUE}   {struck 60 kg}   {empty}

`as` names a number format. `<br>` is a line break in a cell, a backslash keeps a pipe, a brace or a backslash.
Between heading and table may stand `hidden sheet`, `hidden rows: 3, 4` and `merged: A2:A4, D3:D4`; above the
first heading `dates from 1904`. Any other line outside a table is prose.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field, replace
from datetime import date, datetime, time

from compiler.cellref import CellRef
from compiler.source.cells import CellType, SourceBook, SourceCell, SourceSheet
from compiler.source.formats import GENERAL, ISO_DATE, section_for
from compiler.source.serials import serial_of
from compiler.source.sheet import range_of
from compiler.source.stored import decimal_of

_HEADING = re.compile(r"##\s+(.+)")
_SPLIT = re.compile(r"(?<!\\)\|")
_RULE = re.compile(r":?-{3,}:?")
_BRACED = re.compile(r"\{(\w+)(?:\s+(.*))?\}", re.DOTALL)
_AS = re.compile(r"(.*?)\s+as\s+(.+)", re.DOTALL)
_GIVES = re.compile(r"(=.*?)\s+gives\s+(.*)", re.DOTALL)
_UNESCAPED = re.compile(r"\\([|{}\\])")
_HIDDEN_ROWS = re.compile(r"hidden rows:\s*([0-9, ]+)", re.IGNORECASE)
_MERGED = re.compile(r"merged:\s*(.+)", re.IGNORECASE)


class GridError(ValueError):
    """A grid that is not written as the module says: a mistake of ours, not of a coach."""


@dataclass(slots=True)
class _Draft:
    name: str
    rows: list[list[str]] = field(default_factory=list)
    hidden: bool = False
    hidden_rows: frozenset[int] = frozenset()
    merges: tuple[tuple[int, int, int, int], ...] = ()


def book_from_grid(text: str, name: str = "book") -> SourceBook:
    """Return the workbook that a text of headings and pipe tables stands for."""
    date_1904 = False
    drafts: list[_Draft] = []
    for line in text.splitlines():
        stripped = line.strip()
        heading = _HEADING.fullmatch(stripped)
        if heading:
            drafts.append(_Draft(heading[1].strip()))
        elif stripped.casefold() == "dates from 1904":
            date_1904 = True
        elif drafts:
            _take(drafts[-1], stripped)
    sheets = tuple(_sheet(draft, date_1904=date_1904) for draft in drafts)
    return SourceBook(name, sheets, date_1904)


def _take(draft: _Draft, line: str) -> None:
    """Take one line under a heading: a row of the table, a property of the sheet, or prose."""
    if line.startswith("|"):
        cells = [cell.strip() for cell in _SPLIT.split(line)[1:-1]]
        if not all(_RULE.fullmatch(cell) for cell in cells):
            draft.rows.append(cells)
    elif line.casefold() == "hidden sheet":
        draft.hidden = True
    elif found := _HIDDEN_ROWS.fullmatch(line):
        draft.hidden_rows = frozenset(int(number) for number in found[1].replace(",", " ").split())
    elif found := _MERGED.fullmatch(line):
        ranges = [range_of(part.strip()) for part in found[1].split(",")]
        draft.merges = tuple(merge for merge in ranges if merge)


def _sheet(draft: _Draft, *, date_1904: bool) -> SourceSheet:
    cells: dict[tuple[int, int], SourceCell] = {}
    for row, texts in enumerate(draft.rows, start=1):
        for column, text in enumerate(texts, start=1):
            if text:
                place = CellRef(draft.name, row, column)
                cells[row, column] = cell_from_text(text, place, date_1904=date_1904)
    return SourceSheet(draft.name, cells, draft.hidden, draft.hidden_rows, draft.merges)


def cell_from_text(text: str, place: CellRef, *, date_1904: bool = False) -> SourceCell:
    """Return the cell that one entry of a grid stands for."""
    return replace(_cell(text, place, date_1904=date_1904), serial_epoch_1904=date_1904)


def _cell(text: str, place: CellRef, *, date_1904: bool) -> SourceCell:
    braced = _BRACED.fullmatch(text)
    if not braced:
        return SourceCell(place, _plain(text), CellType.TEXT)
    word, rest = braced[1], braced[2] or ""
    match word:
        case "number" | "date":
            return _number(place, rest, date_1904=date_1904)
        case "formula":
            return _formula(place, rest, date_1904=date_1904)
        case "error":
            return SourceCell(place, rest, CellType.ERROR)
        case "truth":
            return SourceCell(place, rest == "TRUE", CellType.TRUTH)
        case "struck":
            return SourceCell(place, _plain(rest), CellType.TEXT, struck=True)
        case "empty":
            return SourceCell(place, None, CellType.EMPTY)
    raise GridError(f"{place}: no such entry: {text}")


def _plain(text: str) -> str:
    return _UNESCAPED.sub(r"\1", text.replace("<br>", "\n"))


def _number(place: CellRef, rest: str, *, date_1904: bool) -> SourceCell:
    found = _AS.fullmatch(rest)
    digits, code = (found[1], _plain(found[2])) if found else (rest, "")
    value = decimal_of(digits)
    if value is None:
        try:
            day = date.fromisoformat(digits)
        except ValueError as wrong:
            raise GridError(f"{place}: not a number or an ISO date: {digits}") from wrong
        value = serial_of(datetime.combine(day, time()), epoch_1904=date_1904)
        code = code or ISO_DATE
    code = code or GENERAL
    kind = CellType.DATE if section_for(code, value).is_date else CellType.NUMBER
    return SourceCell(place, value, kind, code)


def _formula(place: CellRef, rest: str, *, date_1904: bool) -> SourceCell:
    found = _GIVES.fullmatch(rest)
    if not found:
        return SourceCell(place, None, CellType.UNCALCULATED, formula=_plain(rest))
    formula, result = _plain(found[1]), found[2]
    if result.startswith("#"):
        cell = SourceCell(place, result, CellType.ERROR)
    elif result in {"TRUE", "FALSE"}:
        cell = SourceCell(place, result == "TRUE", CellType.TRUTH)
    elif result.startswith('"'):
        cell = SourceCell(place, _plain(result.strip('"')), CellType.TEXT)
    else:
        cell = _number(place, result, date_1904=date_1904)
    return replace(cell, formula=formula)
