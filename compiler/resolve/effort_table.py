"""Effort -> repetitions in reserve, and with repetitions -> percentage of 1RM.

The scale: Zourdos MC et al., J Strength Cond Res 2016;30(1):267-275; Helms ER et al., Strength Cond J
2016;38(4):42-49. RPE 10 and 9.5 leave no repetition, 9 leaves one, 8 two, 7 three; half points between are
taken as halves. RPE 6 (four to six left on the scale) counts as four here, and nothing is read from less.
"""

from __future__ import annotations

from decimal import Decimal
from functools import lru_cache

from compiler.notation.values import AtLeast, Cluster, Count, Effort, EffortScale, PercentRange, Reps, TestSet
from compiler.quantities import Percent
from compiler.resolve.rep_table import percent_for_reps

HARDEST_RPE = Decimal(10)
EASIEST_RPE = Decimal(6)
MOST_REPS_TO_FAILURE = Decimal(12)
_NOTHING_LEFT = Decimal(0)


def reps_in_reserve(rpe: Decimal) -> Decimal | None:
    """Return the repetitions that an effort leaves; None under RPE 6, and over 10, where the scale ends.

    Less than a whole repetition left is none: RPE 9.5 means that the load could rise, not the repetitions.
    """
    if not EASIEST_RPE <= rpe <= HARDEST_RPE:
        return None
    left = HARDEST_RPE - rpe
    return left if left >= 1 else _NOTHING_LEFT


def reserve_range(effort: Effort) -> tuple[Decimal, Decimal] | None:
    """Return the fewest and the most repetitions an effort leaves; None where either end is off the scale."""
    in_rpe = effort.scale is EffortScale.RPE
    ends = (effort.low, effort.high) if in_rpe else (HARDEST_RPE - effort.low, HARDEST_RPE - effort.high)
    left = [reps_in_reserve(rpe) for rpe in ends]
    if left[0] is None or left[1] is None:
        return None
    return min(left[0], left[1]), max(left[0], left[1])


@lru_cache(maxsize=1024)  # a programme asks for a handful of efforts, and each is looked up for everybody
def percent_for_effort(reps: int, effort: Effort) -> PercentRange | None:
    """Return the percentages of 1RM at which that many repetitions feel that hard.

    They are the table's at repetitions plus reserve. None where the effort is easier than RPE 6 at either
    end, or more than twelve repetitions to failure are meant.
    """
    reserve = reserve_range(effort)
    if reserve is None or reps + reserve[1] > MOST_REPS_TO_FAILURE:
        return None
    high, low = (percent_for_reps(reps + left) for left in reserve)
    if low is None or high is None:
        return None
    return PercentRange(Percent(low), Percent(high))


def heaviest_reps(reps: Reps | None) -> int | None:
    """Return the most repetitions that one set is sure to ask for: what an effort or a check must reckon with.

    The upper end of a range, the floor of `8+`; None for what is not counted in repetitions.
    """
    counts = []
    for item in reps.items if reps else ():
        match item:
            case Count(high=high):
                counts.append(high)
            case AtLeast(count=count) | TestSet(count=count):
                counts.append(count)
            case Cluster(counts=parts):
                counts.append(max(parts))
            case _:
                return None
    return max(counts, default=None)
