"""The handbook's table of repetitions to failure against percentage of 1RM, read both ways.

Rows: Haff GG, Triplett NT (eds), Essentials of Strength Training and Conditioning, 4th ed., Human Kinetics
2016, Table 17.7, for 1 to 10 and 15 repetitions; 12 = 70 % from the NSCA training load chart. The table is
for one set to failure on mixed free-weight lifts. Between rows it is interpolated in a straight line; beyond
its last row it says nothing.
"""

from __future__ import annotations

from decimal import Decimal
from itertools import pairwise

from compiler.frozen import frozen


@frozen
class RepTable:
    """Rows of (repetitions to failure, percentage of 1RM): the first rise from 1, the second fall."""

    rows: tuple[tuple[Decimal, Decimal], ...]


HANDBOOK = RepTable(
    rows=tuple(
        (Decimal(reps), Decimal(percent))
        for reps, percent in (
            (1, 100),
            (2, 95),
            (3, 93),
            (4, 90),
            (5, 87),
            (6, 85),
            (7, 83),
            (8, 80),
            (9, 77),
            (10, 75),
            (12, 70),
            (15, 65),
        )
    ),
)


def percent_for_reps(reps: Decimal) -> Decimal | None:
    """Return the percentage of 1RM (75 is 75 %) at so many repetitions to failure; None outside the table."""
    for (few, heavy), (many, light) in pairwise(HANDBOOK.rows):
        if few <= reps <= many:
            return heavy + (light - heavy) * (reps - few) / (many - few)
    return None


def reps_for_percent(percent: Decimal) -> Decimal | None:
    """Return the repetitions of one set to failure at a percentage of 1RM (75 is 75 %).

    None below the table's last row, where it says nothing. Above its first row not one repetition is
    possible: 0.
    """
    if percent > HANDBOOK.rows[0][1]:
        return Decimal(0)
    for (few, heavy), (many, light) in pairwise(HANDBOOK.rows):
        if light <= percent <= heavy:
            return few + (many - few) * (heavy - percent) / (heavy - light)
    return None
