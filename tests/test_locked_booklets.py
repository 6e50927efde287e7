"""PDFs locked with a password: they open with it alone, and nothing that is printed can be read without it."""

from __future__ import annotations

from collections.abc import Iterator
from io import BytesIO
from pathlib import Path

import pikepdf
import pypdfium2
import pytest

from compiler.cli import main
from compiler.demo.workbooks import demo_source
from compiler.exits import Exit
from compiler.files import read_manifest
from compiler.pipeline.kept import KEYS
from compiler.render.template import render_template
from tests.support import few_clients

PASSWORD = "three oars & a cox ø"  # noqa: S105 - an invented one


@pytest.fixture(scope="module")
def out(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return the folder of a few clients of the example, locked."""
    folder = tmp_path_factory.mktemp("locked")
    compile_with(folder, PASSWORD)
    return folder / "out"


def compile_with(folder: Path, password: str | None) -> None:
    """Compile a few clients of the example with a password; None: without. Tests of the others are flagged."""
    book = written(folder)
    file = folder / "password.txt"
    file.write_text(f"{password}\nanother line\n", encoding="utf-8")
    locked = ["--password-file", str(file)] if password else []
    assert main(["compile", str(book), "-o", str(folder / "out"), *locked]) == Exit.WORKBOOK_ERRORS


def written(folder: Path) -> Path:
    """Write the workbook."""
    book = folder / "block.xlsx"
    book.write_bytes(render_template(4, 3, fill=few_clients(demo_source())))
    return book


def pdfs(out: Path) -> Iterator[Path]:
    yield from sorted(out.rglob("*.pdf"))


def test_every_pdf_opens_with_the_password_alone(out: Path) -> None:
    """By two other readers; AES with 256 bits."""
    assert {path.parent.name for path in pdfs(out)} == {"booklets", "desk", "coach"}
    for path in pdfs(out):
        with pytest.raises(pikepdf.PasswordError):
            pikepdf.open(path)
        with pytest.raises(pypdfium2.PdfiumError):
            pypdfium2.PdfDocument(path)
        with pikepdf.open(path, password=PASSWORD) as pdf:
            assert (pdf.encryption.R, pdf.encryption.bits) == (6, 256)
            assert pdf.check_pdf_syntax() == []
        assert len(pypdfium2.PdfDocument(path, password=PASSWORD)) > 0


def test_a_locked_booklet_is_the_booklet(out: Path, tmp_path: Path) -> None:
    """Pages, tags, bookmarks, labels: the drawing is the one without a password."""
    compile_with(tmp_path, None)
    plain = tmp_path / "out" / "booklets" / "imogen-thackray.pdf"
    with pikepdf.open(out / "booklets" / plain.name, password=PASSWORD) as locked, pikepdf.open(plain) as free:
        for mine, other in zip(locked.pages, free.pages, strict=True):
            assert mine.Contents.read_bytes() == other.Contents.read_bytes()
        assert set(locked.Root.keys()) - {"/Extensions"} == set(free.Root.keys())
        assert locked.docinfo.Title == free.docinfo.Title


def test_nothing_personal_is_left_in_the_open(out: Path) -> None:
    """Neither a client nor the password, in any file but the coach's workbooks; not the title either."""
    for path in [*pdfs(out), out / "manifest.json", out / KEYS]:
        content = path.read_bytes()
        assert PASSWORD.encode() not in content
        if path.suffix == ".pdf":
            assert b"Imogen" not in content
            assert "Imogen".encode("utf-16-be") not in content


def test_the_same_again_writes_nothing_another_password_all(
    out: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """What is unchanged keeps its bytes, though a lock is drawn at random; another password, or none, locks anew."""
    compile_with(tmp_path, PASSWORD)
    first = read_manifest(tmp_path / "out")
    assert first != read_manifest(out)
    compile_with(tmp_path, PASSWORD)
    assert read_manifest(tmp_path / "out") == first
    compile_with(tmp_path, "another")
    with pikepdf.open(tmp_path / "out" / "desk" / "print-run.pdf", password="another"):  # noqa: S106 - an invented one
        pass
    compile_with(tmp_path, None)
    said = capsys.readouterr().err
    assert PASSWORD not in said
    for path in pdfs(tmp_path / "out"):
        pikepdf.open(BytesIO(path.read_bytes())).close()


@pytest.mark.parametrize("content", [b"", b"\n", b"  \nsecret\n", b"\xff\xfe\x00", b"a" * 128])
def test_a_file_without_a_password_is_wrong_usage(tmp_path: Path, content: bytes) -> None:
    """Nothing is written then: booklets that were to be locked would lie open."""
    file = tmp_path / "password.txt"
    file.write_bytes(content)
    arguments = ["compile", str(written(tmp_path)), "-o", str(tmp_path / "out"), "--password-file"]
    assert main([*arguments, str(file)]) == Exit.USAGE
    assert main([*arguments, str(tmp_path / "none.txt")]) == Exit.USAGE
    assert not (tmp_path / "out").exists()
