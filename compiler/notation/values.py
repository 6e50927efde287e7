"""What the small languages of cells mean, as values. No cell, no client, no kit: only what was written.

Numbers are Decimals or whole numbers; seconds are whole seconds; percentages are `Percent` (75 is 75 %).
A range has `low` and `high`; a single value is a range with both ends equal.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from enum import StrEnum

from compiler.quantities import Load, Percent, Unit


@dataclass(frozen=True, slots=True)
class Reason:
    """Why a text could not be read: the slug it becomes, what was found and expected, what to do."""

    slug: str
    message: str
    hint: str | None = None


# ---------------------------------------------------------------- sets


@dataclass(frozen=True, slots=True)
class Sets:
    """`3`, `2-3`: how many sets."""

    low: int
    high: int


@dataclass(frozen=True, slots=True)
class NotThisWeek:
    """`-` in the sets cell: the row is out until sets are typed again."""


# ---------------------------------------------------------------- reps


@dataclass(frozen=True, slots=True)
class Count:
    """`8`, `8-10`: repetitions."""

    low: int
    high: int


@dataclass(frozen=True, slots=True)
class AtLeast:
    """`8+`: this many and as many more as possible."""

    count: int


@dataclass(frozen=True, slots=True)
class AsManyAsPossible:
    """`AMRAP`, `max`."""


@dataclass(frozen=True, slots=True)
class ShareOfMost:
    """`60% of max`: a share of the most repetitions this client did in a test."""

    percent: Percent


@dataclass(frozen=True, slots=True)
class TestSet:
    """`3RM`: work up to the heaviest set of that many repetitions."""

    __test__ = False
    count: int


@dataclass(frozen=True, slots=True)
class Timed:
    """`30 s`, `1:30`, `2 min`, `20-30 s`: a hold or a time, in seconds."""

    low: int
    high: int


class DistanceUnit(StrEnum):
    """Units of distance."""

    METRE = "m"
    KILOMETRE = "km"
    YARD = "yd"
    MILE = "mi"


@dataclass(frozen=True, slots=True)
class Distance:
    """`400 m`, `20 yd`."""

    low: Decimal
    high: Decimal
    unit: DistanceUnit


@dataclass(frozen=True, slots=True)
class Tally:
    """`5 breaths`, `10 steps`, `15 cal`: a count of something else; `word` is breaths, steps or cal."""

    low: int
    high: int
    word: str


@dataclass(frozen=True, slots=True)
class Cluster:
    """`2+2+2`: one set in parts with a breath between."""

    counts: tuple[int, ...]


RepsItem = (
    Count | AtLeast | AsManyAsPossible | ShareOfMost | TestSet | Timed | Distance | Tally | Cluster
)


@dataclass(frozen=True, slots=True)
class Reps:
    """What is done in each set. One item: every set alike; several: set by set (`12, 10, 8`)."""

    items: tuple[RepsItem, ...]
    each_side: bool = False


# ---------------------------------------------------------------- effort


class EffortScale(StrEnum):
    """How an effort was written."""

    RPE = "RPE"
    RIR = "RIR"


@dataclass(frozen=True, slots=True)
class Effort:
    """`RPE 8`, `RPE 7-8`, `2 RIR`: as written, on its own scale."""

    scale: EffortScale
    low: Decimal
    high: Decimal


# ---------------------------------------------------------------- load


@dataclass(frozen=True, slots=True)
class PercentRange:
    """One item of a list of percentages."""

    low: Percent
    high: Percent


class PercentOf(StrEnum):
    """What a percentage is of."""

    WORKING_MAX = "working max"
    ONE_RM = "1RM"
    REP_MAX = "rep max"


@dataclass(frozen=True, slots=True)
class PercentLoad:
    """`75%`, `75% 1RM`, `90% of 8RM`, `70-75%`, `70, 75, 80%`, `75% or RPE 7`, `75%, stop at RPE 8`.

    `rep_max` is the repetitions of `REP_MAX`. `fallback` is for a client without a test.
    """

    items: tuple[PercentRange, ...]
    of: PercentOf = PercentOf.WORKING_MAX
    rep_max: int | None = None
    fallback: Effort | None = None
    stop_at: Effort | None = None


@dataclass(frozen=True, slots=True)
class WeightRange:
    """One item of a list of weights; both ends in one unit."""

    low: Load
    high: Load


@dataclass(frozen=True, slots=True)
class WeightLoad:
    """`60 kg`, `60, 65, 70 kg`, `60-65 kg`, `2 x 16 kg` (`implements` 2: the weight is per hand)."""

    items: tuple[WeightRange, ...]
    implements: int | None = None


@dataclass(frozen=True, slots=True)
class EffortLoad:
    """`RPE 8`, `2 RIR`, `RPE 8, then -10%`: the client finds the load; `back_off` after the first set."""

    effort: Effort
    back_off: Percent | None = None


@dataclass(frozen=True, slots=True)
class WorkUp:
    """`work up`, `work up to RPE 8`: each set heavier until it feels right."""

    until: Effort | None = None


@dataclass(frozen=True, slots=True)
class OwnWeight:
    """`own`, `own + 2.5 kg`, `own -10%`: this client's last working weight; `step` signed."""

    step: Load | Percent | None = None


@dataclass(frozen=True, slots=True)
class Step:
    """`+2.5 kg`, `same - 5 kg`, `+2.5%`: on the week before; signed. `same` alone is a `Step` of None."""

    by: Load | Percent | None


@dataclass(frozen=True, slots=True)
class BodyWeightLoad:
    """`body weight`, `BW + 10 kg`, `BW - 20 kg`: `added` signed, None for body weight alone."""

    added: Load | None = None


