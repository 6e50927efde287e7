"""What the desk prints, through the whole way: who is in the run, how it looks, and what has changed since."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import pytest

from compiler.cli import main
from compiler.demo.workbooks import demo_source
from compiler.documents.booklet import build_booklet, setting_of
from compiler.exits import Exit
from compiler.files_disk import write_file
from compiler.files_waiting import WaitingFiles
from compiler.layout.booklet import lay_out_booklet
from compiler.pipeline.check import Checked, check_source
from compiler.pipeline.compile import compile_workbook
from compiler.pipeline.desk import EVERYBODY, Desk, NotInWorkbook, RunChoice
from compiler.pipeline.kept import Kept
from compiler.render.booklet import render_booklet
from compiler.render.template import render_template
from compiler.source.grid import book_from_grid
from tests.unit.render.pdf_facts import opened, page_texts

TABLES = """
## Block

| Setting | Value |
| --- | --- |
| Title | Winter strength |
| Weeks | 1 |

## Exercises

| Exercise | Implement |
| --- | --- |
| Push-up | body weight |
| Plank | body weight |

## Programme

| Programme | Session | Part | Order | Exercise | Week 1 sets | Week 1 reps | Week 1 load |
| --- | --- | --- | --- | --- | --- | --- | --- |
| One | Day one | main | A | Push-up | 3 | 8 | |
| Two | Day one | main | A | Plank | 3 | {hold} | |

## Clients

| Client | Programme | Group | Screened on |
| --- | --- | --- | --- |
| Imogen Thackray | One | Early | 2026-11-02 |
| Ivo Tremlett | Two | Early | 2026-11-02 |
| Nell Hartigan | One | Late | 2026-11-02 |
"""


def workbook(tmp_path: Path, hold: str = "30 s") -> Path:
    path = tmp_path / "block.xlsx"
    write_file(path, render_template(1, 1, fill=book_from_grid(TABLES.format(hold=hold))))
    return path


def run_of(folder: Path) -> list[str]:
    """Return the bookmarks of the print run: whose booklets are in it."""
    with opened((folder / "desk" / "print-run.pdf").read_bytes()).open_outline() as outline:
        return [item.title for item in outline.root]


def booklets(folder: Path) -> list[str]:
    return sorted(path.name for path in (folder / "booklets").iterdir())


EVERY_BOOKLET = ["imogen-thackray.pdf", "ivo-tremlett.pdf", "nell-hartigan.pdf"]


def test_everybody_is_in_the_run(tmp_path: Path) -> None:
    """In the order of the Clients sheet, with the list, the room sheets and the hashes of what is in it."""
    out = tmp_path / "out"
    compiled = compile_workbook(workbook(tmp_path), out)
    assert compiled.in_run == 3
    assert run_of(out) == ["Imogen Thackray", "Ivo Tremlett", "Nell Hartigan"]
    assert {"desk/run-list.pdf", "coach/room-sheets.pdf"} <= set(compiled.written.places)
    run = json.loads((out / "print-run.json").read_text(encoding="utf-8"))
    manifest = json.loads((out / "manifest.json").read_text(encoding="utf-8"))
    assert run == {name: content for name, content in manifest.items() if name.startswith("booklets/")}


@pytest.mark.parametrize(
    ("choice", "names"),
    [
        (RunChoice(clients=("ivo  tremlett",)), ["Ivo Tremlett"]),
        (RunChoice(groups=("Late",)), ["Nell Hartigan"]),
        (RunChoice(clients=("Imogen Thackray",), groups=("late",)), ["Imogen Thackray", "Nell Hartigan"]),
    ],
    ids=["a client", "a group", "both"],
)
def test_a_choice_narrows_the_run_alone(tmp_path: Path, choice: RunChoice, names: list[str]) -> None:
    """The folder of booklets is complete all the same."""
    out = tmp_path / "out"
    compile_workbook(workbook(tmp_path), out, choice=choice)
    assert run_of(out) == names
    assert booklets(out) == EVERY_BOOKLET


def test_an_unknown_name_is_wrong_usage(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """With the near name stated, and nothing written."""
    out = tmp_path / "out"
    path = workbook(tmp_path)
    assert main(["compile", str(path), "-o", str(out), "--client", "Imogen Thakray"]) == Exit.USAGE
    assert "Imogen Thackray" in capsys.readouterr().err
    assert not (out / "booklets").exists()
    with pytest.raises(NotInWorkbook, match=r'no group "Tuesday" in the workbook\. The workbook has Early, Late'):
        compile_workbook(path, out, choice=RunChoice(groups=("Tuesday",)))


def test_only_what_changed_since_it_was_printed(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Marked, changed for one, compiled again: that one alone; marked again: nobody, and no file to print."""
    out = tmp_path / "out"
    path = workbook(tmp_path)
    assert main(["compile", str(path), "-o", str(out)]) == Exit.OK
    assert main(["printed", str(out)]) == Exit.OK
    assert "3 booklets marked" in capsys.readouterr().err
    workbook(tmp_path, hold="45 s")
    assert main(["compile", str(path), "-o", str(out), "--changed"]) == Exit.OK
    assert run_of(out) == ["Ivo Tremlett"]
    assert "changed since the last print" in page_texts((out / "desk" / "run-list.pdf").read_bytes())[0]
    assert booklets(out) == EVERY_BOOKLET
    assert main(["printed", str(out)]) == Exit.OK
    assert main(["compile", str(path), "-o", str(out), "--changed"]) == Exit.OK
    assert not (out / "desk" / "print-run.pdf").exists()
    assert "No booklet for the print run" in capsys.readouterr().err
    assert main(["compile", str(path), "-o", str(out)]) == Exit.OK
    assert len(run_of(out)) == 3


