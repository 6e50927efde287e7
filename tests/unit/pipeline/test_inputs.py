"""Where what pages are made from is the same, so are the pages: of a client, and of a group in its room."""

from __future__ import annotations

from random import Random

from compiler.documents.booklet import build_booklet
from compiler.documents.room_sheet import build_room_sheets
from compiler.pipeline.check import check_source
from compiler.pipeline.compile import held_clients
from compiler.pipeline.inputs import inputs_of
from compiler.source.cells import SourceBook
from tests.benchmarks.mutations import small_block, with_an_edit

OWN = ("Clients", "Tests", "History", "Log")
EDITS = 60


def made(source: SourceBook) -> tuple[dict[str, object], dict[str, object]]:
    """Return what everybody's booklet and every group's sheets are made from, and what is made."""
    checked = check_source(source)
    book, plans = checked.book, checked.plans
    if book is None or not plans:
        return {}, {}
    inputs = inputs_of(book, checked.bad_rows)
    held = held_clients(book, checked.flags, checked.clients)
    made_from: dict[str, object] = {plan.name: inputs.of(plan.name) for plan in plans}
    found: dict[str, object] = {plan.name: build_booklet(book, plan) for plan in plans}
    groups = inputs.of_groups(book, plans, held)
    sheets = build_room_sheets(book, plans, held).sheets
    made_from |= {f"group {group}": of_group for group, of_group in groups.items()}
    found |= {f"group {group}": [sheet for sheet in sheets if sheet.group == group] for group in groups}
    return made_from, found


def test_the_same_inputs_make_the_same_pages() -> None:
    """Whatever is typed where: random edits, most of them in rows that belong to somebody."""
    random = Random(11)  # noqa: S311 - edits need no secret
    start = small_block()
    inputs, pages = made(start)
    alike = other = 0
    for number in range(EDITS):
        edited, what = with_an_edit(start, random, OWN if number % 4 else ())
        inputs_then, pages_then = made(edited)
        for name in pages.keys() & pages_then.keys():
            if inputs[name] == inputs_then[name]:
                alike += 1
                assert pages[name] == pages_then[name], f"{what}: {name} has other pages"
            else:
                other += pages[name] != pages_then[name]
    assert alike > EDITS
    assert other > EDITS / 4
