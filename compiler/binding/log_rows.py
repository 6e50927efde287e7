"""Rows of a log -> records: those of the block workbook, and those of log entry workbooks beside it."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from compiler.binding.headers import bind_headers, find_sheet
from compiler.binding.rows import BoundRow, bind_rows
from compiler.flags.catalogue import flag
from compiler.flags.model import Flag, Remark
from compiler.model.log import LogRow, LogWeek
from compiler.schema.sheets import LOG_SHEET
from compiler.schema.sheets.log import BLOCK_START
from compiler.source.cells import SourceBook, SourceSheet

OF_NO_CONCERN = "extra-column"
"""Targets stand beside the entries, and are not the coach's own columns."""


def log_row(row: BoundRow) -> LogRow:
    """Return the record of one row."""
    return LogRow(row=row.row, weeks=tuple(LogWeek(**cells) for cells in row.weekly), **row.plain)


def bind_log(source: SourceBook, weeks: int, start: date | None) -> tuple[tuple[LogRow, ...], tuple[Flag, ...]]:
    """Return the rows of a log entry workbook, placed on a sheet named after the file, and the flags.

    One that was made for a block with another start date is not read.
    """
    sheet, flags = find_sheet(source, LOG_SHEET)
    if sheet is None:
        if not flags:
            remark = Remark(
                "missing-sheet",
                f'{source.name} has no sheet "{LOG_SHEET.name}".',
                'Give the log entry workbook that "programme compile" wrote, filled in.',
            )
            flags = [flag(remark, sheet=source.name)]
        return (), tuple(flags)
    named = _named(sheet, f"{source.name}: {sheet.name}")
    made_for = source.properties.get(BLOCK_START)
    if made_for and start is not None and made_for != start.isoformat():
        remark = Remark(
            "log-matches-nothing",
            f"{source.name} is the log of a block that starts on {made_for}; this one starts on {start.isoformat()}."
            " It was not read.",
            "Give the log of this block.",
        )
        return (), (flag(remark, sheet=named.name),)
    table, flags = bind_headers(named, LOG_SHEET)
    if table is None:
        return (), tuple(flags)
    rows, found = bind_rows(table, weeks)
    told = (one for one in (*flags, *found) if one.slug != OF_NO_CONCERN)
    return tuple(map(log_row, rows)), tuple(told)


def _named(sheet: SourceSheet, name: str) -> SourceSheet:
    """Return a sheet under another name, so that its cells are not taken for those of the block workbook."""
    cells = {at: replace(cell, place=cell.place._replace(sheet=name)) for at, cell in sheet.cells.items()}
    return replace(sheet, name=name, cells=cells)
