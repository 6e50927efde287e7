"""What is the same for many clients is told once, with their names."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import replace

from compiler.cellref import CellRef
from compiler.counting import first_of
from compiler.flags.model import Flag, Severity

SEVERAL = 3
"""From this many clients on, one flag speaks for all."""

NAMED = 6
"""So many of them are named; the others are counted."""

ONE_BLANK = frozenset({"missing-body-weight", "missing-heart-rate"})
"""Flags of a blank cell that several rows want filled: one of them is enough."""

_UNKNOWN = frozenset(
    {
        "change-matches-nothing",
        "unknown-client",
        "unknown-exercise",
        "unknown-programme",
        "unknown-restriction",
        "unknown-site",
    }
)
TELLS_MORE = {
    "unusual-percentage": frozenset({"reps-far-beyond-percentage", "reps-beyond-percentage"}),
    "reps-far-beyond-percentage": frozenset({"impossible-percentage"}),
    "reps-beyond-percentage": frozenset({"impossible-percentage"}),
    "number-as-name": _UNKNOWN,
    "formula-as-text": _UNKNOWN,
}
"""What is left out where a flag that says more of the same slip stands at the same cell."""

_NOBODY = "\0"


def told_once(flags: Iterable[Flag]) -> tuple[Flag, ...]:
    """Return the flags, with those merged that say the same of several clients at one cell.

    Errors stay one a client, because each holds a booklet. A message begins with the client's name where it can be
    merged; what it says of one it says of each.
    """
    alike: defaultdict[tuple[str, CellRef | None, str], list[Flag]] = defaultdict(list)
    for found in _of_one_slip(dict.fromkeys(flags)):
        alike[found.slug, found.place, _template(found)].append(found)
    merged: list[Flag] = []
    for (_, _, template), group in alike.items():
        names = list(dict.fromkeys(found.client for found in group if found.client))
        if len(names) < SEVERAL or _NOBODY not in template:
            merged += group
            continue
        message = template.replace(_NOBODY, f"Each of {len(names)} clients ({_listed(names)})")
        merged.append(replace(group[0], client=None, message=message, related=()))
    return tuple(merged)


def _of_one_slip(flags: Iterable[Flag]) -> Iterator[Flag]:
    """Yield the flags without those that tell once more what another at their cell tells; whom they stop stays told."""
    every = tuple(flags)
    at: defaultdict[CellRef | None, dict[str, list[str]]] = defaultdict(dict)
    for found in every:
        at[found.place].setdefault(found.slug, [])
    blanks: set[tuple[str, CellRef | None, str | None]] = set()
    kept: list[Flag] = []
    for found in every:
        teller = next((slug for slug in at[found.place] if slug in TELLS_MORE.get(found.slug, ())), None)
        if teller is not None:
            at[found.place][teller] += found.touches
            continue
        blank = (found.slug, found.place, found.client)
        if found.slug not in ONE_BLANK or blank not in blanks:
            kept.append(found)
        blanks.add(blank)
    for found in kept:
        more = at[found.place][found.slug]
        yield found.touching(more) if more else found


def _template(found: Flag) -> str:
    """Return a message without the client it begins with; as it is where it does not, or must not be merged."""
    start = f"{found.client} "
    if found.severity is Severity.ERROR or found.client is None or not found.message.startswith(start):
        return found.message
    return f"{_NOBODY} {found.message.removeprefix(start)}"


def _listed(names: list[str]) -> str:
    if len(names) > NAMED:
        return first_of(names, NAMED)
    return f"{', '.join(names[:-1])} and {names[-1]}"
