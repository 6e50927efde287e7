"""Near names for hints: few, sorted, and only when they are near."""

from __future__ import annotations

from collections.abc import Iterable

from rapidfuzz import fuzz, process

from compiler.folding import name_key

NEAR_ENOUGH = 72.0
"""Similarity of two folded names, out of 100, from which one is offered for the other; tuned on slips of typing."""


def nearest(name: str, known: Iterable[str], most: int = 3) -> tuple[str, ...]:
    """Return the known names nearest to a name, best first, none that is far."""
    choices = list(known)
    hits = process.extract(
        name_key(name),
        [name_key(choice) for choice in choices],
        scorer=fuzz.ratio,
        limit=most,
        score_cutoff=NEAR_ENOUGH,
    )
    return tuple(choices[index] for _, _, index in hits)


def offer(name: str, known: Iterable[str], where: str) -> str:
    """Return the hint for an unknown name: the near ones stated, or what to do without one."""
    near = nearest(name, known)
    if near:
        return f"{where} has {' and '.join(near)}."
    return f"Add it to {where}, or correct the spelling."
