"""Values of sets and repetitions: what is done in each set."""

from __future__ import annotations

from decimal import Decimal
from enum import StrEnum

from compiler.frozen import frozen
from compiler.quantities import Percent


@frozen
class Sets:
    """`3`, `2-3`: how many sets."""

    low: int
    high: int


@frozen
class NotThisWeek:
    """`-` in the sets cell: the row is out until sets are typed again."""


@frozen
class Count:
    """`8`, `8-10`: repetitions."""

    low: int
    high: int


@frozen
class AtLeast:
    """`8+`: this many and as many more as possible."""

    count: int


@frozen
class AsManyAsPossible:
    """`AMRAP`, `max`."""


@frozen
class ShareOfMost:
    """`60% of max`: a share of the most repetitions this client did in a test."""

    percent: Percent


@frozen
class TestSet:
    """`3RM`: work up to the heaviest set of that many repetitions."""

    __test__ = False
    count: int


@frozen
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


@frozen
class Distance:
    """`400 m`, `20 yd`."""

    low: Decimal
    high: Decimal
    unit: DistanceUnit


@frozen
class Tally:
    """`5 breaths`, `10 steps`, `15 cal`: a count of something else; `word` is breaths, steps or cal."""

    low: int
    high: int
    word: str


@frozen
class Cluster:
    """`2+2+2`: one set in parts with a breath between."""

    counts: tuple[int, ...]


RepsItem = (
    Count | AtLeast | AsManyAsPossible | ShareOfMost | TestSet | Timed | Distance | Tally | Cluster
)


@frozen
class Reps:
    """What is done in each set. One item: every set alike; several: set by set (`12, 10, 8`)."""

    items: tuple[RepsItem, ...]
    each_side: bool = False
