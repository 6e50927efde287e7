"""Cells put into a sheet of the coach's: where they go, and how they look."""

from __future__ import annotations

from decimal import Decimal

import pytest

from compiler.render.sheet_edits import Cells, with_cells
from compiler.source.sheet import range_of

SHEET = (
    b'<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><dimension ref="A1:C4"/><sheetData>'
    b'<row r="1" ht="30"><c r="A1" s="7" t="s"><v>0</v></c><c r="C1" s="8" t="s"><v>1</v></c></row>'
    b'<row r="4"><c r="B4" s="9"><v>5</v></c></row>'
    b"</sheetData></worksheet>"
)


def put(cells: Cells, sheet: bytes = SHEET) -> str:
    """Return the rows of the sheet with the cells in it."""
    made = with_cells(sheet, cells, {1: 1, 2: 4, 3: 1}).decode()
    return made.partition("<sheetData>")[2].partition("</sheetData>")[0]


def test_nothing_to_put_in_changes_nothing() -> None:
    """Not a byte."""
    assert with_cells(SHEET, {}, {}) is SHEET


def test_the_extent_is_not_stated_any_more() -> None:
    """It might be wrong now, and need not be there (ECMA-376, 18.3.1.35)."""
    assert b"<dimension" not in with_cells(SHEET, {(9, 9): "x"}, {})


def test_a_cell_that_is_there_keeps_its_format() -> None:
    """Its value alone is replaced; the row keeps its height."""
    assert '<row r="1" ht="30"><c r="A1" s="7"><v>2.5</v></c><c r="C1"' in put({(1, 1): Decimal("2.50")})


@pytest.mark.parametrize("nothing", [None, ""])
def test_a_blank_cell_keeps_its_place(nothing: str | None) -> None:
    """With its format, for what is typed there next."""
    assert '<c r="B4" s="9"/>' in put({(4, 2): nothing})


def test_a_new_cell_goes_between_its_neighbours() -> None:
    """Cells stand in the order of the columns (ECMA-376, 18.3.1.73), in the look of their column."""
    made = put({(1, 2): "chalk", (1, 4): "tape"})
    places = [part.partition('"')[0] for part in made.split('<c r="')[1:4]]
    assert places == ["A1", "B1", "C1"]
    assert '<c r="B1" s="9" t="inlineStr"><is><t xml:space="preserve">chalk</t></is></c>' in made
    assert '<c r="D1" t="inlineStr"><is><t xml:space="preserve">tape</t></is></c></row>' in made


def test_new_rows_go_where_they_belong() -> None:
    """Between two rows, and after the last."""
    made = put({(2, 1): "between", (6, 2): "under", (7, 1): "last"})
    assert [part.partition('"')[0] for part in made.split('<row r="')[1:]] == ["1", "2", "4", "6", "7"]
    assert '<row r="2"><c r="A2" s="7"' in made
    assert '<row r="6"><c r="B6" s="9"' in made


def test_rows_and_cells_that_state_no_place() -> None:
    """A row follows the row before, a cell the cell before (ECMA-376: both places are optional)."""
    bare = (
        b"<worksheet><sheetData><row><c><v>1</v></c><c><v>2</v></c></row><row><c><v>3</v></c></row>"
        b"</sheetData></worksheet>"
    )
    assert put({(2, 1): Decimal(9)}, bare) == (
        '<row><c><v>1</v></c><c><v>2</v></c></row><row><c r="A2"><v>9</v></c></row>'
    )


def test_names_with_a_prefix_keep_it() -> None:
    """Some programs write `x:row`; what is put in is written alike."""
    prefixed = SHEET.replace(b"</", b"</x:").replace(b"<", b"<x:").replace(b"<x:/x:", b"</x:")
    made = with_cells(prefixed.replace(b"xmlns=", b"xmlns:x="), {(1, 2): "chalk", (9, 1): None}, {}).decode()
    assert '<x:c r="B1" t="inlineStr"><x:is><x:t xml:space="preserve">chalk</x:t></x:is></x:c>' in made
    assert '<x:row r="9"><x:c r="A9"/></x:row>' in made


def test_a_text_of_the_coach_s_is_no_markup() -> None:
    """`<b>` and `&` are characters, and `=` starts no formula."""
    assert "&lt;b&gt;=1 &amp; 2" in put({(4, 2): "<b>=1 & 2"})


def test_places_are_read_as_letters_and_numbers() -> None:
    """AA is the 27th column."""
    assert (range_of("AA3") or ())[:2] == (3, 27)
