"""Exercises that point to each other in a circle: a load or a substitute would be looked for without end."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from compiler.checks.lookups import key_of
from compiler.flags.catalogue import flag
from compiler.flags.model import Flag, Remark
from compiler.model.book import Book
from compiler.model.field import Field
from compiler.model.records import Exercise


def check_load_from_circles(book: Book) -> Iterator[Flag]:
    """Check that no exercise is loaded from itself, not even by way of others."""
    for cells in _circles(book, lambda exercise: exercise.load_from):
        remark = Remark(
            "circular-load-from",
            f"Load from goes round in a circle: {_told(book, cells)}.",
            "Clear Load from on the exercise that has tests of its own.",
        )
        yield _of_circle(remark, cells)


def check_instead_circles(book: Book) -> Iterator[Flag]:
    """Check that no exercise is its own substitute, not even by way of others."""
    columns: tuple[tuple[str, Callable[[Exercise], Field[str]]], ...] = (
        ("Instead if restricted", lambda exercise: exercise.instead_restricted),
        ("Instead without kit", lambda exercise: exercise.instead_kit),
    )
    for header, column in columns:
        for cells in _circles(book, column):
            remark = Remark(
                "circular-instead",
                f"{header} goes round in a circle: {_told(book, cells)}.",
                "Clear it on the exercise that nothing can stand in for.",
            )
            yield _of_circle(remark, cells)


def _of_circle(remark: Remark, cells: list[Field[str]]) -> Flag:
    return flag(remark, cells[0].place, found=cells[0].text, related=[cell.place for cell in cells[1:]])


def _told(book: Book, cells: list[Field[str]]) -> str:
    named = [book.exercise(cell.known) for cell in cells]
    names = [exercise.name.known or "" for exercise in named if exercise]
    return " to ".join((names[-1], *names))


def _circles(book: Book, column: Callable[[Exercise], Field[str]]) -> Iterator[list[Field[str]]]:
    """Yield the cells of every circle, once, from its highest row on the sheet."""
    done: set[str] = set()
    for start in book.exercises:
        path: dict[str, Field[str]] = {}
        at: Exercise | None = start
        while at is not None and key_of(at.name) not in path and key_of(at.name) not in done:
            path[key_of(at.name)] = column(at)
            at = book.exercise(column(at).known)
        if at is not None and key_of(at.name) in path:
            keys = list(path)
            yield [path[key] for key in keys[keys.index(key_of(at.name)) :]]
        done.update(path)
