"""What a log cell says, as values."""

from __future__ import annotations

from compiler.frozen import frozen
from compiler.notation.values import Count, Distance, Effort, Tally, Timed, Weight


@frozen
class AsPlanned:
    """`ok`: done as it stood in the booklet; in a session's own row, the whole session."""

    effort: Effort | None = None


@frozen
class NotDone:
    """`-`: not done."""


@frozen
class LoggedSet:
    """One set that was done: `95x5 @8`, `12`, `45 s`.

    `weight` is what was typed before the x; its unit is None where none was typed. With `body_weight` it is what
    was added to body weight, below zero for help, and None for body weight alone (`BW x 8`).
    """

    done: Count | Timed | Distance | Tally
    weight: Weight | None = None
    body_weight: bool = False
    effort: Effort | None = None


@frozen
class LoggedSets:
    """The sets that were done, in order."""

    sets: tuple[LoggedSet, ...]


LogText = AsPlanned | NotDone | LoggedSets
