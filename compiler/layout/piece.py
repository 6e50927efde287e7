"""Pieces of a page: parts measured from their own top edge, with their height; and putting them down."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from compiler.frozen import frozen
from compiler.layout.lines import plain, wrap
from compiler.layout.metrics import Face, width
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
    Role,
    Shifted,
    Stroke,
    Text,
)

RUNNING_BASELINE = 0.82


@frozen
class Piece:
    """Parts whose y counts from the top of the piece, and the height of the whole."""

    height: float
    parts: tuple[Part, ...]


def placed(piece: Piece, y: float) -> Shifted:
    """Return the parts of a piece with its top edge at y."""
    return Shifted(y, piece.parts)


def decoration(*marks: Mark) -> Group:
    """Return marks that are not read."""
    return Group(None, marks)


def rule(y: float, to_x: float, stroke: Stroke) -> Group:
    """Return a level line from the left edge of the live area."""
    return decoration(Line(0.0, y, to_x, y, stroke))


def text_lines(
    lines: Sequence[str], x: float, baseline: float, face: Face, size: float, lead: float
) -> list[Mark]:
    """Return lines below each other, the first on the baseline."""
    return [Text(x, baseline + i * lead, line, face, size) for i, line in enumerate(lines)]


def run_in(
    lines: Sequence[str], x: float, indent: float, baseline: float, face: Face, size: float, lead: float
) -> list[Mark]:
    """Return lines of which the first begins `indent` further in, after words that stand there.

    It is empty where not one word fits after those (see `wrap`), and then nothing is drawn of it.
    """
    return [
        Text(x if number else x + indent, baseline + number * lead, line, face, size)
        for number, line in enumerate(lines)
        if line
    ]


def flush_right(text: str, right: float, baseline: float, face: Face, size: float) -> Text:
    """Return a text that ends at `right`."""
    line = plain(text)
    return Text(right - width(line, face, size), baseline, line, face, size)


def centred(text: str, middle: float, baseline: float, face: Face, size: float) -> Text:
    """Return a text whose middle is at `middle`."""
    line = plain(text)
    return Text(middle - width(line, face, size) / 2, baseline, line, face, size)


def paragraph(
    text: str, x: float, room: float, face: Face, size: float, lead: float, role: Role = Role.PARAGRAPH
) -> Piece:
    """Return a running text of full lines, `lead` from line to line; nothing for an empty text."""
    lines = wrap(text, face, size, room)
    if not lines:
        return Piece(0.0, ())
    marks = text_lines(lines, x, size * RUNNING_BASELINE, face, size, lead)
    return Piece(len(lines) * lead, (Group(role, tuple(marks)),))


def stacked(pieces: Sequence[Piece], space: float = 0.0) -> Piece:
    """Return pieces below each other as one, `space` after each."""
    parts: list[Part] = []
    y = 0.0
    for piece in pieces:
        parts.append(placed(piece, y))
        y += piece.height + space
    return Piece(y, tuple(parts))


_LEAST_ROOM = 14.0
"""With less left on a page than a line takes, a slice is not worth its turn."""

_ASCENT = 0.8
_BELOW_TURN = 2.0


def _top(mark: Mark) -> float:
    match mark:
        case Text():
            return mark.y - mark.size * _ASCENT
        case Circle() | Dot():
            return mark.y - mark.radius
        case _:
            return mark.y


def _bottom(mark: Mark) -> float:
    match mark:
        case Text() | Circle() | Dot():
            return mark.y + 2.0
        case Line() | Bracket():
            return mark.to_y
        case Box() | Grid():
            return mark.y + mark.height
        case Bullet():
            return mark.y + mark.side


def _kept(part: Part, at: float, *, above: bool) -> Part:
    if isinstance(part, Shifted):
        return Shifted(part.y, tuple(_kept(inner, at - part.y, above=above) for inner in part.parts))
    if isinstance(part, Branch):
        return Branch(part.role, tuple(_kept(inner, at, above=above) for inner in part.parts))
    if any(isinstance(mark, Grid) for mark in part.marks):  # boxes to write in stay with their numbers
        whole = max(map(_bottom, part.marks)) <= at
        return Group(part.role, part.marks if whole is above else (), part.described)
    kept = tuple(mark for mark in part.marks if (_bottom(mark) <= at) is above)
    return Group(part.role, kept, part.described)


def _tops(part: Part, down: float = 0.0) -> Iterator[float]:
    if isinstance(part, Group):
        yield from (down + _top(mark) for mark in part.marks)
    else:
        for inner in part.parts:
            yield from _tops(inner, down + part.y if isinstance(part, Shifted) else down)


def sliced(piece: Piece, at: float) -> tuple[Piece, Piece]:
    """Return what of a piece ends above a height, and the rest from its own first mark on."""
    above = Piece(at, tuple(_kept(part, at, above=True) for part in piece.parts))
    rest = tuple(_kept(part, at, above=False) for part in piece.parts)
    first = min((top for part in rest for top in _tops(part)), default=piece.height)
    down = _BELOW_TURN - first
    return above, Piece(piece.height + down, (Shifted(down, rest),))


class Filler:
    """Fills pages from the top: the one thing in layout that changes while it works.

    `first` heads the first page, `again` every further one. `pages` holds the parts put down so far.
    """

    def __init__(self, first: Piece, again: Piece, top: float, foot: float) -> None:
        self._again = again
        self._top = top
        self._foot = foot
        self.pages: list[list[Part]] = [[placed(first, top)]]
        self.y = top + first.height
        self.is_fresh = True

    @property
    def room(self) -> float:
        """The height left on this page."""
        return self._foot - self.y

    @property
    def fresh_room(self) -> float:
        """The height of a further page below its head."""
        return self._foot - self._top - self._again.height

    def turn(self) -> None:
        """Begin a further page."""
        self.pages.append([placed(self._again, self._top)])
        self.y = self._top + self._again.height
        self.is_fresh = True

    def put(self, piece: Piece, space: float = 0.0) -> float:
        """Put a piece down, on a further page if it does not fit here; return where its top edge is.

        A piece higher than a whole page begins here and is sliced between its lines.
        """
        fits_further_on = piece.height <= self.fresh_room or self.room <= _LEAST_ROOM
        if self.room < piece.height and fits_further_on and not self.is_fresh:
            self.turn()
        while piece.height > self.room > _LEAST_ROOM:
            above, rest = sliced(piece, self.room)
            if self.is_fresh and rest.height >= piece.height:  # what cannot be sliced stands where it is
                break
            self.pages[-1].append(placed(above, self.y))
            self.turn()
            piece = rest
        y = self.y
        self.pages[-1].append(placed(piece, y))
        self.y += piece.height + space
        self.is_fresh = self.is_fresh and piece.height == 0
        return y

    def add(self, *parts: Part) -> None:
        """Add parts at their own places on this page."""
        self.pages[-1] += parts
