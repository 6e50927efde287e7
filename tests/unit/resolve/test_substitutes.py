"""Which exercise stands in for one that a client may not do, or that the site has nothing for."""

from __future__ import annotations

import pytest

from compiler.pipeline.check import check_source
from compiler.resolve.values import Part
from tests.fragments import fragment_book

BOOK = """
## Block
| Setting    | Value      |
| Start date | 2026-12-07 |
| Weeks      | 1          |

## Exercises
| Exercise   | Implement   | Tags | Needs | Instead if restricted | Instead without kit |
| Back squat | body weight | knee |       | Step-up               |                     |
| Leg press  | body weight |      | bench |                       | Step-up             |
| Step-up    | body weight |      |       |                       |                     |
{again}

## Clients
| Client          | Programme | Site | Restrictions |
| Imogen Thackray | Strength  | Gym  | sore knee    |

## Restrictions
| Restriction | Avoid tags |
| sore knee   | knee       |

## Kit
| Site | Kind      | Sizes     | Unit |
| Gym  | dumbbells | 2-20 by 2 | kg   |

## Programme
| Programme | Session | Part | Order | Exercise   | Week 1 sets | Week 1 reps |
| Strength  | Legs    | main | A     | {exercise} | 3           | 5           |
"""
AGAIN = "| Step-up | body weight | knee | | | |"


@pytest.mark.parametrize("exercise", ["Back squat", "Leg press"])
def test_a_substitute_with_two_rows_stops_the_client(exercise: str) -> None:
    """Nobody knows which row of the Step-up counts, and by one of them the client's knee rules it out."""
    (plan,) = check_source(fragment_book(BOOK.format(exercise=exercise, again=""))).plans
    assert [planned.exercise.name.known for planned in plan.sessions[0].parts[Part.MAIN]] == ["Step-up"]
    checked = check_source(fragment_book(BOOK.format(exercise=exercise, again=AGAIN)))
    assert checked.plans == ()
    assert [flag.slug for flag in checked.flags if flag.touches] == ["duplicate-exercise"]
