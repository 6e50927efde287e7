"""Marks as they are drawn: where a viewer finds their ink, against their measures as values."""

from __future__ import annotations

from dataclasses import replace
from io import BytesIO

import pikepdf
import pypdfium2
import pytest

from compiler.layout.booklet import lay_out_booklet
from compiler.layout.metrics import Face
from compiler.layout.page import Box, Bracket, Bullet, Circle, Dot, Grid, Group, Line, Mark, Page, Role, Stroke, Text
from compiler.render.booklet import render_booklet
from tests.unit.layout.sample_booklet import BOOKLET

LEFT = 20.0
"""The binding margin of the page below, from which x is measured."""


def ink(mark: Mark) -> tuple[float, float, float, float]:
    """Return left, top, right and bottom of the ink of one mark alone on a page, x from the margin, y down."""
    pages = lay_out_booklet(BOOKLET)
    page = Page(1, LEFT, "Marks", "Marks", (Group(None, (mark,)),))
    document = pypdfium2.PdfDocument(render_booklet(replace(pages, pages=(page,))))
    boxes = [found.get_bounds() for found in document[0].get_objects()]
    document.close()
    left, low, right, high = (pick(box[n] for box in boxes) for n, pick in enumerate((min, min, max, max)))
    return left - LEFT, pages.height - high, right - LEFT, pages.height - low


@pytest.mark.parametrize(
    ("mark", "area"),
    [
        (Circle(100, 200, 10), (90, 190, 110, 210)),
        (Dot(100, 200, 4), (96, 196, 104, 204)),
        (Bullet(100, 200, 5), (100, 200, 105, 205)),
        (Box(100, 200, 30, 40, Stroke.TICK), (100, 200, 130, 240)),
        (Grid(100, 200, 30, 40, 3), (100, 200, 190, 240)),
        (Grid(100, 200, 30, 40, 3, short_walls=1, lowered=10), (100, 200, 190, 240)),
        (Line(100, 200, 150, 260, Stroke.THIN), (100, 200, 150, 260)),
        (Bracket(100, 200, 260, 5), (100, 200, 105, 260)),
    ],
    ids=lambda value: type(value).__name__,
)
def test_a_mark_is_drawn_where_it_stands(mark: Mark, area: tuple[float, float, float, float]) -> None:
    """To the thickness of a stroke with its corner."""
    assert ink(mark) == pytest.approx(area, abs=1.5)


def test_words_that_are_read_end_in_a_space() -> None:
    """Or a reader would join them to the next; what is only drawn is left as it is, also of the same words."""
    words = (Text(0.0, 100.0, "Squat", Face.REGULAR, 10.0),)
    page = Page(1, LEFT, "Marks", "Marks", (Group(Role.PARAGRAPH, words), Group(None, words)))
    drawn = render_booklet(replace(lay_out_booklet(BOOKLET), pages=(page,)))
    with pikepdf.open(BytesIO(drawn)) as document:
        shown = [str(found.operands[0]) for found in pikepdf.parse_content_stream(document.pages[0], "Tj")]
    assert shown == ["Squat ", "Squat"]
