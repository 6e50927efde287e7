"""The Kit demand sheet of the summary: what each group wants at once against what its site owns, shortages first."""

from __future__ import annotations

from collections.abc import Iterable

from compiler.documents.neutral import Cell, ColumnKind, Heading, Sheet
from compiler.quantities import Load, plain
from compiler.review.kit_demand import Demand

HEADINGS = (
    Heading("Group", width=20),
    Heading("Programme", width=18),
    Heading("Session", width=24),
    Heading("Week", ColumnKind.WHOLE, width=7),
    Heading("Site", width=14),
    Heading("Item", width=20),
    Heading("Size", ColumnKind.AMOUNT, width=10),
    Heading("Wanted at once", ColumnKind.WHOLE, width=10),
    Heading("Owned", ColumnKind.WHOLE, width=9),
    Heading("Lacking", ColumnKind.WHOLE, width=9),
    Heading("Exercises", width=34),
    Heading("Wanted by", width=44),
    Heading("Could change size", width=34),
)


def demand_sheet(demands: Iterable[Demand]) -> Sheet:
    """Return the sheet: one row a group, session and item, of the week that wants most of it."""
    found = sorted(demands, key=lambda demand: -demand.short)
    title = "Kit wanted at once (single pieces, two a pair)"
    return Sheet("Kit demand", title, HEADINGS, tuple(map(_row, found)), frozen=1)


def _row(demand: Demand) -> tuple[Cell, ...]:
    item = demand.item
    return (
        demand.group,
        demand.programme,
        demand.session,
        demand.week,
        demand.site,
        item.name,
        Load(item.size, item.unit) if item.size is not None and item.unit is not None else None,
        demand.wanted,
        demand.owned if demand.owned is not None else "enough",
        demand.short or None,
        ", ".join(demand.exercises),
        ", ".join(demand.users),
        ", ".join(
            f"{shift.client} ({plain(shift.to.size)} {shift.to.unit})"
            for shift in demand.shifts
            if shift.to.size is not None
        )
        or None,
    )
