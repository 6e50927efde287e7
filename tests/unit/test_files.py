"""The output folder: whole or not at all, and the coach's own files never touched."""

from __future__ import annotations

import errno
import hashlib
import json
import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from filelock import FileLock

from compiler.files import (
    Beside,
    CannotWrite,
    check_writable,
    finish_interrupted,
    read_manifest,
    write_set,
)

ANN, BO, LOG, SUMMARY = (
    "booklets/ann.pdf",
    "booklets/bo.pdf",
    "coach/log-entry.xlsx",
    "coach/summary.xlsx",
)
OLD = {ANN: b"ann 1", BO: b"bo 1", LOG: b"log 1", SUMMARY: b"summary"}
NEW = {ANN: b"ann 2", LOG: b"log 2", SUMMARY: b"summary", "desk/print-run.pdf": b"run 2"}


def content(folder: Path) -> dict[str, bytes]:
    """Return every file of the folder, without what begins with a dot."""
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in folder.rglob("*")
        if path.is_file() and not path.relative_to(folder).parts[0].startswith(".")
    }


def the_set(files: dict[str, bytes]) -> dict[str, bytes]:
    """Return a set with the manifest that belongs to it."""
    hashes = {name: hashlib.sha256(found).hexdigest() for name, found in sorted(files.items())}
    listing = json.dumps(hashes, ensure_ascii=False, indent=2) + "\n"
    return {**files, "manifest.json": listing.encode()}


def test_a_set_is_written_with_its_manifest(tmp_path: Path) -> None:
    """A new folder holds the files, and a manifest of names and SHA-256 hashes alone."""
    out = tmp_path / "new" / "out"
    result = write_set(out, OLD)
    assert content(out) == the_set(OLD)
    assert result.written == tuple(OLD)
    assert result.places == {name: name for name in OLD}


def test_the_next_set_replaces_and_removes(tmp_path: Path) -> None:
    """What is no longer made is removed, what is the same is not written again."""
    write_set(tmp_path, OLD)
    before = (tmp_path / SUMMARY).stat().st_mtime_ns, (tmp_path / SUMMARY).stat().st_ino
    result = write_set(tmp_path, NEW)
    assert content(tmp_path) == the_set(NEW)
    assert result.written == (ANN, LOG, "desk/print-run.pdf")
    assert result.unchanged == (SUMMARY,)
    assert result.removed == (BO,)
    assert before == ((tmp_path / SUMMARY).stat().st_mtime_ns, (tmp_path / SUMMARY).stat().st_ino)


def test_the_same_set_writes_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The same bytes again: no file is replaced, not even the manifest."""
    write_set(tmp_path, OLD)
    monkeypatch.setattr(os, "replace", forbidden)
    result = write_set(tmp_path, OLD)
    assert result.unchanged == tuple(OLD)
    assert not result.written


def forbidden(*_: object) -> None:
    """Stand for a call that must not happen."""
    raise AssertionError


def test_only_dot_files_of_ours_stay(tmp_path: Path) -> None:
    """No staging, no journal, no probe is left; the lock may stay."""
    write_set(tmp_path, OLD)
    assert {path.name for path in tmp_path.iterdir()} - {".programme-lock"} == {
        "booklets",
        "coach",
        "manifest.json",
    }


# ---------------------------------------------------------------- the coach's files


def test_an_edited_file_is_kept(tmp_path: Path) -> None:
    """The log being typed is never replaced; the new one stands beside it and is named."""
    write_set(tmp_path, OLD)
    (tmp_path / LOG).write_bytes(b"typed by hand")
    result = write_set(tmp_path, NEW)
    beside = "coach/log-entry (new).xlsx"
    assert result.beside == (Beside(LOG, beside),)
    assert result.places[LOG] == beside
    assert content(tmp_path)[LOG] == b"typed by hand"
    assert content(tmp_path)[beside] == b"log 2"
    assert beside in read_manifest(tmp_path)


def test_the_file_beside_is_ours_until_it_is_edited(tmp_path: Path) -> None:
    """The new one beside is replaced by a newer one; once edited it is kept as well."""
    write_set(tmp_path, OLD)
    (tmp_path / LOG).write_bytes(b"typed by hand")
    write_set(tmp_path, NEW)
    write_set(tmp_path, {**NEW, LOG: b"log 3"})
    assert content(tmp_path)["coach/log-entry (new).xlsx"] == b"log 3"
    (tmp_path / "coach/log-entry (new).xlsx").write_bytes(b"typed too")
    result = write_set(tmp_path, {**NEW, LOG: b"log 4"})
    found = content(tmp_path)
    assert found["coach/log-entry (new).xlsx"] == b"typed too"
    assert found["coach/log-entry (new 2).xlsx"] == b"log 4"
    assert result.places[LOG] == "coach/log-entry (new 2).xlsx"


def test_an_edit_of_what_would_be_written_again_needs_no_new_file(tmp_path: Path) -> None:
    """Compiling the same block again beside a log being typed makes nothing."""
    write_set(tmp_path, OLD)
    (tmp_path / LOG).write_bytes(b"typed by hand")
    before = content(tmp_path)
    result = write_set(tmp_path, OLD)
    assert content(tmp_path) == before
    assert not result.beside


def test_when_the_edited_file_is_moved_away_the_new_one_takes_its_place(tmp_path: Path) -> None:
    """The name is free again, and the unedited one beside goes."""
    write_set(tmp_path, OLD)
    (tmp_path / LOG).write_bytes(b"typed by hand")
    write_set(tmp_path, NEW)
    (tmp_path / LOG).rename(tmp_path / "my log.xlsx")
    result = write_set(tmp_path, NEW)
    assert content(tmp_path) == {**the_set(NEW), "my log.xlsx": b"typed by hand"}
    assert result.removed == ("coach/log-entry (new).xlsx",)


def test_an_edited_file_that_is_no_longer_made_is_kept_and_named(tmp_path: Path) -> None:
    """A client with an error keeps no booklet of ours, but the coach's own change is not thrown away."""
    write_set(tmp_path, OLD)
    (tmp_path / BO).write_bytes(b"annotated")
    assert write_set(tmp_path, NEW).left == (BO,)
    assert write_set(tmp_path, NEW).left == (BO,)
    assert content(tmp_path)[BO] == b"annotated"
    (tmp_path / BO).write_bytes(b"bo 1")
    assert write_set(tmp_path, NEW).removed == (BO,)


