"""The cover -> the parts of its pages. The plan of the month at its foot is contents and tick list in one.

A plan too long for the foot of the cover follows on pages of its own.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from compiler.documents.booklet_value import Cover, MonthPlan, PlanWords, SessionRef, Wording
from compiler.frozen import frozen
from compiler.layout.editions import CoverSizes, Edition
from compiler.layout.lines import fitted, fitted_lines, plain, wrap
from compiler.layout.measures import MM
from compiler.layout.metrics import Face, width
from compiler.layout.page import Box, Branch, Group, Line, Part, Role, Stroke, Text
from compiler.layout.piece import Piece, decoration, placed, rule, stacked, text_lines

Cell = SessionRef | PlanWords

_GYM_FLOOR = 9.0
_GYM_RULE = 6.2 * MM
_NAMES_TOP = 8 * MM
_QUARTER = 0.25
_TICK = 5.6 * MM
_TICK_FLOOR = 3.6 * MM
_LINE_LEAD = 1.15
_CELL_INSET = 1 * MM
_TICK_GAP = 1.4 * MM
_PLAN_ABOVE_FOOT = 18 * MM
_LABEL_SHRINKS = 1.5
_NUMBER_FLOOR = 9.0
_ABOVE_LABEL = 0.8 * MM


def lay_out_cover(
    cover: Cover, edition: Edition, page_of: Mapping[str, int], wording: Wording
) -> tuple[tuple[Part, ...], ...]:
    """Return the parts of the cover, and of further pages for a long plan.

    `page_of` gives the first page of each session by its key.
    """
    sheet, sizes = edition.sheet, edition.cover
    lowest = sheet.height - sheet.bottom
    gym = _gym(cover.gym, edition)
    parts: list[Part] = [placed(gym, sheet.top)]
    names = _names(cover, edition)
    highest = sheet.top + gym.height + _NAMES_TOP * sizes.scale
    foot = lowest - _PLAN_ABOVE_FOOT * sizes.scale
    table = _Table.of(cover.plan, edition, foot - highest - names.height - _NAMES_TOP * sizes.scale)
    further: tuple[tuple[Part, ...], ...] = ()
    quarter = sheet.height * _QUARTER - _NAMES_TOP
    if table.fits:
        plan = _plan(table, page_of, wording)
        plan_y = foot - plan.height
        names_y = max(highest, min(quarter, plan_y - names.height - _NAMES_TOP * sizes.scale))
        parts += [placed(names, names_y), placed(plan, plan_y)]
    else:
        parts.append(placed(names, max(highest, quarter)))
        further = _plan_pages(cover.plan, edition, page_of, wording)
    parts += _found(cover.found, lowest, edition)
    return (tuple(parts), *further)


def _gym(name: str, edition: Edition) -> Piece:
    """Return the name of the gym and the rule below it."""
    live, floor = edition.sheet.live, max(_GYM_FLOOR, edition.floor)
    size, lines = fitted_lines(name, Face.SEMIBOLD, edition.cover.gym, live, floor)
    lead = size * _LINE_LEAD
    words = Group(Role.PARAGRAPH, tuple(text_lines(lines, 0.0, size * 0.8, Face.SEMIBOLD, size, lead)))
    end = _GYM_RULE + (len(lines) - 1) * lead
    return Piece(end, (words, rule(end, live, Stroke.COVER)))


def _found(text: str, lowest: float, edition: Edition) -> list[Part]:
    size, lines = fitted_lines(text, Face.REGULAR, edition.cover.found, edition.sheet.live, edition.floor)
    lead = size * _LINE_LEAD
    first = lowest - 1 * MM - (len(lines) - 1) * lead
    return [Group(Role.PARAGRAPH, tuple(text_lines(lines, 0.0, first, Face.REGULAR, size, lead)))]


def _names(cover: Cover, edition: Edition) -> Piece:
    """Return what stands above the plan: title, client, club and coach."""
    live, sizes = edition.sheet.live, edition.cover
    space = Piece(3 * MM * sizes.scale, ())
    title, about = (sizes.title, sizes.title_floor), (sizes.about, sizes.about_floor)
    client = (sizes.client, sizes.client_floor)
    return stacked(
        [
            *(_words(text, live, title, Face.REGULAR, 1.3) for text in cover.title),
            space,
            _words(cover.client, live, client, Face.BOLD, 1.1, Role.TITLE),
            space,
            *(_words(text, live, about, Face.REGULAR, 1.35) for text in cover.about),
        ]
    )


def _words(
    text: str, live: float, sizes: tuple[float, float], face: Face, lead: float, role: Role = Role.PARAGRAPH
) -> Piece:
    size, lines = fitted_lines(text, face, sizes[0], live, sizes[1])
    marks = text_lines(lines, 0.0, size * 0.9, face, size, size * lead)
    return Piece(len(lines) * size * lead, (Group(role, tuple(marks)),))


# ---------------------------------------------------------------- the plan of the month


@frozen
class _Table:
    """The plan with what stands in rows and columns decided, and its measures. `fits` in the room it was given."""

    title: str
    heads: tuple[tuple[str, ...], ...]
    rows: tuple[tuple[str, tuple[Cell, ...]], ...]
    live: float
    label: float
    column: float
    row: float
    sizes: CoverSizes
    floor: float
    fits: bool

    @classmethod
    def of(cls, plan: MonthPlan, edition: Edition, room: float) -> _Table:
        """Return the table: weeks across, or down if they are many and the sessions are not."""
        live, sizes = edition.sheet.live, edition.cover
        sessions = tuple(row.session for row in plan.rows)
        down = len(plan.weeks) > sizes.weeks_across and len(sessions) <= len(plan.weeks)
        if down:
            turned = zip(*(row.cells for row in plan.rows), strict=True)
            names, rows = sessions, tuple(zip(plan.weeks, turned, strict=True))
        else:
            names, rows = plan.weeks, tuple((row.session, row.cells) for row in plan.rows)
        label = (0.18 if down else 0.36) * live
        column = (live - label) / max(len(names), 1)
        size = max(sizes.plan - 1, edition.floor)
        heads = tuple(wrap(name, Face.SEMIBOLD, size, column - 2 * MM) for name in names)
        table = cls(plan.title, heads, rows, live, label, column, 0.0, sizes, edition.floor, fits=False)
        least = max(sizes.row_floor, table.tallest_label + 2 * _ABOVE_LABEL)
        spare = (room - table.top - table.head) / max(len(rows), 1)
        return replace(table, row=max(least, min(sizes.row, spare)), fits=spare >= least or not rows)

    @property
    def top(self) -> float:
        """Where the first rule comes, below the title."""
        return self.sizes.plan + 3 * MM

    @property
    def head_size(self) -> float:
        """The size of the column heads."""
        return max(self.sizes.plan - 1, self.floor)

    @property
    def head(self) -> float:
        """The height of the column heads."""
        return max((len(lines) for lines in self.heads), default=1) * self.head_size * _LINE_LEAD + 2.6 * MM

    @property
    def label_floor(self) -> float:
        """The smallest size of a row's label."""
        return max(self.sizes.plan - _LABEL_SHRINKS, self.floor)

    def label_lines(self, label: str) -> tuple[float, tuple[str, ...]]:
        """Return the size and the lines of a row's label."""
        return fitted_lines(label, Face.SEMIBOLD, self.sizes.plan, self.label - 2 * MM, self.label_floor)

    @property
    def tallest_label(self) -> float:
        """The height of the label with the most lines."""
        fitted_labels = (self.label_lines(label) for label, _ in self.rows)
        return max((len(lines) * size * _LINE_LEAD for size, lines in fitted_labels), default=0.0)


