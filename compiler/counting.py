"""How many there are of something, in words for people."""

from __future__ import annotations

from collections.abc import Sequence


def counted(number: int, what: str) -> str:
    """Return how many there are of a thing, in words: 1 session, 3 sessions."""
    return f"{number} {what}" if number == 1 else f"{number} {what}s"


def first_of(texts: Sequence[str], most: int) -> str:
    """Return texts with commas, and of more than `most` how many are left out: Ana, Ben and 3 more."""
    left = f" and {len(texts) - most} more" if len(texts) > most else ""
    return f"{', '.join(texts[:most])}{left}"
