"""Situations as files: a folder with book.md (Markdown tables) and expected.txt; dropping one in makes it a test.

What a book leaves out stands in cases/ottermere.md. expected.txt is what `programme check` prints of the flags;
`pytest --update-expected` writes it anew; read the diff.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from compiler.flags.catalogue import CATALOGUE
from compiler.flags.text import flags_as_text
from compiler.pipeline.check import check_source
from compiler.schema.sheets import SHEET_ORDER
from tests.fragments import case_book

CASES = Path(__file__).parent / "cases"
SHARED = (CASES / "ottermere.md").read_text(encoding="utf-8")
FOLDERS = sorted(path.parent for path in CASES.glob("*/book.md"))
WIDTH = 110

WITHOUT_BOOK = {
    "not-a-workbook": "tests/test_cli.py",
    "protected-workbook": "tests/unit/source",
    "damaged-workbook": "tests/unit/source",
    "workbook-too-large": "tests/unit/source",
    "newer-workbook": "tests/unit/binding",
    "macros-ignored": "tests/unit/source",
    "other-date-system": "tests/unit/source",
    "file-names-collide": "tests/test_compile.py",
    "session-over-a-page": "tests/unit/pipeline",
    "weeks-sheet-too-full": "tests/unit/pipeline",
}
"""Flags about a file, which no table can show, and where each is tested."""


def _shown(folder: Path) -> str:
    checked = check_source(case_book((folder / "book.md").read_text(encoding="utf-8"), SHARED))
    return flags_as_text(checked.flags, SHEET_ORDER, WIDTH, colour=False) + "\n"


@pytest.mark.parametrize("folder", FOLDERS, ids=lambda folder: folder.name)
def test_case(folder: Path, update_expected: bool) -> None:
    """The flags of a situation read as expected, word by word."""
    expected = folder / "expected.txt"
    shown = _shown(folder)
    if update_expected:
        expected.write_text(shown, encoding="utf-8")
    assert expected.read_text(encoding="utf-8") == shown


def test_every_flag_has_a_case() -> None:
    """Every slug of the catalogue is shown by a case, or tested where WITHOUT_BOOK says."""
    told = "\n".join((folder / "expected.txt").read_text(encoding="utf-8") for folder in FOLDERS)
    words = set(told.split())
    assert sorted(slug for slug in CATALOGUE if slug not in words and slug not in WITHOUT_BOOK) == []
