"""The example workbooks, made from the readable tables beside this module."""

from __future__ import annotations

from importlib.resources import files

from compiler.render.template import render_template
from compiler.source.cells import SourceBook
from compiler.source.grid import book_from_grid

WINTER_BLOCK = "ottermere-winter-block"
WITH_MISTAKES = "ottermere-with-mistakes"

WEEKS = {WINTER_BLOCK: 4, WITH_MISTAKES: 3}
SESSIONS = 3


def demo_source(name: str = WINTER_BLOCK) -> SourceBook:
    """Return the tables of one example as a workbook."""
    text = files("compiler.demo").joinpath(f"{name}.md").read_text(encoding="utf-8")
    return book_from_grid(text, f"{name}.xlsx")


def demo_workbook(name: str = WINTER_BLOCK) -> bytes:
    """Return one example as a workbook: the template, filled in."""
    return render_template(WEEKS[name], SESSIONS, fill=demo_source(name))
