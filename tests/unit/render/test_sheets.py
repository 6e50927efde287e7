"""Sheets as a workbook, read back with openpyxl: values, formats, set-up; text stays text; equal bytes."""

from __future__ import annotations

from datetime import date, datetime
from decimal import Decimal
from io import BytesIO
from zipfile import ZipFile

import pytest
from hypothesis import given
from hypothesis import strategies as st
from openpyxl import load_workbook
from openpyxl.workbook import Workbook

from compiler.documents.neutral import Cell, ColumnKind, Formula, Heading, NamedList, Sheet
from compiler.quantities import Load, Percent, Unit
from compiler.render.clean import LONGEST, clean_text
from compiler.render.sheets import render_sheets

HEADINGS = (
    Heading("Client", width=24),
    Heading("Load", ColumnKind.AMOUNT, width=11),
    Heading("1RM", ColumnKind.AMOUNT, width=11, decimals=2),
    Heading("Percentage", ColumnKind.PERCENT, width=11),
    Heading("Date", ColumnKind.DATE, width=12),
    Heading("Sets", ColumnKind.WHOLE, width=7),
    Heading("Reps to failure", ColumnKind.AMOUNT, width=9),
)
ROW: tuple[Cell, ...] = (
    "Ada Thornby",
    Load(Decimal("92.50"), Unit.KG),
    Load(Decimal("121.35871256"), Unit.LB),
    Percent(Decimal("77.5")),
    date(2026, 12, 7),
    3,
    Decimal("5.5"),
)
SHEET = Sheet("Loads", "Winter & spring – Loads", HEADINGS, (ROW, ("Bram Oakes", *[None] * 6)), frozen=1)


def read(*sheets: Sheet) -> Workbook:
    return load_workbook(BytesIO(render_sheets(sheets)))


def one_text(text: str) -> Sheet:
    return Sheet("Loads", "Loads", (Heading("Text", width=40),), ((text,),))


def test_numbers_stay_numbers_and_show_their_unit() -> None:
    """A load is its number, with the unit in the format and no more decimals than it has or the column shows."""
    page = read(SHEET)["Loads"]
    cells = [(cell.value, cell.number_format) for cell in page[2]]
    assert cells == [
        ("Ada Thornby", "General"),
        (92.5, '0.0 "kg"'),
        (121.35871256, '0.00 "lb"'),
        (0.775, "0.0%"),
        (datetime(2026, 12, 7), "yyyy-mm-dd"),  # noqa: DTZ001 - a workbook knows no zones
        (3, "0"),
        (5.5, "0.0"),
    ]
    assert [cell.value for cell in page[3]] == ["Bram Oakes", *[None] * 6]


def test_headings_stay_in_sight_and_on_every_page() -> None:
    """Frozen, filtered, bold over a line that is thin enough for the row below it, repeated and fitted in print."""
    page = read(SHEET)["Loads"]
    assert page.freeze_panes == "B2"
    assert page.auto_filter.ref == "A1:G3"
    assert page["A1"].font.bold
    assert page["A1"].border.bottom.style == "thin"
    assert page.print_title_rows == "$1:$1"
    assert page.page_setup.orientation == "landscape"
    assert page.page_setup.fitToHeight == 0
    assert page.oddHeader.left.text == "Winter && spring – Loads"
    assert page.oddFooter.right.text == "Page &P of &N"
    assert page.column_dimensions["A"].width == pytest.approx(24, abs=1)


@pytest.mark.parametrize(("paper", "number"), [("A4", 9), ("Letter", 1)])
def test_the_paper_is_the_blocks(paper: str, number: int) -> None:
    """Paper sizes as ECMA-376 numbers them: 9 is A4, 1 is Letter."""
    sheet = Sheet("Loads", "Loads", HEADINGS, (), paper=paper)
    assert int(read(sheet)["Loads"].page_setup.paperSize) == number


def test_a_formula_carries_its_value() -> None:
    """Headings become cells of the row; the value stands beside the formula, in its unit; names reach the cells."""
    half = Formula("=ROUND({1RM}/2,6)+SUM(Some_loads)", Load(Decimal("50.25"), Unit.KG))
    rows = ((*ROW[:1], half, *ROW[2:]),)
    sheet = Sheet("Loads", "Loads", HEADINGS, rows, names=(NamedList("Some_loads", 6, range(1)),))
    book = read(sheet)
    assert book["Loads"]["B2"].value == "=ROUND(C2/2,6)+SUM(Some_loads)"
    assert book["Loads"]["B2"].number_format == '0.00 "kg"'
    assert book.defined_names["Some_loads"].attr_text == "'Loads'!$G$2"
    stored = load_workbook(BytesIO(render_sheets([sheet])), data_only=True)
    assert stored["Loads"]["B2"].value == 50.25


def test_equal_sheets_give_equal_bytes() -> None:
    """No clock is read."""
    assert render_sheets([SHEET]) == render_sheets([SHEET])


@pytest.mark.parametrize(
    "text",
    [
        "=SUM(A1:A9)",
        '=HYPERLINK("http://example.org")',
        "+44 1234",
        "-5",
        "@SUM(A1)",
        "http://example.org/",
        "mailto:maud@ottermere.example",
        "{=A1}",
        "<r>bold</r>",
        "007",
        "1e5",
        "8-10",
        "_x0041_",
        "a & b < c",
        " spaces ",
    ],
)
def test_text_stays_text(text: str) -> None:
    """No formula, no link, no number, no markup: the very characters, as a string."""
    page = read(one_text(text))["Loads"]
    assert page["A2"].data_type == "s"
    # openpyxl leaves _x005F_ as it stands in the file: the escape of a text that looks like an escape (ECMA-376).
    assert str(page["A2"].value).replace("_x005F_", "_") == text
    assert page["A2"].hyperlink is None


def test_what_a_workbook_cannot_hold_is_cleaned() -> None:
    """Control characters and halves of characters go, line ends are one kind, a text ends where a cell does."""
    assert clean_text("a\x00b\x07c\ud800d\uffff") == "abcd"
    assert clean_text("a\r\nb\rc\u2028d\te") == "a\nb\nc\nd e"
    assert clean_text("x" * 40_000) == "x" * LONGEST
    assert clean_text("🙂" * 20_000) == "🙂" * (LONGEST // 2)


@given(st.text(alphabet=st.characters(codec=None, exclude_categories=[]), max_size=40))
def test_any_text_gives_a_workbook(text: str) -> None:
    """Whatever the coach typed, the workbook opens and holds one cell of it."""
    page = read(one_text(text))["Loads"]
    assert page["A2"].value is None or isinstance(page["A2"].value, str)


def test_long_texts_get_their_height() -> None:
    """A row of several lines states its height: 15 points a line."""
    page = read(one_text("word " * 20))["Loads"]
    assert page.row_dimensions[2].height == 45


def test_sections_are_told_without_colour() -> None:
    """A section's first row is bold under a line; nothing has a fill."""
    sheet = Sheet("Loads", "Loads", HEADINGS[:2], (("The block", None),), heads=frozenset({0}), filtered=False)
    book = read(sheet)
    assert book["Loads"]["A2"].font.bold
    assert book["Loads"]["B2"].border.top.style == "thin"
    assert book["Loads"].auto_filter.ref is None
    assert b"solid" not in ZipFile(BytesIO(render_sheets([sheet]))).read("xl/styles.xml")
