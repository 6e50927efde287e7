"""Damaged workbooks are read or refused, never an exception; `python -m tests.damage 600` tries more."""

from __future__ import annotations

from random import Random

import pytest

from tests.damage import damaged, sources, wrong


@pytest.mark.parametrize("number", range(8))
def test_random_damage(number: int) -> None:
    """Odd workbooks with damage of every kind, the same at every run."""
    random = Random(number)  # noqa: S311 - damage needs no secret
    books = sources()[1:]
    for _ in range(40):
        assert wrong(damaged(random.choice(books), random)) == ""
