"""Marks -> page operators. Black on white, in device grey; y is turned over here and nowhere else."""

from __future__ import annotations

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
    Page,
    Part,
    Stroke,
    Text,
)
from compiler.render.booklet.fonts import FontSet
from compiler.render.booklet.tags import Element, StructureTree
from compiler.render.booklet.text import TextWriter
from compiler.render.theme import DASHES, STROKES

_BLACK = "0 G 0 g"
# How far the handles of four Bézier curves stand off to make a circle, as a share of its radius.
_HANDLE = 0.5523


class Ink:
    """Draws the pages of one document as operators, and files every group in its structure tree."""

    def __init__(self, fonts: FontSet, tree: StructureTree) -> None:
        self._text = TextWriter(fonts)
        self._tree = tree
        self._height = 0.0
        self._origin = 0.0
        self._top = 0.0
        self._stroke: tuple[float, tuple[float, ...]] | None = None
        self._in_artifact = False
        self._out: list[str] = []

    def page(self, page: Page, height: float) -> str:
        """Return the operators of a whole page on a sheet of this height."""
        self._height = height
        self._origin = page.origin
        self._stroke = None
        self._text.new_page()
        self._out = [_BLACK]
        section = self._tree.open_page(page.section)
        for part in page.parts:
            self._part(part, section, 0.0)
        self._close_artifact()
        return "\n".join(self._out)

    def _part(self, part: Part, parent: Element, down: float) -> None:
        if isinstance(part, Group):
            if part.marks:
                self._top = self._height - down
                self._group(part, parent)
            return
        if isinstance(part, Branch):
            parent = self._tree.branch(part.role, parent)
        else:
            down += part.y
        for inner in part.parts:
            self._part(inner, parent, down)

    def _group(self, group: Group, parent: Element) -> None:
        role = group.role
        if role is not None:
            self._close_artifact()
            number = self._tree.leaf(role, parent, group.described)
            self._out.append(f"/{role} <</MCID {number}>> BDC")
        elif not self._in_artifact:
            self._out.append("/Artifact BMC")
            self._in_artifact = True
        texts = []
        for mark in group.marks:
            if isinstance(mark, Text):
                texts.append(mark)
            else:
                self._drawing(mark)
        if texts:
            # The space ends a word for readers and for copying; decoration is read by nobody.
            after = "" if role is None else " "
            self._out += self._text.show(texts, after, self._origin, self._top)
        if role is not None:
            self._out.append("EMC")

    def _close_artifact(self) -> None:
        """End a run of decoration: neighbours share one bracket of operators."""
        if self._in_artifact:
            self._out.append("EMC")
            self._in_artifact = False

    def _pen(self, stroke: Stroke) -> None:
        width, dashes = STROKES[stroke], DASHES.get(stroke, ())
        if (width, dashes) == self._stroke:
            return
        if dashes != (self._stroke[1] if self._stroke else ()):
            self._out.append(f"[{' '.join(f'{dash:g}' for dash in dashes)}] 0 d")
        self._stroke = (width, dashes)
        self._out.append(f"{width:g} w")

    def _drawing(self, mark: Mark) -> None:
        left, top = mark.x + self._origin, self._top - mark.y
        match mark:
            case Line(stroke=stroke):
                self._pen(stroke)
                to_x, to_y = mark.to_x + self._origin, self._top - mark.to_y
                self._out.append(f"{left:.2f} {top:.2f} m {to_x:.2f} {to_y:.2f} l S")
            case Box(width=width, height=height, stroke=stroke):
                self._pen(stroke)
                self._out.append(f"{left:.2f} {top - height:.2f} {width:.2f} {height:.2f} re S")
            case Grid():
                self._pen(Stroke.BOX)
                self._out.append(_grid(mark, left, top))
            case Bracket(to_y=to_y, foot=foot):
                self._pen(Stroke.BRACKET)
                low = self._top - to_y
                self._out.append(
                    f"{left + foot:.2f} {top:.2f} m {left:.2f} {top:.2f} l "
                    f"{left:.2f} {low:.2f} l {left + foot:.2f} {low:.2f} l S"
                )
            case Circle(radius=radius):
                self._pen(Stroke.TAG)
                self._out.append(f"{_circle(left, top, radius)} s")
            case Dot(radius=radius):
                self._out.append(f"{_circle(left, top, radius)} f")
            case Bullet(side=side):
                self._out.append(f"{left:.2f} {top - side:.2f} {side:.2f} {side:.2f} re f")


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
