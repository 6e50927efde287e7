"""Values of the rest of a programme row: whole prescriptions, rest, tempo, ways to do a group, ramps."""

from __future__ import annotations

from enum import StrEnum

from compiler.frozen import frozen
from compiler.notation.values_load import LoadText
from compiler.notation.values_reps import Reps, Sets
from compiler.quantities import Percent


@frozen
class Prescription:
    """A whole prescription typed into the sets cell: `3 x 8 @ 75%`; `load` None where none was typed."""

    sets: Sets
    reps: Reps
    load: LoadText | None


@frozen
class Rest:
    """`60`, `60-90 s`, `1:30`, `0`: seconds."""

    low: int
    high: int


@frozen
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


@frozen
class DoneAs:
    """`circuit`, `EMOM 10 min`, `every 2 min x 5`, `for time`, `drop last set 20% x 2`: seconds, rounds, drops."""

    kind: DoneAsKind
    seconds: int | None = None
    rounds: int | None = None
    drop: Percent | None = None


@frozen
class RampStep:
    """One step of a ramp: the empty bar (`percent` None) or a percentage of the first working set."""

    percent: Percent | None
    reps: int


@frozen
class Ramp:
    """`bar x 8, 50% x 5, 70% x 3`."""

    steps: tuple[RampStep, ...]
