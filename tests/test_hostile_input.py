"""Names, texts and sizes that were typed to do harm, or by accident, through the command line."""

from __future__ import annotations

import json
import re
import zipfile
from io import BytesIO
from pathlib import Path

import pytest
from openpyxl import load_workbook
from pypdfium2 import PdfDocument

from compiler.cli import main
from compiler.demo.workbooks import demo_workbook
from compiler.exits import Exit
from compiler.files import read_manifest
from compiler.render.template import render_template
from compiler.source.cells import SourceBook
from compiler.source.grid import book_from_grid

NAMES = (
    "../../../etc/passwd",
    "/etc/passwd",
    "C:\\\\Windows\\\\win.ini",
    "..",
    "CON",
    "aux.txt",
    "COM1.pdf",
    "NUL",
    "nul.",
    "Ann ...",
    "Zoë Łuk",
    "Zoe Luk",
    '=HYPERLINK("http://x.example","click")',
    "+1+1",
    "-2+3",
    "@SUM(A1)",
    "<b>Ann</b>",
    "&amp;<script>",
    "{0} %s %(name)s",
    "a/b:c*d?e",
    "manifest.json",
    ".programme-lock",
    "O'Neill; DROP TABLE clients",
    "Ann (one) \\\\ Bob",
)
"""As they are typed into Clients; the backslashes are doubled for the table."""

TABLES = """
## Exercises

| Exercise | Implement | Cue |
| --- | --- | --- |
| Push-up | body weight | {cue} |

## Programme

| Programme | Session | Order | Exercise | Week 1 sets | Week 1 reps | Week 1 load |
| --- | --- | --- | --- | --- | --- | --- |
| One | Day one | A | Push-up | 3 | 8 | |

## Clients

| Client | Programme | Screened on |
| --- | --- | --- |
{clients}
"""


def book(clients: tuple[str, ...] = ("Imogen Thackray",), cue: str = "") -> SourceBook:
    rows = "\n".join(f"| {name} | One | 2026-11-02 |" for name in clients)
    return book_from_grid(TABLES.replace("{clients}", rows).replace("{cue}", cue))


def written(folder: Path, content: bytes) -> Path:
    path = folder / "block.xlsx"
    path.write_bytes(content)
    return path


def test_names_to_fear(tmp_path: Path) -> None:
    """Every client has a booklet inside the folder with the name as typed; no workbook has a formula by it."""
    path, out = written(tmp_path, render_template(1, 1, fill=book(NAMES))), tmp_path / "a" / "out"
    before = set(tmp_path.rglob("*"))
    assert main(["compile", str(path), "-o", str(out)]) == Exit.OK
    made = {item for item in tmp_path.rglob("*") if item.is_file()} - before
    assert all(item.is_relative_to(out) for item in made)
    flags = json.loads((out / "coach" / "flags.json").read_text(encoding="utf-8"))["flags"]
    clashes = [found["message"] for found in flags if found["slug"] == "file-names-collide"]
    assert any("Zoë Łuk and Zoe Luk" in message for message in clashes)
    booklets = sorted((out / "booklets").iterdir())
    assert len(booklets) == len(NAMES)
    seen = {item.relative_to(out).as_posix() for item in made if not item.name.startswith(".")}
    assert set(read_manifest(out)) == seen - {"manifest.json"}
    shown = " ".join(PdfDocument(item)[0].get_textpage().get_text_bounded() for item in booklets)
    assert "<b>Ann</b>" in shown
    assert "=HYPERLINK" in shown
    typed = {name.replace("\\\\", "\\") for name in NAMES}
    for workbook in (out / "coach").glob("*.xlsx"):
        for sheet in load_workbook(workbook).worksheets:
            cells = [cell for row in sheet.iter_rows() for cell in row]
            assert not [cell for cell in cells if cell.data_type == "f" and str(cell.value) in typed], workbook.name
            assert not [cell for cell in cells if cell.hyperlink and cell.hyperlink.target], workbook.name


