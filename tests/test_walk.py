"""The walk of one cell in DEVELOPERS.md, gone again: each stage gives the value that the table says, where it says."""

from __future__ import annotations

import importlib
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from compiler.binding.records import bind_book
from compiler.documents.booklet import build_booklet
from compiler.documents.booklet_value import Figure
from compiler.layout.booklet import lay_out_booklet
from compiler.model.effective import unroll
from compiler.notation.load import read_load
from compiler.notation.values import Count, PercentLoad, Sets
from compiler.pipeline.check import check_source
from compiler.quantities import Load, plain
from compiler.render.booklet import render_booklet
from compiler.resolve.values import PlannedLoad
from compiler.source.xlsx import read_workbook
from tests.unit.render.pdf_facts import page_texts

ROOT = Path(__file__).parents[1]
ROW = re.compile(r"^\| (?P<stage>[^|]+) \| (?P<where>`[^|]+) \| `?(?P<value>[^|`]+)`? \|$", re.MULTILINE)
LIFT, SHEET, CELL, CLIENT = "Trap-bar deadlift", "Programme", "M7", "Imogen Thackray"


def table() -> dict[str, tuple[str, str]]:
    """Return where and what of each stage."""
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    section = text.partition("### One cell, from the workbook to the page")[2].partition("\n#")[0]
    return {row["stage"]: (row["where"], row["value"]) for row in ROW.finditer(section)}


@pytest.fixture(scope="module")
def found() -> dict[str, str]:
    """Return the value of every stage, in the words of the table."""
    return dict(walk())


def walk() -> Iterator[tuple[str, str]]:
    """Yield stage and value, from the file to the page."""
    source = read_workbook(ROOT / "examples" / "ottermere-winter-block.xlsx")
    cells = next(sheet.cells for sheet in source.sheets if sheet.name == SHEET)
    written = next(cell for cell in cells.values() if cell.place.a1 == CELL)
    yield "as written", str(written.value)
    book = bind_book(source).book
    assert book is not None
    row = next(row for row in book.programme if row.row.row == written.place.row)
    understood = row.weeks[0].load.needed
    assert understood == read_load(str(written.value))
    assert isinstance(understood, PercentLoad)
    yield "as understood", f"PercentLoad {plain(understood.items[0].low.value)}% of the {understood.of}"
    week = unroll(row)[1]
    assert isinstance(week.sets.content, Sets)
    count = week.reps.needed.items[0]
    assert isinstance(count, Count)
    assert week.load is not None
    holds = f"{week.sets.content.low} sets of {count.low}"
    yield "what holds in week 1", f"{holds}, load from {week.load.place_field.place}"
    yield from resolved(source)


def resolved(source: object) -> Iterator[tuple[str, str]]:
    """Yield what becomes of the cell for one client."""
    checked = check_source(source)  # type: ignore[arg-type]  # the book that was read above
    assert checked.book is not None
    plan = next(plan for plan in checked.plans if plan.name == CLIENT)
    done = next(done for part in plan.sessions[0].parts.values() for done in part if done.exercise.name.value == LIFT)
    yield from loaded(done.load)
    booklet = build_booklet(checked.book, plan)
    line = booklet.sessions[0].blocks[0].rows[0]
    assert isinstance(line.load, Figure)
    words = (line.dose.text, line.load.text, *line.load.notes)
    yield "in words", "; ".join(words).replace("\u00a0", " ")
    pages = page_texts(render_booklet(lay_out_booklet(booklet)))
    yield "on the page", f"page {1 + next(at for at, text in enumerate(pages) if LIFT in text and '90 kg' in text)}"


def loaded(load: PlannedLoad) -> Iterator[tuple[str, str]]:
    """Yield the maximum, the exact load and what the gym has."""
    top, fitted = load.maximum, load.items[0].low
    assert top is not None
    assert fitted.exact is not None
    assert fitted.load is not None
    assert fitted.bar is not None
    yield "her maximum", f"{kilograms(top.working_max)}, a {top.origin} at {top.test}"
    yield "exact load", kilograms(fitted.exact)
    plates = " + ".join(plain(plate) for plate in fitted.per_side)
    yield "what the gym has", f"{kilograms(fitted.load)}: {fitted.bar.name} and {plates} a side"


def kilograms(load: Load) -> str:
    """Return an amount with its unit."""
    return f"{plain(load.amount)} {load.unit}"


def test_the_way_is_as_the_table_says(found: dict[str, str]) -> None:
    """Every stage, in order, with its value."""
    assert {stage: value for stage, (_, value) in table().items()} == found


@pytest.mark.parametrize("where", [where for where, _ in table().values()])
def test_the_functions_exist(where: str) -> None:
    """Each is named by its module and its name."""
    for path, name in re.findall(r"`([\w/]+(?:\.py)?): (\w+)`", where):
        module = importlib.import_module(f"compiler.{path.removesuffix('.py').replace('/', '.')}")
        assert callable(getattr(module, name))
