"""What resolving makes: the plan of one client, with every load and where it comes from.

Loads are what this client can load at this site, or nothing at all. Nothing here is text for print. What is made for
each load is a named tuple: a frozen dataclass takes four times as long to make, and that was half the time of a load.
"""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from enum import StrEnum
from itertools import chain
from typing import NamedTuple

from compiler.cellref import CellRef
from compiler.flags.model import Flag
from compiler.frozen import frozen
from compiler.model.kit import Bar
from compiler.model.records import Client, Exercise, ProgrammeRow
from compiler.notation.values import BodyWeightLoad, DoneAs, Effort, Feel, PercentOf, Reps, Rest, Sets, Tempo
from compiler.quantities import Load, Percent, Unit
from compiler.resolve.rounding import Miss, Rounding


class LoadKind(StrEnum):
    """What a booklet shows where the load stands."""

    WEIGHT = "weight"
    ADDED = "added"
    EFFORT = "effort"
    WORK_UP = "work up"
    OWN = "own"
    BODY_WEIGHT = "body weight"
    FEEL = "feel"
    BAND = "band"
    HEART_RATE = "heart rate"
    TALK_TEST = "talk test"
    BLANK = "blank"
    NONE = "none"


class MaxOrigin(StrEnum):
    """How a maximum is known."""

    SINGLE = "single"
    ESTIMATE = "estimate"
    WORKING_MAX = "working max typed"


@frozen
class Maximum:
    """A client's maximum in one exercise, and the cells it rests on.

    `one_rm` is None where only a working max was typed. For body weight plus load both count the whole system, and
    `body` is the part of the body that is lifted in this block. `ratio` is the share taken where the test is of the
    exercise named by Load from. `lifted`, `reps` and `rpe` are the test as read, with the body where it counts.
    """

    one_rm: Load | None
    working_max: Load
    origin: MaxOrigin
    test: CellRef
    tested_on: date
    method: str | None
    reps_to_failure: Decimal | None
    share: Percent
    ratio: Percent | None = None
    lent_by: str | None = None
    body: Load | None = None
    lifted: Load | None = None
    reps: int | None = None
    rpe: Decimal | None = None


@frozen
class RepMaximum:
    """The load of a rep maximum. `test` is the cell of a test of just that, None where it was worked out.

    For body weight plus load it is of the whole system; `body` is the part of the body lifted in this block.
    """

    load: Load
    reps: int
    test: CellRef | None = None
    body: Load | None = None


class Fitted(NamedTuple):
    """One exact load and the one that can be loaded: `load` None where none can.

    For dumbbells and kettlebells per hand; for body weight plus load what is added, help below zero. `exact` is in
    the unit of the kit, to the millionth. `per_side` runs from the inside outwards.
    """

    exact: Load
    load: Load | None
    percent: Percent | None = None
    bar: Bar | None = None
    per_side: tuple[Decimal, ...] | None = None
    miss: Miss | None = None

    @property
    def top(self) -> Load:
        """The load to guard with: what is loaded, or what was asked for."""
        return self.load or self.exact


class FittedRange(NamedTuple):
    """One item of a list of loads; both ends alike where one load was asked for."""

    low: Fitted
    high: Fitted