def _plan_pages(
    plan: MonthPlan, edition: Edition, page_of: Mapping[str, int], wording: Wording
) -> tuple[tuple[Part, ...], ...]:
    """Return the pages of a plan that the cover has no room for."""
    sheet = edition.sheet
    room = sheet.foot - sheet.top
    table = _Table.of(plan, edition, room)
    each = max(int((room - table.top - table.head) // table.row), 1)
    chunks = [table.rows[first : first + each] for first in range(0, len(table.rows), each)]
    return tuple(
        (placed(_plan(replace(table, rows=rows), page_of, wording), sheet.top),) for rows in chunks
    )


def _plan(table: _Table, page_of: Mapping[str, int], wording: Wording) -> Piece:
    size, top, live = table.head_size, table.top, table.live
    lead = size * _LINE_LEAD
    heading = Text(0.0, table.sizes.plan * 0.85, plain(table.title), Face.BOLD, table.sizes.plan)
    title = Group(Role.HEADING, (heading,))
    header = tuple(
        Group(
            Role.HEADER_CELL,
            tuple(
                text_lines(
                    lines,
                    table.label + column * table.column + _CELL_INSET,
                    top + 1.2 * MM + size,
                    Face.SEMIBOLD,
                    size,
                    lead,
                )
            ),
        )
        for column, lines in enumerate(table.heads)
    )
    y = top + table.head
    branches: list[Branch] = [Branch(Role.TABLE_ROW, header)]
    lines = [Line(0.0, top, live, top, Stroke.TABLE), Line(0.0, y, live, y, Stroke.THIN)]
    for index, (label, cells) in enumerate(table.rows):
        branches.append(Branch(Role.TABLE_ROW, _row(label, cells, y, table, page_of, wording)))
        y += table.row
        last = index == len(table.rows) - 1
        lines.append(Line(0.0, y, live, y, Stroke.TABLE if last else Stroke.THIN))
    return Piece(y, (title, Branch(Role.TABLE, tuple(branches)), decoration(*lines)))


def _row(
    label: str,
    cells: Sequence[Cell],
    y: float,
    table: _Table,
    page_of: Mapping[str, int],
    wording: Wording,
) -> tuple[Part, ...]:
    """Return one row: its label, then a box to tick and a page, or words, for each cell."""
    size, lines = table.label_lines(label)
    lead = size * _LINE_LEAD
    middle = y + table.row / 2 + size * 0.33
    first = middle - (len(lines) - 1) * lead / 2
    parts: list[Part] = [
        Group(Role.HEADER_CELL, tuple(text_lines(lines, 0.0, first, Face.SEMIBOLD, size, lead)))
    ]
    for column, cell in enumerate(cells):
        x = table.label + column * table.column + _CELL_INSET
        parts += _cell(cell, x, y, table, page_of, wording)
    return tuple(parts)


def _cell(
    cell: Cell, x: float, y: float, table: _Table, page_of: Mapping[str, int], wording: Wording
) -> list[Part]:
    size = max(table.sizes.plan - 0.5, table.floor)
    room = table.column - 2 * _CELL_INSET
    if isinstance(cell, PlanWords):
        size = fitted(cell.text, Face.REGULAR, size, room, table.floor)
        baseline = y + table.row / 2 + size * 0.33
        return [Group(Role.CELL, (Text(x, baseline, plain(cell.text), Face.REGULAR, size),))]
    number = str(page_of[cell.key])
    tick = min(_TICK, table.row - 1.6 * MM)
    words = plain(wording.page_reference.format(number))
    if tick + _TICK_GAP + width(words, Face.REGULAR, size) > room:
        words, size = number, max(_NUMBER_FLOOR, table.floor)
        tick = min(tick, max(room - _TICK_GAP - width(words, Face.REGULAR, size), _TICK_FLOOR))
    baseline = y + table.row / 2 + size * 0.33
    text = Text(x + tick + _TICK_GAP, baseline, words, Face.REGULAR, size)
    box = Box(x, y + (table.row - tick) / 2, tick, tick, Stroke.BOX)
    return [Group(Role.CELL, (text,)), decoration(box)]
