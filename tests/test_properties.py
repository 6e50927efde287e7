"""Laws of the whole of checking: any cells give flags and no exception, and no load comes from nowhere."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from compiler.cellref import CellRef
from compiler.documents.booklet import build_booklet
from compiler.documents.log_entry import build_log_entry
from compiler.documents.room_sheet import build_room_sheets
from compiler.flags.model import Severity
from compiler.flags.text import flags_as_text
from compiler.folding import name_key
from compiler.model.book import Book
from compiler.model.field import Field
from compiler.notation.values import LoadText, PercentLoad, Step
from compiler.pipeline.check import Checked, check_source
from compiler.pipeline.compile import held_clients
from compiler.resolve.values import ClientPlan, LoadKind, PlannedLoad
from compiler.schema.sheets import SHEET_ORDER
from compiler.source.cells import SourceBook
from compiler.source.grid import book_from_grid, cell_from_text
from tests.all_at_once import summarise

DATA = Path(__file__).parent / "data"
WIDTH = 100

SOUND = book_from_grid((DATA / "sound-block.md").read_text(encoding="utf-8"), "block.xlsx")
PLACES = sorted(
    CellRef(sheet.name, row, column)
    for sheet in SOUND.sheets
    for row in range(2, 1 + max(row for row, _ in sheet.cells))
    for column in range(1, 1 + max(column for _, column in sheet.cells))
)

ODD = ["", " ", *(DATA / "odd-cells.txt").read_text(encoding="utf-8").splitlines()]
"""What may stand in any cell, as `source.grid` writes it."""

cells = st.dictionaries(st.sampled_from(PLACES), st.sampled_from(ODD), min_size=1, max_size=8)


def _with(odd: dict[CellRef, str]) -> SourceBook:
    sheets = []
    for sheet in SOUND.sheets:
        there = dict(sheet.cells)
        for place, text in odd.items():
            if place.sheet == sheet.name:
                there.pop((place.row, place.column), None)
                if text:
                    there[place.row, place.column] = cell_from_text(text, place)
        sheets.append(replace(sheet, cells=there))
    return replace(SOUND, sheets=tuple(sheets))


def _load_cells(book: Book) -> dict[CellRef, Field[LoadText]]:
    """Return the load cells that were understood, by their places."""
    fields = [week.load for row in book.programme for week in row.weeks]
    fields += [change.load for change in book.changes]
    return {field.place: field for field in fields if field.known is not None}


def _base(load: PlannedLoad, stated: dict[CellRef, Field[LoadText]]) -> LoadText:
    """Return what the steps of a load started from: the last load before its cell, in its row, that is no step."""
    assert load.source is not None
    assert load.source in stated
    at = load.source
    row = sorted(place for place in stated if (place.sheet, place.row) == (at.sheet, at.row) and place <= at)
    bases = [stated[place].known for place in row if not isinstance(stated[place].known, Step)]
    assert bases
    base = bases[-1]
    assert base is not None
    return base


def _from_somewhere(checked: Checked, plan: ClientPlan, load: PlannedLoad) -> None:
    """Check that a weight rests on a cell that was read as a load, and a percentage on a test of this client."""
    assert checked.book is not None
    base = _base(load, _load_cells(checked.book))
    if not isinstance(base, PercentLoad):
        return
    rests_on = load.rep_max.test if load.rep_max and load.rep_max.test else load.maximum.test if load.maximum else None
    assert rests_on is not None
    owners = {name_key(test.client.needed) for test in checked.book.tests if test.row.row == rests_on.row}
    assert owners == {name_key(plan.name)}


def _all_written(checked: Checked) -> None:
    """Make everything that would be printed; nothing of it may raise."""
    if checked.book is None:
        return
    held = held_clients(checked.book, checked.flags, checked.clients)
    summarise(checked.book, checked.plans, checked.flags, held)
    for plan in checked.plans:
        build_booklet(checked.book, plan)
    if checked.plans:
        build_room_sheets(checked.book, checked.plans, held)
        build_log_entry(checked.book, checked.plans)


@settings(max_examples=200, derandomize=True, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(cells)
@example({})
@example({CellRef("Programme", 2, 9): "3 x 8 @ 75%", CellRef("Programme", 2, 10): "", CellRef("Programme", 2, 11): ""})
def test_any_cells_give_flags_and_no_load_from_nowhere(odd: dict[CellRef, str]) -> None:
    """No exception; each weight of a plan rests on a load cell, and a percentage on a test of the client."""
    checked = check_source(_with(odd))
    assert flags_as_text(checked.flags, SHEET_ORDER, WIDTH, colour=False)
    _all_written(checked)
    stopped = {name for flag in checked.flags if flag.severity is Severity.ERROR for name in flag.touches}
    assert not stopped & {plan.name for plan in checked.plans}
    for plan in checked.plans:
        for session in plan.sessions:
            for exercises in session.parts.values():
                for planned in exercises:
                    if planned.load.kind is LoadKind.WEIGHT:
                        _from_somewhere(checked, plan, planned.load)


def test_sound_cells_give_plans() -> None:
    """What the odd cells are put into has a plan for everybody, and weights in it."""
    checked = check_source(SOUND)
    assert [flag.slug for flag in checked.flags] == []
    kinds = {
        planned.load.kind
        for plan in checked.plans
        for session in plan.sessions
        for exercises in session.parts.values()
        for planned in exercises
    }
    assert len(checked.plans) == 2
    assert kinds == {LoadKind.WEIGHT}
