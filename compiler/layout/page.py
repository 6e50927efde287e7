"""Pages as values: marks at their places, grouped by what they mean. The end of layout, the start of drawing.

Lengths are points; x runs right from the left edge of the live area, y down from the top edge of the sheet.
The drawing adds `Page.origin` to every x and turns y over. Text carries no trailing space and no no-break
space; where one text ends and another begins is for the drawing to say.
"""

from __future__ import annotations

from enum import Enum, StrEnum

from compiler.frozen import frozen
from compiler.layout.metrics import Face


class Stroke(Enum):
    """What a line is for; the theme knows how thick that is."""

    COVER = "rule under the gym's name"
    HEADER = "rule under a page title"
    FRAME = "frame of the safety page"
    BRACKET = "bracket of a superset"
    TABLE = "first and last rule of the plan"
    BLOCK = "rule above a block"
    BOX = "box to write in"
    TAG = "tag and callout"
    TICK = "box to tick"
    THIN = "rule within a table, above the footer, round a note"
    WRITING = "line to write on"
    GRID = "line of a scale"
    PAST = "line between weights that were lifted"
    PLAN = "line between weights that are planned"

    __hash__ = object.__hash__  # an Enum's own is Python code, and every line that is drawn asks for it


@frozen
class Text:
    """One run of text on the baseline at y."""

    x: float
    y: float
    text: str
    face: Face
    size: float


@frozen
class Line:
    """A straight line."""

    x: float
    y: float
    to_x: float
    to_y: float
    stroke: Stroke


@frozen
class Box:
    """An outlined rectangle; x and y are its upper left corner."""

    x: float
    y: float
    width: float
    height: float
    stroke: Stroke


@frozen
class Grid:
    """Boxes to write in, side by side with shared walls. A box is `width` wide.

    The first `short_walls` inner walls start `lowered` below the top, to leave a caption room.
    """

    x: float
    y: float
    width: float
    height: float
    count: int
    short_walls: int = 0
    lowered: float = 0.0


@frozen
class Bracket:
    """A square bracket from y to `to_y`, its feet turned right."""

    x: float
    y: float
    to_y: float
    foot: float


@frozen
class Circle:
    """An outlined circle round a point."""

    x: float
    y: float
    radius: float


@frozen
class Bullet:
    """A small black square; x and y are its upper left corner."""

    x: float
    y: float
    side: float


@frozen
class Dot:
    """A black circle round a point."""

    x: float
    y: float
    radius: float


Mark = Text | Line | Box | Grid | Bracket | Circle | Bullet | Dot


class Role(StrEnum):
    """What a group of marks is, by its name among PDF's standard structure types (ISO 32000-1, 14.8.4)."""

    SECTION = "Sect"
    TITLE = "H1"
    HEADING = "H2"
    SUBHEADING = "H3"
    PARAGRAPH = "P"
    LIST = "L"
    ITEM = "LI"
    BODY = "LBody"
    TABLE = "Table"
    TABLE_ROW = "TR"
    HEADER_CELL = "TH"
    CELL = "TD"
    FIGURE = "Figure"


@frozen
class Group:
    """Marks that are read as one thing. Without a role they are decoration, which a screen reader skips.

    A figure is read by the words of `described`.
    """

    role: Role | None
    marks: tuple[Mark, ...]
    described: str = ""


@frozen
class Branch:
    """Groups that belong together: a list, an item, a table, a row of it."""

    role: Role
    parts: tuple[Part, ...]


@frozen
class Shifted:
    """Parts whose y counts from `y` of the whole they stand in: a measured piece, put down without a copy."""

    y: float
    parts: tuple[Part, ...]


Part = Group | Branch | Shifted


@frozen
class Page:
    """One page: its number, the left edge of its live area, its parts in reading order.

    Pages one after the other with the same `section` are one section of the document. `bookmark` is the name
    in the reader's list of pages, empty for a page without. A `lying` page is the sheet turned to its long side.
    `foot` is decoration that hangs on the other pages, such as how many there are.
    """

    number: int
    origin: float
    section: str
    bookmark: str
    parts: tuple[Part, ...]
    lying: bool = False
    foot: tuple[Part, ...] = ()


@frozen
class Pages:
    """A laid out booklet, and what the file says of itself. Width and height of the sheet are in points.

    `long_sessions` are the keys of the sessions that take more pages than their edition means them to, each with
    how many. In a booklet of weeks sheets that is every session with a page of its own.
    """

    width: float
    height: float
    pages: tuple[Page, ...]
    language: str
    title: str
    author: str
    subject: str
    label_prefix: str
    simplex: bool
    long_sessions: tuple[tuple[str, int], ...]
