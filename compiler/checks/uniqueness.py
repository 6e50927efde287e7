"""Names that are there twice, and names that differ by a letter.

Names that differ in digits alone, or in a word of one or two letters (Session A, Session B), differ on purpose.
"""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterable, Iterator

from rapidfuzz.distance import OSA

from compiler.checks.lookups import client_names, holders_of, key_of
from compiler.flags.catalogue import flag
from compiler.flags.model import Flag, Remark
from compiler.model.book import Book
from compiler.model.field import Field
from compiler.schema.words import EVERY

SHORTEST_WORD = 3
"""A word shorter than this is a label; labels differ on purpose."""

DIFFERENT_WORDS = frozenset(
    {
        frozenset({"abduction", "adduction"}),
        frozenset({"abductor", "adductor"}),
        frozenset({"abductors", "adductors"}),
    }
)
"""Words of the trade that differ by a letter and mean two things."""

_WORDS = re.compile(r"[^\W_]+")


def check_duplicate_clients(book: Book) -> Iterator[Flag]:
    """Check that no two clients have one name: tests and changes could mean either."""
    for cell, first in _repeated(client.name for client in book.clients):
        remark = Remark(
            "duplicate-client",
            f'"{cell.known}" is already in {first.place.a1}; other sheets know clients by name alone.',
            "Give one of them a name of its own, and use it in Tests and Changes.",
        )
        names = dict.fromkeys(name for name in (first.known, cell.known) if name)
        yield flag(remark, cell.place, client=cell.known, found=cell.text, related=(first.place,), touches=names)


def check_duplicate_exercises(book: Book) -> Iterator[Flag]:
    """Check that no two exercises have one name."""
    for cell, first in _repeated(exercise.name for exercise in book.exercises):
        remark = Remark(
            "duplicate-exercise",
            f'"{cell.known}" is already in {first.place.a1}; programme rows could mean either.',
            "Delete one of the two rows, or give it a name of its own.",
        )
        yield flag(remark, cell.place, found=cell.text, related=(first.place,))


def check_duplicate_names(book: Book) -> Iterator[Flag]:
    """Check that no two restrictions and no two sites have one name."""
    for cell, first in _repeated(restriction.name for restriction in book.restrictions):
        remark = Remark(
            "duplicate-name",
            f'The restriction "{cell.known}" is already in {first.place.a1}.',
            "Put everything that it avoids into one row, and delete the other.",
        )
        yield flag(remark, cell.place, found=cell.text, related=(first.place,), touches=holders_of(book, cell))
    for cell, first in _repeated(site.name for site in book.sites):
        there = client_names(client for client in book.clients if key_of(client.site) == key_of(cell))
        remark = Remark(
            "duplicate-name",
            f'The site "{cell.known}" is already in {first.place.a1}.',
            "Keep one of the two rows.",
        )
        yield flag(remark, cell.place, found=cell.text, related=(first.place,), touches=there)


def _repeated(cells: Iterable[Field[str]]) -> Iterator[tuple[Field[str], Field[str]]]:
    """Yield (cell, first cell) for every name that came before."""
    first: dict[str, Field[str]] = {}
    for cell in cells:
        key = key_of(cell)
        if not key:
            continue
        if key in first:
            yield cell, first[key]
        else:
            first[key] = cell


def check_near_duplicates(book: Book) -> Iterator[Flag]:
    """Check for two names of one kind that differ by a letter: nearly always one name misspelt."""
    yield from _near("exercises", (exercise.name for exercise in book.exercises))
    yield from _near("clients", (client.name for client in book.clients))
    yield from _near("sites", (*(site.name for site in book.sites), *_sites_of_kit(book)))
    yield from _near("groups", (client.group for client in book.clients))
    yield from _near("programmes", (row.programme for row in book.programme))
    sessions: defaultdict[str, list[Field[str]]] = defaultdict(list)
    for row in book.programme:
        if key_of(row.session) != EVERY:
            sessions[key_of(row.programme)].append(row.session)
    for cells in sessions.values():
        yield from _near("sessions", cells)


def _sites_of_kit(book: Book) -> Iterable[Field[str]]:
    """Return the sites named on Kit where no Sites sheet says which there are."""
    return () if book.sites else (row.site for row in book.kit)


def _near(what: str, cells: Iterable[Field[str]]) -> Iterator[Flag]:
    first: dict[str, Field[str]] = {}
    for cell in cells:
        if key_of(cell):
            first.setdefault(key_of(cell), cell)
    for one, other in near_pairs(first):
        here, there = first[other], first[one]
        remark = Remark(
            "near-duplicate",
            f'The {what} "{here.known}" and "{there.known}" ({there.place.a1}) differ by a letter.',
            "If they are the same, spell them alike.",
        )
        yield flag(remark, here.place, found=here.text, related=(there.place,))


def near_pairs(keys: Iterable[str]) -> Iterator[tuple[str, str]]:
    """Yield the pairs of keys one slip of typing apart, in the order given.

    Two texts one edit apart share a text that lacks a letter of each, so only pairs that share one are compared.
    """
    lacking: defaultdict[str, list[str]] = defaultdict(list)
    for key in keys:
        tried: set[str] = set()
        for shorter in dict.fromkeys((key, *(key[:i] + key[i + 1 :] for i in range(len(key))))):
            for other in lacking[shorter]:
                if other not in tried and _alike(other, key):
                    yield other, key
                tried.add(other)
            lacking[shorter].append(key)


def _alike(one: str, other: str) -> bool:
    if one == other or OSA.distance(one, other, score_cutoff=1) > 1:
        return False
    if _without_digits(one) == _without_digits(other):
        return False
    words, others = _WORDS.findall(one), _WORDS.findall(other)
    if len(words) != len(others):
        return True
    apart = [{a, b} for a, b in zip(words, others, strict=True) if a != b]
    return all(max(map(len, pair)) >= SHORTEST_WORD and frozenset(pair) not in DIFFERENT_WORDS for pair in apart)


def _without_digits(text: str) -> str:
    return re.sub(r"\d", "", text)
