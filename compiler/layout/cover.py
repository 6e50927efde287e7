"""The cover -> the parts of its page. The plan of the month at its foot is contents and tick list in one."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from compiler.documents.booklet_value import Cover, MonthPlan, PlanWords, SessionRef, Wording
from compiler.layout.lines import fitted, fitted_lines, plain, wrap
from compiler.layout.measures import BODY, MM, Sheet
from compiler.layout.metrics import Face, width
from compiler.layout.page import Box, Branch, Group, Line, Part, Role, Stroke, Text
from compiler.layout.piece import Piece, decoration, placed, rule, stacked, text_lines

Cell = SessionRef | PlanWords

_GYM_SIZE = 13.0
_GYM_RULE = 6.2 * MM
_TITLE_SIZE = 24.0
_TITLE_FLOOR = 15.0
_CLIENT_SIZE = 46.0
_CLIENT_FLOOR = 20.0
_ABOUT_SIZE = 15.0
_ABOUT_FLOOR = 11.0
_FOUND_SIZE = 10.0
_QUARTER = 0.25
_MOST_WEEKS_ACROSS = 6
_ROW_HEIGHT = 12 * MM
_ROW_FLOOR = 6.4 * MM
_TICK = 5.6 * MM
_TICK_FLOOR = 3.6 * MM
_LINE_LEAD = 1.15
_CELL_INSET = 1 * MM
_TICK_GAP = 1.4 * MM
_PLAN_ABOVE_FOOT = 18 * MM


def lay_out_cover(
    cover: Cover, sheet: Sheet, page_of: Mapping[str, int], wording: Wording
) -> tuple[Part, ...]:
    """Return the parts of the cover. `page_of` gives the first page of each session by its key."""
    live = sheet.live
    lowest = sheet.height - sheet.bottom
    gym_size = fitted(cover.gym, Face.SEMIBOLD, _GYM_SIZE, live, 9.0)
    gym_text = Text(0.0, sheet.top + gym_size * 0.8, plain(cover.gym), Face.SEMIBOLD, gym_size)
    parts: list[Part] = [
        Group(Role.PARAGRAPH, (gym_text,)),
        rule(sheet.top + _GYM_RULE, live, Stroke.COVER),
    ]
    names = _names(cover, live)
    room = lowest - _PLAN_ABOVE_FOOT - sheet.top - _GYM_RULE - names.height - 20 * MM
    plan = _plan(cover.plan, live, room, page_of, wording)
    plan_y = lowest - _PLAN_ABOVE_FOOT - plan.height
    highest = sheet.top + _GYM_RULE + 8 * MM
    names_y = max(highest, min(sheet.height * _QUARTER - 8 * MM, plan_y - names.height - 8 * MM))
    parts += [placed(names, names_y), placed(plan, plan_y)]
    size = fitted(cover.found, Face.REGULAR, _FOUND_SIZE, live, 8.0)
    parts.append(
        Group(Role.PARAGRAPH, (Text(0.0, lowest - 1 * MM, plain(cover.found), Face.REGULAR, size),))
    )
    return tuple(parts)


def _names(cover: Cover, live: float) -> Piece:
    """Return what stands above the plan: title, client, club and coach."""
    space = Piece(3 * MM, ())
    return stacked(
        [
            *(_words(text, live, _TITLE_SIZE, _TITLE_FLOOR, Face.REGULAR, 1.3) for text in cover.title),
            space,
            _words(cover.client, live, _CLIENT_SIZE, _CLIENT_FLOOR, Face.BOLD, 1.1, Role.TITLE),
            space,
            *(_words(text, live, _ABOUT_SIZE, _ABOUT_FLOOR, Face.REGULAR, 1.35) for text in cover.about),
        ]
    )


def _words(
    text: str, live: float, size: float, floor: float, face: Face, lead: float, role: Role = Role.PARAGRAPH
) -> Piece:
    size, lines = fitted_lines(text, face, size, live, floor)
    marks = text_lines(lines, 0.0, size * 0.9, face, size, size * lead)
    return Piece(len(lines) * size * lead, (Group(role, tuple(marks)),))


@dataclass(frozen=True, slots=True)
class _Table:
    """The plan with what stands in rows and columns decided, and its measures."""

    heads: tuple[str, ...]
    rows: tuple[tuple[str, tuple[Cell, ...]], ...]
    label: float
    column: float
    row: float


def _table(plan: MonthPlan, live: float, room: float) -> _Table:
    """Return the table: weeks across, or down if they are many and the sessions are not."""
    sessions = tuple(row.session for row in plan.rows)
    down = len(plan.weeks) > _MOST_WEEKS_ACROSS and len(sessions) <= len(plan.weeks)
    if down:
        turned = zip(*(row.cells for row in plan.rows), strict=True)
        heads, rows = sessions, tuple(zip(plan.weeks, turned, strict=True))
    else:
        heads, rows = plan.weeks, tuple((row.session, row.cells) for row in plan.rows)
    label = (0.16 if down else 0.36) * live
    height = min(_ROW_HEIGHT, max(room / max(len(rows), 1), _ROW_FLOOR))
    return _Table(heads, rows, label, (live - label) / max(len(heads), 1), height)


def _plan(
    plan: MonthPlan, live: float, room: float, page_of: Mapping[str, int], wording: Wording
) -> Piece:
    size = BODY - 1
    lead = size * _LINE_LEAD
    table = _table(plan, live, room - 20 * MM)
    title = Group(Role.HEADING, (Text(0.0, BODY * 0.85, plain(plan.title), Face.BOLD, BODY),))
    top = BODY + 3 * MM
    heads = [wrap(head, Face.SEMIBOLD, size, table.column - 2 * MM) for head in table.heads]
    head_height = max((len(lines) for lines in heads), default=1) * lead + 2.6 * MM
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
        for column, lines in enumerate(heads)
    )
    y = top + head_height
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
    room = table.label - 2 * MM
    size, lines = fitted_lines(label, Face.SEMIBOLD, BODY, room, BODY - 1.5)
    lead = size * _LINE_LEAD
    while len(lines) * lead > table.row and size > 8:
        size -= 0.5
        lead = size * _LINE_LEAD
        lines = wrap(label, Face.SEMIBOLD, size, room)
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
    size = BODY - 0.5
    room = table.column - 2 * _CELL_INSET
    if isinstance(cell, PlanWords):
        size = fitted(cell.text, Face.REGULAR, size, room, 8.0)
        baseline = y + table.row / 2 + size * 0.33
        return [Group(Role.CELL, (Text(x, baseline, plain(cell.text), Face.REGULAR, size),))]
    number = str(page_of[cell.key])
    tick = min(_TICK, table.row - 1.6 * MM)
    words = plain(wording.page_reference.format(number))
    if tick + _TICK_GAP + width(words, Face.REGULAR, size) > room:
        words, size = number, 9.0
        tick = min(tick, max(room - _TICK_GAP - width(words, Face.REGULAR, size), _TICK_FLOOR))
    baseline = y + table.row / 2 + size * 0.33
    text = Text(x + tick + _TICK_GAP, baseline, words, Face.REGULAR, size)
    box = Box(x, y + (table.row - tick) / 2, tick, tick, Stroke.BOX)
    return [Group(Role.CELL, (text,)), decoration(box)]
