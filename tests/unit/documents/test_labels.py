"""What stands on a cover in place of a name: no two alike."""

from __future__ import annotations

import pytest

from compiler.binding.records import bind_book
from compiler.documents.labels import labels
from tests.fragments import fragment_book


@pytest.mark.parametrize(
    ("names", "expected"),
    [
        (["Imogen Thackray", "Ida Tern", "Ivo Tull"], ["IT", "IT 2", "IT 3"]),
        (["Imogen Thackray", "Mabel Stannard", "Ida Tern"], ["IT", "MS", "IT 2"]),
    ],
)
def test_the_same_initials_are_numbered_in_the_order_of_the_sheet(names: list[str], expected: list[str]) -> None:
    """Whoever hands booklets out must not give one to the wrong client."""
    text = "## Clients\n| Client | Programme |\n" + "".join(f"| {name} | S |\n" for name in names)
    book = bind_book(fragment_book(text)).book
    assert book is not None
    assert labels(book.clients) == dict(zip(names, expected, strict=True))
