"""A tested set -> the one-repetition maximum it stands for, or the reason why it stands for none.

Every method is one curve: the share of 1RM that can be lifted for a number of repetitions to failure.
Dividing by it estimates the 1RM, multiplying by it reads the method backwards. The curves are worked out with
40 digits and a load is given back with 28, so that what is exact in fractions is exact here.
"""

from __future__ import annotations

from decimal import Decimal, localcontext
from enum import StrEnum

from compiler.frozen import frozen
from compiler.quantities import Load
from compiler.resolve.effort_table import MOST_REPS_TO_FAILURE, reps_in_reserve
from compiler.resolve.rep_table import percent_for_reps

_WORKING_DIGITS = 40
_HUNDRED = Decimal(100)
MOST_REPS_WITHOUT_REMARK = Decimal(9)
TOO_MUCH_IN_RESERVE = Decimal(4)


class Method(StrEnum):
    """How repetitions to failure become a 1RM, under the names the Block sheet offers.

    BRZYCKI: w / (1.0278 - 0.0278 r); Brzycki M, J Phys Educ Recreat Dance 1993;64(1):88-90; published for
    fewer than 10 repetitions. Best of six at 10 or fewer in Mayhew JL et al., J Sports Med Phys Fitness
    1995;35(2):108-113.
    EPLEY: w (1 + r / 30); Epley B, Poundage chart, Boyd Epley Workout, 1985; 1 to 10 repetitions.
    LOMBARDI: w r^0.10; Lombardi VP, Beginning Weight Training, 1989; 1 to 10; from memory of the source.
    OCONNER: w (1 + 0.025 r); O'Conner B et al., Weight Training Today, 1989; 1 to 10; from memory of the
    source.
    MAYHEW: 100 w / (52.2 + 41.9 e^(-0.055 r)); Mayhew JL et al., J Appl Sport Sci Res 1992;6(4):200-206;
    bench press, 1 to 15; from memory of the source.
    WATHAN: 100 w / (48.8 + 53.8 e^(-0.075 r)); Wathen D, Load assignment, in Baechle TR (ed), Essentials of
    Strength Training and Conditioning, 1994; 1 to 10; from memory of the source.
    LANDER: 100 w / (101.3 - 2.67123 r); Lander J, NSCA J 1985;6(6):60-61; 1 to 10; from memory of the source.
    TABLE: the handbook's table, see `rep_table`; 1 to 15.

    Upper ends of the ranges other than Brzycki's and the table's are a reading of two reviews (Reynolds JM et
    al., J Strength Cond Res 2006;20(3):584-592, and Mayhew 1995), not of the sources.
    """

    BRZYCKI = "Brzycki"
    EPLEY = "Epley"
    LOMBARDI = "Lombardi"
    OCONNER = "O'Conner"
    MAYHEW = "Mayhew"
    WATHAN = "Wathan"
    LANDER = "Lander"
    TABLE = "handbook table"


class NotEstimated(StrEnum):
    """Why a set says nothing about the 1RM."""

    NO_SET = "no weight or no repetitions"
    TOO_MANY_REPS = "more than twelve repetitions to failure"
    TOO_EASY = "four or more repetitions in reserve"


@frozen
class Estimate:
    """A 1RM and where it comes from. `many_reps`: from more than nine repetitions to failure, so less sure.

    `method` is None where the set was a single with nothing in reserve: the weight itself, by no formula.
    """

    one_rm: Load
    method: Method | None
    reps_to_failure: Decimal
    many_reps: bool


@frozen
class NoEstimate:
    """No 1RM comes from the set. `reps_to_failure` None where they are not known."""

    reason: NotEstimated
    reps_to_failure: Decimal | None = None


def share_of_one_rm(reps: Decimal, method: Method) -> Decimal | None:
    """Return the share of 1RM (0.75 is 75 %) for repetitions to failure, as the formula has it, to 40 digits.

    None for less than one repetition and where the formula has no answer. At one repetition most formulas do
    not give 1, so a single must not come here: `estimate_one_rm` and `weight_for_reps` see to that.
    """
    if reps < 1:
        return None
    with localcontext(prec=_WORKING_DIGITS):
        share = _curve(reps, method)
        return share if share is not None and share > 0 else None


def _curve(reps: Decimal, method: Method) -> Decimal | None:
    percent: Decimal | None
    match method:
        case Method.BRZYCKI:
            percent = Decimal("102.78") - Decimal("2.78") * reps
        case Method.EPLEY:
            percent = 3000 / (30 + reps)
        case Method.LOMBARDI:
            percent = 100 * reps ** Decimal("-0.10")
        case Method.OCONNER:
            percent = 100 / (1 + Decimal("0.025") * reps)
        case Method.MAYHEW:
            percent = Decimal("52.2") + Decimal("41.9") * (Decimal("-0.055") * reps).exp()
        case Method.WATHAN:
            percent = Decimal("48.8") + Decimal("53.8") * (Decimal("-0.075") * reps).exp()
        case Method.LANDER:
            percent = Decimal("101.3") - Decimal("2.67123") * reps
        case Method.TABLE:
            percent = percent_for_reps(reps)
    return None if percent is None else percent / _HUNDRED


def estimate_one_rm(weight: Load, reps: int, rpe: Decimal | None, method: Method) -> Estimate | NoEstimate:
    """Return the 1RM that a tested set stands for; `rpe` None means that nothing was left.

    A single with nothing left is the 1RM itself. From ten to twelve repetitions to failure the estimate says
    so; above twelve, or with four or more in reserve, there is none. The result is in the unit of the weight.
    """
    if reps < 1 or weight.amount <= 0:
        return NoEstimate(NotEstimated.NO_SET)
    reserve = Decimal(0) if rpe is None else reps_in_reserve(rpe)
    if reserve is None or reserve >= TOO_MUCH_IN_RESERVE:
        return NoEstimate(NotEstimated.TOO_EASY, None if reserve is None else reps + reserve)
    to_failure = reps + reserve
    if to_failure > MOST_REPS_TO_FAILURE:
        return NoEstimate(NotEstimated.TOO_MANY_REPS, to_failure)
    if to_failure == 1:
        return Estimate(weight, None, to_failure, many_reps=False)
    share = share_of_one_rm(to_failure, method)
    if share is None:
        return NoEstimate(NotEstimated.TOO_MANY_REPS, to_failure)
    with localcontext(prec=_WORKING_DIGITS):
        amount = weight.amount / share
    return Estimate(
        one_rm=Load(+amount, weight.unit),
        method=method,
        reps_to_failure=to_failure,
        many_reps=to_failure > MOST_REPS_WITHOUT_REMARK,
    )


def weight_for_reps(one_rm: Load, reps: int, method: Method) -> Load | None:
    """Return the weight of a set of that many repetitions to failure: the method read backwards.

    One repetition is the 1RM itself. None for less than one and for more than twelve, where no estimate is
    made.
    """
    if reps == 1:
        return one_rm
    if reps > MOST_REPS_TO_FAILURE:
        return None
    share = share_of_one_rm(Decimal(reps), method)
    if share is None:
        return None
    with localcontext(prec=_WORKING_DIGITS):
        amount = one_rm.amount * share
    return Load(+amount, one_rm.unit)
