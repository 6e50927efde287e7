"""Efforts out of numbers: what an RPE and a count of repetitions in reserve may be."""

from __future__ import annotations

from decimal import Decimal

from compiler.flags.model import Remark
from compiler.notation.numbers import Refused, whole
from compiler.notation.values import Effort, EffortScale

_ENDS = {EffortScale.RPE: (Decimal(1), Decimal(10)), EffortScale.RIR: (Decimal(0), Decimal(10))}
_HINT = "Write RPE 8, RPE 7.5, RPE 7-8, or 2 RIR."


def effort_of(scale: EffortScale, low: Decimal, high: Decimal, cell: str, slug: str = "unreadable-load") -> Effort:
    """Return an effort, or refuse one off the scale (RPE 1 to 10, 0 to 10 in reserve, in halves).

    `cell` is the coach's text in quotes, for the message.
    """
    least, most = _ENDS[scale]
    halves = all(whole(2 * end) is not None for end in (low, high))
    if not (least <= low <= high <= most and halves):
        what = f"{scale} goes from {least} to {most} in halves, smaller end first"
        raise Refused(Remark(slug, f"{cell} is not an effort: {what}.", _HINT))
    return Effort(scale, low, high)
