"""How the sheets of a block workbook are printed: landscape, headers on every page, forms that fill their pages.

A coach may print the empty form to write on. Its ruled rows are as many as fill whole pages, for a second page with
three rows on it is paper thrown away; what is typed below them is printed just the same.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil

from xlsxwriter.worksheet import Worksheet

from compiler.render.template_columns import PlacedColumn
from compiler.render.template_formats import HEADER_HEIGHT, ROW_HEIGHT
from compiler.schema.column import SheetSpec

_A4 = 9
_A4_WIDE, _A4_HIGH = 841.9, 595.3  # points, landscape
_SIDE, _END = 0.5, 0.6  # inches
_INCH = 72.0
_WIDEST_PAGE = 250
"""Characters across a printed landscape page that can still be read."""
_CHARACTER, _CHARACTER_EDGE = 5.25, 3.75
"""Points of a column's width a character, and besides: 7 and 5 pixels for Calibri 11, as the file format counts."""
_LEFT_OVER = 2
"""Rows that stay free at the foot: programs round heights and scales, each in its own way."""
_PAGES_OF_SETTINGS = 2


def pages_across(columns: Sequence[PlacedColumn]) -> int:
    """Return how many pages side by side the columns need to be read."""
    return max(1, ceil(sum(placed.width for placed in columns) / _WIDEST_PAGE))


def rows_of_form(rows: int, spec: SheetSpec, columns: Sequence[PlacedColumn]) -> int:
    """Return about `rows` rows, so many that the printed form fills its pages; fewer than a page stay as they are."""
    across = pages_across(columns)
    repeated = sum(map(_points, columns[: columns_kept(spec, columns)])) if across > 1 else 0.0
    wide = sum(map(_points, columns)) + (across - 1) * repeated
    scale = min(1.0, across * (_A4_WIDE - 2 * _SIDE * _INCH) / wide)
    high = (_A4_HIGH - 2 * _END * _INCH) / scale
    a_page = int((high - HEADER_HEIGHT) / ROW_HEIGHT) - _LEFT_OVER
    return rows if rows <= a_page else a_page * max(1, round(rows / a_page))


def _points(placed: PlacedColumn) -> float:
    return placed.width * _CHARACTER + _CHARACTER_EDGE


def columns_kept(spec: SheetSpec, columns: Sequence[PlacedColumn]) -> int:
    """Return how many columns stay in view: a week means little without its exercise."""
    if not spec.weekly:
        return 1
    return max(placed.at for placed in columns if placed.column and placed.column.required and not placed.week)


def set_up_page(sheet: Worksheet, spec: SheetSpec, columns: Sequence[PlacedColumn]) -> None:
    """Set how a sheet is printed. As many pages down as there are rows, but for the settings, whose rows are known."""
    sheet.set_landscape()
    sheet.set_paper(_A4)
    sheet.set_margins(left=_SIDE, right=_SIDE, top=_END, bottom=_END)
    sheet.repeat_rows(0)
    across = pages_across(columns)
    sheet.fit_to_pages(across, _PAGES_OF_SETTINGS if spec.settings else 0)
    if across > 1:
        sheet.repeat_columns(0, columns_kept(spec, columns) - 1)
    sheet.set_footer("&L&A&RPage &P of &N")
