"""One programme row -> what it says in each week, blanks and dashes worked out.

A blank means as the week before, cell by cell: the same result as in the last week the row was used, so that a step
holds and does not step again. A dash in the sets takes the row out until sets are typed again. A load is the
last one typed that was not a step, and the steps typed since.
"""

from __future__ import annotations

from dataclasses import field, replace
from decimal import Decimal
from typing import Any

from compiler.frozen import frozen
from compiler.model.field import Field
from compiler.model.records import ProgrammeRow, WeekCells
from compiler.notation.values import LoadText, NotThisWeek, PercentLoad, Reps, Rest, Sets, Step, Tempo
from compiler.quantities import Load, Percent


@frozen
class Percentages:
    """The percentages of a load cell with the points stepped since, low and high, and the weights stepped since.

    Both ends are one object where one percentage was asked for. `heaviest` is the highest of them. `single` is the one
    percentage of a cell that asks for one, every set alike, and the same as a share.
    """

    items: tuple[tuple[Percent, Percent], ...]
    heaviest: Decimal
    added: tuple[Load, ...]
    single: tuple[Percent, Decimal] | None


@frozen
class LoadChain:
    """The load cell of a week: the last load typed, the steps typed since, and the week it was typed in.

    `place_field` is the cell that says this week's load: the last step, or the load itself. `percentages` is what the
    cells come to, the same for all clients; None for other loads, and where a cell failed.
    """

    base: Field[LoadText]
    base_week: int
    steps: tuple[Field[LoadText], ...] = ()
    place_field: Field[LoadText] = field(init=False, repr=False, compare=False)
    percentages: Percentages | None = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        """Work out once what every client's load is made from."""
        object.__setattr__(self, "place_field", self.steps[-1] if self.steps else self.base)
        object.__setattr__(self, "percentages", _percentages(self.base, self.steps))


@frozen
class EffectiveWeek:
    """What one row says in one week. `load` None: no load was ever typed."""

    week: int
    sets: Field[Any]
    reps: Field[Reps]
    load: LoadChain | None
    rest: Field[Rest]
    tempo: Field[Tempo]

    @property
    def sets_value(self) -> Sets | None:
        """The number of sets, None where none was typed. Raises `Poisoned` for a cell that failed."""
        value = self.sets.value
        return value if isinstance(value, Sets) else None


def _percentages(base: Field[LoadText], steps: tuple[Field[LoadText], ...]) -> Percentages | None:
    typed = base.known
    if not isinstance(typed, PercentLoad) or any(step.failed for step in steps):
        return None
    by = [step.content.by for step in steps if isinstance(step.content, Step)]
    points = sum((step.value for step in by if isinstance(step, Percent)), Decimal(0))
    items = []
    for item in typed.items:
        low = Percent(item.low.value + points)
        items.append((low, low if item.low == item.high else Percent(item.high.value + points)))
    added = tuple(step for step in by if isinstance(step, Load))
    first, last = items[0][0], items[-1][1]
    single = (first, first.share) if len(items) == 1 and first is last else None
    return Percentages(tuple(items), max(high.value for _, high in items), added, single)


def unroll(row: ProgrammeRow) -> dict[int, EffectiveWeek]:
    """Return the weeks in which a row is done, by number, each with what it says."""
    found: dict[int, EffectiveWeek] = {}
    last: EffectiveWeek | None = None
    out = False
    for week, cells in enumerate(row.weeks, start=1):
        typed = cells.sets.content
        if isinstance(typed, NotThisWeek):
            out = True
            continue
        if out and cells.sets.blank:
            continue
        if last is None and _empty(cells) and not (week == 1 and _bare(row)):
            continue
        out = False
        last = _follow(row, week, cells, last)
        found[week] = last
    return found


def _empty(cells: WeekCells) -> bool:
    return cells.sets.blank and cells.reps.blank and cells.load.blank


def _bare(row: ProgrammeRow) -> bool:
    """Tell whether no week of a row says anything: a warm-up line that is only a name."""
    return all(_empty(cells) for cells in row.weeks)


def _follow(row: ProgrammeRow, week: int, cells: WeekCells, last: EffectiveWeek | None) -> EffectiveWeek:
    if last is None:
        return EffectiveWeek(
            week=week,
            sets=cells.sets,
            reps=cells.reps,
            load=None if cells.load.blank else LoadChain(cells.load, week),
            rest=row.rest if cells.rest.blank else cells.rest,
            tempo=row.tempo if cells.tempo.blank else cells.tempo,
        )
    return EffectiveWeek(
        week=week,
        sets=last.sets if cells.sets.blank else cells.sets,
        reps=last.reps if cells.reps.blank else cells.reps,
        load=_chain(week, cells.load, last.load),
        rest=last.rest if cells.rest.blank else cells.rest,
        tempo=last.tempo if cells.tempo.blank else cells.tempo,
    )


def _chain(week: int, typed: Field[LoadText], last: LoadChain | None) -> LoadChain | None:
    if typed.blank:
        return last
    if isinstance(typed.content, Step) and last is not None:
        return last if typed.content.by is None else replace(last, steps=(*last.steps, typed))
    return LoadChain(typed, week)
