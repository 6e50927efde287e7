"""Guards on what one client is asked to do: highest effort, and what may not be done where nobody is on duty.

A percentage is compared with a highest RPE, and an effort with a highest percentage, through the handbook table. A
prescription above a limit is an error and never trimmed.
"""

from __future__ import annotations

from collections.abc import Iterator
from decimal import ROUND_CEILING, Decimal

from compiler.flags.catalogue import flag
from compiler.flags.model import Flag, Remark
from compiler.model.records import Exercise, ProgrammeRow
from compiler.notation.values import (
    AsManyAsPossible,
    AtLeast,
    Effort,
    EffortScale,
    Reps,
    TestSet,
)
from compiler.quantities import Load, plain
from compiler.resolve.context import ClientView, Limit
from compiler.resolve.effort_table import HARDEST_RPE, heaviest_reps, percent_for_effort
from compiler.resolve.rep_table import reps_for_percent
from compiler.resolve.values import LoadKind, PlannedLoad
from compiler.schema.implements import UNWEIGHED

HUNDRED = Decimal(100)
TENTH = Decimal("0.1")
HUNDREDTH = Decimal("0.01")
"""Points to which a share of the 1RM is rounded before it is compared: loads have been quantised on the way."""


def hardest_rpe(effort: Effort) -> Decimal:
    """Return the harder end of an effort on the RPE scale."""
    if effort.scale is EffortScale.RPE:
        return effort.high
    return HARDEST_RPE - min(effort.low, effort.high)


def to_the_limit(reps: Reps | None) -> bool:
    """Tell whether repetitions are done until no more are possible."""
    return any(
        isinstance(item, AsManyAsPossible | AtLeast | TestSet) for item in (reps.items if reps else ())
    )


def limit_flags(
    view: ClientView, row: ProgrammeRow, exercise: Exercise, load: PlannedLoad, reps: Reps | None
) -> Iterator[Flag]:
    """Yield an error for each limit of the client that a prescription goes over. `exercise` is the one that is done."""
    for limit in view.limits:
        asked = _over(limit, load, reps)
        if asked is None:
            continue
        most = f"RPE {plain(limit.rpe)}" if limit.rpe is not None else str(limit.percent)
        place = load.source or row.exercise.place
        remark = Remark(
            "over-client-limit",
            f"{exercise.name.value} asks {view.name} for {asked}; the highest for this client is {most}.",
            "Give this client a lighter load or fewer repetitions on the Changes sheet.",
        )
        yield flag(remark, place, client=view.name, related=(limit.place,), touches=(view.name,))


def _over(limit: Limit, load: PlannedLoad, reps: Reps | None) -> str | None:
    stopped = load.stop_at is not None and limit.rpe is not None and hardest_rpe(load.stop_at) <= limit.rpe
    if to_the_limit(reps) and not stopped and (limit.rpe is None or limit.rpe < HARDEST_RPE):
        return "as many repetitions as possible"
    if load.effort is not None:
        return _effort_over(limit, load.effort, reps)
    if load.kind in {LoadKind.WEIGHT, LoadKind.ADDED} and not stopped:
        return _weight_over(limit, load, reps)
    return None


def _effort_over(limit: Limit, effort: Effort, reps: Reps | None) -> str | None:
    rpe = hardest_rpe(effort)
    if limit.rpe is not None:
        return f"RPE {plain(rpe)}" if rpe > limit.rpe else None
    count = heaviest_reps(reps)
    span = percent_for_effort(count, effort) if count is not None else None
    if span is not None and limit.percent is not None and span.high.value > limit.percent.value:
        return f"RPE {plain(rpe)}, about {span.high}"
    return None


def _weight_over(limit: Limit, load: PlannedLoad, reps: Reps | None) -> str | None:
    """Return what a percentage, or a typed weight measured against the client's 1RM, asks over a limit."""
    if limit.percent is not None:
        share = _share_of_maximum(load)
        of = "" if load.percentages_of else " of the working max"
        return f"{plain(share)}%{of}" if share is not None and share > limit.percent.value else None
    count, known = heaviest_reps(reps), load.maximum or load.measure
    if known is None or known.one_rm is None:
        return None
    share = _share_of(load, known.one_rm, known.body)
    percents = [end.percent for item in load.items for end in (item.low, item.high) if end.percent is not None]
    highest = max(percents, key=lambda percent: percent.value, default=None)
    asked = str(highest) if highest is not None else f"{plain(share)}% of the 1RM"
    to_failure = reps_for_percent(share)
    if to_failure is None or count is None or limit.rpe is None:
        return None
    rpe = HARDEST_RPE - max(to_failure - count, Decimal(0))
    if rpe <= limit.rpe:
        return None
    return f"{asked} for {count}, about RPE {plain(rpe.quantize(TENTH, rounding=ROUND_CEILING))}"


def _share_of_maximum(load: PlannedLoad) -> Decimal | None:
    """Return the heaviest set as a percentage: the one in the cell, with what was added and scaled since.

    A weight that was typed is measured against the working max. None where no maximum is known.
    """
    of = load.percentages_of
    if of is None:
        known = load.measure
        return _share_of(load, known.working_max, known.body) if known is not None else None
    if load.steps is None and load.scaled is None:
        ends = (end.percent for item in load.items for end in (item.low, item.high))
        return max((percent.value for percent in ends if percent is not None), default=None)
    return _share_of(load, of, load.counted)


def _share_of(load: PlannedLoad, of: Load, counted: Load | None) -> Decimal:
    """Return the heaviest set as a percentage of a load, with the part of the body that counts in it."""
    top = max((item.high.exact.to(of.unit).amount for item in load.items), default=Decimal(0))
    body = counted.to(of.unit).amount if counted else Decimal(0)
    return ((top + body) * HUNDRED / of.amount).quantize(HUNDREDTH)


def spotter_flags(
    view: ClientView, row: ProgrammeRow, exercise: Exercise, load: PlannedLoad, reps: Reps | None
) -> Iterator[Flag]:
    """Yield an error for a spotted lift, or a loaded set to the limit, where nobody is on duty."""
    if view.staffed:
        return
    spotted = exercise.spotter.value in {"one", "two"}
    loaded = exercise.implement.value not in UNWEIGHED
    hardest = load.effort is not None and hardest_rpe(load.effort) >= HARDEST_RPE
    if not spotted and not (loaded and (to_the_limit(reps) or hardest)):
        return
    why = "needs a spotter" if spotted else "goes to the last repetition possible"
    remark = Remark(
        "spotter-alone",
        f"{exercise.name.value} {why}, and nobody is on duty where {view.name} trains.",
        "Swap it for this client on the Changes sheet, or correct Staffed on the Sites sheet.",
    )
    place = view.site.staffed.place if view.site else view.client.site.place
    yield flag(
        remark,
        row.exercise.place,
        client=view.name,
        found=row.exercise.text,
        related=(place,),
        touches=(view.name,),
    )
