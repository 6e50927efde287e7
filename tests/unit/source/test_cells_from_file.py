"""Cells come out of a sheet part as they are stored, at their true addresses, however the part is written."""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal

import pytest

from compiler.source.cells import CellType, SourceCell
from compiler.source.sheet import MOST_CELLS
from compiler.source.unreadable import UnreadableWorkbook
from compiler.source.xlsx import read_workbook_bytes

Raw = Callable[..., bytes]


def cells(data: bytes) -> dict[str, SourceCell]:
    return {cell.place.a1: cell for cell in read_workbook_bytes(data, "block.xlsx").sheets[0].cells.values()}


def one(raw: Raw, xml: str, **options: str) -> SourceCell:
    return cells(raw(f'<row r="1">{xml}</row>', **options))["A1"]


@pytest.mark.parametrize(
    ("xml", "value", "kind"),
    [
        ("<v>60</v>", Decimal(60), CellType.NUMBER),
        ("<v>60.0</v>", Decimal(60), CellType.NUMBER),
        ("<v>6E1</v>", Decimal(60), CellType.NUMBER),
        ("<v>0.30000000000000004</v>", Decimal("0.3"), CellType.NUMBER),
        ("<v>72.499999999999986</v>", Decimal("72.5"), CellType.NUMBER),
        ("<v>1234567890123456</v>", Decimal(1234567890123460), CellType.NUMBER),
        ("<v>-0</v>", Decimal(0), CellType.NUMBER),
        ("<v>1E-320</v>", None, CellType.ERROR),
        ("<v>NaN</v>", "NaN", CellType.ERROR),
        ("<v>72,5</v>", "72,5", CellType.ERROR),
        ("<v>1_0</v>", "1_0", CellType.ERROR),
        ("<v>٦٠</v>", "٦٠", CellType.ERROR),
    ],
)
def test_numbers(raw: Raw, xml: str, value: object, kind: CellType) -> None:
    """Numbers have 15 significant digits, as in a spreadsheet; one bad number is one bad cell."""
    cell = one(raw, f'<c r="A1">{xml}</c>')
    assert kind is cell.type
    assert value is None or value == cell.value
    assert "E" not in str(cell.value) or kind is CellType.ERROR


@pytest.mark.parametrize(
    ("attributes", "inside", "value", "kind"),
    [
        ('t="b"', "<v>1</v>", True, CellType.TRUTH),
        ('t="b"', "<v>false</v>", False, CellType.TRUTH),
        ('t="b"', "<v>maybe</v>", "maybe", CellType.ERROR),
        ('t="e"', "<v>#SPILL!</v>", "#SPILL!", CellType.ERROR),
        ('t="str"', "<v> 8-10 </v>", " 8-10 ", CellType.TEXT),
        ('t="s"', "<v>7</v>", "text 7", CellType.ERROR),
        ('t="inlineStr"', "<is><t>8</t></is>", "8", CellType.TEXT),
        ('t="inlineStr"', "<is><r><t>8</t></r><r><t> - 10</t></r></is>", "8 - 10", CellType.TEXT),
        ('t="inlineStr"', "<is><t>山田</t><rPh sb='0' eb='2'><t>ヤマダ</t></rPh></is>", "山田", CellType.TEXT),
        ('t="str"', "<v>a_x000D_\nb_x005F_x0041__xD83D__xDE00_</v>", "a\r\nb_x0041_😀", CellType.TEXT),
        ('t="d"', "<v>2026-08-10</v>", Decimal(46244), CellType.DATE),
        ('t="d"', "<v>2026-08-09T22:00:00.000Z</v>", Decimal("46243.9166666667"), CellType.DATE),
        ('t="d"', "<v>10/08/2026</v>", "10/08/2026", CellType.TEXT),
        ('s="1"', "<v>0.75</v>", Decimal("0.75"), CellType.NUMBER),
        ('s="2"', "<v>46244</v>", Decimal(46244), CellType.DATE),
        ('s="99"', "<v>46244</v>", Decimal(46244), CellType.NUMBER),
    ],
)
def test_types(raw: Raw, attributes: str, inside: str, value: object, kind: CellType) -> None:
    cell = one(raw, f'<c r="A1" {attributes}>{inside}</c>')
    assert (value, kind) == (cell.value, cell.type)


