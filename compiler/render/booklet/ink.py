"""Marks -> page operators. Black on white, in device grey; y is turned over here and nowhere else."""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache

from compiler.frozen import frozen
from compiler.layout.page import (
    Box,
    Bracket,
    Branch,
    Bullet,
    Circle,
    Dot,
    Grid,
    Group,
    Line,
    Mark,
    Part,
    Stroke,
    Text,
)
from compiler.render.booklet.fonts import FontSet
from compiler.render.booklet.tags import Outline
from compiler.render.booklet.text import in_alphabet, show
from compiler.render.theme import DASHES, STROKES

Drawing = Line | Box | Grid | Bracket | Circle | Bullet | Dot
Pen = tuple[float, tuple[float, ...]]
"""How wide it draws, and the black and gap of its dashes."""

_BLACK = "0 G 0 g"
_NO_PEN: Pen = (0.0, ())
# How far the handles of four Bézier curves stand off to make a circle, as a share of its radius.
_HANDLE = 0.5523


@frozen
class Drawn:
    """Parts of a page as operators, and what they are in reading order.

    `alike`: they are drawn so in every file, as they have no character of a font that only some files have.
    """

    operators: str
    outline: Outline
    alike: bool


class Ink:
    """Draws the parts of pages of one document as operators, and says what every group of them is."""

    def __init__(self, fonts: FontSet) -> None:
        self._fonts = fonts
        self._height = 0.0
        self._origin = ""
        self._in_artifact = False
        self._marks = 0
        self._alike = True
        self._out: list[str] = []

    def draw(self, parts: Iterable[Part], origin: float, height: float) -> Drawn:
        """Draw parts of a page, on a sheet of this height, from the left edge of its live area on."""
        self._height = height
        self._origin = f"q 1 0 0 1 {origin:.2f}"
        self._marks = 0
        self._alike = True
        self._out = [_BLACK]
        outline: Outline = []
        for part in parts:
            self._part(part, outline, 0.0)
        self._close_artifact()
        return Drawn("\n".join(self._out), outline, self._alike)

    def _part(self, part: Part, outline: Outline, down: float) -> None:
        if isinstance(part, Group):
            if part.marks:
                self._group(part, outline, down)
            return
        if isinstance(part, Branch):
            outline.append([part.role])
            outline = outline[-1]
        else:
            down += part.y
        for inner in part.parts:
            self._part(inner, outline, down)

    def _group(self, group: Group, outline: Outline, down: float) -> None:
        """Draw a group from the upper left corner of the piece that it stands in."""
        role = group.role
        if role is not None:
            self._close_artifact()
            outline.append({role: group.described} if group.described else role)
            self._out.append(f"/{role} <</MCID {self._marks}>> BDC")
            self._marks += 1
        elif not self._in_artifact:
            self._out.append("/Artifact BMC")
            self._in_artifact = True
        # The space ends a word for readers and for copying; decoration is read by nobody.
        after = "" if role is None else " "
        drawn = _drawn_alike(group.marks, after)
        if not drawn:
            drawn = _drawn(group.marks, after, self._fonts)
            self._alike = False
        self._out.append(f"{self._origin} {self._height - down:.2f} cm\n{drawn}\nQ")
        if role is not None:
            self._out.append("EMC")

    def _close_artifact(self) -> None:
        """End a run of decoration: neighbours share one bracket of operators."""
        if self._in_artifact:
            self._out.append("EMC")
            self._in_artifact = False


@lru_cache(maxsize=8192)
def _drawn_alike(marks: tuple[Mark, ...], after: str) -> str:
    """Return the operators of marks that are drawn alike in every file; empty where a text needs further fonts.

    Most groups are: the same exercise in the next week and for the next client, heads, boxes.
    """
    return _drawn(marks, after, FontSet()) if in_alphabet(mark for mark in marks if isinstance(mark, Text)) else ""


def _drawn(marks: tuple[Mark, ...], after: str, fonts: FontSet) -> str:
    """Return the operators of some marks. They set pen and font themselves, whatever was drawn before."""
    texts = [mark for mark in marks if isinstance(mark, Text)]
    lines: list[str] = []
    pen = _NO_PEN
    for mark in marks:
        if not isinstance(mark, Text):
            pen = _path(mark, pen, lines)
    if texts:
        lines.append(show(texts, after, fonts))
    return "\n".join(lines)


def _path(mark: Drawing, pen: Pen, lines: list[str]) -> Pen:
    """Add the operators of one mark that is not text; return the pen that they leave."""
    x, y = mark.x, -mark.y
    match mark:
        case Line(stroke=stroke):
            pen = _pen(stroke, pen, lines)
            lines.append(f"{x:.2f} {y:.2f} m {mark.to_x:.2f} {-mark.to_y:.2f} l S")
        case Box(width=width, height=height, stroke=stroke):
            pen = _pen(stroke, pen, lines)
            lines.append(f"{x:.2f} {y - height:.2f} {width:.2f} {height:.2f} re S")
        case Grid():
            pen = _pen(Stroke.BOX, pen, lines)
            lines.append(_grid(mark, x, y))
        case Bracket(to_y=to_y, foot=foot):
            pen = _pen(Stroke.BRACKET, pen, lines)
            right, low = x + foot, -to_y
            lines.append(
                f"{right:.2f} {y:.2f} m {x:.2f} {y:.2f} l {x:.2f} {low:.2f} l {right:.2f} {low:.2f} l S"
            )
        case Circle(radius=radius):
            pen = _pen(Stroke.TAG, pen, lines)
            lines.append(f"{_circle(x, y, radius)} s")
        case Dot(radius=radius):
            lines.append(f"{_circle(x, y, radius)} f")
        case Bullet(side=side):
            lines.append(f"{x:.2f} {y - side:.2f} {side:.2f} {side:.2f} re f")
    return pen


def _pen(stroke: Stroke, pen: Pen, lines: list[str]) -> Pen:
    """Add what makes the pen that of a stroke, where it is another; return it."""
    width, dashes = wanted = STROKES[stroke], DASHES.get(stroke, ())
    if dashes != pen[1]:
        lines.append(f"[{' '.join(f'{dash:g}' for dash in dashes)}] 0 d")
    if wanted != pen:
        lines.append(f"{width:g} w")
    return wanted


def _grid(grid: Grid, left: float, top: float) -> str:
    """Return an outline and the walls inside it, as one path."""
    low = top - grid.height
    path = [f"{left:.2f} {low:.2f} {grid.width * grid.count:.2f} {grid.height:.2f} re"]
    for wall in range(1, grid.count):
        x = left + wall * grid.width
        high = top - (grid.lowered if wall <= grid.short_walls else 0.0)
        path.append(f"{x:.2f} {low:.2f} m {x:.2f} {high:.2f} l")
    return f"{' '.join(path)} S"


def _circle(x: float, y: float, radius: float) -> str:
    handle = radius * _HANDLE
    right, left, up, down = x + radius, x - radius, y + radius, y - radius
    return (
        f"{right:.2f} {y:.2f} m "
        f"{right:.2f} {y + handle:.2f} {x + handle:.2f} {up:.2f} {x:.2f} {up:.2f} c "
        f"{x - handle:.2f} {up:.2f} {left:.2f} {y + handle:.2f} {left:.2f} {y:.2f} c "
        f"{left:.2f} {y - handle:.2f} {x - handle:.2f} {down:.2f} {x:.2f} {down:.2f} c "
        f"{x + handle:.2f} {down:.2f} {right:.2f} {y - handle:.2f} {right:.2f} {y:.2f} c"
    )
