"""Benchmarks of resolving: loads against bare arithmetic, stacks of plates against a full search."""

from __future__ import annotations

import gc
from collections.abc import Iterable, Iterator, Sequence
from decimal import Decimal
from functools import partial
from random import Random

from compiler.cellref import CellRef
from compiler.cli import SEARCHES
from compiler.model.book import Book
from compiler.model.kit import Bar, Stock
from compiler.notation.values import PercentLoad, Size
from compiler.pipeline.check import check_source
from compiler.quantities import Load, Unit
from compiler.resolve.asked import Asked
from compiler.resolve.context import index_book, view_client
from compiler.resolve.loads import plan_load
from compiler.resolve.plan import resolve_book
from compiler.resolve.plate_sums import plate_sums
from compiler.resolve.plates import BarbellLoader
from compiler.resolve.values import ClientPlan, PlannedExercise, PlannedLoad
from tests.benchmarks.measures import Row, in_turn, seconds
from tests.benchmarks.workbooks import block_source

_MILLIONTH = Decimal("0.000001")
_PLACE = CellRef("Kit", 2, 4)
_RACK = (("1.25", 4), ("2.5", 4), ("5", 4), ("10", 3), ("15", 2), ("20", 4), ("25", 4))
_RAMP = ("0.5", "0.7", "0.85")
_SETS = ("0.9", "0.95", "1", "1")


def load_rows(clients: int, rounds: int) -> Iterator[Row]:
    """Compare loads with their trace with a loop that multiplies and quantises; then whole plans with the same.

    A load is what one client is asked to lift in one row and week: each item of a list and each end of a range counts,
    sets alike count once. It is made from the cell to the trace. What is the same for many loads is known by then, as
    the loop knows its maxima: those of the client, the ladder and the stacks of plates of the site. In whole plans
    nothing is known beforehand, and every line that has no load counts against them.
    """
    checked = check_source(block_source(clients))
    if checked.book is None:
        raise RuntimeError("the benchmark's workbook has lost a sheet")
    book, asked = checked.book, _asked(checked.book, checked.plans)
    number = sum(map(_loads, [plan_load(one).load for one in asked]))  # works out what the loads have in common
    lines = [done.load for plan in checked.plans for done in _done(plan)]
    in_all = sum(map(_loads, lines))
    maxima = [Decimal(80 + number % 90) for number in range(number)]
    usual = gc.get_threshold()
    gc.set_threshold(*SEARCHES)  # as the program runs
    ours, whole, bare = in_turn(
        [
            partial(seconds, lambda: [plan_load(one) for one in asked]),
            partial(seconds, lambda: resolve_book(book)),
            partial(seconds, lambda: [_times(maximum, Decimal("77.5")) for maximum in maxima]),
        ],
        rounds,
    )
    gc.set_threshold(*usual)
    what = "loads by percentage with trace, from the cell on, against as many multiplied and quantised by a bare loop"
    yield Row("loads", what, ours / bare, 12, detail=f"{number / ours:.0f} loads a second")
    what = f"whole plans of {clients} clients with {in_all} loads, nothing known beforehand, against the same loop"
    detail = f"{in_all / whole:.0f} loads and {len(lines) / whole:.0f} lines a second"
    yield Row("plans", what, whole / in_all / (bare / number), None, detail=detail)


def _loads(load: PlannedLoad) -> int:
    return sum(1 if item.low is item.high else 2 for item in load.items)


def _done(plan: ClientPlan) -> Iterator[PlannedExercise]:
    return (done for session in plan.sessions for part in session.parts.values() for done in part)


def _times(maximum: Decimal, percent: Decimal) -> Decimal:
    return (maximum * percent / 100).quantize(_MILLIONTH)


def _asked(book: Book, plans: Iterable[ClientPlan]) -> list[Asked]:
    """Return everything that is loaded by a percentage, for every client and session."""
    index = index_book(book, ())
    asked = []
    for plan in plans:
        view = view_client(index, plan.client)
        for done in _done(plan):
            week = book.weeks_of[done.row.row][done.week]
            if week is not None and week.load and isinstance(week.load.base.value, PercentLoad):
                asked.append(Asked(view, done.exercise, week, done.reps))
    return asked


def stack_rows(exercises: int, rounds: int) -> Iterator[Row]:
    """Compare the stacks of ramp and sets with a search through all stacks of every load.

    Both work out equal runs once; ours starts anew each time, from the sums that its plates make.
    """
    sizes = tuple(Size(Decimal(size), count) for size, count in _RACK)
    bar = Bar("bar", Load(Decimal(20), Unit.KG), None, _PLACE)
    plates = Stock(Unit.KG, sizes, (_PLACE,))
    random = Random(1)  # noqa: S311 - invented loads, no secret
    runs = [_run(Decimal(random.randrange(60, 180))) for _ in range(exercises)]
    counted = [(Decimal(size), count) for size, count in reversed(_RACK)]

    def ours() -> None:
        plate_sums.cache_clear()
        loader = BarbellLoader(bar, plates, None)
        for run in runs:
            loader.lay_out_sets([Load(total, Unit.KG) for total in run])

    def searched() -> None:
        for run in dict.fromkeys(map(tuple, runs)):
            _search([_stacks(counted, (total - 20) / 2) for total in run])

    taken, full = in_turn([partial(seconds, ours), partial(seconds, searched)], rounds)
    what = f"stacks of plates for {exercises} exercises (ramp and four sets) against a full search"
    yield Row("stacks", what, taken / full, 0.1)


def _run(heaviest: Decimal) -> list[Decimal]:
    """Return the loads of a ramp and its sets, each one that the rack has."""
    step = Decimal("2.5")
    wanted = (heaviest * Decimal(share) for share in (*_RAMP, *_SETS))
    return [max(Decimal(20), (load / step).to_integral_value() * step) for load in wanted]


def _stacks(counted: Sequence[tuple[Decimal, int]], side: Decimal) -> list[tuple[Decimal, ...]]:
    """Return every stack, largest plate first, that weighs so much."""
    if not counted:
        return [()] if side == 0 else []
    (size, count), smaller = counted[0], counted[1:]
    copies = range(min(count, int(side // size)) + 1)
    return [(size,) * n + rest for n in copies for rest in _stacks(smaller, side - n * size)]


def _search(choices: Sequence[Sequence[tuple[Decimal, ...]]]) -> int:
    """Return the fewest plates moved through one stack of each load, by trying every pair of neighbours."""
    costs: dict[tuple[Decimal, ...], int] = {(): 0}
    for stacks in (*choices, [()]):
        costs = {stack: min(cost + _moved(before, stack) for before, cost in costs.items()) for stack in stacks}
    return costs[()]


def _moved(one: tuple[Decimal, ...], other: tuple[Decimal, ...]) -> int:
    same = next((place for place, pair in enumerate(zip(one, other, strict=False)) if pair[0] != pair[1]), None)
    common = min(len(one), len(other)) if same is None else same
    return len(one) + len(other) - 2 * common
