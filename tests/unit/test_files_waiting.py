"""Files that wait to be written: as a mapping, in little memory, leaving nothing behind."""

from __future__ import annotations

import errno
import tempfile
from io import FileIO
from pathlib import Path

import pikepdf
import pytest

from compiler import files_waiting
from compiler.files import write_set
from compiler.files_disk import CannotWrite
from compiler.files_waiting import WaitingFiles
from compiler.render.desk_file import save


def test_what_was_put_in_is_there() -> None:
    """Names in the order in which they came, empty files and the last of two contents."""
    with WaitingFiles() as files:
        files.update({"b": b"first", "a": b"", "c": b"third"})
        files["b"] = b"other, and longer"
        assert dict(files) == {"b": b"other, and longer", "a": b"", "c": b"third"}
        assert list(files) == ["b", "a", "c"]
        del files["a"]
        assert dict(files) == {"b": b"other, and longer", "c": b"third"}
        with pytest.raises(KeyError):
            files["a"]


def test_many_lie_on_the_disk_under_no_name(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Beyond the limit the contents are still right, and no name of a client is in the folder of temporary files."""
    monkeypatch.setattr(files_waiting, "IN_MEMORY", 1000)
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path))
    with WaitingFiles() as files:
        files.update({f"booklets/{number}.pdf": bytes([number]) * 400 for number in range(20)})
        assert all(files[name] == bytes([number]) * 400 for number, name in enumerate(files))
        assert not [path for path in tmp_path.rglob("*") if "booklets" in str(path) or path.suffix == ".pdf"]
    assert list(tmp_path.iterdir()) == []


def test_a_file_can_be_written_bit_by_bit(monkeypatch: pytest.MonkeyPatch) -> None:
    """Behind what is there, in memory and on the disk; one that fails half way is not there."""
    monkeypatch.setattr(files_waiting, "IN_MEMORY", 100)
    with WaitingFiles() as files:
        files["a"] = b"first"
        for length in (10, 200):
            with files.writing("run") as out:
                out.writelines(b"%d" % (number % 10) for number in range(length))
            assert files["run"] == (b"0123456789" * 20)[:length]
        with pytest.raises(TypeError), files.writing("half") as out:
            out.writelines([b"half", "way"])  # type: ignore[list-item]
        files["b"] = b"last"
        assert dict(files) == {"a": b"first", "run": b"0123456789" * 20, "b": b"last"}


def test_room_aside_is_gone_with_the_block(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Files are taken and given meanwhile; beyond the limit the room is on the disk, and it leaves nothing there."""
    monkeypatch.setattr(files_waiting, "IN_MEMORY", 100)
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path))
    with WaitingFiles() as files:
        with files.aside() as room:
            room.write(b"x" * 200)
            files["a"] = b"first"
            room.seek(0)
            assert room.read() == b"x" * 200
        assert room.closed
        assert dict(files) == {"a": b"first"}
    assert list(tmp_path.iterdir()) == []


def test_large_files_are_given_in_pieces(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Whole they are the same, and the folder that is written of them holds the same."""
    monkeypatch.setattr(files_waiting, "PIECE", 7)
    with WaitingFiles() as files:
        files.update({"a.txt": b"", "b.txt": b"seven..", "c.txt": b"more than seven"})
        pieces = {name: list(files.pieces(name)) for name in files}
        assert pieces == {"a.txt": [], "b.txt": [b"seven.."], "c.txt": [b"more th", b"an seve", b"n"]}
        write_set(tmp_path / "out", files)
        assert {name: (tmp_path / "out" / name).read_bytes() for name in files} == dict(files)
        assert write_set(tmp_path / "out", files).unchanged == ("a.txt", "b.txt", "c.txt")


def no_folder() -> str:
    """Fail as Python does where no folder for temporary files can be written, as on a full disk."""
    raise FileNotFoundError(errno.ENOENT, "No usable temporary directory found")


def test_without_room_for_temporary_files(monkeypatch: pytest.MonkeyPatch) -> None:
    """Few files need none; many are one sentence, not an error of the program."""
    monkeypatch.setattr(files_waiting, "IN_MEMORY", 1000)
    monkeypatch.setattr(tempfile, "gettempdir", no_folder)
    monkeypatch.setattr(tempfile, "tempdir", None)
    with WaitingFiles() as files:
        files["booklets/a.pdf"] = b"x" * 1000
        assert files["booklets/a.pdf"] == b"x" * 1000
        with pytest.raises(CannotWrite, match="the folder for temporary files could not be written"):
            files["booklets/b.pdf"] = b"x"


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="needs a device that is always full, as Linux has")
def test_a_full_disk_is_one_sentence(monkeypatch: pytest.MonkeyPatch) -> None:
    """What does not fit any more is told as a full disk."""
    monkeypatch.setattr(files_waiting, "IN_MEMORY", 1000)
    monkeypatch.setattr(tempfile, "TemporaryFile", lambda **_: FileIO("/dev/full", "r+"))
    with WaitingFiles() as files:
        with pytest.raises(CannotWrite, match="The disk is full: the folder for temporary files"):
            files["booklets/a.pdf"] = b"x" * 2000
        with pytest.raises(CannotWrite, match="The disk is full"), files.aside() as room:
            room.write(b"x" * 20000)


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="needs a device that is always full, as Linux has")
def test_a_full_disk_while_a_print_run_is_written(monkeypatch: pytest.MonkeyPatch) -> None:
    """The same sentence, though another library writes."""
    monkeypatch.setattr(files_waiting, "IN_MEMORY", 100)
    monkeypatch.setattr(tempfile, "TemporaryFile", lambda **_: FileIO("/dev/full", "r+"))
    made = pikepdf.new()
    made.add_blank_page()
    with WaitingFiles() as files, pytest.raises(CannotWrite, match="The disk is full"), files.writing("run") as out:
        save(made, out)
