"""Room sheets -> pages, landscape: clients down, exercises across, in the largest type that keeps to one page.

More exercises than stand side by side go on on a further page, a block kept whole where it fits; more clients than
stand below each other too. Both repeat the heads and the names.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterator, Mapping, Sequence
from itertools import accumulate, chain
from types import MappingProxyType
from typing import TypeVar

from compiler.documents.room_sheet_value import RoomSheet, RoomSheets, Shared
from compiler.frozen import frozen
from compiler.layout.lines import fitted, plain, wrap
from compiler.layout.listing import dealt, foot, table
from compiler.layout.measures import FOOTER_SIZE, MM, SHEETS
from compiler.layout.metrics import Face, width
from compiler.layout.page import Bracket, Branch, Group, Line, Mark, Page, Pages, Part, Role, Stroke, Text
from compiler.layout.piece import Piece, decoration, flush_right, placed, rule, run_in, stacked, text_lines
from compiler.layout.room_cells import block_head, cell_piece, column_head, name_piece
from compiler.layout.room_columns import INSET, NAME_GAP, PAD, Span, deal_columns
from compiler.layout.room_style import STYLES, RoomStyle

_SIDE = 11 * MM
_TOP = 10 * MM
_BOTTOM = 9 * MM
_FOOTER = 6.5 * MM
_BRACKET_LEFT = 2.2 * MM
_WALL_LEFT = 4.1 * MM
_FOOT = 1.3 * MM
_SHORT = 0.9 * MM
_NAME_MOST = 44 * MM
_TITLE = 18.0
_TITLE_FLOOR = 12.0
_WHEN = 12.0
_REMARK = 10.0
_REMARK_LEAD = 1.25
_BASELINE = 0.8


R = TypeVar("R")


@frozen
class RoomPages:
    """What a file of room sheets says of itself, and how many pages each group has, by folded name in their order."""

    file: Pages
    counts: dict[str, int]


@frozen
class _Body:
    """A page without its foot: the section that it belongs to, whether it begins it, its parts."""

    section: str
    first: bool
    parts: tuple[Part, ...]


@frozen
class _Paper:
    """The sheet, lying on its long side."""

    width: float
    height: float

    @property
    def live(self) -> float:
        """The width between the margins."""
        return self.width - 2 * _SIDE

    @property
    def foot(self) -> float:
        """The lowest y that content may reach."""
        return self.height - _BOTTOM - _FOOTER


@frozen
class _Measured:
    """A sheet in one style: for every stretch of columns its head and its rows, dealt out to pages."""

    style: RoomStyle
    spans: tuple[Span, ...]
    heads: tuple[Piece, ...]
    rows: tuple[tuple[tuple[Piece, ...], ...], ...]

    @property
    def pages(self) -> int:
        """How many pages the sheet takes."""
        return sum(len(pages) for pages in self.rows)

    @property
    def easy(self) -> bool:
        """Whether every column is as wide as it wants to be."""
        return all(span.easy for span in self.spans)


def lay_out_in_turn(
    rooms: RoomSheets, ready: Mapping[str, Sequence[R]] = MappingProxyType({})
) -> tuple[RoomPages, Iterator[tuple[Page, R | None]]]:
    """Return what a file of room sheets says of itself, and its pages, of which none is kept that has been taken.

    All are laid out before the first can be taken, as each says how many there are. `ready` has the pages of groups
    that are there but for the foot: of those the page has nothing else, and comes with what is there.
    """
    upright = SHEETS[rooms.paper]
    paper = _Paper(upright.height, upright.width)
    bodies: dict[str, list[_Body | R]] = {group: list(ready.get(group, ())) for group in rooms.groups}
    for sheet in rooms.sheets:
        for number, parts in enumerate(_lay_out(sheet, paper, rooms.continued)):
            bodies[sheet.group].append(_Body(plain(sheet.bookmark), number == 0, parts))
    file = Pages(
        width=paper.width,
        height=paper.height,
        pages=(),
        language=rooms.language,
        title=plain(rooms.title),
        author=plain(rooms.author),
        subject=plain(rooms.title),
        label_prefix="",
        simplex=True,
        long_sessions=(),
    )
    counts = {group: len(found) for group, found in bodies.items()}
    return RoomPages(file, counts), _numbered(deque(chain.from_iterable(bodies.values())), rooms, paper)


def _numbered(bodies: deque[_Body | R], rooms: RoomSheets, paper: _Paper) -> Iterator[tuple[Page, R | None]]:
    """Yield the pages with their feet."""
    count = len(bodies)
    for number in range(1, count + 1):
        body = bodies.popleft()
        at_foot = foot(rooms.footer, rooms.page.format(number, count), paper.live, paper.height - _BOTTOM)
        if isinstance(body, _Body):
            bookmark = body.section if body.first else ""
            yield Page(number, _SIDE, body.section, bookmark, body.parts, foot=(at_foot,)), None
        else:
            yield Page(number, _SIDE, "", "", (), foot=(at_foot,)), body


def _lay_out(sheet: RoomSheet, paper: _Paper, continued: str) -> list[tuple[Part, ...]]:
    """Return the parts of each page of one sheet."""
    top = _header(sheet.title, sheet, paper.live)
    again = _header(continued.format(sheet.title), sheet, paper.live)
    below = _under(sheet, paper.live)
    room = paper.foot - _TOP - max(top.height, again.height) - below.height
    measured = _best(sheet, paper, room)
    pages: list[tuple[Part, ...]] = []
    for span, head, dealt_rows in zip(measured.spans, measured.heads, measured.rows, strict=True):
        start = 0
        for rows in dealt_rows:
            header = again if pages else top
            y = _TOP + header.height
            marks = _brackets(sheet.shared, span, rows, start, y + head.height)
            walls = _walls(span, y, y + head.height + sum(row.height for row in rows))
            under = placed(below, paper.foot - below.height)
            whole = table([head, *rows])
            pages.append((placed(header, _TOP), placed(whole, y), decoration(*marks, *walls), under))
            start += len(rows)
    return pages


def _best(sheet: RoomSheet, paper: _Paper, room: float) -> _Measured:
    """Return the sheet in the style in which it takes the fewest pages: unsqueezed if may be, the largest of those."""
    best = _measure(sheet, paper, room, STYLES[0])
    for style in STYLES[1:]:
        if best.pages == 1 and best.easy:
            break
        measured = _measure(sheet, paper, room, style)
        best = min(best, measured, key=lambda found: (found.pages, not found.easy))
    return best


def _measure(sheet: RoomSheet, paper: _Paper, room: float, style: RoomStyle) -> _Measured:
    names = min(max((_name_need(row.name, row.notes, style) for row in sheet.rows), default=0.0), _NAME_MOST)
    names += NAME_GAP
    spans = deal_columns(sheet, names, paper.live, style)
    heads = tuple(_heads(span, style, paper.live) for span in spans)
    rows = []
    for span, head in zip(spans, heads, strict=True):
        pieces = [_row(sheet, number, names, span, style, paper.live) for number in range(len(sheet.rows))]
        rows.append(dealt(pieces, room - head.height, room - head.height))
    return _Measured(style, spans, heads, tuple(rows))


def _name_need(name: str, notes: Sequence[str], style: RoomStyle) -> float:
    longest = max((width(plain(note), Face.REGULAR, style.small) for note in notes), default=0.0)
    return max(width(plain(name), Face.SEMIBOLD, style.name), longest)


# ---------------------------------------------------------------- the parts of a page


def _header(title: str, sheet: RoomSheet, live: float) -> Piece:
    """Return the title, when and who on the right of it, and the rule below."""
    when = flush_right(sheet.when, live, _WHEN, Face.SEMIBOLD, _WHEN)
    who = flush_right(sheet.who, live, _WHEN * 2.2, Face.REGULAR, _REMARK)
    room = min(when.x, who.x) - INSET
    size = fitted(title, Face.BOLD, _TITLE, room, _TITLE_FLOOR)
    lines = wrap(title, Face.BOLD, size, room)
    marks = text_lines(lines, 0.0, _TITLE, Face.BOLD, size, size * 1.1)
    end = max(_TITLE + (len(lines) - 1) * size * 1.1, who.y) + 2.2 * MM
    parts = (Group(Role.TITLE, tuple(marks)), Group(Role.PARAGRAPH, (when, who)))
    return Piece(end + 1.2 * MM, (*parts, rule(end, live, Stroke.HEADER)))


def _heads(span: Span, style: RoomStyle, live: float) -> Piece:
    """Return the heads of blocks and columns, and the rule below them."""
    above: list[Piece] = []
    below: list[Piece] = []
    number = 0
    for block in span.blocks:
        count = len(block.columns)
        room = sum(span.widths[number : number + count]) - INSET - PAD
        above.append(block_head(block, span.xs[number] + INSET, room, style))
        for column in block.columns:
            x, wide = span.xs[number] + INSET, span.widths[number] - INSET - PAD
            below.append(column_head(column, x, wide, style))
            number += 1
    top = max(piece.height for piece in above) + 0.8 * MM
    end = top + max(piece.height for piece in below) + 1.2 * MM
    parts = (*(placed(piece, 0.0) for piece in above), *(placed(piece, top) for piece in below))
    return Piece(end, (Branch(Role.TABLE_ROW, parts), rule(end, live, Stroke.TABLE)))


def _row(sheet: RoomSheet, number: int, names: float, span: Span, style: RoomStyle, live: float) -> Piece:
    """Return one client: the name, and a cell for each column of the stretch."""
    row = sheet.rows[number]
    pieces = [name_piece(row, names - NAME_GAP, style)]
    for column, (x, wide) in enumerate(zip(span.xs, span.widths, strict=True)):
        beside = style.flat or span.beside[column]
        cell = row.cells[span.first + column]
        pieces.append(cell_piece(cell, x + INSET, wide - INSET - PAD, style, beside=beside))
    height = style.above + max(piece.height for piece in pieces) + style.below
    branch = Branch(Role.TABLE_ROW, tuple(placed(piece, style.above) for piece in pieces))
    return Piece(height, (branch, rule(height, live, Stroke.THIN)))


def _brackets(
    shared: Sequence[Shared], span: Span, rows: Sequence[Piece], start: int, y: float
) -> list[Mark]:
    """Return the brackets beside the cells of these rows, those cut by a page closed on both."""
    edges = [y, *accumulate((row.height for row in rows), initial=y)][1:]
    marks: list[Mark] = []
    for run in shared:
        column = run.column - span.first
        first, last = max(run.first - start, 0), min(run.last - start, len(rows) - 1)
        if 0 <= column < len(span.xs) and first <= last:
            x = span.xs[column] + INSET - _BRACKET_LEFT
            marks.append(Bracket(x, edges[first] + _SHORT, edges[last + 1] - _SHORT, _FOOT))
    return marks


def _walls(span: Span, top: float, end: float) -> list[Mark]:
    """Return the upright lines between blocks."""
    firsts = accumulate((len(block.columns) for block in span.blocks[:-1]), initial=0)
    xs = [span.xs[first] + INSET - _WALL_LEFT for first in firsts]
    return [Line(x, top, x, end, Stroke.WRITING) for x in xs]


def _under(sheet: RoomSheet, live: float) -> Piece:
    """Return what stands under the table: who is missing, what else is changed, what the marks mean."""
    pieces = [_remark(remark.head, remark.text, live) for remark in sheet.remarks]
    if sheet.legend:
        pieces.append(_remark("", "   ".join(sheet.legend), live, FOOTER_SIZE))
    return Piece(0.0, ()) if not pieces else stacked([Piece(1.5 * MM, ()), *pieces])


def _remark(head: str, text: str, live: float, size: float = _REMARK) -> Piece:
    lead = size * _REMARK_LEAD
    shown = f"{plain(head)}: " if head else ""
    indent = width(shown, Face.SEMIBOLD, size)
    marks: list[Mark] = [Text(0.0, size * _BASELINE, shown.strip(), Face.SEMIBOLD, size)] if head else []
    lines = wrap(text, Face.REGULAR, size, live, indent)
    marks += run_in(lines, 0.0, indent, size * _BASELINE, Face.REGULAR, size, lead)
    return Piece(len(lines) * lead, (Group(Role.PARAGRAPH, tuple(marks)),))