class PlannedLoad(NamedTuple):
    """The load of one exercise in one week.

    `items`: one for every set alike, or set by set. `about`: a suggestion beside an effort.

    Of a weight that only the client's page knows: `paper_from` is the cell that asks for it, `own_step` what that cell
    adds to the last working weight, `paper_steps` the steps typed since, `paper_scale` the scale on top of them.
    `paper_week` is the week in which this client first wrote it, None where this is the first time; steps and scale
    are then those since that time.

    Of percentages: `percent_of` is what they are of, `steps` the weights added since, in the unit of the maximum.
    `counted` is the part of the body that is lifted now: what is added is the rest. `rounding` is the one
    that applied, `kit` the site whose kit was rounded to, None where it was the Block's step.

    `measure` is the maximum that a weight which does not come from one is measured against: a guard, never printed.
    """

    kind: LoadKind
    items: tuple[FittedRange, ...] = ()
    source: CellRef | None = None
    scaled: Percent | None = None
    maximum: Maximum | None = None
    rounding: Rounding | None = None
    kit: str | None = None
    percent_of: PercentOf | None = None
    rep_max: RepMaximum | None = None
    counted: Load | None = None
    steps: Load | None = None
    stop_at: Effort | None = None
    about: bool = False
    effort: Effort | None = None
    back_off: Percent | None = None
    feel: Feel | None = None
    band: str | None = None
    beats: tuple[int, int] | None = None
    talk: str | None = None
    paper_week: int | None = None
    paper_steps: tuple[Load | Percent, ...] = ()
    paper_from: CellRef | None = None
    own_step: Load | Percent | None = None
    paper_scale: Percent | None = None
    body: BodyWeightLoad | None = None
    measure: Maximum | None = None

    def placed(self, source: CellRef, scaled: Percent | None) -> PlannedLoad:
        """Return the load with the cell that says it and the scale it was asked for with."""
        kind, items, _, _, *others = self
        return PlannedLoad._make((kind, items, source, scaled, *others))  # `_replace` takes three times as long

    @property
    def percentages_of(self) -> Load | None:
        """What the percentages of the load are of; None where it has none."""
        match self.percent_of:
            case PercentOf.WORKING_MAX:
                return self.maximum.working_max if self.maximum else None
            case PercentOf.ONE_RM:
                return self.maximum.one_rm if self.maximum else None
            case PercentOf.REP_MAX:
                return self.rep_max.load if self.rep_max else None
            case None:
                return None


@frozen
class Changed:
    """What was changed for this client: the exercise it stands for, the coach's words, the rows behind it."""

    instead_of: str | None
    words: str
    because: CellRef


@frozen
class Settled:
    """The exercise a client does and what was changed; or None and the error that stops."""

    exercise: Exercise | None
    changed: Changed | None = None
    flags: tuple[Flag, ...] = ()


@frozen
class RampSet:
    """One lighter set before the first working set."""

    load: Fitted
    reps: int


@frozen
class PlannedExercise:
    """One exercise of one session of one client. `unit` is the one it is loaded in at the site, number or no number."""

    row: ProgrammeRow
    week: int
    order: str
    exercise: Exercise
    sets: Sets | None
    reps: Reps
    load: PlannedLoad
    rest: Rest | None
    tempo: Tempo | None
    cue: str | None
    done_as: DoneAs | None
    site: str | None
    unit: Unit
    changed: Changed | None = None
    ramp: tuple[RampSet, ...] = ()


class Part(StrEnum):
    """The parts of a session, in the order they are done."""

    WARM_UP = "warm-up"
    MAIN = "main"
    CONDITIONING = "conditioning"
    COOL_DOWN = "cool-down"


@frozen
class PlannedSession:
    """One session in one week. `day` None where no training days are set; `closed` where the gym is."""

    name: str
    week: int
    parts: dict[Part, tuple[PlannedExercise, ...]]
    weekday: str | None = None
    day: date | None = None
    closed: bool = False

    @property
    def exercises(self) -> tuple[PlannedExercise, ...]:
        """The exercises of all parts, in the order they are done."""
        return tuple(chain.from_iterable(self.parts.values()))


@frozen
class ClientPlan:
    """Everything one client does. `away` are weeks without pages; `sessions` stand by week, then in order."""

    client: Client
    sessions: tuple[PlannedSession, ...]
    away: tuple[int, ...] = ()
    weeks: int = 1

    @property
    def name(self) -> str:
        """The client's name, as the Clients sheet has it."""
        return self.client.name.needed

    @property
    def exercises(self) -> tuple[PlannedExercise, ...]:
        """What is done in all sessions, in their order: an exercise once for every time that it is done."""
        return tuple(chain.from_iterable(session.exercises for session in self.sessions))


@frozen
class Stop:
    """A client who gets no booklet, and the cell that they could not do without."""

    client: str
    place: CellRef
