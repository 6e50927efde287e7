"""`programme new`: an empty workbook, one with what lasts of an older one, and one filled in."""

from __future__ import annotations

from pathlib import Path

import pytest
from openpyxl import load_workbook

from compiler.cli import main
from compiler.demo.workbooks import demo_workbook
from compiler.exits import Exit
from compiler.files_disk import write_file
from compiler.flags.model import Severity, has
from compiler.pipeline.check import check_workbook
from compiler.render.template import render_template
from compiler.source.grid import book_from_grid
from compiler.source.xlsx import read_workbook

OLD = """
## Block

| Setting | Value |
| --- | --- |
| Title | Autumn strength |
| Coach | Maud Ferrier |
| Start date | {date 2026-10-05} |
| Closed dates | 2026-10-12 |
| Load step | 2.5 kg |
| Car park | behind the boat house |

## Exercises

| Exercise | Implement | Tags | Shelf |
| --- | --- | --- | --- |
| Back squat | barbell | spinal load | B2 |
| Overhead press | barbell | overhead | |
| Landmine press | landmine | | |

## Programme

| Programme | Session | Order | Exercise | Week 1 sets | Week 1 reps | Week 1 load |
| --- | --- | --- | --- | --- | --- | --- |
| Strength | Day one | A | Back squat | 3 | 5 | 75% |

## Clients

| Client | Programme | First week | Start date | Body weight | Training days | Restrictions |
| --- | --- | --- | --- | --- | --- | --- |
| Imogen Thackray | Strength | 2 | 2026-10-12 | 71 kg | mon  Wed | left shoulder |
| Bo Aldous | Strength | | | {formula =160/2 gives 80} | | |

## Tests

| Client | Date | Exercise | Load | Unit | Reps |
| --- | --- | --- | --- | --- | --- |
| Imogen Thackray | {date 2026-09-21} | Back squat | 80 | kg | 5 |

## Restrictions

| Restriction | Avoid tags |
| --- | --- |
| left shoulder | overhead |

## Changes

| Client | Session | Order | Exercise | Weeks | Do | With | Load |
| --- | --- | --- | --- | --- | --- | --- | --- |
| Imogen Thackray | | | Overhead press | | swap | Landmine press | |
| Imogen Thackray | Day one | | Back squat | | swap | Landmine press | |
| Imogen Thackray | | | Overhead press | 1-2 | swap | Landmine press | |
| Imogen Thackray | | | Overhead press | | swap | Landmine press | 20 kg |
| Bo Aldous | | | Back squat | | load | | 90 kg |
| Bo Aldous | | | | | leave out | | |

## Log

| Client | Session | Exercise | Week 1 |
| --- | --- | --- | --- |
| Imogen Thackray | Day one | Back squat | ok |

## Scrap

| What |
| --- |
| chalk |
"""


def rows(path: Path, sheet: str) -> list[dict[str, object]]:
    """Return the rows of a sheet by header, blank ones left out."""
    header, *others = load_workbook(path)[sheet].iter_rows(values_only=True)
    filled = [row for row in others if any(value is not None for value in row)]
    return [{str(h): v for h, v in zip(header, row, strict=True) if v is not None} for row in filled]


def old(tmp_path: Path, tables: str = OLD) -> Path:
    path = tmp_path / "old.xlsx"
    write_file(path, render_template(1, 1, fill=book_from_grid(tables)))
    return path


def test_what_lasts_goes_over_as_it_was_typed(tmp_path: Path) -> None:
    """People, exercises, their tests and restrictions; the spaces in a cell and the coach's own column, too."""
    before = old(tmp_path)
    bytes_before = before.read_bytes()
    new = tmp_path / "new.xlsx"
    assert main(["new", str(new), "--from", str(before), "--weeks", "6", "--sessions", "2", "--short"]) == Exit.OK
    assert before.read_bytes() == bytes_before
    assert rows(new, "Exercises")[0] == {
        "Exercise": "Back squat",
        "Implement": "barbell",
        "Tags": "spinal load",
        "Shelf": "B2",
    }
    imogen, bo = rows(new, "Clients")
    assert imogen["Training days"] == "mon  Wed"
    assert bo["Body weight"] == 80  # the result of its formula
    assert rows(new, "Restrictions") == [{"Restriction": "left shoulder", "Avoid tags": "overhead"}]
    assert [row["Load"] for row in rows(new, "Tests")] == ["80"]
    settings = {str(row["Setting"]): row.get("Value") for row in rows(new, "Block")}
    assert (settings["Coach"], settings["Load step"]) == ("Maud Ferrier", "2.5 kg")
    assert (settings["Weeks"], settings["Car park"]) == ("6", "behind the boat house")
    assert "Week 6" in next(iter(load_workbook(new)["Programme"].iter_rows(values_only=True)))


