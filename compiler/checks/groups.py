"""Supersets, tri-sets and giant sets: rows of one session and part whose order labels share their letters.

`A1` and `A2` are a group, `A` alone is an exercise by itself. Rows of `all` are a session of their own here.
"""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Callable, Iterator
from itertools import pairwise

from compiler.cellref import CellRef, RowRef
from compiler.checks.lookups import key_of, week_header
from compiler.flags.catalogue import flag
from compiler.flags.model import Flag, Remark
from compiler.folding import name_key
from compiler.frozen import frozen
from compiler.model.book import Book
from compiler.model.effective import EffectiveWeek
from compiler.model.records import ProgrammeRow
from compiler.notation.values import DoneAsKind, Sets
from compiler.schema.words import EVERY

LONGEST_CHANGE_OVER = 30
"""Seconds up to which a rest inside a group is only a change-over: common practice, no source."""

_LABEL = re.compile(r"([a-z])[ .-]?(\d{1,2})?")
_TIMED = frozenset({DoneAsKind.EMOM, DoneAsKind.EVERY, DoneAsKind.AMRAP})
_OF_THE_GROUP = frozenset({*_TIMED, DoneAsKind.CIRCUIT, DoneAsKind.FOR_TIME})


@frozen
class Label:
    """An order label: A1 is letter `a` and number 1; A alone has no number."""

    letter: str
    number: int | None


Group = tuple[ProgrammeRow, ...]


def label_of(row: ProgrammeRow) -> Label | None:
    """Return the label of a row; None where the order is blank, failed, or a word of the coach's own."""
    match = _LABEL.fullmatch(name_key(row.order.known or ""))
    if match is None:
        return None
    return Label(match[1], int(match[2]) if match[2] else None)


def groups(book: Book) -> dict[RowRef, Group]:
    """Return, for every row, the rows of its group as they are done; a row without a group stands alone."""
    found: defaultdict[tuple[str, ...], list[ProgrammeRow]] = defaultdict(list)
    alone: dict[RowRef, Group] = {}
    for row in book.programme:
        label = label_of(row)
        if label is None or label.number is None or row.programme.known is None or row.session.known is None:
            alone[row.row] = (row,)
        else:
            found[key_of(row.programme), key_of(row.session), key_of(row.part), label.letter].append(row)
    grouped = (tuple(sorted(rows, key=_number)) for rows in found.values())
    return alone | {row.row: group for group in grouped for row in group}


def group_of(by_row: dict[RowRef, Group], row: ProgrammeRow) -> Group:
    """Return the group of a row."""
    return by_row.get(row.row, (row,))


def _number(row: ProgrammeRow) -> int:
    label = label_of(row)
    return label.number or 0 if label else 0


def _each(book: Book) -> list[Group]:
    """Return every group once, in the order of the sheet."""
    by_row = groups(book)
    first = (by_row[row.row] for row in book.programme)
    return list({group[0].row: group for group in first}.values())


def _surely_placed(book: Book) -> Callable[[ProgrammeRow], bool]:
    """Return a test of a row: whether no row of its programme lost its place to a failed cell.

    Otherwise a gap beside it may be only a consequence.
    """
    lost = {
        key_of(row.programme)
        for row in book.programme
        if row.programme.failed or row.session.failed or row.part.failed or row.order.failed
    }
    return lambda row: not lost & {"", key_of(row.programme)}


def timed_as_a_whole(group: Group) -> bool:
    """Tell whether the clock says how often a group is done, so that its rows need no sets."""
    return any(row.done_as.known is not None and row.done_as.known.kind in _TIMED for row in group)


def _weeks(book: Book, group: Group) -> dict[int, list[tuple[ProgrammeRow, EffectiveWeek]]]:
    """Return, by week, the rows of a group that are done in it."""
    done: defaultdict[int, list[tuple[ProgrammeRow, EffectiveWeek]]] = defaultdict(list)
    for row in group:
        for week, says in book.weeks_of[row.row].items():
            done[week].append((row, says))
    return dict(sorted(done.items()))


