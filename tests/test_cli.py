"""The command line as a stranger meets it: what it prints where, which code it ends with, what it leaves behind."""

from __future__ import annotations

import csv
import json
import re
from io import BytesIO
from pathlib import Path

import pytest
from openpyxl import load_workbook

from compiler.cli import main, programme
from compiler.demo.workbooks import WINTER_BLOCK, demo_source, demo_workbook
from compiler.exits import Exit
from compiler.files_disk import write_file
from compiler.render.template import render_template
from compiler.source.cells import SourceBook
from compiler.source.grid import book_from_grid

SMALL = """
## Exercises

| Exercise | Implement |
| --- | --- |
| Push-up | body weight |

## Programme

| Programme | Session | Part | Order | Exercise | Week 1 sets | Week 1 reps | Week 1 load |
| --- | --- | --- | --- | --- | --- | --- | --- |
| One | Day one | main | A | Push-up | 3 | 8 | |

## Clients

| Client | Programme | Screened on |
| --- | --- | --- |
| Imogen Thackray | One | 2026-11-02 |
"""


def workbook(tmp_path: Path, tables: str = SMALL, name: str = "block.xlsx") -> Path:
    path = tmp_path / name
    write_file(path, render_template(1, 1, fill=book_from_grid(tables)))
    return path


def without_sheet(sheet: str) -> bytes:
    book = load_workbook(BytesIO(demo_workbook()))
    del book[sheet]
    out = BytesIO()
    book.save(out)
    return out.getvalue()


