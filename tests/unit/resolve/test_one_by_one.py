"""What is worked out once for all clients is right for each of them: alone in the book they get the same plan.

The example book has restrictions, sites that lack kit, other units, changes, tests of many kinds and none; the other is
full of mistakes. The law needs no source.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest

from compiler.binding.records import bind_book
from compiler.checks import bad_rows, check_book
from compiler.demo.workbooks import WINTER_BLOCK, WITH_MISTAKES, demo_source
from compiler.model.book import Book
from compiler.resolve.plan import Resolution, resolve_book


@pytest.fixture(params=[WINTER_BLOCK, WITH_MISTAKES], scope="module")
def resolve(request: pytest.FixtureRequest) -> tuple[Book, Callable[[Book], Resolution]]:
    """Return a book, and what resolves it with other clients."""
    book = bind_book(demo_source(request.param)).book
    assert book is not None
    bad = bad_rows(check_book(book))
    return book, lambda of: resolve_book(of, bad)


Resolved = tuple[Book, Callable[[Book], Resolution]]


def test_alone_as_among_others(resolve: Resolved) -> None:
    """Plan, flags and stops of each client are those of a book in which there is nobody else."""
    book, resolved = resolve
    together = resolved(book)
    alone = [resolved(replace(book, clients=(client,))) for client in book.clients]
    assert together.plans == tuple(plan for one in alone for plan in one.plans)
    assert together.flags == tuple(flag for one in alone for flag in one.flags)
    assert together.stops == tuple(dict.fromkeys(stop for one in alone for stop in one.stops))
    assert len(alone) > 1


def test_whoever_comes_first(resolve: Resolved) -> None:
    """From the last client to the first it is the same plans."""
    book, resolved = resolve
    backwards = resolved(replace(book, clients=book.clients[::-1]))
    assert resolved(book).plans == backwards.plans[::-1]
