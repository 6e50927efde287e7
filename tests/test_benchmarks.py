"""The benchmarks are a command, not tests: here only that they run, and a sample of the random edits."""

from __future__ import annotations

import pytest

from compiler.flags.model import Severity, has
from compiler.pipeline.check import check_source
from tests.benchmarks import drawing, mutations, resolving
from tests.benchmarks.__main__ import measures
from tests.benchmarks.measures import Row
from tests.benchmarks.workbooks import block_source, with_one_test_changed

EDITS = 200
SEED = 20261207


def test_the_workbook_compiles_without_an_error() -> None:
    """Every client has a booklet of twelve sessions, and the same seed gives the same workbook."""
    checked = check_source(block_source(4))
    assert not has(Severity.ERROR, checked.flags)
    assert [len(plan.sessions) for plan in checked.plans] == [12] * 4
    assert block_source(4) == block_source(4)


def test_one_test_is_one_cell() -> None:
    """The changed workbook differs from the other in one cell."""
    one, other = block_source(4), with_one_test_changed(block_source(4))
    differing = [
        place
        for sheet, changed in zip(one.sheets, other.sheets, strict=True)
        for place in sheet.cells
        if sheet.cells[place] != changed.cells[place]
    ]
    assert len(differing) == 1


def test_rows_know_their_goal() -> None:
    """A ratio at its goal meets it, from either side."""
    assert Row("a", "b", 0.3, 0.3).met
    assert not Row("a", "b", 0.31, 0.3).met
    assert Row("a", "b", 80, 80, at_least=True).met
    assert not Row("a", "b", 79, 80, at_least=True).met


def test_small_benchmarks_run() -> None:
    """Those that start no other program, at their smallest."""
    assert "page" in measures(1, quick=True)
    rows = [*drawing.page_rows(1, 1), *drawing.print_run_rows(2, 1)]
    rows += [*resolving.load_rows(1, 1), *resolving.stack_rows(2, 1)]
    assert all(row.ratio > 0 for row in rows)


@pytest.mark.parametrize("batch", range(4))
def test_random_edits(batch: int) -> None:
    """No exception and no load that no cell states; `python -m tests.benchmarks --mutations 2000` tries more."""
    assert mutations.problems(EDITS // 4, SEED + batch) == []
