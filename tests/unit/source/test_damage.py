"""Damaged workbooks are read or refused, never an exception; `python -m tests.damage 600` tries more."""

from __future__ import annotations

from random import Random

import pytest

from tests.damage import DAMAGED, damaged, sources, wrong

KEPT = sorted(DAMAGED.glob("*.xlsx"))


@pytest.mark.parametrize("number", range(8))
def test_random_damage(number: int) -> None:
    """Odd workbooks with damage of every kind, the same at every run."""
    random = Random(number)  # noqa: S311 - damage needs no secret
    books = sources()[1:]
    for _ in range(40):
        assert wrong(damaged(random.choice(books), random)) == ""


@pytest.mark.parametrize("name", [path.name for path in KEPT])
def test_damage_found_before(name: str) -> None:
    """What once made an exception does so no more."""
    assert wrong((DAMAGED / name).read_bytes()) == ""
