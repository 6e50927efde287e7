"""A print run that differs from the last in few booklets is put together of that one, and is what it would be anew."""

from __future__ import annotations

from collections.abc import Callable
from io import BytesIO
from pathlib import Path

import pikepdf
import pytest

from compiler.demo.workbooks import demo_source
from compiler.pipeline import desk
from compiler.pipeline.compile import compile_workbook
from compiler.pipeline.desk import FLAT_RUN, RunChoice
from compiler.render.template import render_template
from compiler.source.cells import SourceBook
from tests.support import few_clients, with_cell

PASSWORD = "oars"  # noqa: S105 - an invented one
NOTE = "Note from coach"
SLOWER, FASTER = "Slower down, faster up.", "Faster down, slower up."


@pytest.fixture
def added(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Return whose booklets are put into a run that is begun anew."""
    names: list[str] = []
    add = desk.PrintRun.add

    def noted(self: desk.PrintRun, booklet: desk.RunBooklet) -> int:
        names.append(booklet.client)
        return add(self, booklet)

    monkeypatch.setattr(desk.PrintRun, "add", noted)
    return names


def with_note(words: str) -> SourceBook:
    """Return three clients of the example, with a note from the coach to the second."""
    return with_cell(few_clients(demo_source()), 3, NOTE, words)


def compiled(
    folder: Path, source: SourceBook, out: str = "out", choice: RunChoice = desk.EVERYBODY, password: str = ""
) -> bytes:
    """Compile into a folder that may hold what another run left there; return the print run."""
    book = folder / "block.xlsx"
    book.write_bytes(render_template(4, 3, fill=source))
    compile_workbook(book, folder / out, choice=choice, password=password)
    return (folder / out / FLAT_RUN).read_bytes()


def test_the_last_run_is_taken(tmp_path: Path, added: list[str]) -> None:
    """With the one booklet that has changed; every byte is as if the run had been put together."""
    compiled(tmp_path, with_note(SLOWER))
    added.clear()
    again = compiled(tmp_path, with_note(FASTER))
    assert added == []
    assert again == compiled(tmp_path, with_note(FASTER), "fresh")
    assert len(added) == 3


@pytest.mark.parametrize(
    "source",
    [
        pytest.param(with_cell(with_note(SLOWER), 3, "Print", "large"), id="more pages"),
        pytest.param(with_note("M\u1ead b\u1edbt"), id="characters of another font subset"),
    ],
)
def test_what_does_not_fit_makes_a_new_run(tmp_path: Path, added: list[str], source: SourceBook) -> None:
    """A booklet of more pages, or with other fonts."""
    compiled(tmp_path, with_note(SLOWER))
    added.clear()
    again = compiled(tmp_path, source)
    assert len(added) == 3
    assert again == compiled(tmp_path, source, "fresh")


@pytest.mark.parametrize(
    "harm",
    [
        pytest.param(lambda run: run.unlink(), id="the run is gone"),
        pytest.param(lambda run: run.write_bytes(b"mine"), id="the run was typed over"),
    ],
)
def test_only_the_very_run_is_taken(tmp_path: Path, added: list[str], harm: Callable[[Path], object]) -> None:
    """Where it is not as it was written, a new one is put together."""
    compiled(tmp_path, with_note(SLOWER))
    harm(tmp_path / "out" / FLAT_RUN)
    added.clear()
    compiled(tmp_path, with_note(FASTER))
    assert len(added) == 3


@pytest.mark.parametrize(
    "choice",
    [
        pytest.param(RunChoice(clients=("Imogen Thackray", "Rufus Pemberly")), id="fewer clients"),
        pytest.param(RunChoice(simplex=True), id="on one side"),
        pytest.param(RunChoice(initials=True), id="initials"),
    ],
)
def test_another_run_is_put_together(tmp_path: Path, added: list[str], choice: RunChoice) -> None:
    """Of others, or of booklets that look otherwise."""
    compiled(tmp_path, with_note(SLOWER))
    added.clear()
    again = compiled(tmp_path, with_note(SLOWER), choice=choice)
    assert added
    assert again == compiled(tmp_path, with_note(SLOWER), "fresh", choice)


def test_a_locked_run_is_opened(tmp_path: Path, added: list[str]) -> None:
    """With its password: the pages are those of a run that is put together."""
    compiled(tmp_path, with_note(SLOWER), password=PASSWORD)
    added.clear()
    again = compiled(tmp_path, with_note(FASTER), password=PASSWORD)
    assert added == []
    assert operators(again, PASSWORD) == operators(compiled(tmp_path, with_note(FASTER), "fresh"), "")


def operators(run: bytes, password: str) -> list[bytes]:
    """Return what is drawn on each page; nothing on a blank one."""
    with pikepdf.open(BytesIO(run), password=password) as file:
        return [page.obj.Contents.read_bytes() if "/Contents" in page.obj else b"" for page in file.pages]
