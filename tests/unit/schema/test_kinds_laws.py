"""Whatever a cell holds, a kind understands it or refuses it."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from hypothesis import example, given, settings
from hypothesis import strategies as st

from compiler.cellref import CellRef
from compiler.flags.catalogue import CATALOGUE
from compiler.flags.model import Severity
from compiler.schema import kinds
from compiler.schema.kinds import Kind, Refusal, Understood
from compiler.schema.sheets import SHEETS
from compiler.source.cells import CellType, SourceCell
from compiler.source.formats import BUILT_IN

KINDS: tuple[Kind[Any], ...] = (
    *(value for name in kinds.__all__ if isinstance(value := getattr(kinds, name), Kind)),
    kinds.choice("kg", "lb"),
    kinds.whole(1, 12),
)
HERE = CellRef("Programme", 12, 12)
BITS = st.lists(
    st.one_of(
        st.sampled_from("0123456789.,;:-–/%@+=xX×' \"\n'²½\u200b\ufeff\u00a0()#"),
        st.sampled_from(["kg", "lb", "RPE", "s", "min", "8", "10", "75%", "AMRAP", "each side", "Aug", "2026", "#N/A"]),
        st.characters(),
    ),
    max_size=12,
).map("".join)
NUMBERS = st.one_of(
    st.decimals(),
    st.decimals(allow_nan=False, allow_infinity=False, min_value=-100_000, max_value=100_000, places=4),
    st.sampled_from([Decimal(0), Decimal("0.0625"), Decimal("0.75"), Decimal(60), Decimal(46244), Decimal("3.75")]),
    st.integers().map(Decimal),
)
VALUES = st.one_of(st.none(), BITS, NUMBERS, st.booleans(), st.text())
FORMATS = st.one_of(
    st.sampled_from(
        [*BUILT_IN.values(), '0" kg"', '0" %"', "[>=100]0;d-mmm", "yyyy-mm-dd", "0000", "[h]:mm", "0.000000000000000"]
    ),
    st.text('0#?.%;@dmyhs:/-[]<>="\\ E+_*,AP', max_size=12),
    st.text(max_size=12),
)
CELLS = st.builds(
    SourceCell,
    place=st.just(HERE),
    value=VALUES,
    type=st.sampled_from(CellType),
    number_format=FORMATS,
    formula=st.one_of(st.none(), st.just("=A1"), st.just("")),
    struck=st.booleans(),
    serial_epoch_1904=st.booleans(),
)


@settings(max_examples=400, deadline=None)
@given(CELLS)
@example(SourceCell(HERE, Decimal("1E+400"), CellType.NUMBER))
@example(SourceCell(HERE, Decimal("sNaN"), CellType.DATE, "d-mmm"))
def test_any_cell_is_understood_or_refused(cell: SourceCell) -> None:
    """Never an exception; a refusal is an error of the catalogue, a remark beside a value never is one."""
    for kind in KINDS:
        result = kind.read(cell)
        if isinstance(result, Refusal):
            assert CATALOGUE[result.remark.slug].severity is Severity.ERROR, (kind.name, cell)
        else:
            assert isinstance(result, Understood)
            for remark in result.remarks:
                assert CATALOGUE[remark.slug].severity is not Severity.ERROR, (kind.name, cell)


@settings(max_examples=200, deadline=None)
@given(CELLS.filter(lambda cell: cell.type in {CellType.ERROR, CellType.UNCALCULATED} or cell.struck))
def test_no_kind_makes_a_value_of_what_cannot_be_used(cell: SourceCell) -> None:
    """Error values, formulas without a result and struck-out cells have no value, whatever the column."""
    for kind in KINDS:
        assert isinstance(kind.read(cell), Refusal), kind.name


@settings(max_examples=100, deadline=None)
@given(st.decimals(allow_nan=False, allow_infinity=False, min_value=0, max_value=10_000, places=3))
def test_a_bare_number_is_never_a_percentage(number: Decimal) -> None:
    for kind in (kinds.LOAD, kinds.PERCENT, kinds.EFFORT_LIMIT):
        for cell in (SourceCell(HERE, number, CellType.NUMBER), SourceCell(HERE, str(number), CellType.TEXT)):
            assert isinstance(kind.read(cell), Refusal)


def test_every_example_and_default_of_the_declaration_is_understood_without_a_remark() -> None:
    for sheet in SHEETS:
        for column in (*sheet.columns, *sheet.weekly):
            for text in filter(None, (column.example, column.default)):
                result = column.kind.read(SourceCell(HERE, text, CellType.TEXT))
                assert isinstance(result, Understood), f"{sheet.name}, {column.header}: {text}"
                assert not result.remarks


def test_every_kind_has_a_name_and_says_what_may_be_written() -> None:
    assert all(kind.name and kind.says for kind in KINDS)
