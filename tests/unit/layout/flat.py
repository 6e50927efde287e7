"""Pages flattened for tests: every mark with its y from the top of the sheet, and the rectangle it covers."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from compiler.layout.metrics import width
from compiler.layout.page import Grid, Group, Mark, Page, Part, Role, Shifted, Text

X_HEIGHT = 0.486
"""Small letters above the baseline, of an em, for Source Sans 3 (measured in the font)."""


@dataclass(frozen=True)
class Area:
    """A rectangle, y down."""

    left: float
    top: float
    right: float
    bottom: float

    def meets(self, other: Area, slack: float) -> bool:
        """Tell whether two rectangles share more than the slack in both directions."""
        across = min(self.right, other.right) - max(self.left, other.left)
        down = min(self.bottom, other.bottom) - max(self.top, other.top)
        return across > slack and down > slack


def marks_of(page: Page) -> Iterator[tuple[Role | None, Mark]]:
    """Yield every mark of a page with the role of its group."""
    yield from _marks(page.parts, 0.0)


def _marks(parts: Iterable[Part], down: float) -> Iterator[tuple[Role | None, Mark]]:
    for part in parts:
        if isinstance(part, Group):
            for mark in part.marks:
                moved = replace(mark, y=mark.y + down)
                if hasattr(mark, "to_y"):
                    moved = replace(moved, to_y=mark.to_y + down)
                yield part.role, moved
        else:
            yield from _marks(part.parts, down + (part.y if isinstance(part, Shifted) else 0.0))


def texts_of(page: Page) -> list[Text]:
    """Return the texts of a page."""
    return [mark for _, mark in marks_of(page) if isinstance(mark, Text)]


def grids_of(page: Page) -> list[Grid]:
    """Return the boxes to write in of a page."""
    return [mark for _, mark in marks_of(page) if isinstance(mark, Grid)]


def small_letters(text: Text) -> Area:
    """Return the band of a text between baseline and the height of small letters."""
    right = text.x + width(text.text, text.face, text.size)
    return Area(text.x, text.y - X_HEIGHT * text.size, right, text.y)


def words_on(page: Page) -> str:
    """Return the words of a page in reading order."""
    return " ".join(text.text for text in texts_of(page))
