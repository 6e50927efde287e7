"""Initials in place of names, for booklets that lie about where others may read them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

from compiler.model.records import Client

MOST_LETTERS = 4
WITHOUT_LETTERS = "P"
"""The initials of a name that has neither letter nor digit."""


def initials(name: str) -> str:
    """Return the initials of a name: IT of Imogen Thackray."""
    return "".join(word[0] for word in name.split() if word[0].isalnum()).upper()[:MOST_LETTERS] or WITHOUT_LETTERS


def labels(clients: Iterable[Client]) -> dict[str, str]:
    """Return what stands on each client's cover in place of the name, no two alike: IT, and IT 2 for the next one.

    Numbers follow the Clients sheet, so that somebody held or left out of a run changes nobody's label.
    """
    found: dict[str, str] = {}
    seen: Counter[str] = Counter()
    for client in clients:
        name = client.name.known
        if name is None or name in found:
            continue
        short = initials(client.print_name.known or name)
        seen[short] += 1
        found[name] = short if seen[short] == 1 else f"{short} {seen[short]}"
    return found
