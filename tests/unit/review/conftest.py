"""Plans for the reviews, from the tables that a test is about; row 1 is the header."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from compiler.binding.records import bind_book
from compiler.checks import ALL_CHECKS, bad_rows
from compiler.flags.model import Flag
from compiler.model.book import Book
from compiler.pipeline.stops import stopped_by
from compiler.resolve.plan import Resolution, resolve_book
from compiler.review import Review
from tests.fragments import fragment_book

Planned = tuple[Book, Resolution]


def _planned(text: str) -> Planned:
    bound = bind_book(fragment_book(text))
    assert bound.book is not None, bound.flags
    found = tuple(flag for check in ALL_CHECKS for flag in check(bound.book))
    return bound.book, resolve_book(bound.book, bad_rows((*bound.flags, *found)), stopped_by(found))


@pytest.fixture
def planned() -> Callable[[str], Planned]:
    """Return the book of some tables, and its plans."""
    return _planned


@pytest.fixture
def reviewed() -> Callable[[Review, str], tuple[Flag, ...]]:
    """Return what one review finds in some tables."""
    return lambda review, text: tuple(review(*_planned(text)))
