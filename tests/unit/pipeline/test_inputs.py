"""Where what a client's pages are made from is the same, so are the pages; and one client's rows are no one else's."""

from __future__ import annotations

from dataclasses import replace
from random import Random

from compiler.documents.booklet import build_booklet
from compiler.documents.booklet_value import Booklet
from compiler.pipeline.check import check_source
from compiler.pipeline.inputs import Inputs, inputs_of
from compiler.source.cells import SourceBook
from tests.benchmarks.mutations import small_block, with_an_edit

OWN = ("Clients", "Tests", "History", "Log")
EDITS = 150


def made(source: SourceBook) -> tuple[Inputs | None, dict[str, Booklet]]:
    """Return the inputs of all clients, and the booklets of those who get one."""
    checked = check_source(source)
    if checked.book is None:
        return None, {}
    book = checked.book
    return inputs_of(book, checked.bad_rows), {plan.name: build_booklet(book, plan) for plan in checked.plans}


def test_the_same_inputs_make_the_same_booklet() -> None:
    """Whatever is typed where: random edits, most of them in rows that belong to somebody."""
    random = Random(11)  # noqa: S311 - edits need no secret
    start = small_block()
    inputs, booklets = made(start)
    assert inputs is not None
    alike = other = 0
    for number in range(EDITS):
        edited, what = with_an_edit(start, random, OWN if number % 4 else ())
        inputs_then, booklets_then = made(edited)
        for name in booklets.keys() & booklets_then.keys():
            assert inputs_then is not None
            if inputs.of(name) == inputs_then.of(name):
                alike += 1
                assert booklets[name] == booklets_then[name], f"{what}: the booklet of {name} is another one"
            else:
                other += booklets[name] != booklets_then[name]
    assert alike > EDITS
    assert other > EDITS / 4
