"""The baseline of a coach without the program: a spreadsheet that looks like the booklet, printed by LibreOffice."""

from __future__ import annotations

import shutil
import subprocess
from collections import defaultdict
from collections.abc import Sequence
from io import BytesIO
from pathlib import Path

from xlsxwriter import Workbook

from compiler.layout.page import Grid, Page, Pages, Text
from tests.benchmarks.plain_canvas import marks_of

_COLUMNS = 12
_A4 = 9
_POINTS = 595.0


def office() -> str | None:
    """Return the program, None where it is not installed."""
    return shutil.which("soffice") or shutil.which("libreoffice")


def equal_sheet(pages: Pages) -> bytes:
    """Return a workbook with one sheet a page: the texts in their order, a bordered cell for every box to write in."""
    out = BytesIO()
    book = Workbook(out, {"in_memory": True})
    boxed = book.add_format({"border": 1})
    for page in pages.pages:
        sheet = book.add_worksheet(f"Page {page.number}")
        sheet.set_paper(_A4)
        sheet.fit_to_pages(1, 1)
        for row, cells in enumerate(_rows(page)):
            for column, words in cells.items():
                sheet.write_string(row, column, words or "", boxed if words is None else None)
    book.close()
    return out.getvalue()


def _rows(page: Page) -> list[dict[int, str | None]]:
    """Return the cells of a page by row and column; None is a box."""
    rows: defaultdict[int, dict[int, str | None]] = defaultdict(dict)
    for mark, down in marks_of(page):
        if isinstance(mark, Text | Grid):
            line, column = round(mark.y + down), int(mark.x / _POINTS * _COLUMNS)
            for place in range(mark.count if isinstance(mark, Grid) else 1):
                rows[line][column + place] = mark.text if isinstance(mark, Text) else None
    return [rows[line] for line in sorted(rows)]


def print_to_pdf(program: str, sheets: Sequence[Path], folder: Path) -> None:
    """Let the office program turn workbooks into PDF files, all in one call."""
    subprocess.run(
        [
            program,
            f"-env:UserInstallation={(folder / 'profile').as_uri()}",
            *("--headless", "--convert-to", "pdf", "--outdir", str(folder)),
            *map(str, sheets),
        ],
        check=True,
        capture_output=True,
    )
