"""The Tests sheet of the summary: every test of each client and exercise by date, what it stands for, and its trend.

Ages count to the client's start date. A test with an error on it stands for nothing.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date
from enum import StrEnum

from compiler.cellref import CellRef, RowRef
from compiler.documents.neutral import Cell, Chart, ChartKind, ColumnKind, Heading, Series, Sheet, down
from compiler.flags.model import Flag, Severity
from compiler.folding import name_key
from compiler.frozen import frozen
from compiler.model.book import Book
from compiler.model.field import Field, Poisoned
from compiler.model.records import Test
from compiler.notation.values import Weight
from compiler.quantities import Load, Unit
from compiler.resolve.context import ClientView, index_book, view_client
from compiler.resolve.maxima import ONE_RM_SOURCES, age_in_days, maximum_of
from compiler.resolve.values import ClientPlan

HEADINGS = (
    Heading("Client", width=28),
    Heading("Exercise", width=30),
    Heading("Date", ColumnKind.DATE, width=12),
    Heading("Load", ColumnKind.AMOUNT, width=11),
    Heading("Unit", width=6),
    Heading("Reps", ColumnKind.WHOLE, width=6),
    Heading("RPE", ColumnKind.AMOUNT, width=6),
    Heading("Result", ColumnKind.AMOUNT, width=8),
    Heading("Counted in", width=9),
    Heading("Body weight", ColumnKind.AMOUNT, width=10),
    Heading("Source", width=15),
    Heading("1RM", ColumnKind.AMOUNT, width=12, decimals=1),
    Heading("Days old at the start", ColumnKind.WHOLE, width=10),
    Heading("Standing", width=19),
    Heading("Loads rest on it", width=10),
    Heading("Cell", width=12),
)
_PLACE = {heading.text: place for place, heading in enumerate(HEADINGS)}

MOST_CHARTS = 24
FEWEST_TESTS = 2
CHARTS_NOTE = (
    f"Trends: each client and exercise with {FEWEST_TESTS} results or more;"
    f" of more than {MOST_CHARTS}, those tested most often."
)


class Standing(StrEnum):
    """What a test is good for."""

    GOOD = "good"
    OLD = "old, still used"
    TOO_OLD = "too old, not used"
    WRONG = "has an error"


@frozen
class _Entry:
    """One test with whose it is, in the order of the sheet, and what it comes to."""

    order: tuple[int, str, int, str, date]
    client: str
    exercise: str
    test: Test
    one_rm: Load | None
    age: int | None
    standing: Standing | None


def tests_sheet(book: Book, plans: Iterable[ClientPlan], flags: Iterable[Flag]) -> Sheet:
    """Return the sheet: clients and exercises in the order of their sheets, tests by date."""
    used = _test_cells(plans)
    entries = sorted(_entries(book, flags), key=lambda entry: entry.order)
    rows = tuple(_row(book, entry, used) for entry in entries)
    charts = tuple(_charts(entries))
    return Sheet(
        "Tests",
        "Tests so far",
        HEADINGS,
        rows,
        frozen=2,
        charts=charts,
        charts_note=CHARTS_NOTE if charts else "",
    )


def _test_cells(plans: Iterable[ClientPlan]) -> frozenset[CellRef]:
    """Return the tests that a load of a plan rests on."""
    return frozenset(
        planned.load.maximum.test
        for plan in plans
        for session in plan.sessions
        for part in session.parts.values()
        for planned in part
        if planned.load.maximum is not None
    )


def _entries(book: Book, flags: Iterable[Flag]) -> Iterator[_Entry]:
    wrong = {
        RowRef(flag.place.sheet, flag.place.row)
        for flag in flags
        if flag.severity is Severity.ERROR and flag.place is not None
    }
    views = _views(book)
    clients = {key: number for number, key in enumerate(book.client_named)}
    exercises = {key: number for number, key in enumerate(book.exercise_named)}
    for test in book.tests:
        client, exercise, day = test.client.known, test.exercise.known, test.date.known
        if client is None or exercise is None or day is None:
            continue
        who, what = name_key(client), name_key(exercise)
        view = views.get(who)
        order = (clients.get(who, len(clients)), who, exercises.get(what, len(exercises)), what, day)
        bad = test.row in wrong
        one_rm = None if bad or view is None else _one_rm(view, test)
        age = None if view is None else age_in_days(view, test)
        standing = Standing.WRONG if bad else _standing(book, age)
        yield _Entry(order, client, exercise, test, one_rm, age, standing)


def _views(book: Book) -> dict[str, ClientView]:
    """Return the circumstances of each client whose cells could be read."""
    index = index_book(book)
    views = {}
    for key, client in book.client_named.items():
        try:
            views[key] = view_client(index, client)
        except Poisoned:
            continue
    return views


def _one_rm(view: ClientView, test: Test) -> Load | None:
    """Return the 1RM that a test stands for, in the Block's unit."""
    exercise = view.book.exercise(test.exercise.known)
    try:
        if exercise is None or (test.source.value or "tested") not in ONE_RM_SOURCES:
            return None
        known = maximum_of(view, exercise, test)
        return known.one_rm.to(view.unit) if known and known.one_rm else None
    except Poisoned:
        return None


