"""Books for the checks, from the tables that a test is about; row 1 is the header."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from compiler.binding.records import bind_book
from compiler.checks import Check
from compiler.model.book import Book
from tests.fragments import fragment_book

Found = list[tuple[str, str]]


def _book(text: str) -> Book:
    bound = bind_book(fragment_book(text))
    assert bound.book is not None, bound.flags
    return bound.book


@pytest.fixture
def book_of() -> Callable[[str], Book]:
    """Return the Book of some tables."""
    return _book


@pytest.fixture
def found() -> Callable[[Check, str], Found]:
    """Return what one check finds in a book, as (place, slug), sorted."""

    def find(check: Check, text: str) -> Found:
        flags = check(_book(text))
        return sorted((str(flag.place) if flag.place else flag.sheet_name or "", flag.slug) for flag in flags)

    return find
