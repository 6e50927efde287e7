"""The book, the plans and the flags -> the coach's summary as sheets: what there is, who is held, every load.

Nothing is computed here that the plans do not hold; rows are gathered and counted.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from itertools import chain

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
from compiler.frozen import frozen
from compiler.model.book import Book
from compiler.resolve.values import ClientPlan
from compiler.review.kit_demand import Demand, kit_demand
from compiler.review.volume import Volumes, volumes_of


def plan_sheets(
    book: Book,
    plans: tuple[ClientPlan, ...],
    demand: tuple[Demand, ...] | None = None,
    volumes: Volumes | None = None,
) -> Iterator[Sheet]:
    """Yield the sheets that the plans alone decide: they can be made while booklets are drawn that will give flags.

    `demand` is what these plans want of the kit, `volumes` their volume, where it has been worked out already.
    """
    yield loads_sheet(book, plans, ladders_of(book))
    yield sessions_sheet(plans)
    yield volume_sheet(book, plans, volumes_of(plans, book.block.kit_unit) if volumes is None else volumes)
    yield from done_sheets(book, plans)
    yield demand_sheet(kit_demand(book, plans) if demand is None else demand)


@frozen
class OtherSheets:
    """All sheets but those of the plans, and what every sheet says at its head and is printed on."""

    title: str
    paper: str
    overview: Sheet
    flags: Sheet
    tests: Sheet
    to_test: Sheet
    loadable: Sheet


def other_sheets(
    book: Book, plans: tuple[ClientPlan, ...], flags: tuple[Flag, ...], held: tuple[Held, ...]
) -> OtherSheets:
    """Return the sheets that tell of flags, of who is held, of tests, and of what each site can load."""
    wanted = tests_wanted(book, plans, held)
    return OtherSheets(
        title=book.block.title.known or "",
        paper=book.block.paper.known or "A4",
        overview=overview_sheet(book, plans, flags, held, wanted),
        flags=flags_sheet(flags),
        tests=tests_sheet(book, plans, flags),
        to_test=to_test_sheet(wanted),
        loadable=loadable_sheet(book, ladders_of(book)),
    )


def in_order(others: OtherSheets, of_plans: Iterable[Sheet]) -> Iterator[Sheet]:
    """Yield all sheets in the order of their tabs, with the head and the paper of the block; none is kept."""
    last = others.tests, others.to_test, others.loadable
    for sheet in chain((others.overview, others.flags), of_plans, last):
        title = " – ".join(filter(None, (others.title, sheet.title)))
        yield replace(sheet, title=title, paper=others.paper)
