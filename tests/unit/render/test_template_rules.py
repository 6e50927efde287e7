"""Drop-downs and marks: every list is covered, every name they use is defined, formulas are ones that all can read."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from typing import Any, TypeVar

import pytest

from compiler.render.template import render_template
from compiler.render.template_rules import FIRST_ROW, LAST_ROW, growing_list, wrong_when
from compiler.schema.column import SheetSpec
from compiler.schema.sheets import BLOCK, CLIENTS, EXERCISES, KIT, PROGRAMME, SHEETS
from tests.workbook_content import drop_downs, marks, open_workbook

T = TypeVar("T")
LONGEST_FORMULA = 255  # of a list and of a message in a drop-down; ECMA-376, 18.3.1.33 dataValidation
SHARED_FUNCTIONS = frozenset(
    ("AND", "CELL", "COUNTA", "COUNTIF", "FALSE", "FIND", "IF", "IFERROR", "INDEX", "ISERROR", "ISNUMBER", "ISTEXT")
) | frozenset(("LEFT", "MATCH", "MAX", "MID", "NOT", "OR", "ROW", "SUBSTITUTE", "SUMPRODUCT", "TRIM", "VALUE"))
"""Functions of Excel 2010 that LibreOffice 7 has too (help pages of both)."""


@pytest.fixture(scope="module")
def book() -> Any:
    return open_workbook(render_template(2, 3))


@pytest.mark.parametrize("spec", [spec for spec in SHEETS if not spec.settings], ids=lambda spec: spec.name)
def test_every_list_has_a_drop_down_that_covers_it(book: Any, spec: SheetSpec) -> None:
    """Closed lists are offered whole, names through a list that grows; other columns have no drop-down."""
    offered = drop_downs(book[spec.name])
    written = {cell.value for cell in book[spec.name][1]}
    for column in (*spec.columns, *spec.weekly):
        header = column.header.format(week=1)
        found = _under(book, spec.name, header, offered) if header in written else []
        if column.kind.choices:
            assert found == [f'"{",".join(column.kind.choices)}"']
        elif column.kind.names_of:
            assert found == [f"{column.kind.names_of}_list"]
        else:
            assert found == []


def test_sizes_say_what_they_count_while_they_are_typed(book: Any) -> None:
    """25 x4 read as four plates would be half the load; the cell itself says that they are pairs."""
    sizes = _column(KIT.name, book, "Sizes")
    (found,) = (v for v in book[KIT.name].data_validations.dataValidation if str(v.sqref).startswith(sizes))
    assert (found.showInputMessage, found.promptTitle) == (True, "Sizes")
    assert "25 x4 is four pairs, so eight plates" in found.prompt
    assert len(found.prompt) <= LONGEST_FORMULA


def test_every_choice_of_a_setting_is_offered(book: Any) -> None:
    offered = drop_downs(book[BLOCK.name])
    for row, column in enumerate(BLOCK.columns, start=2):
        expected = f'"{",".join(column.kind.choices)}"' if column.kind.choices else None
        assert offered.get(f"B{row}") == expected


def test_every_name_that_formulas_use_is_defined(book: Any) -> None:
    used = {
        word
        for spec in SHEETS
        for formula in (*drop_downs(book[spec.name]).values(), *_all(marks(book[spec.name]).values()))
        for word in re.findall(r"\b[A-Z][a-z]+_(?:list|column)\b", formula)
    }
    assert used <= {name for name in book.defined_names if name.endswith(("_list", "_column"))}


def test_formulas_use_shared_functions_and_no_sheet_by_name_in_marks(book: Any) -> None:
    """Marks reach other sheets through defined names: older releases refuse a sheet's name in one."""
    for sheet in book.worksheets:
        for formula in _all(marks(sheet).values()):
            assert "!" not in formula
            assert set(re.findall(r"([A-Z]+)\(", formula)) <= SHARED_FUNCTIONS
    for name in book.defined_names.values():
        assert set(re.findall(r"([A-Z]+)\(", name.attr_text)) <= SHARED_FUNCTIONS


def test_drop_downs_warn_and_do_not_forbid(book: Any) -> None:
    """A name that will be added tomorrow can be typed today; several names in one cell raise no question."""
    for sheet in book.worksheets:
        for found in (v for v in sheet.data_validations.dataValidation if v.type == "list"):
            assert found.errorStyle == "warning"
            assert len(found.formula1) <= LONGEST_FORMULA
            assert len(found.error) <= LONGEST_FORMULA
    restrictions = _column(CLIENTS.name, book, "Restrictions")
    several = [v for v in book[CLIENTS.name].data_validations.dataValidation if restrictions in str(v.sqref)]
    assert [found.showErrorMessage for found in several] == [False]


def test_required_columns_are_marked_while_they_are_blank(book: Any) -> None:
    for spec in SHEETS:
        for column in spec.columns:
            if column.required:
                first = f"{_column(spec.name, book, column.header)}{FIRST_ROW}"
                formulas = _all(_under(book, spec.name, column.header, marks(book[spec.name])))
                assert any(formula.startswith(f'AND({first}="",COUNTA(') for formula in formulas)


def test_bare_numbers_and_unlisted_names_are_marked() -> None:
    """What the check will call wrong whatever else stands in the row."""
    assert any("VALUE(A2)" in formula for formula in wrong_when(PROGRAMME.column("load"), "A2"))
    assert any("Exercises_column" in formula for formula in wrong_when(PROGRAMME.column("exercise"), "A2"))
    assert any("TRIM" in formula for formula in wrong_when(EXERCISES.column("implement"), "A2"))
    assert any("VALUE(A2)" in formula for formula in wrong_when(CLIENTS.column("working_max"), "A2"))


def test_spaces_round_a_name_do_not_count() -> None:
    """The check reads names without the spaces round them, and so do the marks."""
    (unlisted,) = (f for f in wrong_when(PROGRAMME.column("exercise"), "A2") if "Exercises_column" in f)
    assert "TRIM(Exercises_column)=TRIM(A2)" in unlisted


def test_yes_and_no_have_more_spellings_than_their_list() -> None:
    """A y is read as yes, so that it is not marked."""
    assert not any("TRIM" in formula for formula in wrong_when(EXERCISES.column("each_side"), "A2"))


def test_list_grows_over_blank_rows() -> None:
    """The list ends at the last filled cell, wherever blank rows stand.

    Tried in LibreOffice 7.4: with names in rows 2, 4 and 5 the list has four cells and ends with row 5's.
    """
    assert growing_list("My exercises", 1, 2, 9) == (
        "='My exercises'!$A$2:INDEX('My exercises'!$A$2:$A$9,"
        "MAX(1,SUMPRODUCT(MAX(('My exercises'!$A$2:$A$9<>\"\")*(ROW('My exercises'!$A$2:$A$9)-1)))))"
    )


def _all(parts: Iterable[list[str]]) -> list[str]:
    return [formula for part in parts for formula in part]


def _column(sheet: str, book: Any, header: str) -> str:
    return next(str(cell.column_letter) for cell in book[sheet][1] if cell.value == header)


def _under(book: Any, sheet: str, header: str, found: Mapping[str, T]) -> list[T]:
    """Return what covers the whole entry range under a header."""
    letters = _column(sheet, book, header)
    expected = f"{letters}{FIRST_ROW}:{letters}{LAST_ROW}"
    return [what for area, what in found.items() if expected in area.split()]
