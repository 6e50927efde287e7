"""The Volume sheet of the summary: volume load and sets by muscle, week by week.

First the mean of each programme's clients, then everybody. How volume is counted: see `review.volume`.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from decimal import Decimal
from itertools import pairwise

from compiler.documents.neutral import (
    HEADINGS_ROW,
    Cell,
    Chart,
    ChartKind,
    ColumnKind,
    Heading,
    Series,
    Sheet,
    across,
    down,
)
from compiler.folding import name_key
from compiler.frozen import frozen
from compiler.model.book import Book
from compiler.quantities import Load, Unit
from compiler.resolve.values import ClientPlan
from compiler.review.volume import Volumes, WeekVolume

HEADINGS = (
    Heading("Client", width=30),
    Heading("Programme", width=18),
    Heading("Week", ColumnKind.WHOLE, width=7),
    Heading("Volume load", ColumnKind.AMOUNT, width=13, decimals=0),
    Heading("Lines of unknown weight", ColumnKind.AMOUNT, width=11, decimals=1),
)
WEEK, LOAD, FIRST_MUSCLE = 2, 3, 5

MOST_PROGRAMMES = 6
MOST_CLIENTS = 12
CHARTS_NOTE = (
    f"Means of the first {MOST_PROGRAMMES} programmes; then the clients whose volume load changes most from one week"
    f" to the next, {MOST_CLIENTS} at most. Muscles under Also works count half a set."
)


NONE = Decimal(0)


@frozen
class _Week:
    """One week: sets by muscle under folded names, `unknown` lines whose weight is not known beforehand."""

    number: int
    load: Load
    unknown: Decimal
    sets: dict[str, Decimal]


@frozen
class _Block:
    """The weeks of one client, or the mean of a programme's clients, and the rows they take."""

    name: str
    programme: str
    weeks: tuple[_Week, ...]
    rows: range

    @property
    def biggest_change(self) -> Decimal:
        """By how much of itself the volume load changes from one week to the next, at most."""
        loads = pairwise(week.load.amount for week in self.weeks)
        return max((abs(now - before) / max(now, before) for before, now in loads if now or before), default=NONE)


def volume_sheet(book: Book, plans: Iterable[ClientPlan], of_client: Volumes) -> Sheet:
    """Return the sheet: a row a week, a column a muscle."""
    unit = book.block.kit_unit
    volumes = [(plan, of_client[plan.client.row.row]) for plan in plans]
    muscles: dict[str, str] = {}
    for _, weeks in volumes:
        for muscle, _ in (found for week in weeks for found in week.sets):
            muscles.setdefault(name_key(muscle), muscle)
    means, clients = _blocks(volumes, unit)
    rows = tuple(_row(block, week, muscles) for block in (*means, *clients) for week in block.weeks)
    charts = (*_charts_of_means(means[:MOST_PROGRAMMES], len(muscles)), *_charts_of_clients(clients))
    return Sheet(
        "Volume",
        "Volume by week",
        (*HEADINGS, *(Heading(muscle, ColumnKind.AMOUNT, width=11, decimals=1) for muscle in muscles.values())),
        rows,
        frozen=1,
        charts=charts,
        charts_note=CHARTS_NOTE if charts else "",
    )


def _blocks(
    volumes: Sequence[tuple[ClientPlan, tuple[WeekVolume, ...]]], unit: Unit
) -> tuple[list[_Block], list[_Block]]:
    """Return the means of the programmes and the clients, with their rows one after the other."""
    programmes: dict[str, list[tuple[ClientPlan, tuple[WeekVolume, ...]]]] = {}
    for plan, weeks in volumes:
        programmes.setdefault(name_key(plan.client.programme.known or ""), []).append((plan, weeks))
    made: list[tuple[str, str, tuple[_Week, ...]]] = []
    for found in programmes.values():
        programme = found[0][0].client.programme.known or ""
        made.append((f"Mean of {len(found)}: {programme}", programme, _mean([weeks for _, weeks in found], unit)))
    number_of_means = len(made)
    for plan, weeks in volumes:
        own = tuple(_Week(week.week, week.load, Decimal(week.unknown), _by_key(week)) for week in weeks)
        made.append((plan.name, plan.client.programme.known or "", own))
    blocks: list[_Block] = []
    start = 0
    for name, programme, those in made:
        blocks.append(_Block(name, programme, those, range(start, start + len(those))))
        start += len(those)
    return blocks[:number_of_means], blocks[number_of_means:]


def _by_key(week: WeekVolume) -> dict[str, Decimal]:
    return {name_key(muscle): sets for muscle, sets in week.sets}


def _mean(clients: Sequence[tuple[WeekVolume, ...]], unit: Unit) -> tuple[_Week, ...]:
    """Return the mean of the clients who train in each week."""
    numbers = sorted({week.week for weeks in clients for week in weeks})
    found = []
    for number in numbers:
        trained = [week for weeks in clients for week in weeks if week.week == number]
        count = Decimal(len(trained))
        sums: dict[str, Decimal] = {}
        for week in trained:
            for key, sets in _by_key(week).items():
                sums[key] = sums.get(key, NONE) + sets
        load = Load(sum((week.load.amount for week in trained), NONE) / count, unit)
        unknown = Decimal(sum(week.unknown for week in trained)) / count
        found.append(_Week(number, load, unknown, {key: total / count for key, total in sums.items()}))
    return tuple(found)


def _row(block: _Block, week: _Week, muscles: Iterable[str]) -> tuple[Cell, ...]:
    shown = (block.name, block.programme, week.number, week.load, week.unknown)
    return (*shown, *(week.sets.get(key) for key in muscles))


def _charts_of_means(means: Iterable[_Block], muscles: int) -> Iterator[Chart]:
    columns = range(FIRST_MUSCLE, FIRST_MUSCLE + muscles)
    for block in means:
        names = across(HEADINGS_ROW, columns)
        series = tuple(
            Series(f"Week {week.number}", names, across(row, columns))
            for row, week in zip(block.rows, block.weeks, strict=True)
        )
        if series and muscles:
            yield Chart(f"Sets a week by muscle – {block.name}", ChartKind.COLUMNS, series, "sets")
        yield from _load_chart(block)


def _charts_of_clients(clients: Sequence[_Block]) -> Iterator[Chart]:
    chosen = sorted(clients, key=lambda block: -block.biggest_change)[:MOST_CLIENTS]
    for block in sorted(chosen, key=lambda block: block.rows.start):
        yield from _load_chart(block)


def _load_chart(block: _Block) -> Iterator[Chart]:
    if block.weeks:
        series = Series(block.name, down(WEEK, block.rows), down(LOAD, block.rows))
        unit = block.weeks[0].load.unit
        yield Chart(f"Volume load – {block.name}", ChartKind.COLUMNS, (series,), str(unit), "week")
