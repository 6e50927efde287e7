"""Values of efforts and loads: how heavy, as it was written."""

from __future__ import annotations

from decimal import Decimal
from enum import StrEnum

from compiler.frozen import frozen
from compiler.quantities import Load, Percent


class EffortScale(StrEnum):
    """How an effort was written."""

    RPE = "RPE"
    RIR = "RIR"


@frozen
class Effort:
    """`RPE 8`, `RPE 7-8`, `2 RIR`: as written, on its own scale."""

    scale: EffortScale
    low: Decimal
    high: Decimal


@frozen
class PercentRange:
    """One item of a list of percentages."""

    low: Percent
    high: Percent


class PercentOf(StrEnum):
    """What a percentage is of."""

    WORKING_MAX = "working max"
    ONE_RM = "1RM"
    REP_MAX = "rep max"


@frozen
class PercentLoad:
    """`75%`, `75% 1RM`, `90% of 8RM`, `70-75%`, `70, 75, 80%`, `75% or RPE 7`, `75%, stop at RPE 8`.

    `rep_max` is the repetitions of `REP_MAX`. `fallback` is for a client without a test.
    """

    items: tuple[PercentRange, ...]
    of: PercentOf = PercentOf.WORKING_MAX
    rep_max: int | None = None
    fallback: Effort | None = None
    stop_at: Effort | None = None


@frozen
class WeightRange:
    """One item of a list of weights; both ends in one unit."""

    low: Load
    high: Load


@frozen
class WeightLoad:
    """`60 kg`, `60, 65, 70 kg`, `60-65 kg`, `2 x 16 kg` (`implements` 2: the weight is per hand)."""

    items: tuple[WeightRange, ...]
    implements: int | None = None


@frozen
class EffortLoad:
    """`RPE 8`, `2 RIR`, `RPE 8, then -10%`: the client finds the load; `back_off` after the first set."""

    effort: Effort
    back_off: Percent | None = None


@frozen
class WorkUp:
    """`work up`, `work up to RPE 8`: each set heavier until it feels right."""

    until: Effort | None = None


@frozen
class OwnWeight:
    """`own`, `own + 2.5 kg`, `own -10%`: this client's last working weight; `step` signed."""

    step: Load | Percent | None = None


@frozen
class Step:
    """`+2.5 kg`, `same - 5 kg`, `+2.5%`: on the week before; signed. `same` alone is a `Step` of None."""

    by: Load | Percent | None


@frozen
class BodyWeightLoad:
    """`body weight`, `BW + 10 kg`, `BW - 20 kg`: `added` signed, None for body weight alone."""

    added: Load | None = None


@frozen
class BodyWeightShare:
    """`25% BW`: a weight that is a share of the client's body weight."""

    percent: Percent


class Feel(StrEnum):
    """Words for a load that the client finds."""

    LIGHT = "light"
    MODERATE = "moderate"
    HEAVY = "heavy"
    BY_FEEL = "by feel"


@frozen
class FeelLoad:
    """`light`, `moderate`, `heavy`, `by feel`."""

    feel: Feel


class HeartRateOf(StrEnum):
    """What a heart-rate target is counted in."""

    RESERVE = "HRR"
    MAXIMUM = "HRmax"
    BEATS = "bpm"


@frozen
class HeartRateLoad:
    """`60-70% HRR`, `65-75% HRmax`, `120-140 bpm`."""

    low: Decimal
    high: Decimal
    of: HeartRateOf


@frozen
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
