"""What has not changed is not made again; by one process or several the same files come out."""

from __future__ import annotations

import json
import multiprocessing
import os
import pickle
import re
import signal
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path

import pytest

from compiler.demo.workbooks import WINTER_BLOCK, WITH_MISTAKES, demo_source, demo_workbook
from compiler.files import CannotWrite, read_manifest
from compiler.files_disk import digest
from compiler.pipeline import booklets
from compiler.pipeline import compile as compile_module
from compiler.pipeline.compile import compile_workbook
from compiler.pipeline.desk import FLAT_RUN
from compiler.pipeline.kept import KEYS
from compiler.pipeline.rooms import ROOMS
from compiler.pipeline.workers import Content, Ready, Workers, in_order
from compiler.render.template import render_template
from compiler.source.cells import SourceBook
from tests.support import CLIENTS, few_clients, with_cell


def with_note(source: SourceBook, row: int, words: str) -> SourceBook:
    """Return a workbook with another note to the client of one row."""
    return with_cell(source, row, "Note from coach", words)


def written(folder: Path, source: SourceBook) -> Path:
    path = folder / "block.xlsx"
    path.write_bytes(render_template(4, 3, fill=source))
    return path


@pytest.fixture
def drawn(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Return whose booklets are drawn."""
    names: list[str] = []
    draw = booklets.draw_booklet

    def noted(booklet: booklets.Booklet, password: str) -> object:
        names.append(booklet.cover.client)
        return draw(booklet, password)

    monkeypatch.setattr(booklets, "draw_booklet", noted)
    return names


def files_in(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in folder.rglob("*") if path.is_file() and path.name != KEYS}


def test_nothing_changed_nothing_drawn(tmp_path: Path, drawn: list[str]) -> None:
    """Nothing is drawn and nothing written; flags, counts and the run are told as before."""
    book, out = written(tmp_path, few_clients(demo_source())), tmp_path / "out"
    first = compile_workbook(book, out)
    assert len(drawn) == len(CLIENTS)
    times = {path: path.stat().st_mtime_ns for path in out.rglob("*")}
    drawn.clear()
    again = compile_workbook(book, out)
    assert drawn == []
    assert {path: path.stat().st_mtime_ns for path in out.rglob("*")} == times
    assert again.flags == first.flags
    assert (again.in_run, again.changed, again.written.written) == (first.in_run, (), ())
    assert set(again.written.places) == set(first.written.places)


@pytest.mark.parametrize("name", [WINTER_BLOCK, WITH_MISTAKES])
def test_nothing_changed_nothing_checked(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, name: str) -> None:
    """What is told comes from the folder: the same flags, long sessions among them, and who is held and why."""
    book, out = tmp_path / "block.xlsx", tmp_path / "out"
    book.write_bytes(demo_workbook(name))
    first = compile_workbook(book, out)
    monkeypatch.setattr(compile_module, "check_bound", lambda *_: pytest.fail("checked again"))
    again = compile_workbook(book, out)
    assert (again.book, again.flags, again.clients, again.held) == (first.book, first.flags, first.clients, first.held)
    if name == WINTER_BLOCK:
        assert "session-over-a-page" in {flag.slug for flag in again.flags}
    else:
        assert again.held


def test_one_client_changed_one_booklet_drawn(tmp_path: Path, drawn: list[str]) -> None:
    """The one whose page is different, and its name is told."""
    source, out = few_clients(demo_source()), tmp_path / "out"
    first = compile_workbook(written(tmp_path, source), out)
    assert first.changed is None
    drawn.clear()
    second = compile_workbook(written(tmp_path, with_note(source, 3, "Slower down, faster up.")), out)
    assert drawn == ["Rufus Pemberly"]
    assert second.changed == ("Rufus Pemberly",)
    fresh = tmp_path / "fresh"
    compile_workbook(tmp_path / "block.xlsx", fresh)
    assert files_in(fresh) == files_in(out)


def test_one_test_changed_one_booklet_drawn(tmp_path: Path, drawn: list[str]) -> None:
    """A test of one client is nobody else's business."""
    source, out = few_clients(demo_source()), tmp_path / "out"
    compile_workbook(written(tmp_path, source), out)
    tests = next(sheet for sheet in source.sheets if sheet.name == "Tests")
    named = {at for at, cell in tests.cells.items() if cell.value in {"Rufus Pemberly", "Back squat", "Load"}}
    (row,) = {row for row, _ in named if sum(at[0] == row for at in named) == 2}
    (column,) = {column for at, column in named if at == 1}
    cell = tests.cells[row, column]
    edited = replace(tests, cells={**tests.cells, (row, column): replace(cell, value="150")})
    drawn.clear()
    book = written(tmp_path, replace(source, sheets=tuple(edited if s is tests else s for s in source.sheets)))
    assert (compile_workbook(book, out).changed, drawn) == (("Rufus Pemberly",), ["Rufus Pemberly"])


def test_long_sessions_are_told_again(tmp_path: Path) -> None:
    """A warning that only layout can give stands again when nothing is laid out but one booklet."""
    source, out = demo_source(), tmp_path / "out"
    first = compile_workbook(written(tmp_path, source), out)
    second = compile_workbook(written(tmp_path, with_note(source, 3, "Slower down, faster up.")), out)
    assert len(second.changed or ()) == 1
    long = [[flag for flag in made.flags if flag.slug == "session-over-a-page"] for made in (first, second)]
    assert long[0] == long[1]
    assert long[0]


@pytest.mark.parametrize(
    "harm",
    [
        pytest.param(lambda out: (out / "booklets" / "rufus-pemberly.pdf").unlink(), id="a booklet is gone"),
        pytest.param(lambda out: (out / KEYS).unlink(), id="the keys are gone"),
        pytest.param(lambda out: (out / KEYS).write_text("{"), id="the keys are damaged"),
        pytest.param(lambda out: (out / KEYS).write_text('{"form": 1, "booklets": 3}'), id="the keys are odd"),
        pytest.param(lambda out: (out / "manifest.json").unlink(), id="the manifest is gone"),
        pytest.param(lambda out: forge(out), id="a key names another file"),  # noqa: PLW0108 - it stands below
    ],
)
def test_keys_are_never_believed_alone(tmp_path: Path, harm: Callable[[Path], object]) -> None:
    """Whatever happens to the folder, the next run leaves it whole."""
    book, out = written(tmp_path, few_clients(demo_source())), tmp_path / "out"
    compile_workbook(book, out)
    whole = files_in(out)
    harm(out)
    compile_workbook(book, out)
    assert {name: files_in(out)[name] for name in whole} == whole
    assert all(digest((out / name).read_bytes()) == found for name, found in read_manifest(out).items())


def forge(out: Path) -> None:
    """Let every key lead to the same hash."""
    keys = json.loads((out / KEYS).read_text())
    first = next(iter(keys["booklets"].values()))
    keys["booklets"] = dict.fromkeys(keys["booklets"], first)
    keys["whole"] = {}
    (out / KEYS).write_text(json.dumps(keys))


def test_an_edited_booklet_is_the_coachs(tmp_path: Path) -> None:
    """The file that was typed over stays, whatever the keys say."""
    book, out = written(tmp_path, few_clients(demo_source())), tmp_path / "out"
    compile_workbook(book, out)
    edited = out / "booklets" / "rufus-pemberly.pdf"
    edited.write_bytes(b"mine")
    compile_workbook(book, out)
    assert edited.read_bytes() == b"mine"


def test_keys_hold_nothing_personal(tmp_path: Path) -> None:
    """Hashes and counts alone."""
    book, out = tmp_path / "block.xlsx", tmp_path / "out"
    book.write_bytes(demo_workbook())
    compile_workbook(book, out)
    texts = set(re.findall('"([^"]*)"', (out / KEYS).read_text()))
    told = {text for text in texts if not re.fullmatch("[0-9a-f]{64}", text)}
    # a long session is named by its week and its number
    names = {text for text in told if text and not re.fullmatch(r"[0-9]+-[0-9]+", text)}
    assert names == {"booklets", "files", "form", "values", "whole", FLAT_RUN, ROOMS}


def test_workers_draw_the_same(tmp_path: Path) -> None:
    """Two processes and one give the same folder, byte for byte."""
    book = written(tmp_path, few_clients(demo_source()))
    compile_workbook(book, tmp_path / "one", jobs=1)
    compile_workbook(book, tmp_path / "two", jobs=2)
    assert files_in(tmp_path / "one") == files_in(tmp_path / "two")


# ---------------------------------------------------------------- workers


@contextmanager
def woken(jobs: int) -> Iterator[Workers]:
    """Give workers that have been woken."""
    with Workers(jobs) as workers:
        workers.wake()
        yield workers


def double(value: int) -> int:
    return 2 * value


def dying(value: int) -> int:
    """End the process from within as the system would when memory is short."""
    if value == 5:
        os.kill(os.getpid(), signal.SIGKILL)
    return value


@pytest.mark.parametrize(("jobs", "awake"), [(1, False), (2, False), (2, True)])
def test_results_come_in_order(jobs: int, awake: bool) -> None:
    """What is known already takes its turn among what is worked out."""
    values = [1, 2, Ready(-1), *range(3, 40), Ready(-2)]
    expected = [2, 4, -1, *(2 * value for value in range(3, 40)), -2]
    with woken(jobs) if awake else Workers(jobs) as workers:
        assert list(in_order(double, values, workers)) == expected


@pytest.mark.parametrize(("jobs", "at_once"), [(1, 0), (2, 2)])
def test_what_is_built_meanwhile(jobs: int, at_once: int) -> None:
    """Beside workers values are built at once; without them when they are asked for, so as not to wait in memory."""
    built: list[int] = []

    def build() -> Iterator[str]:
        for name in ("loads", "sessions"):
            built.append(1)
            yield name

    with woken(jobs) as workers:
        asked = workers.meanwhile(build)
        assert len(built) == at_once
        assert list(asked()) == ["loads", "sessions"]
    assert len(built) == 2


def told(asked: Callable[[], Iterable[str]]) -> str:
    """Say what is asked for, as a worker does with what was built before."""
    return " and ".join(asked())


@pytest.mark.parametrize("jobs", [1, 2])
def test_a_worker_asks_for_what_was_built_meanwhile(jobs: int) -> None:
    """It is sent on as it is, within another value."""
    with woken(jobs) as workers:
        asked = workers.meanwhile(lambda: ("loads", "sessions"))
        assert workers.begin(told, lambda: asked)() == "loads and sessions"


def drawn_large(size: int) -> Content:
    """Return a file, as a worker draws it."""
    return Content(bytes(range(250)) * size)


@pytest.mark.parametrize("jobs", [1, 2])
@pytest.mark.parametrize("size", [0, 1, 30_000])
def test_a_file_comes_from_a_worker_as_it_was_drawn(jobs: int, size: int) -> None:
    """Whatever its size; an empty one is false."""
    with woken(jobs) as workers:
        made = workers.begin(drawn_large, lambda: size)()
    assert b"".join(made) == bytes(range(250)) * size
    assert bool(made) == bool(size)
    assert len(pickle.dumps(made)) < 500 + 250 * size / 10  # it is sent deflated


def loaded() -> None:
    """Do nothing, as a worker does that is only to load the program."""


@pytest.mark.parametrize(("jobs", "started"), [(1, 0), (2, 2)])
def test_workers_start_when_they_are_woken(jobs: int, started: int) -> None:
    """All of them, before there is anything to do."""
    before = len(multiprocessing.active_children())
    with Workers(jobs, loaded) as workers:
        assert len(multiprocessing.active_children()) == before
        workers.wake()
        assert len(multiprocessing.active_children()) - before == started


def test_a_killed_worker_is_one_sentence() -> None:
    """No hang and no traceback: the parent says what happened."""
    with pytest.raises(CannotWrite, match="stopped from outside"), woken(2) as workers:
        list(in_order(dying, range(20), workers))
    with pytest.raises(CannotWrite, match="stopped from outside"), woken(2) as workers:
        workers.later(dying, 5)()