def test_a_file_that_was_never_ours_is_kept(tmp_path: Path) -> None:
    """A file at the target that the manifest does not list is the coach's, also where it is in the way."""
    (tmp_path / "booklets").mkdir()
    (tmp_path / ANN).write_bytes(b"scanned")
    (tmp_path / "booklets/other.pdf").write_bytes(b"other")
    (tmp_path / "coach/summary.xlsx").mkdir(parents=True)
    result = write_set(tmp_path, OLD)
    found = content(tmp_path)
    assert found[ANN] == b"scanned"
    assert found["booklets/ann (new).pdf"] == b"ann 1"
    assert found["booklets/other.pdf"] == b"other"
    assert found["coach/summary (new).xlsx"] == b"summary"
    assert [beside.kept for beside in result.beside] == [ANN, SUMMARY]


def test_a_deleted_file_is_made_again(tmp_path: Path) -> None:
    """What the coach throws away comes back."""
    write_set(tmp_path, OLD)
    (tmp_path / ANN).unlink()
    assert write_set(tmp_path, OLD).written == (ANN,)
    assert content(tmp_path) == the_set(OLD)


@pytest.mark.parametrize(
    "text",
    [
        '{"name": "a web page", "icons": []}',
        "not json",
        '{"../outside.txt": "%s"}' % ("0" * 64),
        '{"/etc/passwd": "%s"}' % ("0" * 64),
        '["booklets/ann.pdf"]',
    ],
)
def test_a_manifest_of_somebody_else_stops(tmp_path: Path, text: str) -> None:
    """A manifest.json that we did not write is not replaced, and nothing else is written."""
    (tmp_path / "manifest.json").write_text(text)
    with pytest.raises(CannotWrite, match=r"manifest\.json is not a list"):
        write_set(tmp_path, OLD)
    assert content(tmp_path) == {"manifest.json": text.encode()}


# ---------------------------------------------------------------- names


@pytest.mark.parametrize(
    "name",
    [
        "",
        ".",
        "..",
        "../x.pdf",
        "booklets/../../x.pdf",
        "/etc/x.pdf",
        "booklets//x.pdf",
        "booklets/./x.pdf",
        "booklets\\x.pdf",
        "C:x.pdf",
        "x.pdf ",
        "x.",
        "nul\0.pdf",
        "manifest.json",
        "Manifest.JSON",
        ".programme-staging/0",
        "booklets/",
    ],
)
def test_a_name_that_could_leave_the_folder_is_refused(tmp_path: Path, name: str) -> None:
    """Such a name is our mistake, found before anything is touched."""
    with pytest.raises(ValueError, match="not a name"):
        write_set(tmp_path, {name: b""})
    assert not list(tmp_path.iterdir())


