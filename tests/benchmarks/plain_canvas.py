"""The baseline of drawing: the same marks on a ReportLab canvas with nothing but its everyday calls, without tags."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from io import BytesIO

from reportlab import rl_config
from reportlab.pdfgen.canvas import Canvas

from compiler.layout.metrics import font
from compiler.layout.page import (
    Box,
    Bracket,
    Bullet,
    Circle,
    Grid,
    Group,
    Line,
    Mark,
    Page,
    Pages,
    Part,
    Shifted,
    Stroke,
    Text,
)
from compiler.render.theme import STROKES


def draw_plainly(pages: Pages) -> bytes:
    """Return a booklet drawn on a plain canvas, with ReportLab's own settings."""
    rl_config.useA85 = 1
    out = BytesIO()
    canvas = Canvas(out, pagesize=(pages.width, pages.height))
    for page in pages.pages:
        for mark, down in marks_of(page):
            _draw(canvas, mark, page.origin, pages.height - down)
        canvas.showPage()
    canvas.save()
    return out.getvalue()


def marks_of(page: Page) -> Iterator[tuple[Mark, float]]:
    """Yield the marks of a page, each with what is added to its y."""
    return _marks(page.parts, 0.0)


def _marks(parts: Iterable[Part], down: float) -> Iterator[tuple[Mark, float]]:
    for part in parts:
        if isinstance(part, Group):
            for mark in part.marks:
                yield mark, down
        else:
            yield from _marks(part.parts, down + (part.y if isinstance(part, Shifted) else 0.0))


def _draw(canvas: Canvas, mark: Mark, left: float, top: float) -> None:
    x, y = left + mark.x, top - mark.y
    match mark:
        case Text():
            canvas.setFont(font(mark.face).fontName, mark.size)
            canvas.drawString(x, y, mark.text)
        case Line():
            canvas.setLineWidth(STROKES[mark.stroke])
            canvas.line(x, y, left + mark.to_x, top - mark.to_y)
        case Box():
            canvas.setLineWidth(STROKES[mark.stroke])
            canvas.rect(x, y - mark.height, mark.width, mark.height)
        case Grid():
            canvas.setLineWidth(STROKES[Stroke.BOX])
            canvas.rect(x, y - mark.height, mark.width * mark.count, mark.height)
            for wall in range(1, mark.count):
                high = y - (mark.lowered if wall <= mark.short_walls else 0.0)
                canvas.line(x + wall * mark.width, y - mark.height, x + wall * mark.width, high)
        case Bracket():
            canvas.setLineWidth(STROKES[Stroke.BRACKET])
            low = top - mark.to_y
            canvas.line(x + mark.foot, y, x, y)
            canvas.line(x, y, x, low)
            canvas.line(x, low, x + mark.foot, low)
        case Circle():
            canvas.setLineWidth(STROKES[Stroke.TAG])
            canvas.circle(x, y, mark.radius)
        case Bullet():
            canvas.rect(x, y - mark.side, mark.side, mark.side, stroke=0, fill=1)
