"""A filled block workbook: every cell at its place, with the type, format and formula it had."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from compiler.binding.records import bind_book
from compiler.cellref import CellRef
from compiler.render.template import render_template
from compiler.source.cells import CellType, SourceBook, SourceCell, SourceSheet
from compiler.source.xlsx import read_workbook_bytes
from tests.support import source_book
from tests.workbook_content import open_workbook

TABLES = {
    "Block": [["Setting", "Value"], ["Title", "Winter strength"], ["Coach", "Maud Ferrier"]],
    "Exercises": [["Exercise", "Implement"], ["Back squat", "barbell"], [], ["=1+1", "barbell"]],
    "Programme": [
        ["Programme", "Session", "Order", "Exercise", "Week 1 sets", "Week 1 reps", "Week 1 load", "Week 2 rest"],
        ["Strength", "Squat", "A", "Back squat", "4", "5", "75%", "2 min"],
        ["Endurance", "Easy", "A", "Back squat", "3", "8", "RPE 7", ""],
        ["Strength", "Squat", "B", "=1+1", "3", "8", "60 kg", ""],
    ],
    "Clients": [["Client", "Programme", "Locker"], ["Imogen Thackray", "strength", "7"], ["Bo Aldous", "Strength", ""]],
    "Scrap notes": [["What"], ["Order chalk"]],
}


def rendered(book: SourceBook, sheet: str, **how: bool) -> Any:
    return open_workbook(render_template(2, 2, fill=book, **how))[sheet]


def under(sheet: Any, header: str) -> str:
    return next(str(cell.column_letter) for cell in sheet[1] if cell.value == header)


def with_cell(book: SourceBook, sheet: str, cell: SourceCell) -> SourceBook:
    """Return the book with one cell put at its place."""
    at = (cell.place.row, cell.place.column)
    sheets = tuple(replace(s, cells={**s.cells, at: cell}) if s.name == sheet else s for s in book.sheets)
    return replace(book, sheets=sheets)


def test_filled_template_reads_back_as_it_was_filled() -> None:
    """Texts stand in their rows, blank rows stay, and only what is the coach's own is noted."""
    bound = bind_book(read_workbook_bytes(render_template(2, 2, fill=source_book(TABLES)), "block.xlsx"))
    assert bound.book is not None
    assert [row.row.row for row in bound.book.exercises] == [2, 4]
    assert [row.exercise.text for row in bound.book.programme] == ["Back squat", "Back squat", "=1+1"]
    assert bound.book.programme[0].weeks[1].rest.text == "2 min"
    assert bound.book.block.title.value == "Winter strength"
    assert {flag.slug for flag in bound.flags} == {"extra-column", "formula-as-text"}


def test_a_text_is_never_a_formula() -> None:
    cell = rendered(source_book(TABLES), "Exercises")["A4"]
    assert (cell.value, cell.data_type) == ("=1+1", "s")


@settings(deadline=None, max_examples=10)
@given(st.lists(st.text(max_size=40), min_size=1, max_size=40))
def test_any_text_comes_back_as_that_text(texts: list[str]) -> None:
    """Links, markup and formulas are words; only what no workbook can hold is left out."""
    book = source_book({"Exercises": [["Exercise"], *([text] for text in texts)]})
    back = read_workbook_bytes(render_template(1, 1, fill=book), "x.xlsx")
    cells = next(sheet for sheet in back.sheets if sheet.name == "Exercises").cells
    found = [str(cells[row, 1].value) if (row, 1) in cells else "" for row in range(2, len(texts) + 2)]
    assert [_one_line_end(text) for text in found] == [_one_line_end(_storable(text)) for text in texts]


def _storable(text: str) -> str:
    return "".join(c for c in text if c not in "\ufffe\uffff" and not "\ud800" <= c <= "\udfff")


def _one_line_end(text: str) -> str:
    return text.replace("\r\n", "\n").replace("\r", "\n")


@pytest.mark.parametrize("text", ["http://a.example", "mailto:a@b.example", "{=1}", "<r>x</r>", "@x", "internal:A!A1"])
def test_odd_texts_are_plain_strings(text: str) -> None:
    sheet = rendered(source_book({"Exercises": [["Exercise"], [text]]}), "Exercises")
    assert (sheet["A2"].value, sheet["A2"].data_type, sheet["A2"].hyperlink) == (text, "s", None)


@pytest.mark.parametrize(
    ("cell", "expected"),
    [
        (SourceCell(CellRef("Programme", 2, 7), Decimal("0.75"), CellType.NUMBER, "0%"), (0.75, "n", "0%")),
        (SourceCell(CellRef("Programme", 2, 7), Decimal(75), CellType.NUMBER), (75, "n", "General")),
        (SourceCell(CellRef("Programme", 2, 7), value=True, type=CellType.TRUTH), (True, "b", "General")),
        (SourceCell(CellRef("Programme", 2, 7), "#N/A", CellType.ERROR), ("=#N/A", "f", "General")),
        (
            SourceCell(CellRef("Programme", 2, 7), Decimal(45), CellType.NUMBER, formula="=60*0.75"),
            ("=60*0.75", "f", "General"),
        ),
    ],
)
def test_typed_cells_keep_type_format_and_formula(cell: SourceCell, expected: tuple[object, str, str]) -> None:
    """The mistakes of real workbooks can be shown as they are."""
    sheet = rendered(with_cell(source_book(TABLES), "Programme", cell), "Programme")
    found = sheet[f"{under(sheet, 'Week 1 load')}2"]
    assert (found.value, found.data_type, found.number_format) == expected


