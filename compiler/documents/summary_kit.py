"""The Loadable weights sheet of the summary: what each site can load, to be read and as lists for the formulas.

The weights stand line by line, which is what is printed, and to the right of that as sorted lists.

Beside each list stand the marks half way to the next weight: how many of them an exact load is above is how many
weights it passes, to the nearest, so that one half way stays below.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from itertools import pairwise

from compiler.documents.neutral import HEADINGS_ROW, Cell, Cells, ColumnKind, Heading, NamedList, Sheet
from compiler.folding import name_key
from compiler.frozen import frozen
from compiler.model.book import Book
from compiler.model.kit import Bar, SiteKit, Stock
from compiler.model.records import Exercise
from compiler.quantities import Load, Percent
from compiler.resolve.context import DEFAULT_STEPS
from compiler.resolve.plates import BarbellLoader
from compiler.resolve.racks import loader_of, sizes_or_bar
from compiler.resolve.rep_table import HANDBOOK
from compiler.schema.implements import TAKEN

STEP = "Block_step"
TABLE_REPS, TABLE_PERCENT, TABLE_CHANGE = "Table_reps", "Table_percent", "Table_change"
LONGEST_NAME = 60
ON_A_LINE = 16
"""Weights on a line of the page that is printed; the figures are then still as large as on the other sheets."""
_TWO = Decimal(2)
_HUNDRED = Decimal(100)


@frozen
class Ladder:
    """The loads of one kind of kit at one site, ascending, and the names of the list and of its half-way marks."""

    name: str
    title: str
    loads: tuple[Load, ...]

    @property
    def half_ways(self) -> str:
        """The name of the list of half-way marks."""
        return f"{self.name}_half"


@frozen
class Ladders:
    """The ladders of all sites, found by the site and what is loaded there."""

    by_what: dict[tuple[str, Bar | Stock | None], Ladder]
    kits: dict[str, SiteKit]

    def of(self, site: str | None, exercise: Exercise, bar: Bar | None) -> Ladder | None:
        """Return the ladder that an exercise was rounded to; None where it was the Block's step."""
        kit = self.kits.get(name_key(site)) if site else None
        found = sizes_or_bar(kit, exercise, bar)
        if kit is None or found is None:
            return None
        what = found.bar if isinstance(found, BarbellLoader) else found
        return self.by_what[name_key(kit.site), what]


def ladders_of(book: Book) -> Ladders:
    """Return what every site can load. A landmine has a ladder where an exercise of the book uses one."""
    used: set[str] = set()
    landmine = any(exercise.implement.known == "landmine" for exercise in book.exercises)
    by_what: dict[tuple[str, Bar | Stock | None], Ladder] = {}
    for site, kit in book.kits.items():
        for words, what in _owned(kit, landmine=landmine):
            if (site, what) in by_what:
                continue
            title = f"{kit.site}: {words}"
            by_what[site, what] = Ladder(_name(title, used), title, _loads(kit, what))
    return Ladders(by_what, book.kits)


def _owned(kit: SiteKit, *, landmine: bool) -> Iterator[tuple[str, Bar | Stock | None]]:
    """Yield what a site can load, and in what words; None is the landmine."""
    yield from ((bar.name, bar) for bar in kit.bars)
    if landmine and kit.plates is not None:
        yield "landmine", None
    yield from ((kind.several, stock) for kind in TAKEN if (stock := kit.sizes(kind.name)) is not None)
    yield from ((stack.name, stack.stock) for stack in kit.stacks)


def _loads(kit: SiteKit, what: Bar | Stock | None) -> tuple[Load, ...]:
    if isinstance(what, Stock):
        return tuple(Load(size.amount, what.unit) for size in what.sizes)
    return loader_of(kit, what).ladder.loads


def _name(title: str, used: set[str]) -> str:
    """Return a name that every spreadsheet program takes, not used before: plain letters, digits and _ alone."""
    plain = unicodedata.normalize("NFKD", title).encode("ascii", "ignore").decode()
    stem = f"Weights_{re.sub(r'[^A-Za-z0-9]+', '_', plain).strip('_')}"[:LONGEST_NAME].rstrip("_")
    name, number = stem, 1
    while name.casefold() in used:
        number += 1
        name = f"{stem}_{number}"
    used.add(name.casefold())
    return name