def check_overlaps(book: Book) -> Iterator[Flag]:
    """Check that one order of a session is one row in any week."""
    first: defaultdict[tuple[str, str, str], list[ProgrammeRow]] = defaultdict(list)
    for row in book.programme:
        if row.order.known is None or row.programme.known is None or row.session.known is None:
            continue
        same = first[key_of(row.programme), key_of(row.session), key_of(row.order)]
        for other in same:
            both = sorted(book.weeks_of[row.row].keys() & book.weeks_of[other.row].keys())
            if both:
                weeks = ", ".join(map(str, both))
                remark = Remark(
                    "weeks-overlap",
                    f'{row.session.known} already has "{row.order.known}" in {other.order.place.a1},'
                    f" in the same week{'s' * (len(both) > 1)} ({weeks}).",
                    "Give one of them another order, or type - in the sets of the weeks it is not done.",
                )
                yield flag(remark, row.order.place, found=row.order.text, related=(other.order.place,))
                break
        same.append(row)


def check_order(book: Book) -> Iterator[Flag]:
    """Check that labels run on: A, B, C in a session; 1, 2, 3 in a group."""
    placed = _surely_placed(book)
    shared: defaultdict[str, set[str]] = defaultdict(set)
    letters: defaultdict[tuple[str, str], dict[str, ProgrammeRow]] = defaultdict(dict)
    for row in book.programme:
        label = label_of(row)
        if label is None or row.programme.known is None or row.session.known is None or not placed(row):
            continue
        if key_of(row.session) == EVERY:
            shared[key_of(row.programme)].add(label.letter)
        letters[key_of(row.programme), key_of(row.session)].setdefault(label.letter, row)
    for (programme, _), rows in letters.items():
        yield from _letter_gaps(rows, shared[programme])
    for group in _each(book):
        if label_of(group[0]) is not None and placed(group[0]):
            yield from _number_gap(group)


def _letter_gaps(rows: dict[str, ProgrammeRow], shared: set[str]) -> Iterator[Flag]:
    there = sorted({*rows, *shared})
    for before, after in pairwise(there):
        missing = [chr(code) for code in range(ord(before) + 1, ord(after))]
        if not missing or after not in rows:
            continue
        row = rows[after]
        names = ", ".join(letter.upper() for letter in missing)
        remark = Remark(
            "order-gap",
            f'After {before.upper()} comes "{row.order.known}"; {row.session.known} has no {names}.',
            "Correct the order, or look for the row that is missing.",
        )
        related = (rows[before].order.place,) if before in rows else ()
        yield flag(remark, row.order.place, found=row.order.text, related=related)


def _number_gap(group: Group) -> Iterator[Flag]:
    numbers = [_number(row) for row in group]
    for row in group:
        number = _number(row)
        label = label_of(row)
        if label is None or label.number is None or number <= 1 or number - 1 in numbers:
            continue
        remark = Remark(
            "order-gap",
            f'{row.session.known} has "{row.order.known}" and no {label.letter.upper()}{number - 1}.',
            "Correct the order, or look for the row that is missing.",
        )
        yield flag(remark, row.order.place, found=row.order.text)
        return


def check_members(book: Book) -> Iterator[Flag]:
    """Check that a group has two exercises or more, with the same sets."""
    placed = _surely_placed(book)
    for group in _each(book):
        label = label_of(group[0])
        if label is None or label.number is None:
            continue
        if len(group) == 1 and label.number == 1 and placed(group[0]):
            remark = Remark(
                "lone-member",
                f'"{group[0].order.known}" is the only exercise of its group in {group[0].session.known};'
                " it is printed by itself.",
                f"Label it {label.letter.upper()} if it stands alone.",
            )
            yield flag(remark, group[0].order.place, found=group[0].order.text)
        yield from _unequal(book, group)