def test_new_writes_a_workbook_and_never_over_one(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "block.xlsx"
    assert main(["new", str(path), "--weeks", "2"]) == Exit.OK
    before = path.read_bytes()
    assert main(["new", str(path)]) == Exit.USAGE
    assert path.read_bytes() == before
    assert "--force" in capsys.readouterr().err
    assert main(["new", str(path), "--force"]) == Exit.OK


def test_check_says_all_to_stderr_and_data_to_stdout(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = workbook(tmp_path)
    assert main(["check", str(path), "--json", "-"]) == Exit.OK
    out, err = capsys.readouterr()
    data = json.loads(out)
    assert data["version"] == 1
    assert data["workbook"] == "block.xlsx"
    assert sum(data["counts"].values()) == len(data["flags"])
    assert "sample-safety-text" in err


def test_strict_makes_warnings_count(tmp_path: Path) -> None:
    path = workbook(tmp_path)
    assert main(["check", str(path)]) == Exit.OK
    assert main(["check", str(path), "--strict"]) == Exit.WORKBOOK_ERRORS


def test_csv_has_the_columns_of_the_json(tmp_path: Path) -> None:
    path = workbook(tmp_path)
    main(["check", str(path), "--csv", str(tmp_path / "flags.csv"), "--json", str(tmp_path / "flags.json")])
    content = (tmp_path / "flags.csv").read_bytes()
    assert content.startswith(b"\xef\xbb\xbf")
    rows = list(csv.DictReader(content.decode("utf-8-sig").splitlines()))
    flags = json.loads((tmp_path / "flags.json").read_text(encoding="utf-8"))["flags"]
    assert [row["slug"] for row in rows] == [flag["slug"] for flag in flags]
    assert set(rows[0]) == set(flags[0])


def test_compile_makes_the_folders(tmp_path: Path) -> None:
    path = workbook(tmp_path)
    out = tmp_path / "out"
    assert main(["compile", str(path), "-o", str(out)]) == Exit.OK
    assert (out / "booklets" / "imogen-thackray.pdf").read_bytes().startswith(b"%PDF")
    assert (out / "coach" / "summary.xlsx").exists()
    manifest = json.loads((out / "manifest.json").read_text(encoding="utf-8"))
    assert "Imogen Thackray" not in json.dumps(manifest)


def test_a_client_with_an_error_gets_no_booklet_and_the_others_do(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "out"
    good = SMALL.rstrip() + "\n| Rufus Pemberly | One | 2026-11-02 |\n"
    assert main(["compile", str(workbook(tmp_path, good)), "-o", str(out)]) == Exit.OK
    assert (out / "booklets" / "rufus-pemberly.pdf").exists()
    bad = good.replace("| Rufus Pemberly | One |", "| Rufus Pemberly | Won |")
    assert main(["compile", str(workbook(tmp_path, bad)), "-o", str(out)]) == Exit.WORKBOOK_ERRORS
    assert [file.name for file in (out / "booklets").iterdir()] == ["imogen-thackray.pdf"]
    assert "No booklet for Rufus Pemberly: unknown-programme at Clients!" in capsys.readouterr().err


def test_an_edited_output_is_the_coachs(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path, out = workbook(tmp_path), tmp_path / "out"
    main(["compile", str(path), "-o", str(out)])
    summary = out / "coach" / "summary.xlsx"
    summary.write_bytes(b"typed over")
    changed = SMALL.replace("| 3 | 8 |", "| 4 | 8 |")
    assert main(["compile", str(workbook(tmp_path, changed)), "-o", str(out)]) == Exit.OK
    assert summary.read_bytes() == b"typed over"
    assert "was edited and left as it is" in capsys.readouterr().err


def test_the_workbook_is_never_written_to(tmp_path: Path) -> None:
    path = workbook(tmp_path)
    before = path.read_bytes(), path.stat().st_mtime_ns
    main(["compile", str(path), "-o", str(tmp_path / "out")])
    main(["check", str(path)])
    assert (path.read_bytes(), path.stat().st_mtime_ns) == before


@pytest.mark.parametrize(
    ("content", "slug"),
    [
        pytest.param(b"Client,Programme\nImogen,One\n", "not-a-workbook", id="a text file"),
        pytest.param(b"", "not-a-workbook", id="an empty file"),
        pytest.param(None, "not-a-workbook", id="no file at all"),
        pytest.param(b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + b"\0" * 600, "not-a-workbook", id="an old .xls"),
    ],
)
def test_what_is_no_workbook_gets_one_sentence(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], content: bytes | None, slug: str
) -> None:
    path = tmp_path / "block.xlsx"
    if content is not None:
        path.write_bytes(content)
    assert main(["check", str(path)]) == Exit.UNREADABLE
    assert main(["compile", str(path), "-o", str(tmp_path / "out")]) == Exit.UNREADABLE
    err = capsys.readouterr().err
    assert slug in err or "damaged-workbook" in err
    assert "Traceback" not in err
    assert not (tmp_path / "out").exists()


@pytest.mark.parametrize("sheet", ["Programme", "Clients", "Exercises"])
def test_a_missing_sheet(tmp_path: Path, capsys: pytest.CaptureFixture[str], sheet: str) -> None:
    path = tmp_path / "block.xlsx"
    path.write_bytes(without_sheet(sheet))
    assert main(["check", str(path)]) == Exit.WORKBOOK_ERRORS
    err = capsys.readouterr().err
    assert f'The workbook has no sheet "{sheet}".' in err
    assert "Traceback" not in err


def test_a_missing_column(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "block.xlsx"
    source = demo_source(WINTER_BLOCK)
    write_file(path, _without_header(source))
    assert main(["check", str(path)]) == Exit.WORKBOOK_ERRORS
    err = capsys.readouterr().err
    assert 'The sheet has no column "Exercise".' in err
    assert "missing-column" in err


def _without_header(source: SourceBook) -> bytes:
    """Return the example with the header of one needed column spelt so that nobody can know it."""
    book = load_workbook(BytesIO(demo_workbook(source.name.removesuffix(".xlsx"))))
    for cell in book["Programme"][1]:
        if cell.value == "Exercise":
            cell.value = "Zzz"
    out = BytesIO()
    book.save(out)
    return out.getvalue()


def test_usage(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["compile"]) == Exit.USAGE
    assert main(["nonsense"]) == Exit.USAGE
    assert "Usage" in capsys.readouterr().err


def test_a_folder_that_cannot_be_written(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = workbook(tmp_path)
    in_the_way = tmp_path / "out"
    in_the_way.write_text("a file")
    assert main(["compile", str(path), "-o", str(in_the_way)]) == Exit.CANNOT_WRITE
    assert "a folder is needed there" in capsys.readouterr().err


def test_explain(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["explain", "missing-test"]) == Exit.OK
    assert "missing-test" in capsys.readouterr().out
    assert main(["explain"]) == Exit.OK
    assert "pair-total" in capsys.readouterr().out


def test_a_mistake_of_ours_is_one_sentence_and_a_report_without_names(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(*_: object) -> None:
        raise RuntimeError("Imogen Thackray")

    monkeypatch.setattr("compiler.pipeline.check.bind_book", fail)
    monkeypatch.setenv("TMPDIR", str(tmp_path))
    monkeypatch.setattr("tempfile.tempdir", None)
    assert main(["check", str(workbook(tmp_path))]) == Exit.BUG
    err = capsys.readouterr().err
    assert err.count("\n") == 1
    (report,) = tmp_path.glob("programme-report-*.txt")
    assert "Imogen" not in report.read_text(encoding="utf-8") + err
    assert "RuntimeError" in report.read_text(encoding="utf-8")


@pytest.mark.parametrize("name", [*programme.commands, None])
def test_help_ends_with_an_example_that_is_a_command(name: str | None, capsys: pytest.CaptureFixture[str]) -> None:
    """Every word of an example that begins with a dash is an option of that very command."""
    assert main([name, "--help"] if name else ["--help"]) == Exit.OK
    text = " ".join(capsys.readouterr().out.split())
    if name is None:
        assert "Start here: programme new block.xlsx" in text
        return
    examples = [example.split() for example in re.split("Examples?: ", text)[1].split("programme ")[1:]]
    known = {option for parameter in programme.commands[name].params for option in parameter.opts}
    assert examples
    for command, *words in examples:
        assert command == name
        assert [word for word in words if word.startswith("-") and word not in known] == []
