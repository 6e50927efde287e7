"""The weeks of one session -> one sheet with the weeks side by side: what is the same is said once, on the left."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable, Sequence
from dataclasses import replace
from typing import Generic, TypeVar

from compiler.documents.booklet_value import (
    BlankLoad,
    Block,
    ExerciseRow,
    ExtraLine,
    Figure,
    LogBoxes,
    Session,
    TickList,
)
from compiler.documents.figures import day_words
from compiler.documents.weeks_value import WeekCell, WeekHead, WeeksBlock, WeeksRow, WeeksSheet
from compiler.frozen import frozen
from compiler.resolve.values import PlannedSession

WEEKS_ON_A_SHEET = 4
BETWEEN_ITEMS = " •\u00a0"
"""Cues are sentences, too: without a mark nobody sees where the next exercise begins."""

T = TypeVar("T")


def weeks_sheet(weeks: Sequence[tuple[PlannedSession, Session]]) -> WeeksSheet | None:
    """Return one sheet of the weeks of a session.

    None where they have not one thing to say: another title, warm-up or cool-down from week to week, or the same
    block twice.
    """
    sessions = [session for _, session in weeks]
    first = sessions[0]
    same = {(session.title, session.warm_up, session.cool_down) for session in sessions}
    if len(same) > 1:
        return None
    blocks = _side_by_side([session.blocks for session in sessions], _block_key)
    blocks = None if blocks is None else [_one_sentence(block) for block in blocks]
    rows = [_rows(block) for block in blocks or ()]
    if blocks is None or any(found is None for found in rows):
        return None
    numbers = [planned.week for planned, _ in weeks]
    span = f"week {numbers[0]}" if len(numbers) == 1 else f"weeks {numbers[0]} to {numbers[-1]}"
    return WeeksSheet(
        keys=tuple(session.key for session in sessions),
        title=first.title,
        bookmark=f"{first.title}, {span}",
        heads=tuple(_head(planned, session) for planned, session in weeks),
        blocks=tuple(
            _block(block, found) for block, found in zip(blocks, rows, strict=True) if found is not None
        ),
        before=_running(first.warm_up),
        after=_running(first.cool_down),
    )


def _head(planned: PlannedSession, session: Session) -> WeekHead:
    if planned.closed:
        when = f"{planned.weekday}, closed that day"
    elif planned.day is not None:
        when = f"{planned.weekday} {day_words(planned.day)}"
    else:
        when = planned.weekday or ""
    return WeekHead(f"Week {planned.week}", when, session.note)


def _running(ticks: TickList | None) -> str:
    """Return a warm-up as running text: it is read once and remembered."""
    if ticks is None:
        return ""
    words = []
    for item in ticks.items:
        text = ", ".join(filter(None, (item.text, item.detail)))
        changed = f" (changed: {item.changed})" if item.changed is not None else ""
        words.append(f"{text}{changed}." + (f" {item.cue}" if item.cue else ""))
    return f"{ticks.title}: {BETWEEN_ITEMS.join(words)}"


# ---------------------------------------------------------------- what belongs together


@frozen
class _Across(Generic[T]):
    """One thing in every week, None where a week is without it."""

    weeks: tuple[T | None, ...]

    @property
    def any(self) -> T:
        """The thing in the first week that has it."""
        return next(found for found in self.weeks if found is not None)


def _side_by_side(
    weeks: Sequence[Iterable[T]], key: Callable[[T], Hashable]
) -> list[_Across[T]] | None:
    """Return the things of every week, those with the same key together, in an order that fits every week.

    Where the order of two is open, what the earlier week has stands first. None where a week has one key twice.
    """
    order: list[Hashable] = []
    by_week: list[dict[Hashable, T]] = []
    for things in weeks:
        keyed: dict[Hashable, T] = {}
        for thing in things:
            if key(thing) in keyed:
                return None
            keyed[key(thing)] = thing
        _merge(order, list(keyed))
        by_week.append(keyed)
    return [_Across(tuple(keyed.get(name) for keyed in by_week)) for name in order]


def _merge(order: list[Hashable], week: Sequence[Hashable]) -> None:
    """Put the keys of one more week into the order, each as late as what follows it in the week allows."""
    after = 0
    for i, name in enumerate(week):
        if name not in order:
            follow = [order.index(later) for later in week[i + 1 :] if later in order]
            order.insert(min((place for place in follow if place >= after), default=len(order)), name)
        after = order.index(name) + 1


def _block_key(block: Block) -> Hashable:
    return (block.letter, block.kind, block.rest, block.result)


def _one_sentence(block: _Across[Block]) -> _Across[Block]:
    """Return a block of weeks that all have one sentence: sets left over in some weeks alone are told there."""
    if len({found.sentence for found in block.weeks if found}) == 1:
        return block
    return _Across(tuple(_told_below(found) if found else None for found in block.weeks))


def _told_below(block: Block) -> Block:
    """Return a block that tells of the sets left over under the dose of the exercise that they are of."""
    if not block.left_over:
        return block
    rows = list(block.rows)
    last = max(range(len(rows)), key=lambda at: (rows[at].log.count, at))
    dose = rows[last].dose
    rows[last] = replace(rows[last], dose=replace(dose, notes=(*dose.notes, block.left_over)))
    return replace(block, rows=tuple(rows), left_over="")


def _row_key(row: ExerciseRow) -> Hashable:
    return (row.label, row.name, row.changed, row.spotter, row.cue, row.log.caption, row.log.reps_left)


def _rows(block: _Across[Block]) -> list[_Across[ExerciseRow]] | None:
    return _side_by_side([found.rows if found else () for found in block.weeks], _row_key)


# ---------------------------------------------------------------- blocks and rows


def _block(block: _Across[Block], rows: list[_Across[ExerciseRow]]) -> WeeksBlock:
    made = [_row(row) for row in rows]
    result = block.any.result
    if result is not None:
        there = WeekCell("", "", (), result.log.count, result.log.reps_left)
        cells = tuple(there if found else None for found in block.weeks)
        made.append(WeeksRow("", result.words, None, (), "", _log_words(result.log), cells))
    joined = any(found is not None and len(found.rows) > 1 for found in block.weeks)
    return WeeksBlock(block.any.letter, block.any.kind, block.any.sentence, tuple(made), joined)


def _row(row: _Across[ExerciseRow]) -> WeeksRow:
    there = [found for found in row.weeks if found is not None]
    shared = tuple(note for note in there[0].dose.notes if all(note in found.dose.notes for found in there))
    first = there[0]
    lines = (", ".join(shared), first.spotter)
    return WeeksRow(
        label=first.label,
        name=first.name,
        changed=first.changed,
        lines=tuple(f"{line[:1].upper()}{line[1:]}." for line in lines if line),
        cue=first.cue,
        log=_log_words(first.log),
        cells=tuple(_cell(found, shared) if found else None for found in row.weeks),
    )


def _log_words(log: LogBoxes) -> str:
    """Return what the boxes of a row are for; nothing where there are none."""
    if log.reps_left:
        return f"Boxes: {log.caption}; the last one: reps left."
    return f"Boxes: {log.caption}." if log.count else ""


def _cell(row: ExerciseRow, shared: tuple[str, ...]) -> WeekCell:
    own = ", ".join(note for note in row.dose.notes if note not in shared)
    load = row.load
    notes: tuple[str, ...] = load.notes if load is not None else ()
    lines = (own, ", ".join(notes), f"ramp {row.ramp}" if row.ramp else "", *map(_extra, row.extra))
    return WeekCell(
        dose=row.dose.text,
        load=load.text if isinstance(load, Figure) else "",
        lines=tuple(line for line in lines if line),
        sets=row.log.count,
        reps_left=row.log.reps_left,
        blank=load.unit if isinstance(load, BlankLoad) else "",
    )


def _extra(line: ExtraLine) -> str:
    notes = f"({', '.join(line.notes)})" if line.notes else ""
    dose = f"{line.head} {line.dose}".strip()
    load = f"{line.load} {notes}".strip()
    return ": ".join(filter(None, (dose, load)))