def test_a_run_of_one_client_marks_nobody_else(tmp_path: Path) -> None:
    """What was not printed is still in the next run of what changed."""
    out = tmp_path / "out"
    path = workbook(tmp_path)
    assert main(["compile", str(path), "-o", str(out), "--client", "Nell Hartigan"]) == Exit.OK
    assert main(["printed", str(out)]) == Exit.OK
    assert main(["compile", str(path), "-o", str(out), "--changed"]) == Exit.OK
    assert run_of(out) == ["Imogen Thackray", "Ivo Tremlett"]


def test_marking_a_folder_that_is_none_of_ours(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["printed", str(tmp_path)]) == Exit.CANNOT_WRITE
    assert "no print run" in capsys.readouterr().err


def test_one_side(tmp_path: Path) -> None:
    """No blank pages, the hint for the printer, the words of the list."""
    out = tmp_path / "out"
    compile_workbook(workbook(tmp_path), out, choice=RunChoice(simplex=True))
    pdf = opened((out / "desk" / "print-run.pdf").read_bytes())
    assert str(pdf.Root.ViewerPreferences.Duplex) == "/Simplex"
    pages = [len(opened(path.read_bytes()).pages) for path in (out / "booklets").iterdir()]
    assert len(pdf.pages) == sum(pages)
    assert "one side only" in page_texts((out / "desk" / "run-list.pdf").read_bytes())[0]


def test_initials_in_place_of_names(tmp_path: Path) -> None:
    """No page and no property of a booklet has the name; labels differ, and the list says whose they are."""
    out = tmp_path / "out"
    compile_workbook(workbook(tmp_path), out, choice=RunChoice(initials=True))
    for stem, name, label in (("imogen-thackray", "Thackray", "IT"), ("ivo-tremlett", "Tremlett", "IT 2")):
        data = (out / "booklets" / f"{stem}.pdf").read_bytes()
        texts = page_texts(data)
        assert not any(name in text for text in texts)
        assert all(label in text for text in texts)
        pdf = opened(data)
        assert name not in " ".join(str(value) for value in pdf.docinfo.values())
    assert run_of(out) == ["IT", "IT 2", "NH"]
    listed = page_texts((out / "desk" / "run-list.pdf").read_bytes())[0]
    assert "Imogen Thackray IT" in listed
    assert "Ivo Tremlett IT 2" in listed


# ---------------------------------------------------------------- half pages


@pytest.fixture(scope="module")
def half_page() -> Checked:
    """Return the example as half pages; two of its clients have large print."""
    checked = check_source(demo_source())
    assert checked.book is not None
    block = checked.book.block
    block = replace(block, booklet=replace(block.booklet, content="half page"))
    return replace(checked, book=replace(checked.book, block=block))


def desk_files(checked: Checked, names: tuple[str, ...]) -> tuple[dict[str, bytes], dict[str, int]]:
    """Return the files of the desk for some clients, and how many pages each has."""
    assert checked.book is not None
    desk = Desk(checked.book, EVERYBODY, {})
    counts: dict[str, int] = {}
    with WaitingFiles() as files:
        for plan in checked.plans:
            if plan.name in names:
                look = desk.look(plan)
                pages = lay_out_booklet(build_booklet(checked.book, plan, look))
                counts[plan.name] = len(pages.pages)
                name = f"booklets/{plan.name}.pdf"
                files[name] = render_booklet(pages)
                desk.add(plan, setting_of(checked.book, plan, look), name, files[name])
        desk.write(files, Kept(Path()))  # as where there was no run before
        return {name: content for name, content in files.items() if not name.startswith("booklets/")}, counts


def test_half_pages_are_imposed(half_page: Checked) -> None:
    """Every booklet on sheets of its own, two pages a side; the run as it is drawn stands beside it."""
    names = ("Imogen Thackray", "Rufus Pemberly")
    files, counts = desk_files(half_page, names)
    assert {name.partition("/")[2] for name in files if name.startswith("desk/")} == {
        "print-run.pdf",
        "print-run-imposed.pdf",
        "run-list.pdf",
    }
    imposed = opened(files["desk/print-run-imposed.pdf"])
    assert len(imposed.pages) == sum(2 * -(-count // 4) for count in counts.values())
    assert [round(float(edge)) for edge in imposed.pages[0].MediaBox.as_list()[2:]] == [842, 595]
    with imposed.open_outline() as outline:
        assert [item.title for item in outline.root] == list(names)
    texts = page_texts(files["desk/print-run-imposed.pdf"])
    first_side = 2 * -(-counts[names[0]] // 4)
    assert names[0] in texts[0]
    assert names[1] in texts[first_side]
    assert not any(names[1] in text for text in texts[:first_side])
    assert "short edge" in page_texts(files["desk/run-list.pdf"])[0]


def test_large_print_beside_half_pages_has_a_file_of_its_own(half_page: Checked) -> None:
    """What is folded and what is not are two stacks: each client is in one of the two files."""
    files, _ = desk_files(half_page, ("Imogen Thackray", "Mabel Stannard"))
    plain, folded = (" ".join(page_texts(files[f"desk/{name}.pdf"])) for name in ("print-run", "print-run-imposed"))
    assert ("Mabel Stannard" in plain, "Imogen Thackray" in plain) == (True, False)
    assert ("Mabel Stannard" in folded, "Imogen Thackray" in folded) == (False, True)
    listed = page_texts(files["desk/run-list.pdf"])[0]
    assert "short edge" in listed
    assert "long edge" in listed
