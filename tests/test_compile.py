"""The whole way from a workbook to its folder: twice alike, nobody's file lost, and whoever is left out."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from compiler.files_disk import write_file
from compiler.pipeline.check import Checked, check_source
from compiler.pipeline.compile import Compiled, compile_workbook, held_clients
from compiler.render.template import render_template
from compiler.schema.sheets import BLOCK
from compiler.source.grid import book_from_grid
from tests.fragments import case_book
from tests.unit.render.pdf_facts import page_texts

HERE = Path(__file__).parent
SHARED = (HERE / "cases" / "ottermere.md").read_text(encoding="utf-8")
SOUND = (HERE / "data" / "sound-block.md").read_text(encoding="utf-8")

PROGRAMME = """
## Exercises

| Exercise   | Implement |
| ---------- | --------- |
| Goblet squat | dumbbell |

## Programme

| Programme | Session | Part | Order | Exercise     | Week 1 sets | Week 1 reps | Week 1 load |
| --------- | ------- | ---- | ----- | ------------ | ----------- | ----------- | ----------- |
| Strength  | Press   | main | A     | Goblet squat | 3           | 8           | 16 kg       |
"""


def compiled(tmp_path: Path, clients: str, more: str = "", folder: str = "out") -> Compiled:
    """Compile a block of these clients, in a template like the coach's."""
    path = tmp_path / "block.xlsx"
    if not path.exists():
        fill = case_book(f"{PROGRAMME}\n## Clients\n\n{clients}\n{more}", SHARED)
        write_file(path, render_template(1, 1, fill=fill))
    return compile_workbook(path, tmp_path / folder)


def contents(folder: Path) -> dict[str, bytes]:
    return {str(path.relative_to(folder)): path.read_bytes() for path in sorted(folder.rglob("*")) if path.is_file()}


def booklets(made: Compiled) -> dict[str, str]:
    """Return the text of each booklet by its file name."""
    return {path.name: " ".join(page_texts(path.read_bytes())) for path in sorted(made.folder.glob("booklets/*.pdf"))}


TWO = "| Client | Programme | Screened on |\n| --- | --- | --- |\n| Imogen Thackray | Strength | 2026-12-01 |\n"
TWO += "| Rufus Pemberly | Strength | 2026-12-01 |\n"


def test_twice_alike(tmp_path: Path) -> None:
    """A second compile into the same folder writes nothing; one into another folder gives the same bytes."""
    first = compiled(tmp_path, TWO)
    before = contents(first.folder)
    again = compiled(tmp_path, TWO)
    assert again.written.written == ()
    assert again.written.removed == ()
    assert contents(again.folder) == before
    assert contents(compiled(tmp_path, TWO, folder="other").folder) == before


def test_names_that_collide(tmp_path: Path) -> None:
    """Two clients whose files would have one name both get theirs, and it is noted once."""
    made = compiled(tmp_path, TWO.replace("Imogen Thackray", "Zoe Quill").replace("Rufus Pemberly", "Zoë Quill"))
    texts = booklets(made)
    assert len(texts) == 2
    assert [sum(name in text for text in texts.values()) for name in ("Zoe Quill", "Zoë Quill")] == [1, 1]
    assert [flag.slug for flag in made.flags if flag.slug == "file-names-collide"] == ["file-names-collide"]
    told = json.loads((made.folder / "coach" / "flags.json").read_text(encoding="utf-8"))
    assert "file-names-collide" in {flag["slug"] for flag in told["flags"]}


def test_print_name_and_nobody(tmp_path: Path) -> None:
    """A print name stands in the booklet in place of the name; Print none has no booklet and is not held."""
    clients = (
        "| Client | Print name | Programme | Screened on | Print |\n| --- | --- | --- | --- | --- |\n"
        "| Imogen Thackray | Imogen T. | Strength | 2026-12-01 | |\n| Rufus Pemberly | | Strength | | none |\n"
    )
    made = compiled(tmp_path, clients)
    (text,) = booklets(made).values()
    assert "Imogen T." in text
    assert "Thackray" not in text
    assert made.held == ()
    assert made.flags == ()


def test_closed_dates(tmp_path: Path) -> None:
    """A session on a closed day stays where it is and has no date; the week after it has."""
    clients = (
        "| Client | Programme | Screened on | Training days |\n| --- | --- | --- | --- |\n"
        "| Imogen Thackray | Strength | 2026-12-01 | Tue |\n| Rufus Pemberly | Strength | 2026-12-01 | Tue |\n"
    )
    block = "## Block\n\n| Setting | Value |\n| --- | --- |\n| Closed dates | 2027-01-12 |\n"
    made = compiled(tmp_path, clients, block)
    for text in booklets(made).values():
        assert "5 January" in text
        assert "12 January" not in text
        assert "19 January" in text
    assert [flag.slug for flag in made.flags] == ["closed-date"]


def test_held_clients_have_no_booklet(tmp_path: Path) -> None:
    """The one with an error has none, not even an older one; the other's is made."""
    first = compiled(tmp_path, TWO)
    assert len(booklets(first)) == 2
    (tmp_path / "block.xlsx").unlink()
    clients = TWO.replace("| Rufus Pemberly | Strength |", "| Rufus Pemberly | Strenght |")
    made = compiled(tmp_path, clients)
    assert list(booklets(made)) == ["imogen-thackray.pdf"]
    assert [one.client for one in made.held] == ["Rufus Pemberly"]
    assert [flag.slug for one in made.held for flag in one.flags] == ["unknown-programme"]


@pytest.mark.parametrize("setting", ["Unit", "Weeks", "Paper", "Start date"])
def test_a_block_that_holds_everybody(tmp_path: Path, setting: str) -> None:
    """Where a setting of everybody's cannot be read nobody has a booklet, and the coach's files are there."""
    block = f"## Block\n\n| Setting | Value |\n| --- | --- |\n| {setting} | ?? |\n"
    made = compiled(tmp_path, TWO, block)
    assert booklets(made) == {}
    assert [one.client for one in made.held] == ["Imogen Thackray", "Rufus Pemberly"]
    assert {"coach/summary.xlsx", "coach/checked-copy.xlsx", "coach/flags.json"} <= set(contents(made.folder))


def _with_setting(header: str) -> Checked:
    text = "\n".join(line for line in SOUND.splitlines() if not line.startswith(f"| {header} "))
    head = "| Setting                     | Value                       |"
    rule = "| --------------------------- | --------------------------- |"
    failed = f"{head}\n{rule}\n| {header} | {{error #N/A}} |"
    return check_source(book_from_grid(text.replace(f"{head}\n{rule}", failed)))


@pytest.mark.parametrize("header", [column.header for column in BLOCK.columns])
def test_no_setting_fails_in_silence(header: str) -> None:
    """A setting that cannot be read has one flag at its cell, and who is held is named by it."""
    checked = _with_setting(header)
    told = [flag for flag in checked.flags if flag.place is not None and flag.place.sheet == "Block"]
    assert [(str(flag.place), flag.slug) for flag in told] == [("Block!B2", "formula-error")]
    assert {one.client for one in held_clients(checked.book, checked.flags, checked.clients)} == set(told[0].touches)
