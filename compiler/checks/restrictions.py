"""Restrictions that rule nothing out."""

from __future__ import annotations

from collections.abc import Iterator

from compiler.checks.lookups import holders_of
from compiler.flags.catalogue import flag
from compiler.flags.model import Flag, Remark
from compiler.flags.nearest import nearest
from compiler.folding import name_key
from compiler.model.book import Book
from compiler.schema.words import NOTE_ONLY


def check_empty_restrictions(book: Book) -> Iterator[Flag]:
    """Check that a restriction avoids or limits something, or says `note only`."""
    for restriction in book.restrictions:
        limits = (
            restriction.avoid_tags,
            restriction.highest_effort,
            restriction.heart_rate_targets,
            restriction.raise_loads,
        )
        if any(cell.failed for cell in limits) or restriction.name.failed:
            continue
        forbids = restriction.heart_rate_targets.known is False or restriction.raise_loads.known is False
        if restriction.avoid_tags.known or restriction.highest_effort.known or forbids:
            continue
        remark = Remark(
            "empty-restriction",
            f'"{restriction.name.known}" avoids no tag and limits nothing.',
            f'Fill in Avoid tags, or write "{NOTE_ONLY}" there if that is meant.',
        )
        yield flag(
            remark,
            restriction.avoid_tags.place,
            related=(restriction.name.place,),
            touches=holders_of(book, restriction.name),
        )


def check_restriction_tags(book: Book) -> Iterator[Flag]:
    """Check that a tag that a client's restriction avoids stands on some exercise; else it rules nothing out."""
    if any(exercise.tags.failed for exercise in book.exercises):
        return
    tags = {name_key(tag): tag for exercise in book.exercises for tag in exercise.tags.known or ()}
    for restriction in book.restrictions:
        if not holders_of(book, restriction.name):
            continue
        for word in restriction.avoid_tags.known or ():
            if name_key(word) in tags or name_key(word) == NOTE_ONLY:
                continue
            near = nearest(word, tags.values())
            hint = f"The Exercises sheet has {' and '.join(near)}." if near else "Tag the exercises that it rules out."
            remark = Remark(
                "unmatched-tag",
                f'No exercise has the tag "{word}", so {restriction.name.known} rules out nothing with it.',
                hint,
            )
            yield flag(remark, restriction.avoid_tags.place, found=restriction.avoid_tags.text)
