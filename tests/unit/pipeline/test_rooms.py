"""Room sheets of groups in which nothing changed are taken from the last file; the file is that of a fresh compile."""

from __future__ import annotations

from collections.abc import Callable, Collection
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from compiler.demo.workbooks import demo_source
from compiler.pipeline import rooms
from compiler.pipeline.compile import compile_workbook
from compiler.pipeline.kept import KEYS
from compiler.pipeline.rooms import ROOMS
from compiler.render.booklet import read_sketches
from compiler.render.template import render_template
from compiler.source.cells import CellType, SourceBook, SourceCell
from tests.support import few_clients, with_cell

EARLY, EVENING = "tuesday early", "tuesday evening"
PASSWORD = "oars"  # noqa: S105 - an invented one


@pytest.fixture
def start() -> SourceBook:
    """Return three clients of the example: two who train early, in rows 2 and 3, one who trains in the evening."""
    return few_clients(demo_source())


@pytest.fixture
def built(monkeypatch: pytest.MonkeyPatch) -> list[tuple[str, ...]]:
    """Return the groups whose sheets were built, a tuple for each time."""
    groups: list[tuple[str, ...]] = []
    build = rooms.build_room_sheets

    def noted(book: Any, plans: Any, held: Any, without: Collection[str] = ()) -> Any:
        made = build(book, plans, held, without)
        groups.append(tuple(dict.fromkeys(sheet.group for sheet in made.sheets)))
        return made

    monkeypatch.setattr(rooms, "build_room_sheets", noted)
    return groups


def compiled(folder: Path, source: SourceBook, out: str = "out", password: str = "") -> bytes:
    """Compile into a folder that may hold what another run left there; return the file of the room sheets."""
    book = folder / "block.xlsx"
    book.write_bytes(render_template(4, 3, fill=source))
    compile_workbook(book, folder / out, password=password)
    return (folder / out / ROOMS).read_bytes()


def test_nobody_has_a_plan(tmp_path: Path, start: SourceBook) -> None:
    """A setting that is printed on every page could not be read: all are stopped, and nobody meets."""
    block = next(sheet for sheet in start.sheets if sheet.name == "Block")
    [place] = [cell.place for cell in block.cells.values() if cell.value == "Maud Ferrier"]
    wrong = SourceCell(place, "#N/A", CellType.ERROR)
    edited = replace(block, cells={**block.cells, (place.row, place.column): wrong})
    book = tmp_path / "block.xlsx"
    sheets = tuple(edited if sheet is block else sheet for sheet in start.sheets)
    book.write_bytes(render_template(4, 3, fill=replace(start, sheets=sheets)))
    made = compile_workbook(book, tmp_path / "out")
    assert (len(made.held), ROOMS in made.written.places) == (3, False)


def with_text(source: SourceBook, old: str, new: str) -> SourceBook:
    """Return the workbook with one text for another wherever it stands."""
    sheets = (
        replace(
            sheet,
            cells={at: replace(cell, value=new) if cell.value == old else cell for at, cell in sheet.cells.items()},
        )
        for sheet in source.sheets
    )
    return replace(source, sheets=tuple(sheets))


def test_one_group_changed_one_group_built(tmp_path: Path, start: SourceBook, built: list[tuple[str, ...]]) -> None:
    """With fewer pages than before; the file is byte for byte that of an empty folder."""
    compiled(tmp_path, start)
    edited = with_cell(start, 3, "Highest effort", "70%")
    again = compiled(tmp_path, edited)
    assert built == [(EARLY, EVENING), (EARLY,)]
    assert again == compiled(tmp_path, edited, "fresh")


def test_what_all_share_changes_all(tmp_path: Path, start: SourceBook, built: list[tuple[str, ...]]) -> None:
    """An exercise that is named anew is somebody's in every group."""
    compiled(tmp_path, start)
    compiled(tmp_path, with_text(start, "Back squat", "Back squat, high bar"))
    assert built == [(EARLY, EVENING), (EARLY, EVENING)]


def test_a_group_that_moves_has_another_foot(tmp_path: Path, start: SourceBook, built: list[tuple[str, ...]]) -> None:
    """Every page says which of how many it is, and a group of one's own comes between."""
    compiled(tmp_path, start)
    edited = with_cell(start, 3, "Group", "Night")
    again = compiled(tmp_path, edited)
    assert built == [(EARLY, EVENING), (EARLY, "night")]
    assert again == compiled(tmp_path, edited, "fresh")
    assert read_sketches(again)[-1].section.startswith("Tuesday evening")


def test_rare_characters_are_drawn_in_one_go(tmp_path: Path, start: SourceBook, built: list[tuple[str, ...]]) -> None:
    """Which code such a character has hangs on what was drawn before it in the same file."""
    start = with_text(start, "Saoirse Dunlevy", "Saoirse \u1e0cunlevy")
    compiled(tmp_path, start)
    edited = with_cell(start, 3, "Highest effort", "70%")
    again = compiled(tmp_path, edited)
    assert built == [(EARLY, EVENING), (EARLY,), (EARLY, EVENING)]
    assert again == compiled(tmp_path, edited, "fresh")


@pytest.mark.parametrize(
    "harm",
    [
        pytest.param(lambda out: (out / ROOMS).unlink(), id="the file is gone"),
        pytest.param(lambda out: (out / ROOMS).write_bytes(b"mine"), id="the file was typed over"),
        pytest.param(lambda out: (out / KEYS).unlink(), id="the keys are gone"),
    ],
)
def test_only_the_very_file_is_used(
    tmp_path: Path, start: SourceBook, built: list[tuple[str, ...]], harm: Callable[[Path], object]
) -> None:
    """Where it is not as it was written, all sheets are drawn."""
    compiled(tmp_path, start)
    harm(tmp_path / "out")
    compiled(tmp_path, with_cell(start, 3, "Highest effort", "70%"))
    assert built[-1] == (EARLY, EVENING)


def test_a_file_that_was_put_back_is_not_mistaken_for_the_last(tmp_path: Path, start: SourceBook) -> None:
    """The coach types over the sheets, the next run puts its own beside, the coach puts back what was there before."""
    first = compiled(tmp_path, start)
    place = tmp_path / "out" / ROOMS
    place.write_bytes(b"mine")
    early = with_cell(start, 3, "Highest effort", "70%")
    compiled(tmp_path, early)
    assert place.with_name("room-sheets (new).pdf").is_file()
    place.write_bytes(first)
    both = with_cell(early, 12, "Highest effort", "70%")
    assert compiled(tmp_path, both) == compiled(tmp_path, both, "fresh")


def test_locked_sheets_are_taken_from_the_locked_file(
    tmp_path: Path, start: SourceBook, built: list[tuple[str, ...]]
) -> None:
    """With the password of the last run; with another, all are drawn."""
    compiled(tmp_path, start, password=PASSWORD)
    edited = with_cell(start, 3, "Highest effort", "70%")
    locked = compiled(tmp_path, edited, password=PASSWORD)
    assert built == [(EARLY, EVENING), (EARLY,)]
    assert read_sketches(locked, PASSWORD) == read_sketches(compiled(tmp_path, edited, "fresh"))
    compiled(tmp_path, start, password=PASSWORD.upper())
    assert built[-1] == (EARLY, EVENING)