def test_what_went_with_the_block_stays_behind(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Title and dates, programme, log, and changes for a session, for some weeks or with a load; the sheets say so."""
    new = tmp_path / "new.xlsx"
    assert main(["new", str(new), "--from", str(old(tmp_path))]) == Exit.OK
    said = capsys.readouterr().err
    assert rows(new, "Programme") == rows(new, "Log") == []
    settings = {str(row["Setting"]): row.get("Value") for row in rows(new, "Block")}
    assert [settings[name] for name in ("Title", "Start date", "Closed dates")] == [None, None, None]
    assert not {"First week", "Start date"} & set(rows(new, "Clients")[0])
    assert rows(new, "Changes") == [
        {"Client": "Imogen Thackray", "Exercise": "Overhead press", "Do": "swap", "With": "Landmine press"}
    ]
    assert "Left out 5 rows of Changes" in said
    assert "Scrap" not in load_workbook(new).sheetnames


def test_new_workbook_has_no_error_but_that_of_its_empty_programme(tmp_path: Path) -> None:
    new = tmp_path / "new.xlsx"
    source = tmp_path / "winter.xlsx"
    write_file(source, demo_workbook())
    assert main(["new", str(new), "--from", str(source)]) == Exit.OK
    found = {flag.slug for flag in check_workbook(new).flags}
    assert found == {"missing-name", "no-start-date"}


def test_what_should_be_looked_at_is_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    tables = OLD.replace("| left shoulder |\n| Bo", "| left sholder |\n| Bo")
    assert main(["new", str(tmp_path / "new.xlsx"), "--from", str(old(tmp_path, tables))]) == Exit.OK
    assert "unknown-restriction" in capsys.readouterr().err


def test_a_column_that_cannot_be_told_stops_it(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Restrictions under a misspelt header would be lost without a word."""
    before = old(tmp_path)
    book = load_workbook(before)
    header = next(cell for cell in book["Clients"][1] if cell.value == "Restrictions")
    header.value = "Restricions"
    book.save(before)
    new = tmp_path / "new.xlsx"
    assert main(["new", str(new), "--from", str(before)]) == Exit.WORKBOOK_ERRORS
    assert not new.exists()
    assert "Nothing was written" in capsys.readouterr().err


@pytest.mark.parametrize("content", [None, b"no workbook", b"PK\x03\x04 half a workbook"])
def test_a_damaged_old_workbook(tmp_path: Path, content: bytes | None) -> None:
    before = tmp_path / "old.xlsx"
    if content is not None:
        before.write_bytes(content)
    assert main(["new", str(tmp_path / "new.xlsx"), "--from", str(before)]) == Exit.UNREADABLE
    assert not (tmp_path / "new.xlsx").exists()


def test_the_old_workbook_is_never_written_over(tmp_path: Path) -> None:
    before = old(tmp_path)
    bytes_before = before.read_bytes()
    assert main(["new", str(before), "--from", str(before), "--force"]) == Exit.USAGE
    assert before.read_bytes() == bytes_before


def test_settings_are_found_wherever_their_columns_stand(tmp_path: Path) -> None:
    """The reader looks for Setting and Value all over the sheet; so does what is taken over."""
    before = old(tmp_path)
    book = load_workbook(before)
    del book["Block"]
    sheet = book.create_sheet("Block")
    for row in (["", "Our settings"], ["", "", "Setting", "Value"], ["", "", "Coach", "Maud Ferrier"]):
        sheet.append(row)
    book.save(before)
    new = tmp_path / "new.xlsx"
    assert main(["new", str(new), "--from", str(before)]) == Exit.OK
    assert {str(row["Setting"]): row.get("Value") for row in rows(new, "Block")}["Coach"] == "Maud Ferrier"


def test_sample_is_the_example(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "try it.xlsx"
    assert main(["new", str(path), "--sample"]) == Exit.OK
    assert "invented" in capsys.readouterr().err
    assert path.read_bytes() == demo_workbook()
    assert not has(Severity.ERROR, check_workbook(path).flags)


@pytest.mark.parametrize("other", [["--weeks", "4"], ["--sessions", "3"], ["--short"], ["--from", "old.xlsx"]])
def test_sample_goes_with_nothing_else(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], other: list[str]
) -> None:
    assert main(["new", str(tmp_path / "x.xlsx"), "--sample", *other]) == Exit.USAGE
    assert f"leave out {other[0]}." in capsys.readouterr().err
    assert not (tmp_path / "x.xlsx").exists()


def test_calendar_from_1904_stays_right(tmp_path: Path) -> None:
    """A test on 21 September 2026 stays on that day, whichever day the old workbook counts from."""
    new = tmp_path / "new.xlsx"
    before = tmp_path / "old.xlsx"
    write_file(before, render_template(1, 1, fill=book_from_grid("dates from 1904\n" + OLD)))
    assert read_workbook(before).date_1904
    assert main(["new", str(new), "--from", str(before)]) == Exit.OK
    book = check_workbook(new).book
    assert book is not None
    assert [str(test.date.known) for test in book.tests] == ["2026-09-21"]
