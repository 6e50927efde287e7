"""Names in other scripts: printed in a font that the coach names, never as a box, never in the wrong order."""

from __future__ import annotations

from dataclasses import replace
from io import BytesIO
from pathlib import Path

import pikepdf
import pypdfium2
import pytest

import compiler
from compiler.cli import main
from compiler.demo.workbooks import demo_source
from compiler.exits import Exit
from compiler.fallback import in_use, remembered, set_one_by_one, using
from compiler.fallback_files import FontRefused, read_fallbacks
from compiler.layout.metrics import Face, width
from compiler.pipeline.compile import Compiled, compile_workbook
from compiler.printable import printable, unprintable
from compiler.render.template import render_template
from tests.invented_font import EM, invented_font
from tests.support import few_clients
from tests.unit.render.pdf_facts import page_texts

HAN, ARMENIAN, HEBREW, DEVANAGARI, ARABIC, RARE = "青木海", "ԱնիՀակոբյան", "שרה", "नमस्ते", "سارة", "𠮷"
NAME = "青木 海"


@pytest.fixture
def fonts(tmp_path: Path) -> list[str]:
    """Return two files: letters of one width, letters of another."""
    for name, letters, wide in (("one.ttf", HAN + HEBREW, 900), ("two.ttf", HAN + ARMENIAN + DEVANAGARI + RARE, 500)):
        (tmp_path / name).write_bytes(invented_font(letters, width=wide))
    return [str(tmp_path / "one.ttf"), str(tmp_path / "two.ttf")]


def block(folder: Path, name: str) -> Path:
    """Write a block of three clients, the first of whom has another name."""
    source = few_clients(demo_source())
    sheets = []
    for sheet in source.sheets:
        changed = {
            at: replace(cell, value=name) if cell.value == "Imogen Thackray" else cell
            for at, cell in sheet.cells.items()
        }
        sheets.append(replace(sheet, cells=changed))
    book = folder / "block.xlsx"
    book.write_bytes(render_template(4, 3, fill=replace(source, sheets=tuple(sheets))))
    return book


def held_for(compiled: Compiled) -> set[str]:
    return {flag.slug for held in compiled.held for flag in held.flags}


def test_a_name_without_a_font_is_held_and_told_both_ways_out(tmp_path: Path) -> None:
    """The hint names Print name, and a font where a font would do."""
    found = {}
    for name in (NAME, "שרה"):
        compiled = compile_workbook(block(tmp_path, name), tmp_path / "out")
        assert held_for(compiled) == {"cannot-print-name"}
        found[name] = next(flag.hint or "" for flag in compiled.flags if flag.slug == "cannot-print-name")
    assert all("Print name" in hint for hint in found.values())
    assert ["--fallback-font" in hint for hint in found.values()] == [True, False]


def test_what_is_remembered_is_of_the_fonts_in_use(fonts: list[str]) -> None:
    """A row that was measured without a font is measured anew with it, and the other way round."""
    measured = remembered(8)(lambda text: (printable(text), width(printable(text), Face.REGULAR, 10.0)))
    without = measured(HAN)
    with using(read_fallbacks(map(Path, fonts))):
        assert measured(HAN) == (HAN, len(HAN) * 900 / EM * 10.0)
    assert measured(HAN) == without
    assert HAN not in without


def test_layout_remembers_nothing_without_its_fonts() -> None:
    """Every other memory of the layout has the fonts, or a text that was made printable, among its arguments."""
    layout = Path(compiler.__file__).parent / "layout"
    assert {path.name for path in layout.glob("*.py") if "lru_cache(" in path.read_text()} == {"lines.py", "metrics.py"}


def test_a_name_is_printed_in_the_font(tmp_path: Path, fonts: list[str]) -> None:
    """On the cover and at the foot of pages; it can be read and copied, and nothing else has changed its font."""
    out = tmp_path / "out"
    compiled = compiler.compile_block(block(tmp_path, NAME), out, fallback_fonts=fonts)
    assert compiled.held == ()
    assert in_use() == ()
    booklet = next(path for path in (out / "booklets").iterdir() if NAME in page_texts(path.read_bytes())[0])
    assert all(NAME in text for text in page_texts(booklet.read_bytes())[1:])
    with pikepdf.open(booklet) as pdf:
        embedded = {str(font.BaseFont)[8:]: "/FontFile2" in font.FontDescriptor for font in fonts_of(pdf)}
        assert set(embedded) == {"SourceSans3-Regular", "SourceSans3-SemiBold", "SourceSans3-Bold", "Invented-Regular"}
        assert all(embedded.values())
        assert pdf.docinfo.Title == f"{NAME}, Winter strength, December 2026 to January 2027"
    run = page_texts((out / "desk" / "print-run.pdf").read_bytes())
    assert any(NAME in text for text in run)
    assert NAME in page_texts((out / "desk" / "run-list.pdf").read_bytes())[0]
    assert NAME in " ".join(page_texts((out / "coach" / "room-sheets.pdf").read_bytes()))


def fonts_of(pdf: pikepdf.Pdf) -> list[pikepdf.Object]:
    return [one for one in pdf.objects if isinstance(one, pikepdf.Dictionary) and one.get("/Type") == "/Font"]