@pytest.mark.parametrize("letter", ["x", "x ", "<b>", "\\\\", "İ", "🏋"])
def test_ten_thousand_characters_in_a_cue(tmp_path: Path, letter: str) -> None:
    """Long words, markup, escapes: whatever is typed is printed or flagged, and nothing breaks."""
    cue = (letter * 10_000)[:10_000].strip()
    path = written(tmp_path, render_template(1, 1, fill=book(cue=cue)))
    assert main(["compile", str(path), "-o", str(tmp_path / "out")]) in {Exit.OK, Exit.WORKBOOK_ERRORS}
    assert (tmp_path / "out" / "coach" / "summary.xlsx").exists()


def test_ten_thousand_characters_in_a_week_cell(tmp_path: Path) -> None:
    """The text is too long at its cell, whatever grammar it would fit."""
    source = book_from_grid(TABLES.replace("| 3 | 8 |", f"| 3 | {'8, ' * 3333}8 |").replace(
        "{clients}", "| Imogen Thackray | One | 2026-11-02 |").replace("{cue}", ""))  # fmt: skip
    path = written(tmp_path, render_template(1, 1, fill=source))
    assert main(["check", str(path), "--json", str(tmp_path / "flags.json")]) == Exit.WORKBOOK_ERRORS
    flags = json.loads((tmp_path / "flags.json").read_text(encoding="utf-8"))["flags"]
    assert [flag["slug"] for flag in flags if flag["severity"] == "error"] == ["too-long"]


def with_rows(content: bytes, row: str, count: int) -> bytes:
    """Return a workbook with many rows under the programme, `{}` in them their number."""
    out = BytesIO()
    with zipfile.ZipFile(BytesIO(content)) as old, zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as new:
        place = load_workbook(BytesIO(content)).sheetnames.index("Programme") + 1
        for name in old.namelist():
            part = old.read(name)
            if name == f"xl/worksheets/sheet{place}.xml":
                rows = "".join(row.replace("{}", str(number)) for number in range(1000, 1000 + count))
                part = part.replace(b"</sheetData>", rows.encode() + b"</sheetData>")
            new.writestr(name, part)
    return out.getvalue()


def test_a_million_styled_rows_hold_nothing(tmp_path: Path) -> None:
    """Rows that are only coloured are no rows: the same flags as without them."""
    plain = render_template(1, 1, fill=book())
    path = written(tmp_path, plain)
    assert main(["check", str(path), "--json", str(tmp_path / "without.json")]) == Exit.OK
    path.write_bytes(with_rows(plain, '<row r="{}" s="1" customFormat="1"/>', 1_000_000))
    assert main(["check", str(path), "--json", str(tmp_path / "with.json")]) == Exit.OK
    assert (tmp_path / "with.json").read_text() == (tmp_path / "without.json").read_text()


def test_more_than_a_million_filled_cells_are_told_with_the_limit(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A sheet far larger than any block is refused with the number that it passed."""
    cells = "".join(f'<c r="{column}{{}}"><v>1</v></c>' for column in "ABCDEFGHIJ")
    path = written(tmp_path, with_rows(render_template(1, 1, fill=book()), f'<row r="{{}}">{cells}</row>', 100_001))
    assert main(["check", str(path)]) == Exit.UNREADABLE
    said = capsys.readouterr().err
    assert "workbook-too-large" in said
    assert "1,000,000 filled cells" in said


def test_nothing_personal_outside_the_papers(tmp_path: Path) -> None:
    """The lists beside the papers hold names of files and hashes alone: no health, no note, no date of birth."""
    path, out = tmp_path / "block.xlsx", tmp_path / "out"
    path.write_bytes(demo_workbook())
    assert main(["compile", str(path), "-o", str(out)]) == Exit.OK
    assert main(["printed", str(out)]) == Exit.OK
    for name in ("manifest.json", "print-run.json", "printed.json"):
        listed = json.loads((out / name).read_text(encoding="utf-8"))
        assert listed
        files = {item.relative_to(out).as_posix() for item in out.rglob("*")}
        assert set(listed) <= files
        assert all(re.fullmatch("[0-9a-f]{64}", found) for found in listed.values())
