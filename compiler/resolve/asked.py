"""What a load is made from, what comes of it, and the few rules that hold for every kind of load."""

from __future__ import annotations

from typing import NamedTuple

from compiler.flags.model import Flag
from compiler.model.effective import EffectiveWeek, LoadChain
from compiler.model.records import Exercise
from compiler.notation.values import Reps
from compiler.quantities import Load, Percent
from compiler.resolve.context import ClientView
from compiler.resolve.rounding import Rounding
from compiler.resolve.values import PlannedLoad


class Asked(NamedTuple):
    """One row of one week for one client: what a load is made from."""

    view: ClientView
    exercise: Exercise
    week: EffectiveWeek
    reps: Reps | None
    scale: Percent | None = None


class Planned(NamedTuple):
    """A planned load, and what the coach should know about it."""

    load: PlannedLoad
    flags: tuple[Flag, ...] = ()


def placed(asked: Asked, chain: LoadChain, planned: Planned) -> Planned:
    """Add the cell that says the load, and the scale it was asked for with."""
    return Planned(planned.load.placed(chain.place_field.place, asked.scale), planned.flags)


def scaled(asked: Asked, load: Load) -> Load:
    """Return a load as the client's scale has it."""
    return load.times(asked.scale.share) if asked.scale else load


def rounding_of(view: ClientView) -> Rounding:
    """Return which way loads are rounded: as the Block says, and down for a client with a limit."""
    return Rounding.DOWN if view.limits else view.rounding


def kit_of(view: ClientView) -> str | None:
    """Return the site whose kit is rounded to; None where it is the Block's step."""
    return view.kit.site if view.kit else None