@pytest.mark.parametrize(
    ("xml", "value", "kind"),
    [
        ('<c r="A1"><f>80*0.75</f></c>', None, CellType.UNCALCULATED),
        ('<c r="A1"><f>80*0.75</f><v></v></c>', None, CellType.UNCALCULATED),
        ('<c r="A1"><f>80*0.75</f><v>60</v></c>', Decimal(60), CellType.NUMBER),
        ('<c r="A1" t="str"><f>A2</f><v></v></c>', "", CellType.TEXT),
        ('<c r="A1" t="e"><f>1/0</f><v>#DIV/0!</v></c>', "#DIV/0!", CellType.ERROR),
    ],
)
def test_formulas_keep_the_result_stored_behind_them(raw: Raw, xml: str, value: object, kind: CellType) -> None:
    """A formula without a result is not an empty cell, one whose result is empty text is one."""
    cell = one(raw, xml)
    assert (value, kind) == (cell.value, cell.type)
    assert cell.formula
    assert cell.formula.startswith("=")
    assert cell.blank is (value == "")


def test_a_shared_formula_is_a_formula_in_each_of_its_cells(raw: Raw) -> None:
    found = cells(
        raw(
            '<row r="1"><c r="A1"><f t="shared" ref="A1:A2" si="0">B1</f><v>1</v></c></row>'
            '<row r="2"><c r="A2"><f t="shared" si="0"/><v>2</v></c></row>'
        )
    )
    assert [(cell.formula, cell.value) for cell in found.values()] == [("=B1", 1), ("", 2)]


@pytest.mark.parametrize(
    ("tail", "value"),
    [('<calcPr fullCalcOnLoad="1"/>', "5"), ("", "0")],
    ids=["asks to be calculated on opening", "zeros alone and no order of calculation"],
)
def test_results_that_nobody_calculated_are_not_believed(raw: Raw, tail: str, value: str) -> None:
    """XlsxWriter stores 0 behind every formula and asks for a calculation (its documentation, "Formula Results")."""
    assert one(raw, f'<c r="A1"><f>B1</f><v>{value}</v></c>', tail=tail).type is CellType.UNCALCULATED


def test_a_zero_beside_other_results_is_believed(raw: Raw) -> None:
    found = cells(raw('<row r="1"><c r="A1"><f>B1</f><v>0</v></c><c r="B1"><f>C1</f><v>3</v></c></row>'))
    assert found["A1"].value == 0


def test_cells_are_placed_by_address_in_any_order_and_without_one(raw: Raw) -> None:
    found = cells(
        raw(
            '<row r="5"><c r="C5"><v>53</v></c><c r="A5"><v>51</v></c><c><v>52</v></c></row>'
            '<row r="2"><c><v>21</v></c><c><v>22</v></c></row><row><c><v>31</v></c></row>'
        )
    )
    expected = {"C5": 53, "A5": 51, "B5": 52, "A2": 21, "B2": 22, "A3": 31}
    assert expected == {address: cell.value for address, cell in found.items()}


def test_an_address_twice_is_one_bad_cell(raw: Raw) -> None:
    found = cells(raw('<row r="1"><c r="A1"><v>8</v></c><c r="A1"><v>10</v></c><c r="B1"><v>3</v></c></row>'))
    assert [(c.value, c.type) for c in found.values()] == [("8 and 10", CellType.ERROR), (3, CellType.NUMBER)]


@pytest.mark.parametrize("address", ["A0", "$A$2", "XFE2", "A1048577", "A99999999999", "12", "AAAA1"])
def test_an_address_that_no_sheet_has_is_damage(raw: Raw, address: str) -> None:
    with pytest.raises(UnreadableWorkbook) as caught:
        cells(raw(f'<row r="1"><c r="{address}"><v>1</v></c></row>'))
    assert caught.value.flag.slug == "damaged-workbook"
    assert "Tests" in caught.value.flag.message


