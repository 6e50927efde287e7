"""The checking half, in order: cells, records, checks, plans, reviews; and every flag, each with whom it stops."""

from __future__ import annotations

from dataclasses import field
from pathlib import Path

from compiler.binding.records import Bound, bind_book, wants_sheet
from compiler.cellref import RowRef
from compiler.checks import bad_rows, check_book
from compiler.flags.model import Flag, sort_flags
from compiler.frozen import frozen
from compiler.model.book import Book
from compiler.pipeline.merge import told_once
from compiler.pipeline.stops import stopped_by, with_stops
from compiler.resolve.plan import Resolution, resolve_book
from compiler.resolve.values import ClientPlan
from compiler.review import review_book
from compiler.review.kit_demand import Demand
from compiler.review.volume import Volumes
from compiler.schema.sheets import SHEET_ORDER
from compiler.source.cells import SourceBook
from compiler.source.xlsx import read_file, read_workbook_bytes


@frozen
class Checked:
    """What is known of a workbook: the book (None where a sheet is missing), the plans that stand, every flag.

    `demand` is what these plans want of the kit; None where it was worked out with others that no longer stand.
    `volumes` holds the volume of every plan. `bad_rows` carry an error that was found before there were plans.
    """

    name: str
    book: Book | None
    plans: tuple[ClientPlan, ...]
    flags: tuple[Flag, ...]
    demand: tuple[Demand, ...] | None = None
    volumes: Volumes = field(default_factory=dict)
    bad_rows: frozenset[RowRef] = frozenset()

    @property
    def clients(self) -> tuple[str, ...]:
        """The names of those who have a plan."""
        return tuple(plan.name for plan in self.plans)


def check_workbook(workbook: Path) -> Checked:
    """Read and check a workbook. Raises `UnreadableWorkbook` where the file cannot be read as one."""
    return check_bytes(read_file(workbook), workbook.name)


def check_bytes(data: bytes, name: str) -> Checked:
    """Check a workbook that has been read already; `name` is what messages call it."""
    return check_bound(read_book(data, name), name)


def check_source(source: SourceBook) -> Checked:
    """Return everything that is known of a workbook as written."""
    return check_bound(bind_book(source), source.name)


def read_book(data: bytes, name: str) -> Bound:
    """Return the records of a workbook that has been read already. Raises `UnreadableWorkbook`."""
    return bind_book(read_workbook_bytes(data, name, wants_sheet))


def check_bound(bound: Bound, name: str) -> Checked:
    """Return everything that is known of a workbook whose records are known."""
    if bound.book is None:
        return Checked(name, None, (), sort_flags(bound.flags, SHEET_ORDER))
    book = bound.book
    found = check_book(book)
    bad = bad_rows(found)
    resolution = resolve_book(book, bad, stopped_by(found))
    reviewed = review_book(book, resolution)
    flags = with_stops((*bound.flags, *found, *resolution.flags, *reviewed.flags), resolution.stops)
    plans = _standing(resolution, flags)
    demand = reviewed.demand if len(plans) == len(resolution.plans) else None
    return Checked(name, book, plans, sort_flags(told_once(flags), SHEET_ORDER), demand, reviewed.volumes, bad)


def _standing(resolution: Resolution, flags: tuple[Flag, ...]) -> tuple[ClientPlan, ...]:
    held = stopped_by(flags)
    return tuple(plan for plan in resolution.plans if plan.name not in held)
