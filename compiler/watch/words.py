"""What is said of a save: what was changed in the workbook, and what is another now among booklets and flags."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator

from compiler.counting import counted, first_of
from compiler.flags.model import Flag
from compiler.flags.text import counted_flags
from compiler.frozen import frozen
from compiler.pipeline.compile import Compiled
from compiler.told import told_of_beside, told_of_held
from compiler.watch.edits import Edit

NOTHING = "Saved, nothing changed"

NAMED = 2
"""How many edits are named where one line has no room for all; the others are counted."""

PLACES = 4
"""How many flags that went away are named."""


@frozen
class Difference:
    """The flags that are new, and those that went away."""

    new: tuple[Flag, ...]
    gone: tuple[Flag, ...]


def difference(before: Iterable[Flag], after: Iterable[Flag]) -> Difference:
    """Return which flags came and went. One that only stands in another row is the same."""
    old, new = tuple(before), tuple(after)
    return Difference(tuple(_without(new, old)), tuple(_without(old, new)))


def _without(flags: Iterable[Flag], known: Iterable[Flag]) -> Iterator[Flag]:
    left = Counter(map(_same, known))
    for one in flags:
        left[_same(one)] -= 1
        if left[_same(one)] < 0:
            yield one


def _same(one: Flag) -> tuple[object, ...]:
    return one.slug, one.sheet_name, one.place.column if one.place else 0, one.client, one.message, one.found


def told_of_save(edited: tuple[Edit, ...], before: Compiled, after: Compiled) -> str:
    """Return in one line what was changed and what that did."""
    done = _booklets(before, after)
    if not edited and not done:
        return NOTHING
    return f"{told_of_edits(edited) or 'Saved'}: {', '.join(done) or 'no booklet changed'}"


def told_of_edits(edited: tuple[Edit, ...]) -> str:
    """Return what was changed: the first few, and how many more."""
    if len(edited) <= NAMED + 1:
        *first, last = [edit.what for edit in edited] or [""]
        return f"{', '.join(first)} and {last}" if first else last
    more = edited[NAMED:]
    what = "cells" if all(edit.cell for edit in edited) else "changes"
    return f"{', '.join(edit.what for edit in edited[:NAMED])} and {len(more)} more {what}"


def _booklets(before: Compiled, after: Compiled) -> list[str]:
    old, new = before.clients, after.clients
    changed = after.changed if after.changed is not None else new
    again = sum(name in old for name in changed)
    counts = (
        (again, f"{counted(again, 'booklet')} changed"),
        (len(changed) - again, f"{counted(len(changed) - again, 'booklet')} new"),
        (len(set(old) - set(new)), f"{counted(len(set(old) - set(new)), 'booklet')} removed"),
    )
    return [words for count, words in counts if count]


def told_of_rest(before: Compiled, after: Compiled) -> list[str]:
    """Return the lines that tell who is held now and was not, and which files were kept that were not."""
    held = {one.client for one in before.held}
    kept = set(before.written.beside)
    return [
        *told_of_held(one for one in after.held if one.client not in held),
        *(told_of_beside(one) for one in after.written.beside if one not in kept),
    ]


def told_of_flags(flags: Difference, after: Iterable[Flag]) -> str:
    """Return how many flags came and went, and how many there are; empty where none did."""
    if not flags.new and not flags.gone:
        return ""
    told = [f"new: {counted_flags(flags.new)}"] if flags.new else []
    if flags.gone:
        places = [f"{one.slug} at {one.place or one.sheet_name or 'the workbook'}" for one in flags.gone]
        told.append(f"gone: {counted_flags(flags.gone)} ({first_of(places, PLACES)})")
    return f"Flags {'; '.join(told)}; now {counted_flags(after)}"
