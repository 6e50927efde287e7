"""The run list -> pages: how to print on top, then a row a booklet with a box to tick."""

from __future__ import annotations

from compiler.documents.run_list import RunHeads, RunList, RunRow
from compiler.frozen import frozen
from compiler.layout.lines import wrap
from compiler.layout.listing import dealt, foot, table
from compiler.layout.measures import BODY, BODY_LEAD, MM, SHEETS, STANDARD, Sheet
from compiler.layout.metrics import Face, width
from compiler.layout.page import Box, Branch, Group, Mark, Page, Pages, Part, Role, Stroke, Text
from compiler.layout.piece import Piece, decoration, paragraph, placed, rule, stacked
from compiler.layout.running import framed, title_piece

_SIZE = 11.0
_LEAD = 1.2
_GAP = 5 * MM
_TICK = 4 * MM
_ABOVE = 1.9 * MM
_BELOW = 1.7 * MM
_BASELINE = 0.8
_TOP = 2 * MM
_TICK_HEAD = 17 * MM
_WORDS = {"stack": 22 * MM, "group": 34 * MM, "site": 24 * MM}


@frozen
class _Column:
    """A column: what a row says in it, where it begins, its room. Numbers are flush right."""

    key: str
    x: float
    room: float
    number: bool


def lay_out_run_list(run: RunList) -> Pages:
    """Return the pages of a list, printed on one side."""
    sheet = SHEETS[run.paper]
    columns = _columns(run, sheet)
    head = _head(run.heads, columns)
    front = _front(run, sheet)
    again = stacked([title_piece(run.title, sheet.live), Piece(_TOP, ())])
    rows = [*(_row(row, columns, sheet, Face.REGULAR) for row in run.rows)]
    rows.append(_row(run.total, columns, sheet, Face.BOLD))
    room = sheet.foot - sheet.top - head.height
    dealt_rows = dealt(rows, room - front.height, room - again.height)
    pages = []
    for number, found in enumerate(dealt_rows, start=1):
        top = front if number == 1 else again
        below = table([head, *found])
        parts: tuple[Part, ...] = (placed(top, sheet.top), placed(below, sheet.top + top.height))
        words = run.page.format(number, len(dealt_rows))
        at_foot = foot(run.footer, words, sheet.live, sheet.height - sheet.bottom)
        bookmark = run.title if number == 1 else ""
        pages.append(Page(number, sheet.binding, run.title, bookmark, (*parts, at_foot)))
    return Pages(
        width=sheet.width,
        height=sheet.height,
        pages=tuple(pages),
        language=run.language,
        title=run.title,
        author=run.author,
        subject=run.about,
        label_prefix="",
        simplex=True,
        long_sessions=(),
    )


def _front(run: RunList, sheet: Sheet) -> Piece:
    """Return the title, whose run it is, and the frame that says how to print."""
    return stacked(
        [
            title_piece(run.title, sheet.live),
            paragraph(run.about, 0.0, sheet.live, Face.SEMIBOLD, BODY, BODY * BODY_LEAD),
            Piece(2 * MM, ()),
            framed(run.how_title, run.how, sheet.live, BODY, Stroke.FRAME),
            Piece(3 * MM, ()),
        ]
    )


def _widest(run: RunList, key: str, most: float) -> float:
    """Return the width of the widest word or text of a column, up to `most`; none where nothing stands in it."""
    texts = [getattr(row, key) for row in (*run.rows, run.total)]
    if not any(texts):
        return 0.0
    head = max(width(word, Face.SEMIBOLD, STANDARD.small) for word in getattr(run.heads, key).split())
    return min(max(head, *(width(text, Face.BOLD, _SIZE) for text in texts)), most)


def _columns(run: RunList, sheet: Sheet) -> tuple[_Column, ...]:
    """Return the columns from left to right: as wide as what stands in them, names and groups share what is left."""
    numbers = {key: _widest(run, key, sheet.live) for key in ("first", "pages", "sheets")}
    label = _widest(run, "label", 18 * MM)
    words = {key: _widest(run, key, most) for key, most in _WORDS.items()}
    taken = [wide for wide in (*numbers.values(), label, *words.values()) if wide]
    name = sheet.live - _TICK_HEAD - sum(taken) - _GAP * len(taken)
    widths = {"name": name, "label": label, **numbers, **words}
    columns = []
    x = _TICK_HEAD
    for key, wide in widths.items():
        if wide:
            columns.append(_Column(key, x, wide, key in numbers))
            x += wide + _GAP
    return tuple(columns)


def _texts(lines: tuple[str, ...], column: _Column, baseline: float, face: Face, size: float) -> tuple[Mark, ...]:
    lead = size * _LEAD
    return tuple(
        Text(
            column.x + (column.room - width(line, face, size) if column.number else 0.0),
            baseline + number * lead,
            line,
            face,
            size,
        )
        for number, line in enumerate(lines)
    )


def _head(heads: RunHeads, columns: tuple[_Column, ...]) -> Piece:
    """Return the heads of the columns, standing on the rule below them."""
    size = STANDARD.small
    shown = [(_Column("done", 0.0, _TICK_HEAD - _GAP, number=False), heads.done)]
    shown += [(column, getattr(heads, column.key)) for column in columns]
    wrapped = [(column, wrap(text, Face.SEMIBOLD, size, column.room)) for column, text in shown]
    most = max(len(lines) for _, lines in wrapped)
    last = size * (_BASELINE + (most - 1) * _LEAD)
    cells = tuple(
        Group(
            Role.HEADER_CELL,
            _texts(lines, column, last - (len(lines) - 1) * size * _LEAD, Face.SEMIBOLD, size),
        )
        for column, lines in wrapped
    )
    end = last + 2 * MM
    right = max(column.x + column.room for column in columns)
    return Piece(end, (Branch(Role.TABLE_ROW, cells), rule(end, right, Stroke.TABLE)))


def _row(row: RunRow, columns: tuple[_Column, ...], sheet: Sheet, face: Face) -> Piece:
    """Return one row, or the total, which is bold and has no box."""
    total = face is Face.BOLD
    baseline = _ABOVE + _SIZE * _BASELINE
    most = 1
    cells = []
    for column in columns:
        name = column.key == "name" and not total
        shown = Face.SEMIBOLD if name else face
        lines = wrap(getattr(row, column.key), shown, _SIZE, column.room)
        most = max(most, len(lines))
        cells.append(Group(Role.CELL, _texts(lines, column, baseline, shown, _SIZE)))
    height = _ABOVE + _SIZE * (1 + (most - 1) * _LEAD) + _BELOW
    tick = decoration(Box(0.0, (height - _TICK) / 2, _TICK, _TICK, Stroke.TICK))
    parts: list[Part] = [Branch(Role.TABLE_ROW, tuple(cells)), rule(height, sheet.live, Stroke.THIN)]
    return Piece(height, tuple(parts) if total else (tick, *parts))
