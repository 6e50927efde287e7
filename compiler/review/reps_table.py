"""One prescription against the handbook's table: whether each set can be done, with a rep or two to spare.

At the true percentage of 1RM the table gives the repetitions of one set to failure (NSCA, Essentials of Strength
Training and Conditioning, 4th edition, table 17.7, and the NSCA training load chart). One spare is wanted for three
sets and more, two with rests under 90 s or lowering of four seconds and more. Fewer is a warning; under two thirds of
what is asked, for free bars at 80% and above, an error, but not for the legs, which do more. Silent under 65%, where
the table ends. How many reps to keep in reserve is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

from compiler.frozen import frozen
from compiler.model.records import Exercise
from compiler.notation.values import AtLeast, Cluster, Count, RepsItem, Tempo, TestSet
from compiler.resolve.rep_table import reps_for_percent

FAR = "reps-far-beyond-percentage"
DOUBTFUL = "reps-beyond-percentage"

SILENT_UNDER = Decimal(65)
ERROR_FROM = Decimal(80)
SHORT_REST = 90
SLOW_LOWERING = 4
MANY_SETS = 3
_THOUSANDTH = Decimal("0.001")


@frozen
class Asked:
    """What is asked of somebody: for each set a percentage of 1RM (75 is 75 %) and what is done.

    A shorter list repeats its last. `rest` is what lies between two sets of the exercise, in seconds.
    """

    exercise: Exercise
    sets: int
    percents: Sequence[Decimal]
    reps: Sequence[RepsItem]
    rest: int | None
    tempo: Tempo | None


@frozen
class Doubt:
    """The set that the table finds most doubtful: `asked` repetitions, `possible` to the last one, `spare` wanted."""

    slug: str
    percent: Decimal
    asked: int
    possible: Decimal
    spare: int

    @property
    def far(self) -> bool:
        """True where it cannot be done."""
        return self.slug == FAR

    @property
    def short_by(self) -> Decimal:
        """The repetitions that are lacking."""
        return self.asked + self.spare - self.possible


def doubt_of(asked: Asked) -> Doubt | None:
    """Return the doubt about a prescription; None where the table has none, or nothing to say."""
    spare = _spare(asked)
    doubts = []
    for number in range(max(len(asked.percents), len(asked.reps))):  # the sets beyond both lists are as the last
        percent = asked.percents[min(number, len(asked.percents) - 1)]
        found = _of_one_set(asked, percent, asked.reps[min(number, len(asked.reps) - 1)], spare)
        if found is not None:
            doubts.append(found)
    return max(doubts, key=lambda doubt: (doubt.far, doubt.short_by), default=None)


def _of_one_set(asked: Asked, percent: Decimal, item: RepsItem, spare: int) -> Doubt | None:
    reps = sure_reps(item)
    percent = percent.quantize(_THOUSANDTH)  # loads were quantised on the way here: 65% must be 65% again
    possible = None if percent < SILENT_UNDER else reps_for_percent(percent)
    if reps is None or possible is None or possible >= reps + spare:
        return None
    hopeless = possible * 3 < reps * 2 and percent >= ERROR_FROM and _is_free_bar(asked.exercise)
    return Doubt(FAR if hopeless else DOUBTFUL, percent, reps, possible, spare)


def sure_reps(item: RepsItem) -> int | None:
    """Return the repetitions that a set is sure to ask for: the upper end of a range, the floor of `8+`.

    None for as many as possible, which asks for none, and for what is not counted in repetitions.
    """
    match item:
        case Count(high=count) | AtLeast(count=count) | TestSet(count=count):
            return count
        case Cluster(counts=counts):
            return max(counts)
        case _:
            return None


def _is_free_bar(exercise: Exercise) -> bool:
    return exercise.implement.known == "barbell" and exercise.area.known != "lower"


def _spare(asked: Asked) -> int:
    short = asked.rest is not None and asked.rest < SHORT_REST
    slow = asked.tempo is not None and (asked.tempo.lowering or 0) >= SLOW_LOWERING
    if short or slow:
        return 2
    return 1 if asked.sets >= MANY_SETS else 0
