"""Lists set by set against the sets that a change gives a client: as many entries as sets, as on the Programme sheet.

A shorter list of loads repeats its last; a load that is left out, or a repetition that is not asked for, is nobody's
to choose.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from compiler.cellref import CellRef
from compiler.flags.catalogue import flag
from compiler.flags.model import Flag, Remark
from compiler.model.effective import EffectiveWeek
from compiler.model.field import Field
from compiler.notation.values import Reps
from compiler.resolve.changes import Exceptions
from compiler.resolve.context import ClientView
from compiler.resolve.values import LoadKind, PlannedLoad

_LISTED = (LoadKind.WEIGHT, LoadKind.ADDED)


def list_flags(
    view: ClientView, says: EffectiveWeek, exceptions: Exceptions, reps: Reps, load: PlannedLoad
) -> Iterator[Flag]:
    """Yield an error where changes and row together give a list and another number of sets.

    `says` is the week with the changes in it. A row without changes was looked at by itself.
    """
    sets = says.sets_value
    stated = [cell for change in exceptions.holding for cell in (change.sets, change.reps, change.load)]
    cell = next((cell for cell in stated if not cell.blank), None)
    if cell is None or sets is None:
        return
    entries = len(reps.items)
    told = "repetitions"
    fits = entries == 1 or sets.low <= entries <= sets.high
    if fits and load.kind in _LISTED:
        entries, told = len(load.items), "loads"
        fits = entries <= max(sets.high, 1)
    if fits:
        return
    number = "1 set" if says.sets.text == "1" else f"{says.sets.text} sets"
    remark = Remark(
        "sets-and-list-disagree",
        f"{view.name} gets {number} here, and a list of {entries} {told}.",
        "Give this row of Changes the sets, the reps and the load that belong together.",
    )
    yield flag(
        remark, cell.place, client=view.name, found=cell.text, related=_other(cell, says, load), touches=(view.name,)
    )


def _other(cell: Field[Any], says: EffectiveWeek, load: PlannedLoad) -> tuple[CellRef, ...]:
    """Return the cells that the change meets."""
    places = (says.sets.place, says.reps.place, load.source)
    return tuple(dict.fromkeys(place for place in places if place is not None and place != cell.place))
