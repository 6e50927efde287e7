"""Weights that only the client's page knows: which week they were first written in, and what was added since.

`RPE 7` in week 1 and `+2.5 kg` in week 2 is "your week 1 weight + 2.5 kg" to who was there in week 1. Who joins later,
was away, or has the session for the first time, finds the weight then: the steps count from that week on. A scale of
all that the client does is told where it is not in what was written: it is taken once.
"""

from __future__ import annotations

from compiler.cellref import CellRef, RowRef
from compiler.quantities import Load, Percent
from compiler.resolve.sessions import Slot
from compiler.resolve.values import LoadKind, PlannedLoad

Place = tuple[RowRef, RowRef, str]
"""Where a client writes a weight down: the row of the programme, the exercise that is done, the session."""

Written = dict[tuple[Place, CellRef], tuple[int, tuple[Load | Percent, ...], Percent | None]]
"""By place and the cell that asks for the weight: the week of the first time, the steps until then, the scale then."""


def since_first_written(written: Written, load: PlannedLoad, place: Place, slot: Slot) -> PlannedLoad:
    """Return a load of the client's page with the steps since it was first written there, and note the first time.

    Sessions must come in the order in which they are done.
    """
    if load.paper_from is None:
        return load
    key = place, load.paper_from
    own = load.kind is LoadKind.OWN
    if key not in written:
        written[key] = slot.week, load.paper_steps, load.scaled
        return _with(load, (), load.scaled if own else None)
    week, before, scaled = written[key]
    begun = load.paper_steps[: len(before)] == before  # dealt out in turn, an easier week may come before the others
    since = load.paper_steps[len(before) :] if begun else ()
    if not since and not (own and (load.own_step or load.scaled or scaled)):
        return _with(load, (), load.paper_scale)
    if own and scaled is not None and load.scaled != scaled:
        # what was written down is scaled itself, and no page says of what
        return load._replace(kind=LoadKind.BLANK, paper_steps=())
    return load._replace(
        paper_week=week, paper_steps=since, paper_scale=None if load.scaled == scaled else load.scaled
    )


def _with(load: PlannedLoad, steps: tuple[Load | Percent, ...], scale: Percent | None) -> PlannedLoad:
    """Return the load with these steps and this scale: mostly it has none, and gets none."""
    if load.paper_steps == steps and load.paper_scale == scale:
        return load
    return load._replace(paper_steps=steps, paper_scale=scale)
