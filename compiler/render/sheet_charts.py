"""Charts of a neutral sheet -> native charts of the workbook, to the right of the columns, two abreast.

They are drawn in black and greys, so that they survive a black-and-white printer. A line runs over true dates. The
columns are printed first, then the charts.
"""

from __future__ import annotations

import re
from datetime import date
from itertools import product
from typing import Any

from xlsxwriter.format import Format
from xlsxwriter.utility import xl_range_abs
from xlsxwriter.workbook import Workbook
from xlsxwriter.worksheet import Worksheet

from compiler.documents.neutral import (
    HEADINGS_ROW,
    Cell,
    Cells,
    Chart,
    ChartKind,
    ColumnKind,
    Formula,
    Series,
    Sheet,
)
from compiler.render.clean import clean_text, write_text
from compiler.render.numbers import serial, stored

DOTS = 96
"""Dots in an inch, as workbooks measure columns and charts."""

CHART_WIDTH, CHART_HEIGHT = 464, 264
ROWS_A_CHART = 14
"""Rows of 20 dots from the head of one chart to the head of the next below."""
ROW_HEIGHT = 20
ABREAST = 2
COLUMN_WIDTH = 64
COLUMNS_A_CHART = 8

PAGE_INCHES = {"A4": (11.69, 8.27), "Letter": (11.0, 8.5)}
SIDES, HEADS = 0.8, 1.35
"""Inches taken by the margins of a page: left and right, top and bottom."""
HEADING_ROW = 0.85
"""Inches above the charts of the first page: headings of three lines, and an empty row."""

_AS_IF_CELL = re.compile(r"!(?=\$?[A-Za-z])")

MARKERS = ("circle", "square", "triangle", "diamond")
SHADES = ("#262626", "#8C8C8C", "#595959", "#BFBFBF", "#404040", "#A6A6A6")
DARKEST, LIGHTEST = 0x26, 0xE6
"""Of the columns of one chart: the last series is the darkest."""
AXIS_FONT: dict[str, Any] = {"size": 9, "bold": False}
THIN: dict[str, Any] = {"color": "#BFBFBF", "width": 0.5}


def print_areas(sheet: Sheet) -> tuple[str, ...]:
    """Return the two areas of a sheet with charts: its columns, and the charts under their note."""
    left = _left(sheet)
    name = f"'{sheet.name}'!"
    columns = xl_range_abs(0, 0, len(sheet.rows), len(sheet.headings) - 1)
    charts = xl_range_abs(0, left, _top(_down(sheet)), left + ABREAST * COLUMNS_A_CHART - 1)
    return name + columns, name + charts


def chart_page_breaks(sheet: Sheet) -> list[int]:
    """Return the rows before which a page ends, so that none ends in the middle of a chart.

    Some programs fit the charts to the width of a page by themselves, others make them smaller with the columns: what
    fits at the larger scale fits at both.
    """
    width, height = PAGE_INCHES.get(sheet.paper, PAGE_INCHES["A4"])
    charts = ABREAST * COLUMNS_A_CHART * COLUMN_WIDTH / DOTS
    scale = min(1.0, (width - SIDES) / charts)
    a_page = max(1, int(((height - HEADS) / scale - HEADING_ROW) * DOTS / (ROWS_A_CHART * ROW_HEIGHT)))
    return [_top(row) - 1 for row in range(a_page, _down(sheet), a_page)]


