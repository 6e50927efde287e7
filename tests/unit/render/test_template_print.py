"""An empty block workbook on paper, as LibreOffice prints it: forms that fill their pages, nothing thrown away."""

from __future__ import annotations

import subprocess
from collections import defaultdict
from pathlib import Path

import pypdfium2
import pytest

from compiler.render.template import render_template
from compiler.schema.sheets import SHEETS
from tests.recalculation import LONGEST_WAIT, SOFFICE

FOOTER = 0.9
"""Share of a page's height above its footer."""
WELL_FILLED = 0.4
WHITE = 250


@pytest.mark.skipif(SOFFICE is None, reason="printing wants LibreOffice")
@pytest.mark.parametrize(("weeks", "sessions", "short"), [(4, 3, False), (6, 4, True)])
def test_no_page_of_the_empty_form_is_nearly_empty(weeks: int, sessions: int, short: bool, tmp_path: Path) -> None:
    """The last page of a sheet that takes several is as full as makes a page worth printing."""
    found = printed(render_template(weeks, sessions, short=short), tmp_path)
    assert list(found) == ["Start here", *(spec.name for spec in SHEETS)]
    for name, pages in found.items():
        assert len(pages) == 1 or pages[-1] > WELL_FILLED, (name, pages)
    assert len(found["Kit"]) == len(found["Sites"]) == 1
    assert len(found["Block"]) == 2


def printed(workbook: bytes, folder: Path) -> dict[str, list[float]]:
    """Return how far down each page of each sheet is ruled, as a share of what stands above the footer."""
    file = folder / "block.xlsx"
    file.write_bytes(workbook)
    command = [str(SOFFICE), f"-env:UserInstallation={(folder / 'profile').as_uri()}", "--headless"]
    how = ["--convert-to", "pdf", "--outdir", str(folder)]
    subprocess.run([*command, *how, str(file)], check=True, capture_output=True, timeout=LONGEST_WAIT)
    pages = defaultdict(list)
    with pypdfium2.PdfDocument(folder / "block.pdf") as document:
        for page in document:
            foot = page.get_textpage().get_text_bounded(top=page.get_height() * (1 - FOOTER))
            sheet = next((spec.name for spec in SHEETS if foot.startswith(spec.name)), "Start here")
            pages[sheet].append(filled(page))
    return dict(pages)


def filled(page: pypdfium2.PdfPage) -> float:
    """Return the height of the lowest mark above the footer."""
    grey = page.render(grayscale=True).to_numpy()
    above = int(len(grey) * FOOTER)
    marked = (grey[:above] < WHITE).any(axis=1).nonzero()[0]
    return float(marked[-1]) / above