def test_workers_and_one_process_draw_alike_and_unchanged_is_kept(tmp_path: Path, fonts: list[str]) -> None:
    """Another font draws anew, the same fonts write nothing."""
    book = block(tmp_path, NAME)
    compiler.compile_block(book, tmp_path / "one", fallback_fonts=fonts)
    compiler.compile_block(book, tmp_path / "two", fallback_fonts=fonts, jobs=2)
    one, two = ((tmp_path / name / "manifest.json").read_text() for name in ("one", "two"))
    assert one == two
    assert compiler.compile_block(book, tmp_path / "one", fallback_fonts=fonts).written.written == ()
    assert compiler.compile_block(book, tmp_path / "one", fallback_fonts=fonts[1:]).changed == (NAME,)


def test_the_first_font_that_has_it(fonts: list[str]) -> None:
    """Fonts are asked in turn; the booklet's own letters stay in its own font; nothing lasts beyond the block."""
    with using(read_fallbacks(map(Path, fonts))):
        assert unprintable("Ани 青木 Ա 𠮷") == ""
        assert width("青", Face.BOLD, EM) == 900
        assert width("Ա", Face.BOLD, EM) == 500
        own = width("A", Face.BOLD, EM)
    assert unprintable("青") == "青"
    assert printable("青") == "?"
    assert width("A", Face.BOLD, EM) == own


@pytest.mark.parametrize("text", [HEBREW, DEVANAGARI, ARABIC, "สวัสดี", "ខ្មែរ", "မြန်မာ"])
def test_letters_that_join_or_run_from_right_to_left_are_never_drawn(text: str, fonts: list[str]) -> None:
    """Drawn one by one they would be another word, though a font may have every one of them."""
    with using(read_fallbacks(map(Path, fonts))):
        assert unprintable(text) != ""
    assert not all(map(set_one_by_one, text))


@pytest.mark.parametrize(
    "text", ["Ангелина", "Ελένη", "Nguyễn Thị", "青木", "さくら", "김민지", "Հակոբյան", "ნინო", "𠮷田"]
)
def test_letters_that_stand_one_after_the_other(text: str) -> None:
    """Left to right, each in one shape (Unicode, chapters 7, 18 and their tables)."""
    assert all(map(set_one_by_one, text))


@pytest.mark.parametrize(
    ("content", "says"),
    [
        pytest.param(b"", "not a TrueType font", id="empty"),
        pytest.param(b"not a font at all", "not a TrueType font", id="text"),
        pytest.param(b"ttcf\0\1\0\0", "several fonts", id="collection"),
        pytest.param(invented_font("a")[:300], "not a TrueType font", id="cut off"),
        pytest.param(invented_font("a", outlines="CFF "), "PostScript outlines", id="PostScript outlines"),
        pytest.param(invented_font("a", axes=True), "variable", id="variable"),
        pytest.param(invented_font("a", usage=0x0002), "licence", id="may not be embedded"),
        pytest.param(invented_font("a", usage=0x0100), "licence", id="may not be cut down"),
        pytest.param(None, "cannot be read", id="missing"),
    ],
)
def test_files_that_cannot_serve(
    tmp_path: Path, content: bytes | None, says: str, capsys: pytest.CaptureFixture[str]
) -> None:
    """Wrong usage, in one sentence, before anything is written."""
    file = tmp_path / "font.ttf"
    if content is not None:
        file.write_bytes(content)
    with pytest.raises(FontRefused, match=says):
        read_fallbacks([file])
    for command in (["check"], ["compile", "-o", str(tmp_path / "out")], ["next", "-o", str(tmp_path / "next.xlsx")]):
        arguments = [command[0], "block.xlsx", *command[1:], "--fallback-font", str(file)]
        assert main(arguments) == Exit.USAGE
        assert says in " ".join(capsys.readouterr().err.split())
    assert {path.name for path in tmp_path.iterdir()} <= {"font.ttf"}


def test_an_editable_font_may_be_used(tmp_path: Path) -> None:
    """A usage of 8, editable embedding, lets a document be printed and kept (OpenType 1.9, OS/2 fsType)."""
    file = tmp_path / "font.ttf"
    file.write_bytes(invented_font("a", usage=0x0008))
    assert [font.name for font in read_fallbacks([file, file])] == ["font.ttf"]


def test_check_and_compile_say_the_same(tmp_path: Path, fonts: list[str]) -> None:
    """With the font neither holds the client."""
    book = block(tmp_path, NAME)
    named = [argument for file in fonts for argument in ("--fallback-font", file)]
    assert "cannot-print-name" in {flag.slug for flag in compiler.check(book).flags}
    assert "cannot-print-name" not in {flag.slug for flag in compiler.check(book, fallback_fonts=fonts).flags}
    assert main(["check", str(book), *named, "--json", str(tmp_path / "flags.json")]) == Exit.WORKBOOK_ERRORS
    assert "cannot-print-name" not in (tmp_path / "flags.json").read_text(encoding="utf-8")
    assert in_use() == ()


def test_pages_are_drawn_as_they_were_measured(tmp_path: Path, fonts: list[str]) -> None:
    """The name on the cover is as wide as it was laid out, by another reader."""
    out = tmp_path / "out"
    compiler.compile_block(block(tmp_path, NAME), out, fallback_fonts=fonts)
    booklet = next(path for path in (out / "booklets").iterdir() if NAME in page_texts(path.read_bytes())[0])
    page = pypdfium2.PdfDocument(BytesIO(booklet.read_bytes()))[0].get_textpage()
    at = page.get_text_range().index("木")
    left, _, right, _ = page.get_charbox(at)
    height = page.get_charbox(at)[3] - page.get_charbox(at)[1]
    assert (right - left) / height == pytest.approx(800 / 700, rel=0.02)
