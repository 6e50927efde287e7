"""The empty block workbook: complete, readable by the program itself, and the same at every call."""

from __future__ import annotations

from io import BytesIO
from typing import Any
from zipfile import ZipFile

import pytest
from openpyxl.utils import column_index_from_string

from compiler.binding.records import bind_book
from compiler.cellref import CellRef
from compiler.render.template import VERSION_NAME, render_template
from compiler.render.template_rules import short_example, spoken
from compiler.schema.column import Column, SheetSpec, weekly_header
from compiler.schema.kinds import DATE, Understood
from compiler.schema.sheets import BLOCK, FORMAT_VERSION, PROGRAMME, SHEETS, VERSION_PROPERTY
from compiler.source.cells import CellType, SourceCell
from compiler.source.xlsx import read_workbook_bytes
from tests.workbook_content import open_workbook

WEEKS = 4
TABLES = tuple(spec for spec in SHEETS if not spec.settings)
COLUMNS = [(spec, column) for spec in SHEETS for column in (*spec.columns, *spec.weekly)]


@pytest.fixture(scope="module")
def book() -> Any:
    return open_workbook(render_template(WEEKS, 3))


def headers(book: Any, spec: SheetSpec) -> dict[str, str]:
    """Return the letter of the column under each header."""
    return {str(cell.value): cell.column_letter for cell in book[spec.name][1] if cell.value}


@pytest.mark.parametrize(("weeks", "sessions", "short"), [(4, 3, False), (1, 1, False), (12, 5, False), (6, 2, True)])
def test_empty_template_reads_back_without_a_flag(weeks: int, sessions: int, short: bool) -> None:
    """What `new` writes is what `check` reads: nothing missing, nothing extra, no rows."""
    bound = bind_book(read_workbook_bytes(render_template(weeks, sessions, short=short), "block.xlsx"))
    assert bound.flags == ()
    assert bound.book is not None
    assert (bound.book.programme, bound.book.clients, bound.book.exercises) == ((), (), ())
    assert bound.book.block.weeks.value == weeks


def test_same_call_gives_the_same_bytes() -> None:
    assert render_template(3, 2) == render_template(3, 2)


def test_sheets_stand_in_the_order_of_the_declaration(book: Any) -> None:
    assert book.sheetnames == ["Start here", *(spec.name for spec in SHEETS)]


def test_format_version_is_a_property_and_a_name(book: Any) -> None:
    """Either survives where a spreadsheet program drops the other."""
    assert book.custom_doc_props[VERSION_PROPERTY].value == str(FORMAT_VERSION)
    assert book.defined_names[VERSION_NAME].attr_text == str(FORMAT_VERSION)


@pytest.mark.parametrize(("spec", "column"), COLUMNS, ids=lambda part: getattr(part, "header", None) or part.name)
def test_example_of_every_column_passes_its_own_kind(spec: SheetSpec, column: Column) -> None:
    place = CellRef(spec.name, 2, 1)
    result = column.kind.read(SourceCell(place, column.example, CellType.TEXT))
    assert isinstance(result, Understood), result
    assert result.remarks == ()


@pytest.mark.parametrize("spec", TABLES, ids=lambda spec: spec.name)
def test_every_header_has_a_note_with_its_help_and_example(book: Any, spec: SheetSpec) -> None:
    at = headers(book, spec)
    for column in spec.columns:
        note = book[spec.name][f"{at[column.header]}1"].comment
        assert note is not None
        assert spoken(column.help) in note.text
        assert short_example(column) in note.text


def test_every_setting_has_a_note_and_its_default_beside_it(book: Any) -> None:
    sheet = book[BLOCK.name]
    assert [cell.value for cell in sheet[1]] == ["Setting", "Value", "What it does"]
    for row, column in enumerate(BLOCK.columns, start=2):
        assert sheet.cell(row, 1).value == column.header
        assert short_example(column) in sheet.cell(row, 1).comment.text
        assert spoken(column.help) in sheet.cell(row, 3).value
        if column.default and "\n" not in column.default:
            assert f"Blank: {column.default}." in sheet.cell(row, 3).value


def _whole_column(book: Any, sheet: str, letters: str) -> Any:
    """Return what is said of a whole column; neighbours that are alike are stored together."""
    at = column_index_from_string(letters)
    return next(found for found in book[sheet].column_dimensions.values() if found.min <= at <= found.max)


@pytest.mark.parametrize("spec", TABLES, ids=lambda spec: spec.name)
def test_entry_cells_are_formatted_down_to_the_last_row(book: Any, spec: SheetSpec) -> None:
    """Text over the whole column, so that 8-10 stays 8-10 in row 4000 too; dates as year-month-day."""
    at = headers(book, spec)
    for column in spec.columns:
        expected = "yyyy-mm-dd" if column.kind == DATE else "@"
        assert _whole_column(book, spec.name, at[column.header]).number_format == expected
        assert book[spec.name][f"{at[column.header]}2"].number_format == expected


def test_week_columns_stand_in_order(book: Any) -> None:
    """Three cells a week; a week's own rest and tempo are there when they are wanted."""
    weekly = [header for header in headers(book, PROGRAMME) if header.startswith("Week ")]
    assert weekly == [f"Week {week} {cell}" for week in range(1, WEEKS + 1) for cell in ("sets", "reps", "load")]


def test_short_template_has_one_column_a_week() -> None:
    book = open_workbook(render_template(3, 2, short=True))
    weekly = [header for header in headers(book, PROGRAMME) if header.startswith("Week ")]
    assert weekly == ["Week 1", "Week 2", "Week 3"]
    at = headers(book, PROGRAMME)["Week 2"]
    assert _whole_column(book, PROGRAMME.name, at).width >= len("3 x 8-10 @ 75%")


def test_more_sessions_draw_more_rows_and_are_told() -> None:
    """The number of sessions decides how many rows are drawn as a form, and stands on the front sheet."""
    two, four = (open_workbook(render_template(4, sessions)) for sessions in (2, 4))
    assert two["Programme"].max_row < four["Programme"].max_row
    assert "4 sessions a week" in str(four["Start here"]["A2"].value)


def test_headers_stay_in_view_and_on_every_printed_page(book: Any) -> None:
    for spec in TABLES:
        sheet = book[spec.name]
        assert sheet.freeze_panes.endswith("2")
        assert sheet.print_title_rows == "$1:$1"
        assert sheet.page_setup.orientation == "landscape"
    assert book["Programme"].freeze_panes == f"{chr(ord(headers(book, PROGRAMME)['Exercise']) + 1)}2"


def test_nothing_in_the_package_asks_for_a_recalculation() -> None:
    """The reader believes no stored result of a workbook that asks for one."""
    with ZipFile(BytesIO(render_template(1, 1))) as package:
        assert b"fullCalcOnLoad" not in package.read("xl/workbook.xml")


def test_weekly_header_is_that_of_the_declaration(book: Any) -> None:
    assert weekly_header(PROGRAMME.weekly[0], 2) in headers(book, PROGRAMME)