# ---------------------------------------------------------------- the sheet


@dataclass
class _Columns:
    """Lists side by side, gathered one by one."""

    headings: list[Heading] = field(default_factory=list)
    cells: list[Sequence[Cell]] = field(default_factory=list)
    names: list[NamedList] = field(default_factory=list)

    def add(self, name: str, heading: Heading, cells: Sequence[Cell]) -> None:
        """Add a list; an empty one has a heading and no name."""
        if cells:
            self.names.append(NamedList(name, len(self.headings), range(len(cells))))
        self.show(heading, cells)

    def show(self, heading: Heading, cells: Sequence[Cell]) -> None:
        """Add a column that no formula looks in."""
        self.headings.append(heading)
        self.cells.append(cells)


def loadable_sheet(book: Book, ladders: Ladders) -> Sheet:
    """Return the sheet: the weights line by line, then the lists.

    A list and its half-way marks for each ladder, the Block's step, the handbook's table.
    """
    columns = _Columns()
    printed = _add_lines(columns, ladders)
    for ladder in ladders.by_what.values():
        columns.add(ladder.name, Heading(ladder.title, ColumnKind.AMOUNT, width=16), ladder.loads)
        columns.add(
            ladder.half_ways, Heading("half way to the next", ColumnKind.AMOUNT, width=11), _half_ways(ladder.loads)
        )
    columns.add(STEP, Heading("Step where there is no kit", ColumnKind.AMOUNT, width=14), _step(book))
    _add_table(columns)
    height = max(map(len, columns.cells))
    rows = tuple(
        tuple(cells[number] if number < len(cells) else None for cells in columns.cells) for number in range(height)
    )
    return Sheet(
        "Loadable weights",
        "Loadable weights of each site",
        tuple(columns.headings),
        rows,
        filtered=False,
        names=tuple(columns.names),
        printed=printed,
    )


def _add_lines(columns: _Columns, ladders: Ladders) -> Cells | None:
    """Add the weights of each ladder, so many on a line, and a column to keep them apart from the lists."""
    lines: list[tuple[str, tuple[Load, ...]]] = []
    for ladder in ladders.by_what.values():
        starts = range(0, len(ladder.loads), ON_A_LINE)
        lines += [(ladder.title, ladder.loads[start : start + ON_A_LINE]) for start in starts]
    if not lines:
        return None
    columns.show(Heading("Site and kit", width=28), [title for title, _ in lines])
    for place in range(ON_A_LINE):
        heading = Heading("" if place else "Weights", ColumnKind.AMOUNT, width=9)
        columns.show(heading, [loads[place] if place < len(loads) else None for _, loads in lines])
    columns.show(Heading("", width=4), ())
    return Cells(range(HEADINGS_ROW, len(lines)), range(ON_A_LINE + 1))


def _half_ways(loads: Iterable[Load]) -> tuple[Load, ...]:
    return tuple(Load((low.amount + high.amount) / _TWO, low.unit) for low, high in pairwise(loads))


def _step(book: Book) -> tuple[Load, ...]:
    """Return the Block's step, as the rounding reads it; nothing where the cell was not understood."""
    if book.block.unit.known is None or book.block.step.failed:
        return ()
    unit, typed = book.block.kit_unit, book.block.step.known
    return (DEFAULT_STEPS[unit] if typed is None else Load(typed.amount, typed.unit or unit),)


def _add_table(columns: _Columns) -> None:
    """Add the handbook's table, with what each row loses a repetition until the next: for repetitions between rows."""
    rows = HANDBOOK.rows
    changes = [
        (next_percent - percent) / (next_reps - reps) / _HUNDRED
        for (reps, percent), (next_reps, next_percent) in pairwise(rows)
    ]
    columns.add(
        TABLE_REPS, Heading("Handbook table: reps to failure", ColumnKind.AMOUNT, width=15), [reps for reps, _ in rows]
    )
    columns.add(
        TABLE_PERCENT,
        Heading("Handbook table: share of 1RM", ColumnKind.PERCENT, width=15),
        [Percent(percent) for _, percent in rows],
    )
    columns.add(
        TABLE_CHANGE,
        Heading("Handbook table: change a rep", ColumnKind.AMOUNT, width=15, decimals=4),
        [*changes, Decimal(0)],
    )