@dataclass(frozen=True, slots=True)
class BodyWeightShare:
    """`25% BW`: a weight that is a share of the client's body weight."""

    percent: Percent


class Feel(StrEnum):
    """Words for a load that the client finds."""

    LIGHT = "light"
    MODERATE = "moderate"
    HEAVY = "heavy"
    BY_FEEL = "by feel"


@dataclass(frozen=True, slots=True)
class FeelLoad:
    """`light`, `moderate`, `heavy`, `by feel`."""

    feel: Feel


class HeartRateOf(StrEnum):
    """What a heart-rate target is counted in."""

    RESERVE = "HRR"
    MAXIMUM = "HRmax"
    BEATS = "bpm"


@dataclass(frozen=True, slots=True)
class HeartRateLoad:
    """`60-70% HRR`, `65-75% HRmax`, `120-140 bpm`."""

    low: Decimal
    high: Decimal
    of: HeartRateOf


@dataclass(frozen=True, slots=True)
class NamedLoad:
    """A name to be looked up: a band of the kit, or a heart-rate zone of the Block."""

    name: str


LoadText = (
    PercentLoad
    | WeightLoad
    | EffortLoad
    | WorkUp
    | OwnWeight
    | Step
    | BodyWeightLoad
    | BodyWeightShare
    | FeelLoad
    | HeartRateLoad
    | NamedLoad
)


# ---------------------------------------------------------------- the rest of the row


@dataclass(frozen=True, slots=True)
class Prescription:
    """A whole prescription typed into the sets cell: `3 x 8 @ 75%`; `load` None where none was typed."""

    sets: Sets
    reps: Reps
    load: LoadText | None


@dataclass(frozen=True, slots=True)
class Rest:
    """`60`, `60-90 s`, `1:30`, `0`: seconds."""

    low: int
    high: int


@dataclass(frozen=True, slots=True)
class Tempo:
    """`3-1-1-0`: seconds of lowering, pause, lifting, pause; None is `X`, as fast as possible.

    The fourth is 0 where three were written; `written` is how many parts there were.
    """

    lowering: int | None
    pause: int | None
    lifting: int | None
    top: int | None
    written: int = 4


class DoneAsKind(StrEnum):
    """Ways to do a group other than set by set with rests."""

    CIRCUIT = "circuit"
    EMOM = "EMOM"
    EVERY = "every"
    AMRAP = "AMRAP"
    FOR_TIME = "for time"
    DROP_SET = "drop last set"
    REST_PAUSE = "rest-pause"


@dataclass(frozen=True, slots=True)
class DoneAs:
    """`circuit`, `EMOM 10 min`, `every 2 min x 5`, `for time`, `drop last set 20% x 2`: seconds, rounds, drops."""

    kind: DoneAsKind
    seconds: int | None = None
    rounds: int | None = None
    drop: Percent | None = None


@dataclass(frozen=True, slots=True)
class RampStep:
    """One step of a ramp: the empty bar (`percent` None) or a percentage of the first working set."""

    percent: Percent | None
    reps: int


@dataclass(frozen=True, slots=True)
class Ramp:
    """`bar x 8, 50% x 5, 70% x 3`."""

    steps: tuple[RampStep, ...]


@dataclass(frozen=True, slots=True)
class Weight:
    """`80`, `80 kg`, `176 lb`: `unit` None where none was typed."""

    amount: Decimal
    unit: Unit | None


@dataclass(frozen=True, slots=True)
class Weeks:
    """`1-4`, `2, 4`, `all` (`numbers` None)."""

    numbers: tuple[int, ...] | None


class Weekday(StrEnum):
    """Days of the week, Monday first."""

    MON = "Monday"
    TUE = "Tuesday"
    WED = "Wednesday"
    THU = "Thursday"
    FRI = "Friday"
    SAT = "Saturday"
    SUN = "Sunday"


@dataclass(frozen=True, slots=True)
class Size:
    """One size of a kit list: `20 x2` is a size of 20 with `count` 2; without a count as many as needed."""

    amount: Decimal
    count: int | None = None


@dataclass(frozen=True, slots=True)
class Sizes:
    """`25, 20, 15`, `2-40 by 2`, `20 x2, 10 x4`; sizes in the order written, ranges written out."""

    items: tuple[Size, ...]


@dataclass(frozen=True, slots=True)
class BandNames:
    """`light = yellow, medium = red`: the coach's word and the band that is printed."""

    pairs: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class EffortLimit:
    """A client's highest effort: `RPE 7` or `80%`; exactly one is set."""

    rpe: Decimal | None
    percent: Percent | None


@dataclass(frozen=True, slots=True)
class Result:
    """A test result that is not a load: `45 s`, `12 reps`, `1000 m`, `112 bpm`; `amount` counts `word`."""

    amount: Decimal
    word: str


@dataclass(frozen=True, slots=True)
class Zone:
    """A named heart-rate zone as shares of heart-rate reserve: 40 means 40 %."""

    name: str
    low: Decimal
    high: Decimal


@dataclass(frozen=True, slots=True)
class Zones:
    """`easy 40-59%, steady 60-74%`: the Block's heart-rate zones, in the order written."""

    zones: tuple[Zone, ...]


@dataclass(frozen=True, slots=True)
class BirthDay:
    """A year of birth, or the whole date. Of a year alone the younger age is taken: born on its last day."""

    latest: date

    def age_on(self, day: date) -> int:
        """Return the age in whole years."""
        had_birthday = (day.month, day.day) >= (self.latest.month, self.latest.day)
        return day.year - self.latest.year - (0 if had_birthday else 1)
