"""The book, the plans and the flags -> the coach's summary as sheets: what there is, who is held, every load.

Nothing is computed here that the plans do not hold; rows are gathered and counted.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from compiler.documents.held import Held
from compiler.documents.neutral import Sheet
from compiler.documents.summary_demand import demand_sheet
from compiler.documents.summary_done import done_sheets
from compiler.documents.summary_flags import flags_sheet
from compiler.documents.summary_kit import ladders_of, loadable_sheet
from compiler.documents.summary_loads import loads_sheet
from compiler.documents.summary_overview import overview_sheet
from compiler.documents.summary_sessions import sessions_sheet
from compiler.documents.summary_tests import tests_sheet
from compiler.documents.summary_to_test import tests_wanted, to_test_sheet
from compiler.documents.summary_volume import volume_sheet
from compiler.flags.model import Flag
from compiler.model.book import Book
from compiler.resolve.values import ClientPlan
from compiler.review.kit_demand import Demand, kit_demand


@dataclass(frozen=True, slots=True)
class PlanSheets:
    """The sheets that no flag changes: they can be made while booklets are drawn that will give some."""

    of_loads: tuple[Sheet, ...]
    loadable: Sheet


def plan_sheets(book: Book, plans: tuple[ClientPlan, ...], demand: tuple[Demand, ...] | None = None) -> PlanSheets:
    """Return the sheets that the plans alone decide.

    `demand` is what these plans want of the kit, where it has been worked out already.
    """
    ladders = ladders_of(book)
    of_loads = (
        loads_sheet(book, plans, ladders),
        sessions_sheet(plans),
        volume_sheet(book, plans),
        *done_sheets(book, plans),
        demand_sheet(kit_demand(book, plans) if demand is None else demand),
    )
    return PlanSheets(of_loads, loadable_sheet(book, ladders))


def summarise(
    book: Book,
    plans: tuple[ClientPlan, ...],
    flags: tuple[Flag, ...],
    held: tuple[Held, ...],
    made: PlanSheets | None = None,
) -> tuple[Sheet, ...]:
    """Return the sheets of the summary workbook, in the order of its tabs.

    `made` are those of the plans, where they have been made already.
    """
    made = made or plan_sheets(book, plans)
    wanted = tests_wanted(book, plans, held)
    title, paper = book.block.title.known or "", book.block.paper.known or "A4"
    sheets = (
        overview_sheet(book, plans, flags, held, wanted),
        flags_sheet(flags),
        *made.of_loads,
        tests_sheet(book, plans, flags),
        to_test_sheet(wanted),
        made.loadable,
    )
    return tuple(replace(sheet, title=" – ".join(filter(None, (title, sheet.title))), paper=paper) for sheet in sheets)
