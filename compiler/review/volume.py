"""Volume: sets a week by muscle, and volume load by week.

Volume load is sets x repetitions x load, added set by set where they differ (Haff GG, Prof Strength Cond 2010; Hornsby
WG et al., Sports 2018). A muscle of `Works` counts a whole set, one of `Also works` half (fractional counting: Pelland
JC et al., SportRxiv 2024). Of ranges the middle counts.

Main part and conditioning count, warm-ups and ramp sets do not. Dumbbells and kettlebells in both hands count both, and
repetitions for each side both sides. A bar counts whole, a landmine its plates. Of body weight plus load only what is
added counts: the body is no load of the gym's, and help takes nothing away. A drop set's drops are left out. What has
no number of repetitions or no load has no volume load, and is counted as a line without one.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from decimal import Decimal
from functools import lru_cache
from typing import NamedTuple

from compiler.folding import name_key
from compiler.frozen import frozen
from compiler.model.records import ProgrammeRow
from compiler.notation.values import AtLeast, Cluster, Count, DoneAsKind, RepsItem, TestSet
from compiler.quantities import Load, Unit
from compiler.resolve.values import ClientPlan, FittedRange, LoadKind, PlannedExercise, PlannedSession
from compiler.review.turns import Turn, lines_of, rounds_of
from compiler.schema.implements import PAIRS

WHOLE_SET = Decimal(1)
HALF_SET = Decimal("0.5")
TWO = Decimal(2)
NOTHING = Decimal(0)
LOADED = (LoadKind.WEIGHT, LoadKind.ADDED, LoadKind.EFFORT)
UNLOADED = (LoadKind.BODY_WEIGHT, LoadKind.BAND, LoadKind.HEART_RATE, LoadKind.TALK_TEST, LoadKind.NONE)


class LineVolume(NamedTuple):
    """One line of one session. `load` None where it has weight and the weight or the repetitions are not known.

    `key` is what the line is known by from week to week: the number of its row, and the folded name of the session.
    """

    row: ProgrammeRow
    key: tuple[int, str]
    exercise: str
    sets: Decimal
    load: Load | None


@frozen
class WeekVolume:
    """One week of one client: sets by muscle in the order they first come, volume load, and the lines it is made of.

    `unknown` is how many lines have a weight that is not known beforehand.
    """

    week: int
    sets: tuple[tuple[str, Decimal], ...]
    load: Load
    unknown: int
    lines: tuple[LineVolume, ...]

    @property
    def summed(self) -> WeekVolume:
        """The week without its lines: there are thousands, and its sums are kept to the end of a run."""
        return replace(self, lines=())


Volumes = dict[int, tuple[WeekVolume, ...]]
"""The weeks of each client, by the number of their row on Clients."""


def weekly_volume(plan: ClientPlan, unit: Unit) -> tuple[WeekVolume, ...]:
    """Return the volume of each week that a client trains in, loads in one unit."""
    weeks: dict[int, list[PlannedSession]] = {}
    for session in plan.sessions:
        weeks.setdefault(session.week, []).append(session)
    return tuple(_week(week, sessions, unit) for week, sessions in sorted(weeks.items()))


def volumes_of(plans: Iterable[ClientPlan], unit: Unit) -> Volumes:
    """Return the weeks of all clients, summed."""
    return {plan.client.row.row: tuple(week.summed for week in weekly_volume(plan, unit)) for plan in plans}


def _week(week: int, sessions: Iterable[PlannedSession], unit: Unit) -> WeekVolume:
    muscles: dict[str, tuple[str, Decimal]] = {}
    lines: list[LineVolume] = []
    for session in sessions:
        for planned, turn in lines_of(session):
            line = line_volume(planned, turn, session.name, unit)
            lines.append(line)
            exercise = planned.exercise
            for key, muscle, share in _muscles(exercise.works.known or (), exercise.also_works.known or ()):
                shown, so_far = muscles.get(key, (muscle, NOTHING))
                muscles[key] = (shown, so_far + line.sets * share)
    total = sum((line.load.amount for line in lines if line.load), NOTHING)
    unknown = sum(line.load is None for line in lines)
    return WeekVolume(week, tuple(muscles.values()), Load(total, unit), unknown, tuple(lines))


@lru_cache(maxsize=1024)  # asked for with every line of everybody, and the same for each exercise
def _muscles(works: tuple[str, ...], also_works: tuple[str, ...]) -> tuple[tuple[str, str, Decimal], ...]:
    """Return the muscles that an exercise works: the folded name, the name, and how much of a set counts."""
    whole = ((name_key(muscle), muscle, WHOLE_SET) for muscle in works)
    half = ((name_key(muscle), muscle, HALF_SET) for muscle in also_works)
    return (*whole, *half)


def line_volume(planned: PlannedExercise, turn: Turn, session: str, unit: Unit) -> LineVolume:
    """Return the volume of one line; of rounds by the clock those that the clock gives."""
    sets = _middle_sets(planned, turn)
    amount = None if _rounds_are_open(turn) else _volume_load(planned, sets, unit)
    load = None if amount is None else Load(amount, unit)
    key = planned.row.row.row, name_key(session)
    return LineVolume(planned.row, key, planned.exercise.name.needed, sets, load)


def _rounds_are_open(turn: Turn) -> bool:
    return turn.how is not None and turn.how.kind is DoneAsKind.AMRAP


def _middle_sets(planned: PlannedExercise, turn: Turn) -> Decimal:
    if len(planned.reps.items) > 1:
        return Decimal(len(planned.reps.items))
    if planned.sets is not None:
        return Decimal(planned.sets.low + planned.sets.high) / TWO
    return Decimal(rounds_of(turn.how) or 1)


def _volume_load(planned: PlannedExercise, sets: Decimal, unit: Unit) -> Decimal | None:
    """Return sets x repetitions x load; nothing where there is no weight, None where it is not known."""
    load = planned.load
    if load.kind in UNLOADED:
        return NOTHING
    if load.kind not in LOADED or not load.items:
        return None
    total = NOTHING
    done = planned.reps.items
    for number, share in _shares(sets, max(len(done), len(load.items))):
        reps = middle_reps(done[min(number, len(done) - 1)])
        weight = _middle_load(load.items[min(number, len(load.items) - 1)], unit)
        if reps is None or weight is None:
            return None
        total += share * reps * weight
    return total * hands_and_sides(planned)


def _shares(sets: Decimal, entries: int) -> Iterable[tuple[int, Decimal]]:
    """Yield (number of the entry from 0, how many sets are done of it): of 2-3 sets the third counts half.

    A list repeats its last entry: all sets that are left are of it.
    """
    for number in range(entries):
        left = sets - number
        if left > 0:
            yield number, left if number == entries - 1 else min(WHOLE_SET, left)


def middle_reps(item: RepsItem) -> Decimal | None:
    """Return the repetitions of one set: the middle of a range, the floor of `8+`; None where they are not counted."""
    match item:
        case Count(low=low, high=high):
            return Decimal(low + high) / TWO
        case AtLeast(count=count) | TestSet(count=count):
            return Decimal(count)
        case Cluster(counts=counts):
            return Decimal(sum(counts))
        case _:
            return None


def _middle_load(item: FittedRange, unit: Unit) -> Decimal | None:
    if item.low.load is None or item.high.load is None:
        return None
    low = item.low.load.to(unit).amount
    middle = low if item.low is item.high else (low + item.high.load.to(unit).amount) / TWO
    return max(middle, NOTHING)


def hands_and_sides(planned: PlannedExercise) -> Decimal:
    """Return how often the weight that is written counts in one repetition: for both hands, for both sides."""
    hands = TWO if planned.exercise.implement.known in PAIRS else WHOLE_SET
    both = planned.reps.each_side or planned.exercise.each_side.known is True
    return hands * TWO if both else hands
