"""A share of the most repetitions: which test counts, and what it comes to."""

from __future__ import annotations

import pytest

from compiler.notation.values import Count, ShareOfMost
from compiler.pipeline.check import check_source
from compiler.resolve.values import Part
from tests.fragments import fragment_book

BOOK = """
## Block
| Setting    | Value      |
| Start date | 2027-01-04 |
| Weeks      | 1          |

## Exercises
| Exercise | Implement   |
| Push-up  | body weight |

## Programme
| Programme | Session | Order | Exercise | Week 1 sets | Week 1 reps |
| S         | A       | A     | Push-up  | 3           | 60% of max  |

## Clients
| Client | Programme |
| Ana    | S         |

## Tests
| Client | Date | Exercise | Load | Reps | Result |
"""


@pytest.mark.parametrize(
    ("tests", "reps"),
    [
        (["2026-12-14 | Push-up | | | 20 reps"], 12),
        (["2026-12-01 | Push-up | | | 20 reps", "2026-12-14 | Push-up | | 15 |"], 9),
        (["2026-12-01 | Push-up | | 25 |", "2026-12-14 | Push-up | | | 45 s"], 15),
        (["2026-12-14 | Push-up | | | 45 s"], None),
        ([], None),
    ],
    ids=["20", "the later one, in Reps", "a hold counts nothing", "a hold alone", "no test"],
)
def test_sixty_percent_of_the_most(tests: list[str], reps: int | None) -> None:
    """60% of 20, 15 and 25; without a count the share stays open, and it is told."""
    checked = check_source(fragment_book(BOOK + "".join(f"| Ana | {row} |\n" for row in tests)))
    (item,) = checked.plans[0].sessions[0].parts[Part.MAIN][0].reps.items
    if reps is None:
        assert isinstance(item, ShareOfMost)
        assert [flag.slug for flag in checked.flags if flag.client == "Ana"][:1] == ["missing-test"]
    else:
        assert item == Count(reps, reps)
