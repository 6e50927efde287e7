"""The To test sheet of the summary: who should be tested on what before the block starts, and why."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date
from enum import StrEnum
from itertools import chain

from compiler.cellref import CellRef, RowRef
from compiler.documents.held import Held
from compiler.documents.neutral import ColumnKind, Heading, Sheet
from compiler.documents.summary_cells import chains_by_cell
from compiler.flags.model import Flag
from compiler.folding import name_key
from compiler.frozen import frozen
from compiler.model.book import Book
from compiler.model.effective import LoadChain
from compiler.model.records import Change, Client, Exercise, ProgrammeRow
from compiler.notation.values import PercentLoad
from compiler.resolve.maxima import ONE_RM_SOURCES
from compiler.resolve.substitute import carries_over
from compiler.resolve.values import ClientPlan, PlannedExercise

NO_TEST_SLUGS = frozenset({"test-required", "missing-test"})

HEADINGS = (
    Heading("Client", width=28),
    Heading("Exercise", width=30),
    Heading("Why", width=30),
    Heading("Last tested", ColumnKind.DATE, width=12),
    Heading("Days old at the start", ColumnKind.WHOLE, width=12),
    Heading("Test before", ColumnKind.DATE, width=12),
    Heading("Needed by", width=18),
)


class Why(StrEnum):
    """Why somebody should be tested."""

    NO_TEST = "no test"
    TOO_OLD = "too old, not used"
    STALE = "old, still used"
    NO_MAXIMUM = "the test gives no maximum"


@frozen
class TestWanted:
    """One client and exercise to test. `cell` is the load that needs it, `before` the day the block starts."""

    __test__ = False
    client: str
    exercise: str
    why: Why
    last: date | None
    days_old: int | None
    before: date | None
    cell: CellRef | None


def tests_wanted(book: Book, plans: Iterable[ClientPlan], held: Iterable[Held]) -> tuple[TestWanted, ...]:
    """Return what to test, each client and exercise once, in the order of the Clients sheet.

    A percentage with an effort beside it counts as well: the client trains, but by effort. For clients without a plan
    their flags tell, as far as the cells name an exercise.
    """
    chains = chains_by_cell(book)
    order = {client.name.known: place for place, client in enumerate(book.clients)}
    wanted: dict[tuple[str, str], TestWanted] = {}
    for found in chain.from_iterable(
        (*(_of_plan(book, plan, chains) for plan in plans), *(_of_held(book, one) for one in held))
    ):
        wanted.setdefault((name_key(found.client), name_key(found.exercise)), found)
    return tuple(sorted(wanted.values(), key=lambda found: order.get(found.client, len(order))))


def to_test_sheet(wanted: Iterable[TestWanted]) -> Sheet:
    """Return the sheet."""
    rows = tuple(
        (
            found.client,
            found.exercise,
            str(found.why),
            found.last,
            found.days_old,
            found.before,
            str(found.cell) if found.cell else None,
        )
        for found in wanted
    )
    return Sheet("To test", "To test before the block starts", HEADINGS, rows, frozen=1)


def _of_plan(book: Book, plan: ClientPlan, chains: dict[CellRef, LoadChain]) -> Iterator[TestWanted]:
    seen: set[tuple[str | None, bool]] = set()
    for session in plan.sessions:
        for planned in chain.from_iterable(session.parts.values()):
            name, known, cell = planned.exercise.name.known, planned.load.maximum, planned.load.source
            if (name, known is None) in seen or not (known or _by_percentage(planned, chains)):
                continue
            seen.add((name, known is None))
            if known is None:
                yield _missing(book, plan.client, planned.exercise, cell)
            else:
                yield from _old(book, plan.client, known.lent_by or name, known.tested_on, cell)


def _by_percentage(planned: PlannedExercise, chains: dict[CellRef, LoadChain]) -> bool:
    """Tell whether a load is a percentage: not where a step typed for another exercise left the line blank."""
    stated = chains.get(planned.load.source) if planned.load.source else None
    if stated is None or not isinstance(stated.base.known, PercentLoad):
        return False
    return planned.changed is None or planned.changed.instead_of is None or carries_over(stated)


def _of_held(book: Book, held: Held) -> Iterator[TestWanted]:
    client = book.client_named.get(name_key(held.client))
    for flag in held.flags:
        exercise = _exercise_of(book, flag)
        if client is not None and exercise is not None and flag.slug in NO_TEST_SLUGS:
            yield _missing(book, client, exercise, flag.place)


def _exercise_of(book: Book, flag: Flag) -> Exercise | None:
    """Return the exercise of the row that a flag stands on."""
    if flag.place is None:
        return None
    where = RowRef(flag.place.sheet, flag.place.row)
    rows: tuple[ProgrammeRow | Change, ...] = (*book.programme, *book.changes)
    names = (row.exercise.known for row in rows if row.row == where)
    return book.exercise(next(names, None))


def _old(
    book: Book, client: Client, exercise: str | None, tested_on: date, cell: CellRef | None
) -> Iterator[TestWanted]:
    """Yield the test of a client that is used although it is past its good days."""
    start, good = _start(book, client), book.block.test_good_days.known
    if start is None or good is None or (start - tested_on).days <= good:
        return
    age = (start - tested_on).days
    yield TestWanted(client.name.known or "", exercise or "", Why.STALE, tested_on, age, start, cell)


def _missing(book: Book, client: Client, exercise: Exercise, cell: CellRef | None) -> TestWanted:
    """Return why a client has no maximum in an exercise: what became of the latest test of it, or of its lender."""
    start, used = _start(book, client), book.block.test_used_days.known
    lender = book.exercise(exercise.load_from.known)
    days = _tested(book, client, exercise) or (_tested(book, client, lender) if lender else [])
    last = max(days, default=None)
    age = (start - last).days if start and last else None
    why = Why.NO_TEST
    if last is not None:
        why = Why.TOO_OLD if age is not None and used is not None and age > used else Why.NO_MAXIMUM
    return TestWanted(client.name.known or "", exercise.name.known or "", why, last, age, start, cell)


def _start(book: Book, client: Client) -> date | None:
    return client.start_date.known or book.block.start_date.known


def _tested(book: Book, client: Client, exercise: Exercise) -> list[date]:
    """Return the days of a client's tests of an exercise that could give a maximum."""
    return [
        test.date.known
        for test in book.tests_of.get(name_key(client.name.known or ""), ())
        if test.date.known is not None
        and (test.source.known or "tested") in ONE_RM_SOURCES
        and name_key(test.exercise.known or "") == name_key(exercise.name.known or "")
    ]