def test_two_names_that_are_one_on_some_disks_are_refused(tmp_path: Path) -> None:
    """Letter case does not keep files apart on Windows and macOS."""
    with pytest.raises(ValueError, match="take for one"):
        write_set(tmp_path, {"booklets/ann.pdf": b"", "booklets/Ann.pdf": b""})


# ---------------------------------------------------------------- failing at every step


class Crash(BaseException):
    """Stand for a power cut."""


def failing(monkeypatch: pytest.MonkeyPatch, call: str, at: int, error: BaseException) -> list[int]:
    """Make a call of the system fail from its n-th time on; the list counts the calls."""
    real: Callable[..., Any] = getattr(os, call)
    counted = [0]

    def sometimes(*args: Any, **keywords: Any) -> Any:
        counted[0] += 1
        if counted[0] >= at:
            raise error
        return real(*args, **keywords)

    monkeypatch.setattr(os, call, sometimes)
    return counted


@pytest.mark.parametrize("call", ["replace", "unlink", "fsync", "mkdir", "rmdir"])
@pytest.mark.parametrize("error", [OSError(errno.EACCES, "no"), OSError(errno.ENOSPC, "full"), Crash()])
def test_every_failure_leaves_the_old_set_or_one_that_can_be_finished(
    tmp_path: Path, call: str, error: BaseException
) -> None:
    """However far a run comes: the old set stands whole, or the next command makes the new one whole."""
    steps = 0
    for at in range(1, 60):
        out = tmp_path / f"{at}"
        write_set(out, OLD)
        (out / "mine.txt").write_bytes(b"mine")
        with pytest.MonkeyPatch.context() as patched:
            failing(patched, call, at, error)
            try:
                write_set(out, NEW)
            except (CannotWrite, Crash):
                steps += 1
            else:
                break
        finish_interrupted(out)
        found = content(out)
        assert found.pop("mine.txt") == b"mine"
        assert found in (the_set(OLD), the_set(NEW))
        write_set(out, NEW)
        assert content(out) == {**the_set(NEW), "mine.txt": b"mine"}
        assert not (out / ".programme-staging").exists()
    else:
        pytest.fail("it never came through")
    assert steps > 0


