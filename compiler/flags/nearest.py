"""Near names for hints: few, sorted, and only when they are near."""

from __future__ import annotations

from collections.abc import Iterable

from rapidfuzz import fuzz, process
from rapidfuzz.distance import OSA

from compiler.folding import name_key

NEAR_ENOUGH = 72.0
"""Similarity of two folded names, out of 100, from which one is offered for the other; tuned on slips of typing."""


LONG = 8
"""From this many letters on a name may have two slips and still be recognised."""


def nearest(name: str, known: Iterable[str], most: int = 3) -> tuple[str, ...]:
    """Return the known names near a name, nearest first; none where all are far off."""
    choices = list(known)
    hits = process.extract(
        name_key(name),
        [name_key(choice) for choice in choices],
        scorer=fuzz.ratio,
        limit=most,
        score_cutoff=NEAR_ENOUGH,
    )
    return tuple(choices[index] for _, _, index in hits)


def slip_of(name: str, known: Iterable[str]) -> str | None:
    """Return the known name that is only a slip of typing away; names whose digits differ are different on purpose."""
    key = name_key(name)
    for choice in known:
        other = name_key(choice)
        slips = 1 if len(other) < LONG else 2
        same_digits = [c for c in key if c.isdigit()] == [c for c in other if c.isdigit()]
        if same_digits and key != other and OSA.distance(key, other, score_cutoff=slips) <= slips:
            return choice
    return None


def offer(name: str, known: Iterable[str], where: str) -> str:
    """Return the hint for an unknown name: the near ones, or what to do where there are none."""
    near = nearest(name, known)
    if near:
        return f'Write {" or ".join(near)}, as on {where}; or add "{name}" there.'
    return f"Add it to {where}, or correct the spelling."