def test_date_cells_come_back_as_dates() -> None:
    """10 August 2026 is day 46244 of the 1900 system (LibreOffice: =DATEVALUE("2026-08-10"))."""
    cell = SourceCell(CellRef("Programme", 2, 6), Decimal(46244), CellType.DATE, "d-mmm")
    back = read_workbook_bytes(
        render_template(2, 2, fill=with_cell(source_book(TABLES), "Programme", cell)), "block.xlsx"
    )
    found = [c for s in back.sheets if s.name == "Programme" for c in s.cells.values() if c.type is CellType.DATE]
    assert [(c.value, c.number_format) for c in found] == [(Decimal(46244), "d-mmm")]


def test_results_of_formulas_are_stored_and_missing_ones_are_not() -> None:
    book = source_book(TABLES)
    place = CellRef("Programme", 2, 7)
    for value, kind in ((Decimal(45), CellType.NUMBER), (None, CellType.UNCALCULATED)):
        filled = with_cell(book, "Programme", SourceCell(place, value, kind, formula="=60*0.75"))
        back = read_workbook_bytes(render_template(2, 2, fill=filled), "block.xlsx")
        cells = [c for s in back.sheets if s.name == "Programme" for c in s.cells.values() if c.formula]
        assert [(c.value, c.type) for c in cells] == [(value, kind)]


def test_merges_and_hidden_rows_are_kept() -> None:
    book = source_book(TABLES)
    programme = replace(
        next(s for s in book.sheets if s.name == "Programme"), hidden_rows=frozenset({3}), merges=((3, 2, 4, 2),)
    )
    filled = SourceBook(book.name, tuple(programme if s.name == "Programme" else s for s in book.sheets))
    sheet = rendered(filled, "Programme")
    assert [str(area) for area in sheet.merged_cells.ranges] == ["B3:B4"]
    assert sheet["B3"].value == "Easy"
    assert sheet.row_dimensions[3].hidden


def test_columns_and_sheets_of_the_coach_are_kept_at_the_end() -> None:
    clients = rendered(source_book(TABLES), "Clients")
    last = max(clients[1], key=lambda cell: cell.column if cell.value else 0)
    assert (last.value, clients[f"{last.column_letter}2"].value) == ("Locker", "7")
    assert rendered(source_book(TABLES), "Scrap notes")["A2"].value == "Order chalk"


def test_headers_in_another_row_or_spelling_go_where_they_belong() -> None:
    """Rows of an older workbook whose table starts lower and whose headers are bent."""
    old = source_book({"Clients": [["The rowing club"], [], ["client", "PROGRAMME "], ["Bo Aldous", "Strength"]]})
    sheet = rendered(old, "Clients")
    assert (sheet["A2"].value, sheet[f"{under(sheet, 'Programme')}2"].value) == ("Bo Aldous", "Strength")


def test_unknown_and_repeated_settings_stand_below() -> None:
    rows = [["Setting", "Value"], ["Title", "One"], ["Favourite colour", "green"], ["Title", "Two"]]
    sheet = rendered(source_book({"Block": rows}), "Block")
    values = [(row[0].value, row[1].value) for row in sheet.iter_rows(min_row=2)]
    assert values[0] == ("Title", "One")
    assert values[-2:] == [("Favourite colour", "green"), ("Title", "Two")]


def test_front_sheet_counts_rows_and_lists_each_programme_once() -> None:
    """The stored results are those that a spreadsheet program calculates, so that a preview is right too."""
    data = render_template(2, 2, fill=source_book(TABLES))
    start = open_workbook(data, data_only=True)["Start here"]
    found = {row[1].value: row[4].value for row in start.iter_rows(max_row=14) if row[1].value}
    assert (found["Exercises"], found["Programme"], found["Clients"]) == (2, 3, 2)
    listed = {row[1].value: row[2].value for row in start.iter_rows() if row[1].value in {"Strength", "Endurance"}}
    assert listed == {"Strength": 2, "Endurance": 0}


def test_weekly_columns_beyond_the_asked_weeks_are_kept() -> None:
    book = source_book({"Programme": [["Programme", "Session", "Exercise", "Week 3 sets"], ["S", "A", "Squat", "3"]]})
    sheet = rendered(book, "Programme")
    assert sheet[f"{under(sheet, 'Week 3 sets')}2"].value == "3"


def test_empty_sheets_of_a_filling_change_nothing() -> None:
    filled = SourceBook("x.xlsx", (SourceSheet("Clients", {}),))
    assert render_template(2, 2, fill=filled) == render_template(2, 2)
