"""What counts as printed: what was in the print run, and nothing else in the folder is touched."""

from __future__ import annotations

import hashlib
import json
from pathlib import Path

import pytest

from compiler.files import CannotWrite, write_set
from compiler.files_decision import PRINTED
from compiler.files_printed import RUN, listing_of_run, mark_printed, read_printed

ANN, BO = "booklets/ann.pdf", "booklets/bo.pdf"


def digest(content: bytes) -> str:
    return hashlib.sha256(content).hexdigest()


def compiled(folder: Path, booklets: dict[str, bytes], run: tuple[str, ...]) -> None:
    """Write booklets, and the list of those that are in the print run."""
    listing = listing_of_run({name: digest(booklets[name]) for name in run})
    write_set(folder, {**booklets, RUN: listing})


def test_what_was_in_the_run_is_marked(tmp_path: Path) -> None:
    """Names and hashes, nothing more; who was not in the run is not marked."""
    compiled(tmp_path, {ANN: b"ann 1", BO: b"bo 1"}, (ANN,))
    assert mark_printed(tmp_path) == (ANN,)
    assert json.loads((tmp_path / PRINTED).read_text(encoding="utf-8")) == {ANN: digest(b"ann 1")}
    assert read_printed(tmp_path) == {ANN: digest(b"ann 1")}


def test_later_runs_add_to_the_marks(tmp_path: Path) -> None:
    """A booklet printed earlier stays marked, one printed again is marked anew, one that is gone is forgotten."""
    compiled(tmp_path, {ANN: b"ann 1", BO: b"bo 1"}, (ANN, BO))
    mark_printed(tmp_path)
    compiled(tmp_path, {ANN: b"ann 2", BO: b"bo 1"}, (ANN,))
    mark_printed(tmp_path)
    assert read_printed(tmp_path) == {ANN: digest(b"ann 2"), BO: digest(b"bo 1")}
    compiled(tmp_path, {ANN: b"ann 2"}, ())
    assert mark_printed(tmp_path) == ()
    assert read_printed(tmp_path) == {ANN: digest(b"ann 2")}


def test_marks_outlive_the_next_compile(tmp_path: Path) -> None:
    """The marks are no part of a set: writing one neither replaces nor removes them, nor lists them."""
    compiled(tmp_path, {ANN: b"ann 1"}, (ANN,))
    mark_printed(tmp_path)
    before = (tmp_path / PRINTED).read_bytes()
    compiled(tmp_path, {BO: b"bo 1"}, (BO,))
    assert (tmp_path / PRINTED).read_bytes() == before
    assert PRINTED not in json.loads((tmp_path / "manifest.json").read_text(encoding="utf-8"))
    with pytest.raises(ValueError, match="not a name"):
        write_set(tmp_path, {PRINTED: b"{}"})


def test_marking_touches_no_other_file(tmp_path: Path) -> None:
    compiled(tmp_path, {ANN: b"ann 1"}, (ANN,))
    (tmp_path / "notes.txt").write_text("the coach's own", encoding="utf-8")
    before = {path: path.read_bytes() for path in tmp_path.rglob("*") if path.is_file()}
    mark_printed(tmp_path)
    after = {path: path.read_bytes() for path in tmp_path.rglob("*") if path.is_file()}
    assert set(after) - set(before) == {tmp_path / PRINTED}
    assert {path: after[path] for path in before} == before


def test_a_folder_without_a_run_is_refused(tmp_path: Path) -> None:
    with pytest.raises(CannotWrite, match="no print run"):
        mark_printed(tmp_path)


def test_a_changed_list_of_the_run_is_refused(tmp_path: Path) -> None:
    """What somebody has edited is no record of what was printed."""
    compiled(tmp_path, {ANN: b"ann 1"}, (ANN,))
    (tmp_path / RUN).write_text("{}", encoding="utf-8")
    with pytest.raises(CannotWrite, match="not as it was written"):
        mark_printed(tmp_path)


def test_a_foreign_file_of_that_name_is_kept(tmp_path: Path) -> None:
    """A `printed.json` of somebody else's is never replaced."""
    compiled(tmp_path, {ANN: b"ann 1"}, (ANN,))
    (tmp_path / PRINTED).write_text('["mine"]', encoding="utf-8")
    with pytest.raises(CannotWrite, match="not a list of printed booklets"):
        mark_printed(tmp_path)
    assert (tmp_path / PRINTED).read_text(encoding="utf-8") == '["mine"]'
    assert read_printed(tmp_path / "elsewhere") == {}
