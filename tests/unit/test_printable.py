"""What can be printed: the fonts' characters, and what becomes of the rest."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

import compiler.font_coverage
from compiler.layout.coverage import coverage_source
from compiler.layout.metrics import characters
from compiler.printable import printable, unprintable


def test_the_list_of_characters_is_current() -> None:
    """`compiler/font_coverage.py` is what the bundled fonts give now; write `coverage_source()` there if not."""
    assert Path(compiler.font_coverage.__file__).read_text(encoding="utf-8") == coverage_source()


@pytest.mark.parametrize(
    ("text", "missing"),
    [
        ("Front squat", ""),
        ("Łukasz Žižić, Ойлан Ψαρρός, Nguyễn", ""),
        ("3 × 8–10 → ½ ✓ −20 kg", ""),
        ("Nguye\u0302\u0303n", ""),
        ("press 💪 and 💪 pull 日本", "💪日本"),
        ("e\u0323\u0301", "\u0301"),
        ("a\u200b\u00ad\ufe0fb\n", ""),
    ],
)
def test_unprintable(text: str, missing: str) -> None:
    """Latin, Greek, Cyrillic and Vietnamese print; a mark without a composed form would be set beside its letter."""
    assert unprintable(text) == missing


@pytest.mark.parametrize(
    ("text", "printed"),
    [
        ("plain", "plain"),
        ("two\nlines\r\n of\ttext", "two lines of text"),
        ("strong 💪🏽 back", "strong back"),
        ("日本 row", "?? row"),
        ("zero\u200bwidth", "zerowidth"),
        ("<b>x & =1+1", "<b>x & =1+1"),
        ("75\u00a0kg", "75\u00a0kg"),
    ],
)
def test_printable(text: str, printed: str) -> None:
    assert printable(text) == printed


@given(st.text())
def test_whatever_is_typed_can_be_printed(text: str) -> None:
    """Every character that is left has a glyph, and saying it again changes nothing."""
    once = printable(text)
    assert {ord(character) for character in once} <= characters()
    assert printable(once) == once


def test_check_needs_no_pdf_library() -> None:
    """Asking what can be printed loads neither fonts nor ReportLab."""
    code = "import sys, compiler.printable; sys.exit('reportlab' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
