"""Ramp sets: which of the Block's steps are worth doing on the way to a working weight.

No published source gives a ramp; the rules are our own (see `compiler/resolve/ramp.py`), the loads are sums by hand: a
share of the working weight, at the nearest that 20, 10, 5, 2.5 and 1.25 kg plates can make.
"""

from __future__ import annotations

import pytest

from compiler.binding.records import bind_book
from compiler.resolve.plan import resolve_book
from compiler.resolve.values import Part
from tests.fragments import fragment_book

BOOK = """
## Block
| Setting   | Value  |
| Ramp sets | {ramp} |

## Exercises
| Exercise     | Implement | Tags           |
| Back squat   | barbell   |                |
| Deadlift     | barbell   | from the floor |
| Goblet squat | dumbbell  |                |

## Clients
| Client | Programme | Site |
| Ana    | S         | Gym  |

## Kit
| Site | Kind      | Name | Sizes                               | Unit |
| Gym  | bar       | Bar  | 20                                  | kg   |
| Gym  | plates    |      | 20 x6, 10 x6, 5 x6, 2.5 x6, 1.25 x6 | kg   |
| Gym  | dumbbells |      | 2-40 by 2                           | kg   |

## Programme
| Programme | Session | Order | Exercise | Week 1 sets | Week 1 reps | Week 1 load | Ramp     |
| S         | A       | A     | {row} | {wanted} |
"""
USUAL = "bar x 8, 50% x 5, 70% x 3, 85% x 1"


def ramp(row: str, steps: str = USUAL, wanted: str = "yes") -> list[str]:
    """Return the ramp of one row as `load x reps`."""
    text = BOOK.replace("{row}", row).replace("{ramp}", steps).replace("{wanted}", wanted)
    bound = bind_book(fragment_book(text))
    assert bound.book is not None, bound.flags
    (plan,) = resolve_book(bound.book).plans
    (planned,) = plan.sessions[0].parts[Part.MAIN]
    return [f"{one.load.load} x {one.reps}" for one in planned.ramp]


@pytest.mark.parametrize(
    ("row", "steps", "ramped"),
    [
        ("Back squat | 3 | 5 | 100 kg", USUAL, ["20 kg x 8", "50 kg x 5", "70 kg x 3", "85 kg x 1"]),
        ("Deadlift | 3 | 5 | 100 kg", USUAL, ["50 kg x 5", "70 kg x 3", "85 kg x 1"]),
        ("Back squat | 3 | 5 | 40 kg", USUAL, ["20 kg x 8", "27.5 kg x 3", "35 kg x 1"]),
        ("Back squat | 3 | 5 | 25 kg", USUAL, ["20 kg x 8"]),
        ("Back squat | 3 | 5 | 20 kg", USUAL, []),
        ("Back squat | 3 | 5 | 100 kg", "50% x 5, 75% x 1", ["50 kg x 5"]),
        ("Back squat | 3 | 5 | 100 kg", "50% x 5, 80% x 1", ["50 kg x 5", "80 kg x 1"]),
        ("Back squat | 3 | 5 | 30 kg", "80% x 3, 82% x 2, 90% x 1", ["25 kg x 3", "27.5 kg x 1"]),
        ("Goblet squat | 3 | 8 | 20 kg", USUAL, []),
        ("Back squat | 3 | 5 | RPE 8", USUAL, []),
    ],
    ids=[
        "every step",
        "from the floor: no empty bar",
        "half of 40 kg is the bar",
        "85% of 25 kg is between the bar and 22.5 kg; the lighter is taken",
        "the bar alone",
        "a single at 75% tires more than it tells",
        "a single at 80%",
        "82% of 30 kg is 80% of it again",
        "a dumbbell",
        "no number to start from",
    ],
)
def test_what_is_worth_doing(row: str, steps: str, ramped: list[str]) -> None:
    """Each step is over the bar, over the step before, and under the working weight."""
    assert ramp(row, steps) == ramped


def test_only_where_it_is_wanted() -> None:
    """A blank cell and `no` have none; a ramp in the cell is used in place of the Block's."""
    row = "Back squat | 3 | 5 | 100 kg"
    assert ramp(row, wanted="") == ramp(row, wanted="no") == []
    assert ramp(row, wanted="60% x 4") == ["60 kg x 4"]
