"""Charts of a neutral sheet -> native charts of the workbook, to the right of the columns, two abreast.

They are drawn in black and greys with marks of their own, so that they survive a black-and-white printer. A sheet
with charts is printed to scale, its columns on the first pages and the charts on those after.
"""

from __future__ import annotations

from typing import Any

from xlsxwriter.format import Format
from xlsxwriter.workbook import Workbook
from xlsxwriter.worksheet import Worksheet

from compiler.documents.neutral import Chart, ChartKind, ColumnKind, Series, Sheet
from compiler.render.clean import clean_text, write_text

DOTS = 96
"""Dots in an inch, as workbooks measure columns and charts."""

CHART_WIDTH, CHART_HEIGHT = 464, 280
ROWS_A_CHART = 15
"""Rows of 20 dots from the head of one chart to the head of the next below."""
ROW_HEIGHT = 20
ABREAST = 2
GAP = 2
"""Columns of the usual 64 dots that are left of the charts and between them."""
COLUMNS_A_CHART = 8

PAGE_INCHES = {"A4": (11.69, 8.27), "Letter": (11.0, 8.5)}
SIDES, HEADS = 0.8, 1.35
"""Inches taken by the margins of a page: left and right, top and bottom."""
HEADING_ROW = 0.6
SPARE = 0.96
"""Of the width of a page: fonts run wider in one program than in another."""

MARKERS = ("circle", "square", "triangle", "diamond")
SHADES = ("#262626", "#8C8C8C", "#595959", "#D9D9D9", "#404040", "#BFBFBF")
AXIS_FONT: dict[str, Any] = {"size": 9, "bold": False}
THIN: dict[str, Any] = {"color": "#BFBFBF", "width": 0.5}


def print_scale(sheet: Sheet) -> int:
    """Return the scale in hundredths at which the columns fill the width of a page and no more."""
    columns = sum(int(heading.width * 7 + 5) for heading in sheet.headings) / DOTS
    width = (PAGE_INCHES.get(sheet.paper, PAGE_INCHES["A4"])[0] - SIDES) * SPARE
    return max(10, min(100, int(100 * width / columns)))


def chart_page_breaks(sheet: Sheet) -> list[int]:
    """Return the rows before which a page ends, so that none ends in the middle of a chart."""
    height = (PAGE_INCHES.get(sheet.paper, PAGE_INCHES["A4"])[1] - HEADS) * 100 / print_scale(sheet) - HEADING_ROW
    a_page = max(1, int(height * DOTS / (ROWS_A_CHART * ROW_HEIGHT)))
    down = -(-len(sheet.charts) // ABREAST)
    return [_top(row) for row in range(a_page, down, a_page)]


def add_charts(book: Workbook, page: Worksheet, sheet: Sheet, note: Format) -> None:
    """Draw the charts of a sheet whose cells are written, under their note."""
    if not sheet.charts:
        return
    left = len(sheet.headings) + 1
    write_text(page, 0, left, sheet.charts_note, note)
    for number, chart in enumerate(sheet.charts):
        drawn = _draw(book, sheet, chart)
        column = left + number % ABREAST * COLUMNS_A_CHART
        page.insert_chart(_top(number // ABREAST), column, drawn, {"object_position": 3})


def _top(row: int) -> int:
    return 2 + row * ROWS_A_CHART


def _draw(book: Workbook, sheet: Sheet, chart: Chart) -> Any:
    line = chart.kind is ChartKind.LINE
    drawn = book.add_chart({"type": "line"} if line else {"type": "column", "subtype": "stacked"})
    for number, series in enumerate(chart.series):
        drawn.add_series({**_cells(sheet, series), **(_line(number) if line else _column(number))})
    labels = sheet.headings[chart.series[0].labels].kind
    dates = {"date_axis": True, "num_format": "d mmm yy"} if labels is ColumnKind.DATE else {}
    drawn.set_title({"name": clean_text(chart.title), "name_font": {"size": 11, "bold": True}, "overlay": False})
    drawn.set_x_axis({"num_font": AXIS_FONT, "line": THIN, **dates})
    drawn.set_y_axis(
        {
            "name": chart.unit,
            "name_font": AXIS_FONT,
            "num_font": AXIS_FONT,
            "num_format": "0",
            "line": THIN,
            "major_gridlines": {"visible": True, "line": THIN},
        }
    )
    drawn.set_legend({"none": True} if len(chart.series) == 1 else {"position": "bottom", "font": AXIS_FONT})
    drawn.set_size({"width": CHART_WIDTH, "height": CHART_HEIGHT})
    return drawn


def _cells(sheet: Sheet, series: Series) -> dict[str, Any]:
    first, last = series.rows.start + 1, series.rows.stop
    return {
        "name": clean_text(series.name),
        "categories": [sheet.name, first, series.labels, last, series.labels],
        "values": [sheet.name, first, series.numbers, last, series.numbers],
    }


def _line(number: int) -> dict[str, Any]:
    shade = SHADES[number % len(SHADES)]
    marker = {"type": MARKERS[number % len(MARKERS)], "size": 6, "fill": {"color": shade}, "border": {"color": shade}}
    return {"line": {"color": shade, "width": 1.5}, "marker": marker}


def _column(number: int) -> dict[str, Any]:
    return {"fill": {"color": SHADES[number % len(SHADES)]}, "border": {"color": "#262626", "width": 0.5}, "gap": 60}
