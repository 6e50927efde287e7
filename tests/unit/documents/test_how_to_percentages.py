"""What the how-to page says that percentages are of."""

from __future__ import annotations

import pytest

from compiler.binding.records import bind_book
from compiler.documents.booklet import build_booklet
from compiler.documents.booklet_value import Mark
from compiler.resolve.plan import resolve_book
from tests.fragments import fragment_book

BOOK = """
## Block
| Setting           | Value         |
| Weeks             | 1             |
| Working max       | {working_max} |
| Print percentages | yes           |

## Exercises
| Exercise   | Implement |
| Back squat | barbell   |

## Clients
| Client | Programme |
| Ana    | S         |

## Tests
| Client | Date       | Exercise   | Load | Unit | Reps | Source   |
| Ana    | 2026-12-16 | Back squat | 200  | kg   | 1    | {source} |

## Kit
| Site | Kind   | Name | Sizes                     | Unit |
| Gym  | bar    | Bar  | 20                        | kg   |
| Gym  | plates |      | 20 x8, 10 x6, 5 x6, 2.5   | kg   |

## Programme
| Programme | Session | Order | Exercise   | Week 1 sets | Week 1 reps | Week 1 load |
| S         | A       | A     | Back squat | 3           | 5           | {load}      |
"""


def words_for_loads(load: str, working_max: str = "90%", source: str = "tested") -> str:
    """Return what the page says of loads, for a block with one lift."""
    book = bind_book(fragment_book(BOOK.format(load=load, working_max=working_max, source=source))).book
    assert book is not None
    (plan,) = resolve_book(book).plans
    return next(point.text for point in build_booklet(book, plan).how_to.points if point.mark is Mark.LOAD)


@pytest.mark.parametrize(
    ("load", "working_max", "source", "named"),
    [
        ("75%", "90%", "tested", "working max"),
        ("75%", "100%", "tested", "one-repetition maximum"),
        ("75%", "100%", "working max", "working max"),
        ("75% 1RM", "90%", "tested", "one-repetition maximum"),
        ("80% of 5RM", "90%", "tested", "five-repetition maximum"),
    ],
)
def test_what_percentages_are_of(load: str, working_max: str, source: str, named: str) -> None:
    """The page names what the cell takes its percentage of, as the figures beside the loads do."""
    said = words_for_loads(load, working_max, source)
    assert said.endswith(f" Percentages are of your {named} in the last test.")


def test_percentages_are_not_explained_where_none_is_printed() -> None:
    """The load that an effort suggests comes from a maximum, but its page shows no percentage."""
    assert "Percentages" not in words_for_loads("RPE 8")
