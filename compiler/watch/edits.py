"""A workbook before and after a save -> the cells that were changed, each named as a coach would name it.

Rows are known by what they are about, not by where they stand: a row put in above changes nothing below it. What is
compared is the text of the cells that are read, as the spreadsheet shows it, so that a program which stores the same
another way has changed nothing.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Callable, Iterator, Sequence
from dataclasses import fields
from functools import partial
from typing import Any

from compiler.folding import name_key
from compiler.frozen import frozen
from compiler.model.book import Book
from compiler.model.field import Field
from compiler.schema.column import SheetSpec, weekly_header
from compiler.schema.sheets import (
    BLOCK,
    CHANGES,
    CLIENTS,
    EXERCISES,
    HISTORY,
    KIT,
    LOG_SHEET,
    PROGRAMME,
    RESTRICTIONS,
    SITES,
    TESTS,
)

ALIKE = 2
"""A row with another name is the same row if one in so many of its cells, or more, is as it was: our own choice."""

MOST_COMPARED = 40_000
"""Pairs of rows that are compared in search of one with another name; where there are more, they are other rows."""


@frozen
class Edit:
    """One change. `what` names it; `cell`: it is that of a single cell, not of a row."""

    what: str
    cell: bool


@frozen
class _Row:
    """One row: what it is about, and the text of its cells by header."""

    about: tuple[str, ...]
    cells: dict[str, str]


_Pair = tuple[int | None, int | None]
"""Where a row stood, and where it stands; None: nowhere."""

_TABLES: tuple[tuple[SheetSpec, Callable[[Book], Sequence[Any]], tuple[str, ...]], ...] = (
    (EXERCISES, lambda book: book.exercises, ("name",)),
    (PROGRAMME, lambda book: book.programme, ("programme", "session", "order", "exercise")),
    (CLIENTS, lambda book: book.clients, ("name",)),
    (TESTS, lambda book: book.tests, ("client", "exercise", "date")),
    (RESTRICTIONS, lambda book: book.restrictions, ("name",)),
    (CHANGES, lambda book: book.changes, ("who", "session", "order", "exercise", "do")),
    (SITES, lambda book: book.sites, ("name",)),
    (KIT, lambda book: book.kit, ("site", "kind", "name")),
    (LOG_SHEET, lambda book: book.log, ("client", "session", "order", "exercise")),
    (HISTORY, lambda book: book.history, ("client", "date", "session", "order", "exercise", "set")),
)
"""Each sheet with its rows, and the columns that say what a row is about."""


def edits(before: Book, after: Book) -> tuple[Edit, ...]:
    """Return what is different, in the order of the sheets."""
    found = [
        Edit(f"{column.header} ({BLOCK.name})", cell=True)
        for column in BLOCK.columns
        if getattr(before.block, column.key).text != getattr(after.block, column.key).text
    ]
    for spec, rows_of, about in _TABLES:
        old, new = (tuple(_row(spec, record, about) for record in rows_of(book)) for book in (before, after))
        found += _edits_of(spec, about, old, new)
    return tuple(found)


def _row(spec: SheetSpec, record: Any, about: tuple[str, ...]) -> _Row:
    headers = {column.key: column.header for column in spec.columns}
    cells: dict[str, str] = {}
    for one in fields(record):
        value = getattr(record, one.name)
        if isinstance(value, Field):
            cells[headers[one.name]] = value.text
        elif one.name == "weeks":
            for week, of_week in enumerate(value, start=1):
                cells |= _week(spec, of_week, week)
    return _Row(tuple(name_key(getattr(record, key).text) for key in about), cells)


def _week(spec: SheetSpec, cells: Any, week: int) -> Iterator[tuple[str, str]]:
    """Yield the cells of one week; a prescription typed whole is one cell, though it fills three fields."""
    seen = set()
    for column in spec.weekly:
        found: Field[Any] = getattr(cells, column.key)
        if found.place not in seen:
            yield weekly_header(column, week), found.text
        if found.text:
            seen.add(found.place)


def _edits_of(
    spec: SheetSpec, about: tuple[str, ...], before: tuple[_Row, ...], after: tuple[_Row, ...]
) -> Iterator[Edit]:
    if before == after:
        return
    pairs = _pairs(before, after)
    headers = tuple(spec.column(key).header for key in about)
    name = _programme_namer(before, after) if spec is PROGRAMME else partial(_plain_name, headers)
    where = "" if spec is PROGRAMME else f" ({spec.name})"
    for old, new in pairs:
        if new is None and old is not None:
            yield Edit(f"{name(before[old])} removed{where}", cell=False)
        elif old is None and new is not None:
            yield Edit(f"{name(after[new])} added{where}", cell=False)
        elif old is not None and new is not None:
            was, now = before[old].cells, after[new].cells
            for header, text in now.items():
                if was.get(header, text) != text:  # a week that the block had not is told by its setting
                    yield Edit(f"{header} of {name(before[old])}{where}", cell=True)
    stood = [old for old, new in pairs if old is not None and new is not None]
    if [before[old].about for old in stood] != [before[old].about for old in sorted(stood)]:
        yield Edit(f"rows in another order{where or f' ({spec.name})'}", cell=False)


# ---------------------------------------------------------------- which row is which


def _pairs(before: Sequence[_Row], after: Sequence[_Row]) -> list[_Pair]:
    """Return which row was which: in the order in which they stand, then those that stand no more."""
    came: dict[int, int] = {}
    for alike in (_whole, _about):
        _match(before, after, alike, came)
    _match_renamed(before, after, came)
    stand: list[_Pair] = [(came.get(new), new) for new in range(len(after))]
    left = set(range(len(before))) - set(came.values())
    return [*stand, *((old, None) for old in sorted(left))]


def _whole(row: _Row) -> object:
    return row.about, tuple(row.cells.items())


def _about(row: _Row) -> object:
    return row.about


def _match(
    before: Sequence[_Row], after: Sequence[_Row], alike: Callable[[_Row], object], came: dict[int, int]
) -> None:
    """Pair the rows that are left over and alike, the first with the first."""
    used = set(came.values())
    waiting: defaultdict[object, list[int]] = defaultdict(list)
    for old in reversed(range(len(before))):
        if old not in used:
            waiting[alike(before[old])].append(old)
    for new, row in enumerate(after):
        if new not in came and waiting[alike(row)]:
            came[new] = waiting[alike(row)].pop()


def _match_renamed(before: Sequence[_Row], after: Sequence[_Row], came: dict[int, int]) -> None:
    """Pair rows that are about something else now and otherwise much as they were."""
    olds = [old for old in range(len(before)) if old not in set(came.values())]
    news = [new for new in range(len(after)) if new not in came]
    if len(olds) * len(news) > MOST_COMPARED:
        return
    found = sorted(
        (-_alike(before[old], after[new]), abs(old - new), old, new)
        for old in olds
        for new in news
        if _alike(before[old], after[new]) > 0
    )
    used: set[int] = set()
    for _, _, old, new in found:
        if old not in used and new not in came:
            used.add(old)
            came[new] = old


def _alike(old: _Row, new: _Row) -> int:
    """Return how many filled cells are alike; 0 where they are too few."""
    filled = {header for row in (old, new) for header, text in row.cells.items() if text}
    same = sum(old.cells.get(header) == new.cells.get(header) for header in filled)
    return same if same * ALIKE >= len(filled) else 0


# ---------------------------------------------------------------- what a row is called


def _plain_name(headers: tuple[str, ...], row: _Row) -> str:
    return ", ".join(filter(None, (row.cells[header] for header in headers))) or "a row"


def _programme_namer(before: Sequence[_Row], after: Sequence[_Row]) -> Callable[[_Row], str]:
    """Return what names a row of the Programme as shortly as nobody can mistake: B1, or B1 in one of its sessions."""
    counts = [
        Counter(name for row in rows for name in dict.fromkeys(_programme_names(row))) for rows in (before, after)
    ]

    def name(row: _Row) -> str:
        names = _programme_names(row)
        return next((one for one in names if all(count[one] <= 1 for count in counts)), names[-1])

    return name


def _programme_names(row: _Row) -> tuple[str, ...]:
    """Return the names of a row of the Programme, the shortest first."""
    programme, session, order, exercise = (
        row.cells[PROGRAMME.column(key).header] for key in ("programme", "session", "order", "exercise")
    )
    short = order or exercise or "a row"
    full = f"{order} {exercise}".strip() or "a row"
    return short, f"{short} in {session}", f"{full} in {session}", f"{full} in {session} ({programme})"