def _unequal(book: Book, group: Group) -> Iterator[Flag]:
    for week, done in _weeks(book, group).items():
        counted = [(row, says) for row, says in done if isinstance(says.sets.known, Sets)]
        for row, says in counted[1:]:
            first_row, first = counted[0]
            if says.sets.known == first.sets.known:
                continue
            remark = Remark(
                "unequal-sets",
                f"{week_header('sets', week)}: {first_row.order.known} has {_count(first)},"
                f" {row.order.known} has {_count(says)}; the page says who does the last set alone.",
            )
            yield flag(remark, says.sets.place, found=says.sets.text, related=(first.sets.place,))
            return


def _count(says: EffectiveWeek) -> str:
    sets = says.sets.known
    if not isinstance(sets, Sets):
        return says.sets.text
    return str(sets.low) if sets.low == sets.high else f"{sets.low}-{sets.high}"


def check_rests(book: Book) -> Iterator[Flag]:
    """Check that the exercises of a group follow each other; the rest comes after the last."""
    for group in _each(book):
        seen: set[CellRef] = set()
        for done in _weeks(book, group).values():
            for row, says in done[:-1]:
                rest = says.rest.known
                if rest is None or rest.high <= LONGEST_CHANGE_OVER or says.rest.place in seen:
                    continue
                seen.add(says.rest.place)
                last = done[-1][0].order
                remark = Remark(
                    "rest-inside-group",
                    f'{row.order.known} rests "{says.rest.text}" before {last.known};'
                    f" inside a group up to {LONGEST_CHANGE_OVER} s is a change-over.",
                    f"Move the rest to {last.known}, or give the exercises letters of their own.",
                )
                yield flag(remark, says.rest.place, found=says.rest.text, related=(last.place,))


def check_done_as(book: Book) -> Iterator[Flag]:
    """Check that how a whole group is done is said on its first row; drop sets and rest-pause may be on any."""
    for group in _each(book):
        for row in group[1:]:
            done_as = row.done_as.known
            if done_as is None or done_as.kind not in _OF_THE_GROUP:
                continue
            remark = Remark(
                "misplaced-done-as",
                f'"{row.done_as.text}" is on {row.order.known};'
                f" how a group is done is said on its first row, {group[0].order.known}.",
                f"Move it to {group[0].order.known}.",
            )
            yield flag(remark, row.done_as.place, found=row.done_as.text, related=(group[0].done_as.place,))


def check_empty_sessions(book: Book) -> Iterator[Flag]:
    """Check that every programme has a session, and every session an exercise of its own in every week."""
    placed = _surely_placed(book)
    rows: defaultdict[tuple[str, str], list[ProgrammeRow]] = defaultdict(list)
    for row in book.programme:
        if row.programme.known is not None and not row.session.failed and placed(row):
            rows[key_of(row.programme), key_of(row.session)].append(row)
    with_sessions = {programme for programme, session in rows if session != EVERY}
    for (programme, session), own in rows.items():
        if session != EVERY:
            yield from _empty_weeks(book, own)
        elif programme not in with_sessions:
            remark = Remark(
                "empty-session",
                f'{own[0].programme.known} has rows for "all" sessions and no session of its own.',
                "Name the session in at least one row.",
            )
            yield flag(remark, own[0].session.place, found=own[0].session.text)


def _empty_weeks(book: Book, rows: list[ProgrammeRow]) -> Iterator[Flag]:
    """Yield the flag of a session's weeks in which none of its rows is done."""
    first = rows[0]
    done = {week for row in rows for week in book.weeks_of[row.row]}
    empty = [week for week in range(1, len(first.weeks) + 1) if week not in done]
    if not empty:
        return
    remark = Remark(
        "empty-session",
        f"{first.session.known} has no exercise in week{'s' * (len(empty) > 1)} {', '.join(map(str, empty))}:"
        " every row is left out.",
        "If the session is not held that week, nothing has to be done.",
    )
    place, *related = (row.weeks[empty[0] - 1].sets.place for row in rows)
    yield flag(remark, place, related=related)
