"""Values of sets and repetitions: what is done in each set."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from compiler.quantities import Percent


@dataclass(frozen=True, slots=True)
class Sets:
    """`3`, `2-3`: how many sets."""

    low: int
    high: int


@dataclass(frozen=True, slots=True)
class NotThisWeek:
    """`-` in the sets cell: the row is out until sets are typed again."""


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
