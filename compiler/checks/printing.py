"""What the booklet's fonts cannot print: a name must be printed as it is, a text loses a character."""

from __future__ import annotations

from collections.abc import Iterator

from compiler.checks.lookups import client_flag
from compiler.fallback import set_one_by_one
from compiler.flags.catalogue import flag
from compiler.flags.model import Flag, Remark
from compiler.model.book import Book
from compiler.model.field import Field
from compiler.printable import printable, unprintable


def check_printable_names(book: Book) -> Iterator[Flag]:
    """Check that the fonts have every character of the names on the covers; else the booklet is held."""
    for client in book.clients:
        cell = client.name if client.print_name.blank else client.print_name
        missing = unprintable(cell.known or "")
        if not missing or not client.has_booklet:
            continue
        remark = Remark(
            "cannot-print-name",
            f'"{cell.known}" cannot be printed: the booklet\'s font lacks {_listed(missing)}.',
            "Write the name with other letters in Print name; the other sheets keep the name as it is."
            + _or_a_font(missing),
        )
        yield client_flag(remark, client, cell)


def check_printable_texts(book: Book) -> Iterator[Flag]:
    """Check that the fonts have every character of the texts that booklets print."""
    for cell in _texts(book):
        text = cell.known or ""
        missing = unprintable(text)
        if not missing:
            continue
        fate = "printed as ?" if printable(text).count("?") > text.count("?") else "left out"
        remark = Remark(
            "unprintable-character",
            f"The booklet's font lacks {_listed(missing)}, which will be {fate}.",
            "Take the character out, or write a word instead." + _or_a_font(missing),
        )
        yield flag(remark, cell.place, found=cell.text)


def _texts(book: Book) -> Iterator[Field[str]]:
    """Yield the cells whose words booklets print as they stand."""
    block = book.block
    yield from (block.title, block.gym, block.coach, block.contact)
    yield from (block.safety_before, block.safety_stop_set, block.safety_stop_session)
    for exercise in book.exercises:
        yield from (exercise.name, exercise.cue)
    for row in book.programme:
        yield from (row.session, row.cue)
    for client in book.clients:
        yield client.note
    for restriction in book.restrictions:
        yield restriction.words
    for change in book.changes:
        yield change.words
    for site in book.sites:
        yield from (site.emergency, site.safety)


def _or_a_font(missing: str) -> str:
    """Return the end of a hint where letters are missing that another font could print."""
    if not all(character.isalpha() and set_one_by_one(character) for character in missing):
        return ""
    return " Or name a font that has these letters: --fallback-font FILE.ttf."


def _listed(characters: str) -> str:
    return ", ".join(characters)
