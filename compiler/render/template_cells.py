"""A stored cell -> the same cell in a workbook that XlsxWriter makes, with its type and number format."""

from __future__ import annotations

import re
from datetime import date, datetime, time, timedelta

from xlsxwriter.worksheet import Worksheet

from compiler.render.clean import write_string
from compiler.render.formats import Formats, Properties
from compiler.source.cells import CellType, SourceCell

_NOT_IN_XML = re.compile("[\ud800-\udfff\ufffe\uffff]")


def write_text(sheet: Worksheet, formats: Formats, place: tuple[int, int], text: str, look: Properties) -> None:
    """Write a text as a string, never as a formula or a link. `place` is row and column, from 1."""
    write_string(sheet, place[0] - 1, place[1] - 1, storable(text), formats.of(look))


def storable(text: str) -> str:
    """Return what a cell can store of a text of the coach's: all but halves of characters."""
    return _NOT_IN_XML.sub("", text)


def write_cell(sheet: Worksheet, formats: Formats, place: tuple[int, int], cell: SourceCell, look: Properties) -> None:
    """Write a stored cell with its value, type and formula. `look`: how cells of its column are formatted."""
    look = _with_format(cell, look)
    row, column = place[0] - 1, place[1] - 1
    if cell.formula is not None or cell.type is CellType.UNCALCULATED:
        sheet.write_formula(row, column, cell.formula or "", formats.of(look), _result(cell))
        return
    value = cell.value
    if cell.type is CellType.EMPTY or value is None:
        sheet.write_blank(row, column, None, formats.of(look))
    elif cell.type is CellType.TEXT:
        write_text(sheet, formats, place, str(value), look)
    elif cell.type is CellType.ERROR:
        sheet.write_formula(row, column, str(value), formats.of(look), str(value))
    elif isinstance(value, bool):
        sheet.write_boolean(row, column, value, formats.of(look))
    elif isinstance(value, datetime | date | time | timedelta):
        sheet.write_datetime(row, column, value, formats.of(look))
    else:
        sheet.write_number(row, column, float(value), formats.of(look))


def _with_format(cell: SourceCell, look: Properties) -> Properties:
    struck: Properties = {"font_strikeout": True} if cell.struck else {}
    if cell.number_format != "General":
        return {**look, "num_format": cell.number_format, **struck}
    if cell.type in (CellType.TEXT, CellType.EMPTY) and cell.formula is None:
        return {**look, **struck}
    return {**look, "num_format": "yyyy-mm-dd" if cell.type is CellType.DATE else "General", **struck}


def _result(cell: SourceCell) -> str | bool | float:
    """Return the result to store beside a formula; an empty text where it has none yet."""
    value = cell.value
    if cell.type is CellType.UNCALCULATED or value is None:
        return ""
    if isinstance(value, bool):
        return value
    if cell.type in (CellType.TEXT, CellType.ERROR):
        return str(value)
    return float(str(value))
