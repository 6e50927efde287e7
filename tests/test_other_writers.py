"""The example saved again by other programs reads to the same plans and the same booklets.

LibreOffice writes its own styles, dates and formulas; openpyxl drops what it does not know; XlsxWriter writes every
cell anew from what a reader gave.
"""

from __future__ import annotations

import shutil
import subprocess
from collections.abc import Callable
from dataclasses import replace
from io import BytesIO
from pathlib import Path

import pytest
import xlsxwriter
from openpyxl import load_workbook

from compiler.binding.records import wants_sheet
from compiler.demo.workbooks import demo_workbook
from compiler.documents.booklet import build_booklet
from compiler.documents.booklet_text import booklet_as_text
from compiler.pipeline.check import Checked, check_source
from compiler.source.xlsx import read_workbook_bytes

SOFFICE = shutil.which("soffice")


def by_openpyxl(content: bytes, _: Path) -> bytes:
    out = BytesIO()
    load_workbook(BytesIO(content)).save(out)
    return out.getvalue()


def by_xlsxwriter(content: bytes, _: Path) -> bytes:
    """Write every cell of the sheets that are read anew: values, dates with their format, no styles."""
    out = BytesIO()
    book = xlsxwriter.Workbook(out, {"in_memory": True})
    day = book.add_format({"num_format": "yyyy-mm-dd"})
    for sheet in filter(lambda sheet: wants_sheet(sheet.title), load_workbook(BytesIO(content)).worksheets):
        copy = book.add_worksheet(sheet.title)
        for row in sheet.iter_rows():
            for cell in row:
                if cell.value is None:
                    continue
                if cell.is_date:
                    copy.write_datetime(cell.row - 1, cell.column - 1, cell.value, day)
                elif isinstance(cell.value, str):
                    copy.write_string(cell.row - 1, cell.column - 1, cell.value)
                else:
                    copy.write(cell.row - 1, cell.column - 1, cell.value)
    book.close()
    return out.getvalue()


def by_libreoffice(content: bytes, folder: Path) -> bytes:
    source, profile = folder / "block.xlsx", folder / "profile"
    source.write_bytes(content)
    saved = folder / "saved"
    command = [
        str(SOFFICE),
        f"-env:UserInstallation={profile.as_uri()}",
        "--headless",
        "--convert-to",
        "xlsx",
        "--outdir",
        str(saved),
        str(source),
    ]
    subprocess.run(command, check=True, capture_output=True, timeout=300)
    return (saved / "block.xlsx").read_bytes()


def checked(content: bytes) -> Checked:
    return check_source(read_workbook_bytes(content, "block.xlsx", wants_sheet))


def booklets(of: Checked) -> dict[str, str]:
    assert of.book is not None
    return {plan.name: booklet_as_text(build_booklet(of.book, plan)) for plan in of.plans}


@pytest.fixture(scope="module")
def original() -> bytes:
    return demo_workbook()


@pytest.fixture(scope="module")
def as_made(original: bytes) -> Checked:
    return checked(original)


@pytest.mark.parametrize(
    "again",
    [
        by_openpyxl,
        by_xlsxwriter,
        pytest.param(
            by_libreoffice,
            marks=pytest.mark.skipif(SOFFICE is None, reason="LibreOffice is not on this machine; CI installs it"),
        ),
    ],
)
def test_saved_again(
    again: Callable[[bytes, Path], bytes], original: bytes, as_made: Checked, tmp_path: Path
) -> None:
    """Same flags at the same cells, same clients, same words and numbers on every page."""
    now = checked(again(original, tmp_path))
    flags = [replace(flag, found=None) for flag in now.flags if flag.slug != "extra-column"]
    expected = [replace(flag, found=None) for flag in as_made.flags if flag.slug != "extra-column"]
    assert expected == flags
    assert booklets(as_made) == booklets(now)
