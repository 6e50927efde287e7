"""Supersets that need two loaded bars for one person."""

from __future__ import annotations

from collections.abc import Iterator

from compiler.checks.groups import group_of, groups, label_of
from compiler.checks.lookups import key_of
from compiler.flags.catalogue import flag
from compiler.flags.model import Flag, Remark
from compiler.model.book import Book
from compiler.model.effective import EffectiveWeek
from compiler.model.records import ProgrammeRow
from compiler.notation.values import DoneAsKind, WeightLoad


def check_bars_in_groups(book: Book) -> Iterator[Flag]:
    """Check that no superset has two bar lifts in one week: each client would keep two bars.

    One bar with the same typed weight for both is not a second bar. In a circuit each station keeps its bar.
    """
    by_row = groups(book)
    for row in book.programme:
        group = group_of(by_row, row)
        label = label_of(row)
        if label is None or label.number is None or not _on_a_bar(book, row) or _is_circuit(group):
            continue
        before = group[: group.index(row)]
        other = next((first for first in before if _on_a_bar(book, first) and _two_bars(book, first, row)), None)
        if other is None:
            continue
        remark = Remark(
            "two-bars-at-once",
            f"{row.exercise.known} ({row.order.known}) and {other.exercise.known} ({other.order.known}) are done in"
            " turn, and each needs a loaded bar of its own.",
            "Change one of the two to dumbbells or a machine, or give them letters of their own.",
        )
        yield flag(remark, row.exercise.place, found=row.exercise.text, related=(other.exercise.place,))


def _on_a_bar(book: Book, row: ProgrammeRow) -> bool:
    exercise = book.exercise(row.exercise.known)
    return exercise is not None and exercise.implement.known == "barbell"


def _is_circuit(group: tuple[ProgrammeRow, ...]) -> bool:
    return any(row.done_as.known is not None and row.done_as.known.kind is DoneAsKind.CIRCUIT for row in group)


def _two_bars(book: Book, one: ProgrammeRow, other: ProgrammeRow) -> bool:
    """Tell whether two rows meet in a week in which one bar does not serve both."""
    first, second = book.weeks_of[one.row], book.weeks_of[other.row]
    same_bar = _bar(book, one) == _bar(book, other)
    return any(not (same_bar and _same_weight(first[week], second[week])) for week in set(first) & set(second))


def _bar(book: Book, row: ProgrammeRow) -> str:
    exercise = book.exercise(row.exercise.known)
    return key_of(exercise.bar) if exercise is not None else ""


def _same_weight(one: EffectiveWeek, other: EffectiveWeek) -> bool:
    if one.load is None or other.load is None or one.load.steps or other.load.steps:
        return False
    typed = one.load.base.known
    return isinstance(typed, WeightLoad) and typed == other.load.base.known
