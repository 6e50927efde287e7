"""Charts of sheets, read back from the parts of the workbook: native, pointing at their cells, whole in print."""

from __future__ import annotations

import re
from datetime import date, timedelta
from decimal import Decimal
from io import BytesIO
from typing import Any
from zipfile import ZipFile

import pytest
from openpyxl import load_workbook

from compiler.documents.neutral import (
    HEADINGS_ROW,
    Chart,
    ChartKind,
    ColumnKind,
    Heading,
    Series,
    Sheet,
    across,
    down,
)
from compiler.render.sheet_charts import chart_page_breaks
from compiler.render.sheets import render_sheets

HEADINGS = (
    Heading("Date", ColumnKind.DATE, width=12),
    Heading("1RM", ColumnKind.AMOUNT, width=11),
    Heading("Sets", ColumnKind.AMOUNT, width=9),
)
ROWS = tuple((date(2026, 9, 15) + timedelta(days=30 * n), Decimal(100 + n), Decimal(n)) for n in range(3))
TREND = Chart(
    "Jo!B2 & Al's trend", ChartKind.LINE, (Series("=Tests!$B$2", down(0, range(3)), down(1, range(3))),), "kg"
)
WEEKS = Chart(
    "Sets",
    ChartKind.COLUMNS,
    tuple(Series(f"Week {n}", across(HEADINGS_ROW, range(1, 3)), across(n, range(1, 3))) for n in range(3)),
    "sets",
    "muscle",
)


def sheet_with(*charts: Chart, paper: str = "A4") -> Sheet:
    return Sheet("Tests", "Tests", HEADINGS, ROWS, paper=paper, charts=charts, charts_note="Charts: all of them.")


def part(sheet: Sheet, name: str) -> str:
    return ZipFile(BytesIO(render_sheets([sheet]))).read(name).decode()


def formulas(xml: str) -> list[str]:
    return re.findall(r"<c:f>([^<]*)</c:f>", xml)


def test_a_trend_is_a_line_over_true_dates() -> None:
    """A scatter of dates and numbers, joined by a line; names that look like formulas stay text."""
    xml = part(sheet_with(TREND), "xl/charts/chart1.xml")
    assert "<c:scatterChart>" in xml
    assert formulas(xml) == ["Tests!$A$2:$A$4", "Tests!$B$2:$B$4"]
    assert "d mmm yy" in xml
    assert "Jo! B2 &amp; Al's trend" in xml


def test_columns_can_run_across() -> None:
    """Three weeks side by side, each over the same headings."""
    xml = part(sheet_with(WEEKS), "xl/charts/chart1.xml")
    assert "<c:barChart>" in xml
    assert formulas(xml) == [
        *("Tests!$B$1:$C$1", "Tests!$B$2:$C$2"),
        *("Tests!$B$1:$C$1", "Tests!$B$3:$C$3"),
        *("Tests!$B$1:$C$1", "Tests!$B$4:$C$4"),
    ]


def test_charts_stand_beside_the_columns_under_their_note() -> None:
    """Two abreast to the right; both areas are printed, each as wide as a page."""
    book: Any = load_workbook(BytesIO(render_sheets([sheet_with(*[TREND] * 3)])))
    page = book["Tests"]
    assert page["E1"].value == "Charts: all of them."
    anchors = [chart.anchor for chart in page._charts]
    assert len(anchors) == 3
    assert page.print_area == "'Tests'!$A$1:$C$4,'Tests'!$E$1:$T$31"
    assert page.sheet_properties.pageSetUpPr.fitToPage
    assert page.page_setup.fitToHeight == 0


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_no_page_ends_in_a_chart(paper: str) -> None:
    """Page breaks fall between the rows of charts, one for so many as surely fit."""
    sheet = sheet_with(*[WEEKS] * 24, paper=paper)
    breaks = chart_page_breaks(sheet)
    starts = [2 + 14 * number for number in range(12)]
    assert breaks
    assert {row + 1 for row in breaks} <= set(starts)


def test_equal_charts_give_equal_bytes() -> None:
    """No clock, no chance."""
    assert render_sheets([sheet_with(TREND, WEEKS)]) == render_sheets([sheet_with(TREND, WEEKS)])


def test_no_chart_no_area() -> None:
    """A sheet without charts has neither note nor areas."""
    assert "Print_Area" not in part(sheet_with(), "xl/workbook.xml")
