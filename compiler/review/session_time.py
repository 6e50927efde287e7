"""How long a session takes, reckoned from what is written, and whether that is longer than the Block allows.

A repetition takes its tempo, or three seconds without one; `X` counts one second. Both sides count. What is done by the
clock (EMOM, every, AMRAP) takes the clock's time. Rests are those typed, the longer end of a range; where none is typed
there is a change-over. What has no time of its own (as many repetitions as possible, metres on a machine, calories) is
not counted, and named. All other times here are common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from decimal import ROUND_CEILING, Decimal

from compiler.flags.catalogue import flag
from compiler.flags.model import Flag, Remark
from compiler.folding import name_key
from compiler.frozen import frozen
from compiler.model.book import Book
from compiler.notation.values import (
    AsManyAsPossible,
    AtLeast,
    Cluster,
    Count,
    Distance,
    DistanceUnit,
    DoneAsKind,
    RepsItem,
    ShareOfMost,
    Tally,
    Tempo,
    TestSet,
    Timed,
)
from compiler.resolve.plan import Resolution
from compiler.resolve.values import ClientPlan, PlannedExercise, PlannedSession
from compiler.review.turns import MINUTE, Turn, reps_of, rounds_of, sets_of, turns_of
from compiler.schema.words import EVERY

REPETITION = 3
CHANGE_OVER = 20
BREATH = 5
STEP = 2
BETWEEN_PARTS = 10
"""Seconds between the parts of a cluster."""

PAUSE = 15
"""Seconds of the pause in a rest-pause set, as the page says."""

AFTER_A_RAMP_SET = 60
"""Seconds to rest and to load the bar."""

METRES_A_SECOND = Decimal(1)
"""The pace of walks under load, lunges and sleds. On machines and on the road people differ too much to say."""

METRES = {
    DistanceUnit.METRE: Decimal(1),
    DistanceUnit.KILOMETRE: Decimal(1000),
    DistanceUnit.YARD: Decimal("0.9144"),
    DistanceUnit.MILE: Decimal("1609.344"),
}
"""A yard is 0.9144 m exactly, and a mile 1,760 yards (international yard and pound agreement, 1959)."""


@frozen
class SessionTime:
    """The seconds that a session takes, and the exercises whose work could not be counted."""

    seconds: int
    uncounted: tuple[str, ...] = ()

    @property
    def minutes(self) -> int:
        """The time in minutes, rounded up."""
        return -(-self.seconds // MINUTE)


@dataclass
class _Clock:
    """Seconds gathered so far; `resting` is the rest they end with, which nobody waits for at the end."""

    seconds: int = 0
    resting: int = 0
    uncounted: dict[str, None] = field(default_factory=dict)

    def work(self, planned: PlannedExercise, seconds: int | None) -> None:
        if seconds is None:
            self.uncounted[planned.exercise.name.needed] = None
        else:
            self.seconds += seconds

    def rest(self, seconds: int) -> None:
        self.seconds += seconds
        self.resting = seconds


def session_time(session: PlannedSession) -> SessionTime:
    """Return how long one planned session takes."""
    clock = _Clock()
    for turn in turns_of(session):
        for planned in turn.exercises:
            clock.seconds += _ramp_seconds(planned)
        _count(clock, turn)
    return SessionTime(clock.seconds - clock.resting, tuple(clock.uncounted))


def session_minutes(session: PlannedSession) -> int:
    """Return how long one planned session takes in minutes, rounded up."""
    return session_time(session).minutes


def _count(clock: _Clock, turn: Turn) -> None:
    way = turn.how
    if way is not None and way.seconds is not None:
        clock.seconds += way.seconds * (rounds_of(way) or 1) if way.kind is DoneAsKind.EVERY else way.seconds
        clock.rest(CHANGE_OVER)
        return
    most = max(map(sets_of, turn.exercises))
    for planned in turn.exercises:
        sets, items = sets_of(planned), planned.reps.items
        for number, item in enumerate(items, start=1):
            once = set_seconds(planned, item)
            times = 1 if number < len(items) else sets - len(items) + 1  # a shorter list repeats its last
            clock.work(planned, None if once is None else once * times)
        rest = CHANGE_OVER if planned.rest is None else planned.rest.high
        clock.seconds += _after_the_last(planned) + sets * rest
        if sets == most:
            clock.resting = rest  # of the last round, with whose last rest the turn ends


def set_seconds(planned: PlannedExercise, item: RepsItem) -> int | None:
    """Return the seconds of work in one set, both sides of it; None where they are not known."""
    once = _item_seconds(planned, item)
    if once is None:
        return None
    both = planned.reps.each_side or planned.exercise.each_side.known is True
    return once * 2 if both else once


def _item_seconds(planned: PlannedExercise, item: RepsItem) -> int | None:
    repetition = REPETITION if planned.tempo is None else tempo_seconds(planned.tempo)
    match item:
        case Count(high=count) | AtLeast(count=count) | TestSet(count=count):
            return count * repetition
        case Cluster(counts=counts):
            return sum(counts) * repetition + BETWEEN_PARTS * (len(counts) - 1)
        case Timed(high=seconds):
            return seconds
        case Tally(high=count, word=word):
            return {"breaths": count * BREATH, "steps": count * STEP}.get(word)
        case Distance(high=length, unit=unit) if planned.exercise.implement.known != "cardio":
            return int((length * METRES[unit] / METRES_A_SECOND).to_integral_value(ROUND_CEILING))
        case Distance() | AsManyAsPossible() | ShareOfMost():
            return None


def tempo_seconds(tempo: Tempo) -> int:
    """Return the seconds of one repetition; `X` counts one."""
    parts = (tempo.lowering, tempo.pause, tempo.lifting, tempo.top)
    return sum(1 if part is None else part for part in parts)


def _after_the_last(planned: PlannedExercise) -> int:
    """Return what a drop set or a rest-pause adds to the last set."""
    way = planned.done_as
    if way is None:
        return 0
    again = set_seconds(planned, reps_of(planned, sets_of(planned) - 1)) or 0
    if way.kind is DoneAsKind.DROP_SET:
        return again * (way.rounds or 1)
    return PAUSE if way.kind is DoneAsKind.REST_PAUSE else 0


def _ramp_seconds(planned: PlannedExercise) -> int:
    if not planned.ramp:
        return 0
    repetition = REPETITION if planned.tempo is None else tempo_seconds(planned.tempo)
    return sum(step.reps * repetition + AFTER_A_RAMP_SET for step in planned.ramp)


# ---------------------------------------------------------------- against the Block's session length


def review_session_time(book: Book, resolution: Resolution) -> Iterator[Flag]:
    """Yield a warning for each session over the Block's length: the longest, and in how many weeks, for how many."""
    allowed = book.block.session_minutes.known
    if allowed is None:
        return
    long: dict[tuple[str, str], list[tuple[SessionTime, ClientPlan, PlannedSession]]] = {}
    for plan in resolution.plans:
        for session in plan.sessions:
            taken = session_time(session)
            if taken.seconds > allowed * MINUTE:
                key = (name_key(plan.client.programme.known or ""), name_key(session.name))
                long.setdefault(key, []).append((taken, plan, session))
    for found in long.values():
        yield _too_long(book, allowed, found)


