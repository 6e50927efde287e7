"""A page of ruled lines: it fills a folded booklet up, and faces a session that its neighbour would tear apart."""

from __future__ import annotations

from compiler.documents.booklet_value import Wording
from compiler.layout.editions import Edition
from compiler.layout.measures import MM, NOTES_STEP
from compiler.layout.page import Line, Part, Stroke
from compiler.layout.piece import decoration, placed
from compiler.layout.running import title_piece

_LAST = 1 * MM


def notes_page(edition: Edition, wording: Wording) -> tuple[Part, ...]:
    """Return the parts of the page."""
    sheet = edition.sheet
    title = title_piece(wording.notes_page, sheet.live, edition.style)
    top = sheet.top + title.height
    lines = int((sheet.foot - _LAST - top) // NOTES_STEP)
    ruled = (
        Line(0.0, low, sheet.live, low, Stroke.WRITING)
        for low in (top + (line + 1) * NOTES_STEP for line in range(lines))
    )
    return placed(title, sheet.top), decoration(*ruled)