def add_charts(book: Workbook, page: Worksheet, sheet: Sheet, note: Format) -> None:
    """Draw the charts of a sheet whose cells are written, under their note."""
    if not sheet.charts:
        return
    left = _left(sheet)
    write_text(page, 0, left, sheet.charts_note, note)
    for number, chart in enumerate(sheet.charts):
        drawn = _draw(book, sheet, chart)
        column = left + number % ABREAST * COLUMNS_A_CHART
        page.insert_chart(_top(number // ABREAST), column, drawn, {"object_position": 3})


def _left(sheet: Sheet) -> int:
    return len(sheet.headings) + 1


def _down(sheet: Sheet) -> int:
    """Return how many charts stand one below the other."""
    return -(-len(sheet.charts) // ABREAST)


def _top(row: int) -> int:
    return 2 + row * ROWS_A_CHART


def _words(text: str) -> str:
    """Return a text that XlsxWriter does not take for a reference: it does so wherever a cell follows a `!`."""
    return _AS_IF_CELL.sub("! ", clean_text(text))


def _draw(book: Workbook, sheet: Sheet, chart: Chart) -> Any:
    line = chart.kind is ChartKind.LINE
    drawn = book.add_chart({"type": "scatter", "subtype": "straight_with_markers"} if line else {"type": "column"})
    for number, series in enumerate(chart.series):
        drawn.add_series({**_cells(sheet, series), **(_line(number) if line else _column(number, len(chart.series)))})
    labels = chart.series[0].labels
    by_date = line and sheet.headings[labels.columns.start].kind is ColumnKind.DATE
    dates = {"num_format": "d mmm yy", "major_gridlines": {"visible": False}} if by_date else {}
    drawn.set_title({"name": _words(chart.title), "name_font": {"size": 11, "bold": True}, "overlay": False})
    drawn.set_x_axis(
        {"name": _words(chart.along), "name_font": AXIS_FONT, "num_font": AXIS_FONT, "line": THIN, **dates}
    )
    drawn.set_y_axis(
        {
            "name": chart.unit,
            "name_font": AXIS_FONT,
            "num_font": AXIS_FONT,
            "num_format": "General",
            "line": THIN,
            "major_gridlines": {"visible": True, "line": THIN},
        }
    )
    drawn.set_legend({"none": True} if len(chart.series) == 1 else {"position": "bottom", "font": AXIS_FONT})
    drawn.show_blanks_as("span")
    drawn.set_size({"width": CHART_WIDTH, "height": CHART_HEIGHT})
    return drawn


def _cells(sheet: Sheet, series: Series) -> dict[str, Any]:
    return {
        "name": _words(series.name),
        "categories": _place(sheet, series.labels),
        "categories_data": _shown(sheet, series.labels),
        "values": _place(sheet, series.numbers),
        "values_data": _shown(sheet, series.numbers),
    }


def _place(sheet: Sheet, cells: Cells) -> list[Any]:
    rows, columns = cells.rows, cells.columns
    return [sheet.name, rows.start + 1, columns.start, rows.stop, columns.stop - 1]


def _shown(sheet: Sheet, cells: Cells) -> list[str | None]:
    """Return what stands in some cells: a chart holds it, too, for programs that do not read the cells."""
    if cells.rows.start == HEADINGS_ROW:
        return [clean_text(sheet.headings[column].text) for column in cells.columns]
    return [_text_of(sheet.rows[row][column]) for row, column in product(cells.rows, cells.columns)]


def _text_of(cell: Cell) -> str | None:
    match cell:
        case None:
            return None
        case str():
            return clean_text(cell)
        case date():
            return str(serial(cell))
        case Formula():
            return _text_of(cell.value)
        case _:
            return f"{stored(cell):.16g}"


def _line(number: int) -> dict[str, Any]:
    shade = SHADES[number % len(SHADES)]
    marker = {"type": MARKERS[number % len(MARKERS)], "size": 6, "fill": {"color": shade}, "border": {"color": shade}}
    return {"line": {"color": shade, "width": 1.5}, "marker": marker}


def _column(number: int, of: int) -> dict[str, Any]:
    shade = DARKEST if of == 1 else LIGHTEST - (LIGHTEST - DARKEST) * number // (of - 1)
    fill = {"color": f"#{shade:02X}{shade:02X}{shade:02X}"}
    return {"fill": fill, "border": {"color": "#262626", "width": 0.5}, "gap": 80}
