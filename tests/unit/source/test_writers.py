"""One workbook of each writer: what it stored comes out, as another reader sees it too."""

from __future__ import annotations

import io
from decimal import Decimal
from pathlib import Path

import openpyxl
import pytest
import xlsxwriter
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from compiler.source.cells import CellType, SourceCell
from compiler.source.xlsx import read_workbook, read_workbook_bytes

WRITERS = Path(__file__).parents[2] / "data" / "writers"


def named(cells: dict[tuple[int, int], SourceCell]) -> dict[str, SourceCell]:
    """Return column B under the words of column A."""
    return {
        str(cell.value): cells[row, 2] for (row, column), cell in cells.items() if column == 1 and (row, 2) in cells
    }


def test_libreoffice_keeps_what_the_cells_meant() -> None:
    """Formats come back escaped or changed, TRUE as a formula, hidden in words."""
    book = read_workbook(WRITERS / "libreoffice.xlsx")
    tests, old = book.sheets
    cells = named(tests.cells)
    stored = {name: (cell.value, cell.type.value, cell.number_format) for name, cell in cells.items()}
    assert {
        "Client": ("Value", "text", "General"),
        "percent": (Decimal("0.75"), "number", "0%"),
        "day and month": (Decimal(46244), "date", "d\\-mmm"),
        "short date": (Decimal(46244), "date", "m/d/yyyy"),
        "time": (Decimal("0.0625"), "date", "h:mm"),
        "unit": (Decimal(60), "number", '0" kg"'),
        "plain": (Decimal("72.5"), "number", "General"),
        "text": ("8-10", "text", "@"),
        "truth": (True, "truth", "General"),
        "formula": (Decimal(60), "number", "General"),
        "error": ("#DIV/0!", "error", "General"),
        "empty text": ("", "text", "General"),
        "struck": ("60 kg", "text", "General"),
        "hidden": ("90 s", "text", "General"),
    } == stored
    assert cells["struck"].struck
    assert cells["truth"].formula is None
    assert (frozenset({14}), frozenset({5}), ((15, 1, 16, 1),)) == (
        tests.hidden_rows,
        tests.hidden_columns,
        tests.merges,
    )
    assert (old.hidden, book.properties["Block workbook version"]) == (True, "1")


def test_zeros_that_libreoffice_kept_of_another_writer_are_not_results() -> None:
    cells = named(read_workbook(WRITERS / "libreoffice_zeros.xlsx").sheets[0].cells)
    formulas = {name: cell.type for name, cell in cells.items() if cell.formula}
    assert dict.fromkeys(("formula", "error", "empty text"), CellType.UNCALCULATED) == formulas
    assert cells["truth"].value is True


def test_xlsxwriter_formulas_without_results_are_not_calculated() -> None:
    out = io.BytesIO()
    with xlsxwriter.Workbook(out) as book:
        sheet = book.add_worksheet("Tests")
        sheet.write_formula("A1", "=60*0.75")
        sheet.write_number("B1", 60)
    cells = read_workbook_bytes(out.getvalue(), "block.xlsx").sheets[0].cells
    assert [cell.type for cell in cells.values()] == [CellType.UNCALCULATED, CellType.NUMBER]


def test_the_totals_row_of_a_table_is_told_from_its_records() -> None:
    out = io.BytesIO()
    with xlsxwriter.Workbook(out) as book:
        sheet = book.add_worksheet("Tests")
        columns = [{"header": "Client", "total_string": "Total"}, {"header": "Load", "total_function": "sum"}]
        sheet.add_table(
            "A1:B4", {"total_row": True, "data": [["Imogen Thackray", 60], ["Bo Tarn", 70]], "columns": columns}
        )
        book.add_worksheet("Clients").add_table("A1:B4", {"columns": [{"header": "Client"}, {"header": "Print"}]})
    tests, clients = read_workbook_bytes(out.getvalue(), "block.xlsx").sheets
    assert (frozenset({4}), frozenset()) == (tests.totals_rows, clients.totals_rows)


TEXTS = st.text(st.characters(exclude_categories=("Cs", "Cc", "Cn")), min_size=1, max_size=30).filter(
    lambda text: not text.startswith("=") and text.strip()
)
VALUES = st.one_of(
    TEXTS,
    st.integers(-(10**14), 10**14),
    st.decimals(-(10**6), 10**6, places=4).map(float),
    st.booleans(),
)
GRIDS = st.dictionaries(st.tuples(st.integers(1, 40), st.integers(1, 30)), VALUES, min_size=1, max_size=25)


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(GRIDS)
def test_what_openpyxl_writes_comes_out_as_openpyxl_reads_it(grid: dict[tuple[int, int], str | float]) -> None:
    """The oracle is openpyxl, which reads its own file; numbers agree to 15 significant digits."""
    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    for (row, column), value in grid.items():
        cell = sheet.cell(row, column, value)
        if isinstance(value, str):
            cell.data_type = "s"
    out = io.BytesIO()
    book.save(out)
    theirs = openpyxl.load_workbook(io.BytesIO(out.getvalue())).active
    assert theirs is not None
    ours = read_workbook_bytes(out.getvalue(), "block.xlsx").sheets[0].cells
    assert set(grid) == set(ours)
    for (row, column), ours_here in ours.items():
        their = theirs.cell(row, column).value
        if isinstance(ours_here.value, Decimal):
            assert float(ours_here.value) == pytest.approx(their, rel=1e-14, abs=0)
        else:
            assert ours_here.value == their