def _standing(book: Book, age: int | None) -> Standing | None:
    good, used = book.block.test_good_days.known, book.block.test_used_days.known
    if age is None:
        return None
    if used is not None and age > used:
        return Standing.TOO_OLD
    return Standing.OLD if good is not None and age > good else Standing.GOOD


def _row(book: Book, entry: _Entry, used: frozenset[CellRef]) -> tuple[Cell, ...]:
    test = entry.test
    load, result = _load(book, test, test.load), test.result.known
    return (
        entry.client,
        entry.exercise,
        test.date.known,
        load,
        str(load.unit) if load else None,
        test.reps.known,
        test.rpe.known,
        result.amount if result else None,
        result.word if result else None,
        _load(book, test, test.body_weight),
        test.source.known or "tested",
        entry.one_rm,
        entry.age,
        str(entry.standing) if entry.standing else None,
        "yes" if test.load.place in used else None,
        str(test.load.place),
    )


def _load(book: Book, test: Test, cell: Field[Weight]) -> Load | None:
    """Return a weight with its unit: its own, else the row's, else the Block's; nothing where one cannot be told."""
    typed = cell.known
    if typed is None or (typed.unit is None and (test.unit.failed or book.block.unit.known is None)):
        return None
    return Load(typed.amount, typed.unit or (Unit(test.unit.known) if test.unit.known else book.block.kit_unit))


# ---------------------------------------------------------------- trends


@frozen
class _Run:
    """The rows of one client and exercise, and those of them that have a point of a trend."""

    rows: range
    heading: str
    unit: str
    points: int


def _charts(entries: list[_Entry]) -> Iterator[Chart]:
    """Yield the charts, as the note says, in the order of the rows."""
    runs = [run for rows in _runs(entries) if (run := _trend(entries, rows)) is not None]
    for run in sorted(sorted(runs, key=lambda run: -run.points)[:MOST_CHARTS], key=lambda run: run.rows.start):
        first = entries[run.rows.start]
        series = Series(first.exercise, down(_PLACE["Date"], run.rows), down(_PLACE[run.heading], run.rows))
        yield Chart(f"{first.client} – {first.exercise}", ChartKind.LINE, (series,), run.unit)


def _runs(entries: list[_Entry]) -> Iterator[range]:
    start = 0
    for number in range(1, len(entries) + 1):
        if number == len(entries) or entries[number].order[:4] != entries[start].order[:4]:
            yield range(start, number)
            start = number


def _trend(entries: list[_Entry], rows: range) -> _Run | None:
    """Return what a chart of some rows would show: the 1RM, else a result that is always counted alike."""
    maxima = [entry.one_rm for entry in entries[rows.start : rows.stop] if entry.one_rm is not None]
    if len(maxima) >= FEWEST_TESTS:
        return _Run(rows, "1RM", f"1RM, {maxima[0].unit}", len(maxima))
    results = [entry.test.result.known for entry in entries[rows.start : rows.stop]]
    words = [result.word for result in results if result is not None]
    units = set(words)
    if len(words) >= FEWEST_TESTS and len(units) == 1:
        return _Run(rows, "Result", units.pop(), len(words))
    return None