def test_before_the_journal_nothing_changes(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A full disk while staging: the old set is untouched, and the sentence says what is wrong."""
    write_set(tmp_path, OLD)
    failing(monkeypatch, "fsync", 2, OSError(errno.ENOSPC, "full"))
    with pytest.raises(CannotWrite, match="The disk is full"):
        write_set(tmp_path, NEW)
    assert content(tmp_path) == the_set(OLD)
    assert not (tmp_path / ".programme-staging").exists()


def interrupt(folder: Path, files: dict[str, bytes], at: int) -> None:
    """Break off a run at its n-th `os.replace`; the first is the journal's."""
    with pytest.MonkeyPatch.context() as patched:
        failing(patched, "replace", at, Crash())
        with pytest.raises(Crash):
            write_set(folder, files)


def test_a_journal_is_finished_first(tmp_path: Path) -> None:
    """The next set starts from the set that was committed, not from half of it."""
    write_set(tmp_path, OLD)
    interrupt(tmp_path, NEW, at=3)
    assert content(tmp_path)[ANN] == b"ann 2"
    assert content(tmp_path)[LOG] == b"log 1"
    result = write_set(tmp_path, {**NEW, "extra.txt": b"extra"})
    assert result.written == ("extra.txt",)
    assert content(tmp_path) == the_set({**NEW, "extra.txt": b"extra"})


def test_what_the_coach_edits_before_the_journal_is_finished_is_kept(tmp_path: Path) -> None:
    """An edit after the crash counts as much as one before it."""
    write_set(tmp_path, OLD)
    interrupt(tmp_path, NEW, at=3)
    (tmp_path / ANN).write_bytes(b"edited, in place already")
    (tmp_path / LOG).write_bytes(b"edited, not yet replaced")
    assert finish_interrupted(tmp_path)
    assert not finish_interrupted(tmp_path)
    found = content(tmp_path)
    assert found[ANN] == b"edited, in place already"
    assert found[LOG] == b"edited, not yet replaced"
    assert found["coach/log-entry (new).xlsx"] == b"log 2"
    write_set(tmp_path, {})
    assert set(content(tmp_path)) == {ANN, LOG, "manifest.json"}


def test_a_journal_that_names_places_outside_is_not_followed(tmp_path: Path) -> None:
    """A journal is a file, and files can be changed by anybody."""
    write_set(tmp_path / "out", OLD)
    staging = tmp_path / "out/.programme-staging"
    staging.mkdir()
    (staging / "0").write_bytes(b"evil")
    journal = {"wanted": {"../evil.txt": "0" * 64}, "staged": {"../evil.txt": "0"}}
    (staging / "journal.json").write_text(json.dumps(journal))
    assert not finish_interrupted(tmp_path / "out")
    assert not (tmp_path / "evil.txt").exists()
    assert content(tmp_path / "out") == the_set(OLD)


def test_a_file_held_open_stops_before_the_first_replace(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """As Windows does it: opening the target for writing is refused, so nothing is replaced."""
    write_set(tmp_path, OLD)
    real = Path.open

    def held(path: Path, mode: str = "r", *args: Any, **keywords: Any) -> Any:
        if path.name == "log-entry.xlsx" and "+" in mode:
            raise PermissionError(errno.EACCES, "The process cannot access the file")
        return real(path, mode, *args, **keywords)

    monkeypatch.setattr(Path, "open", held)
    with pytest.raises(CannotWrite, match=r"log-entry\.xlsx may not be written: .* open in another program"):
        write_set(tmp_path, NEW)
    assert content(tmp_path) == the_set(OLD)


# ---------------------------------------------------------------- where nothing can be written


def test_a_file_where_the_folder_should_be(tmp_path: Path) -> None:
    """A file cannot be the folder, nor stand above it, nor where one of its folders goes."""
    (tmp_path / "out").write_bytes(b"file")
    for folder in (tmp_path / "out", tmp_path / "out" / "deeper"):
        with pytest.raises(CannotWrite, match="out is a file"):
            check_writable(folder)
    (tmp_path / "other").mkdir()
    (tmp_path / "other/booklets").write_bytes(b"file")
    with pytest.raises(CannotWrite, match="booklets is a file"):
        write_set(tmp_path / "other", OLD)
    assert content(tmp_path / "other") == {"booklets": b"file"}


def test_checking_leaves_nothing(tmp_path: Path) -> None:
    """Neither a folder nor a file."""
    check_writable(tmp_path / "a" / "b")
    check_writable(tmp_path)
    assert not list(tmp_path.iterdir())


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() == 0, reason="root may write anywhere")
def test_a_read_only_folder_is_told_by_the_system(tmp_path: Path) -> None:
    """The system itself refuses."""
    tmp_path.chmod(0o500)
    with pytest.raises(CannotWrite, match="may not be written"):
        check_writable(tmp_path / "out")


@pytest.mark.parametrize(
    ("number", "words"),
    [
        (errno.EACCES, "may not be written"),
        (errno.EROFS, "can only be read"),
        (errno.EIO, "could not be written"),
    ],
)
def test_a_read_only_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, number: int, words: str) -> None:
    """Found before the work, in words."""

    def refuse(*_: object, **__: object) -> None:
        raise OSError(number, os.strerror(number))

    monkeypatch.setattr(Path, "touch", refuse)
    with pytest.raises(CannotWrite, match=words):
        check_writable(tmp_path / "out")


def test_two_runs_are_kept_apart(tmp_path: Path) -> None:
    """While another run holds the lock nothing is written."""
    write_set(tmp_path, OLD)
    with FileLock(tmp_path / ".programme-lock"), pytest.raises(CannotWrite, match="Another run is writing"):
        write_set(tmp_path, NEW, patience=0)
    assert content(tmp_path) == the_set(OLD)
    write_set(tmp_path, NEW)


def test_two_processes_at_once_end_in_a_whole_set(tmp_path: Path) -> None:
    """Whoever comes last, the folder holds one of the sets and its manifest."""
    script = (
        "import sys; from pathlib import Path; from compiler.files import write_set\n"
        "for turn in range(5):\n"
        "    text = f'{sys.argv[2]} {turn}'.encode()\n"
        "    write_set(Path(sys.argv[1]), {f'{number}.txt': text for number in range(20)})\n"
    )
    runs = [subprocess.Popen([sys.executable, "-c", script, str(tmp_path), who]) for who in "ab"]
    assert [run.wait(timeout=60) for run in runs] == [0, 0]
    found = content(tmp_path)
    found.pop("manifest.json")
    assert len(set(found.values())) == 1
    assert content(tmp_path) == the_set(found)
