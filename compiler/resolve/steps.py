"""The steps typed since a load: `+2.5%`, `+2.5 kg`, `same`, as points of a percentage and as weights."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal

from compiler.model.effective import LoadChain
from compiler.model.field import Poisoned
from compiler.notation.values import Step
from compiler.quantities import Load, Percent, Unit


def step_values(chain: LoadChain) -> tuple[Load | Percent, ...]:
    """Return the steps since the last load typed, in order."""
    steps = []
    for field in chain.steps:
        step = field.value
        if isinstance(step, Step) and step.by is not None:
            steps.append(step.by)
    return tuple(steps)


def weights_only(chain: LoadChain) -> list[Load]:
    """Return the steps on a load that is no percentage. Raises `Poisoned` for one in points: it was flagged there."""
    if not chain.steps:
        return []
    for field in chain.steps:
        if isinstance(field.value, Step) and isinstance(field.value.by, Percent):
            raise Poisoned(field.place)
    return [step for step in step_values(chain) if isinstance(step, Load)]


def total_of(steps: Iterable[Load], unit: Unit) -> Load | None:
    """Return weights added up in one unit; None where there are none."""
    amounts = [step.to(unit).amount for step in steps]
    return Load(sum(amounts, Decimal(0)), unit) if amounts else None