def test_cells_that_store_nothing_are_not_kept(raw: Raw) -> None:
    rows = '<row r="1"><c r="A1" s="2"/><c r="B1" t="s"><v></v></c></row><row r="1048576"><c r="E1048576" s="1"/></row>'
    assert cells(raw(rows)) == {}


def test_more_cells_than_a_block_has_are_refused(raw: Raw, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("compiler.source.sheet.Budget.__init__", _budget_of_three)
    rows = '<row r="1">' + "<c><v>1</v></c>" * 4 + "</row>"
    with pytest.raises(UnreadableWorkbook) as caught:
        cells(raw(rows))
    assert caught.value.flag.slug == "workbook-too-large"
    assert f"{MOST_CELLS:,}" in caught.value.flag.message


def _budget_of_three(budget: object, name: str) -> None:
    object.__setattr__(budget, "name", name)
    object.__setattr__(budget, "left", 3)


def test_rows_columns_merges_and_sheets_say_what_is_hidden(raw: Raw) -> None:
    rows = '<row r="1" hidden="true"><c><v>1</v></c></row><row r="2" hidden="0"><c><v>2</v></c></row>'
    merges = '<mergeCells><mergeCell ref="A1:B2"/><mergeCell ref="nonsense"/></mergeCells>'
    sheet = read_workbook_bytes(raw(rows, after=merges), "block.xlsx").sheets[0]
    assert (frozenset({1}), ((1, 1, 2, 2),)) == (sheet.hidden_rows, sheet.merges)


def test_a_cell_struck_out_by_its_font_is_struck(raw: Raw) -> None:
    styles = (
        '<styleSheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><fonts><font/>'
        '<font><strike/></font><font><strike val="0"/></font></fonts><cellXfs><xf/><xf fontId="1"/><xf fontId="2"/>'
        "</cellXfs></styleSheet>"
    )
    rows = '<row r="1"><c s="1"><v>1</v></c><c s="2"><v>2</v></c><c t="inlineStr"><is><r><rPr><strike/></rPr>'
    rows += "<t>6</t></r><r><t>7</t></r></is></c></row>"
    assert [c.struck for c in cells(raw(rows, {"xl/styles.xml": styles})).values()] == [True, False, True]


@pytest.mark.parametrize("word", ["1", "true"])
def test_the_1904_system_is_kept_with_every_cell(raw: Raw, word: str) -> None:
    data = raw('<row r="1"><c s="2"><v>44782</v></c></row>', workbook_pr=f' date1904="{word}"')
    book = read_workbook_bytes(data, "block.xlsx")
    assert book.date_1904
    assert all(cell.serial_epoch_1904 for cell in book.sheets[0].cells.values())


def test_prefixed_names_other_namespaces_and_missing_root_parts_read_alike(raw: Raw) -> None:
    sheet = (
        '<x:worksheet xmlns:x="http://purl.oclc.org/ooxml/spreadsheetml/main" xmlns:o="urn:other"><x:sheetData>'
        '<x:row r="1"><x:c r="A1"><x:v>60</x:v><o:v>99</o:v></x:c></x:row></x:sheetData></x:worksheet>'
    )
    assert cells(raw("", {"xl/worksheets/sheet1.xml": sheet, "_rels/.rels": None}))["A1"].value == 60


def test_sheets_that_are_not_wanted_are_listed_without_cells(raw: Raw) -> None:
    data = raw('<row r="1"><c><v>1</v></c></row>')
    sheet = read_workbook_bytes(data, "block.xlsx", wants=lambda name: name != "Tests").sheets[0]
    assert (sheet.name, sheet.cells) == ("Tests", {})


def test_properties_and_names_of_the_workbook_are_read(raw: Raw) -> None:
    custom = (
        '<Properties xmlns="urn:custom" xmlns:vt="urn:vt"><property name="Block workbook version"><vt:lpwstr>1'
        "</vt:lpwstr></property></Properties>"
    )
    book = read_workbook_bytes(raw("", {"docProps/custom.xml": custom}), "block.xlsx")
    assert book.properties == {"Block workbook version": "1"}