def _too_long(book: Book, allowed: int, found: list[tuple[SessionTime, ClientPlan, PlannedSession]]) -> Flag:
    taken, plan, session = max(found, key=lambda one: one[0].seconds)
    names = dict.fromkeys(plan.name for _, plan, _ in found)
    others = f" and {len(names) - 1} more" if len(names) > 1 else ""
    weeks = sorted({session.week for _, _, session in found} - {session.week})
    also = f" Too long in week{'s' * (len(weeks) > 1)} {', '.join(map(str, weeks))} as well." if weeks else ""
    besides = f" {', '.join(taken.uncounted)} not counted." if taken.uncounted else ""
    remark = Remark(
        "session-too-long",
        f"{session.name} of week {session.week} takes about {taken.minutes} minutes for {plan.name}{others};"
        f" the Block says {allowed}.{also}{besides}",
        "Cut a set or a rest, or change the session length on the Block sheet.",
    )
    rows = [planned.row for planned in session.exercises]
    own = [row for row in rows if name_key(row.session.known or "") != EVERY] or rows
    first = min(own, key=lambda row: row.row.row)
    return flag(
        remark,
        first.session.place,
        client=plan.name if len(names) == 1 else None,
        found=first.session.text,
        related=(book.block.session_minutes.place,),
    )
