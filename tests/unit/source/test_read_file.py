"""A name that leads to no workbook is said, each with its own way out."""

from __future__ import annotations

from pathlib import Path

import pytest

from compiler.source.unreadable import UnreadableWorkbook
from compiler.source.xlsx import read_file, read_workbook


@pytest.mark.parametrize(
    ("name", "word"),
    [
        ("~$block.xlsx", '"block.xlsx" is open'),
        (".~lock.block.xlsx#", '"block.xlsx" is open'),
        ("._block.xlsx", '"block.xlsx" is open'),
        ("missing.xlsx", "no file"),
        ("folder", "is a folder"),
    ],
)
def test_what_is_no_file_of_a_workbook(tmp_path: Path, name: str, word: str) -> None:
    (tmp_path / "folder").mkdir()
    with pytest.raises(UnreadableWorkbook) as caught:
        read_workbook(tmp_path / name)
    assert caught.value.flag.slug == "not-a-workbook"
    assert word in caught.value.flag.message


def _raising(error: OSError) -> object:
    def read_bytes(_path: Path) -> bytes:
        raise error

    return read_bytes


@pytest.mark.parametrize(
    ("error", "word"),
    [(PermissionError(13, "locked"), "another program"), (OSError(22, "provider is not running"), "cloud")],
)
def test_what_fails_while_it_is_read(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, error: OSError, word: str
) -> None:
    """A file held by another program, and one whose content is still in the cloud, are told apart."""
    path = tmp_path / "block.xlsx"
    path.write_bytes(b"PK")
    monkeypatch.setattr(Path, "read_bytes", _raising(error))
    with pytest.raises(UnreadableWorkbook) as caught:
        read_file(path)
    assert caught.value.flag.slug == "damaged-workbook"
    assert word in caught.value.flag.message + (caught.value.flag.hint or "")


def test_a_file_far_too_large_is_not_even_read(tmp_path: Path) -> None:
    path = tmp_path / "block.xlsx"
    with path.open("wb") as file:
        file.truncate(200_000_000)
    with pytest.raises(UnreadableWorkbook) as caught:
        read_file(path)
    assert caught.value.flag.slug == "workbook-too-large"
