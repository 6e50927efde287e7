"""`programme next` as a stranger meets it."""

from __future__ import annotations

from pathlib import Path

import pytest

import compiler
from compiler.cli import main
from compiler.exits import Exit
from compiler.render.template import render_template
from compiler.source.xlsx import read_workbook
from tests.unit.progress.months import source_of

PROGRAMME = "A | Back squat | 3 | 8 | own | | | 2"
WORKING = "2026-12-20 | Back squat | 60 | kg | | | working weight"


def block(tmp_path: Path, log: str) -> Path:
    path = tmp_path / "block.xlsx"
    path.write_bytes(render_template(4, 1, fill=source_of(PROGRAMME, log, WORKING)))
    return path


def test_next_writes_next_month(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """It says what it wrote, for when, and where the proposals are told; the old workbook stays as it was."""
    path, out = block(tmp_path, "A | Back squat | ok | 60x8 @8 | 60x8 @8 |"), tmp_path / "february.xlsx"
    before = path.read_bytes()
    assert main(["next", str(path), "-o", str(out)]) == Exit.OK
    told = capsys.readouterr()
    assert told.out == ""
    assert "for a block that starts on 2027-02-01" in told.err
    assert "Proposals: 1 written as rows, 0 only listed" in told.err
    assert path.read_bytes() == before
    assert read_workbook(out).sheets[0].name == "Progress"


def test_next_never_writes_over_a_file(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Without --force an existing file is a usage error; the workbook itself is never written over."""
    path, out = block(tmp_path, ""), tmp_path / "february.xlsx"
    out.write_bytes(b"mine")
    assert main(["next", str(path), "-o", str(out)]) == Exit.USAGE
    assert main(["next", str(path), "-o", str(path), "--force"]) == Exit.USAGE
    assert out.read_bytes() == b"mine"
    assert main(["next", str(path), "-o", str(out), "--force"]) == Exit.OK
    capsys.readouterr()


def test_a_slip_in_the_log_is_an_error_and_the_rest_is_made(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """What could be made was made, with code 1."""
    path, out = block(tmp_path, "A | Back squat | 60x | | |"), tmp_path / "february.xlsx"
    assert main(["next", str(path), "-o", str(out)]) == Exit.WORKBOOK_ERRORS
    assert out.exists()
    assert "unreadable-reps" in capsys.readouterr().err


def test_a_log_that_is_not_there(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A missing log file is 3, as a missing workbook is; nothing is written."""
    path, out = block(tmp_path, ""), tmp_path / "february.xlsx"
    assert main(["next", str(path), "-o", str(out), "--log", str(tmp_path / "none.xlsx")]) == Exit.UNREADABLE
    assert not out.exists()
    capsys.readouterr()


def test_next_is_callable(tmp_path: Path) -> None:
    """The same as a function: values back, nothing printed, nothing written."""
    path = block(tmp_path, "A | Back squat | ok | 60x8 @8 | 60x8 @8 |")
    made = compiler.next_block(path)
    assert made.month is not None
    assert [proposal.written for proposal in made.month.proposals] == [True]
    assert sorted(file.name for file in tmp_path.iterdir()) == ["block.xlsx"]
