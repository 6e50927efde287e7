"""The small words after a load: what its percentage is of, in the unit of the load."""

from __future__ import annotations

import pytest

from compiler.binding.records import bind_book
from compiler.documents.figures import Figures
from compiler.documents.load_words import load_notes
from compiler.resolve.plan import resolve_book
from compiler.resolve.values import Part
from tests.fragments import fragment_book

BOOK = """
## Block
| Setting     | Value |
| Working max | 90%   |

## Exercises
| Exercise   | Implement |
| Back squat | barbell   |

## Clients
| Client | Programme |
| Ana    | S         |

## Tests
| Client | Date       | Exercise   | Load | Unit | Reps |
| Ana    | 2026-11-16 | Back squat | 200  | lb   | 1    |
| Ana    | 2026-11-09 | Back squat | 180  | lb   | 5    |

## Kit
| Site | Kind   | Name | Sizes                               | Unit |
| Gym  | bar    | Bar  | 20                                  | kg   |
| Gym  | plates |      | 20 x6, 10 x6, 5 x6, 2.5 x6, 1.25 x6 | kg   |

## Programme
| Programme | Session | Order | Exercise   | Week 1 sets | Week 1 reps | Week 1 load |
| S         | A       | A     | Back squat | 3           | 5           | {load}      |
"""


@pytest.mark.parametrize(
    ("load", "words"),
    [
        ("70%", "70% of 81.6 kg"),  # 90% of 200 lb, a pound being 0.45359237 kg (NIST SP 811)
        ("70% 1RM", "70% of 90.7 kg"),  # 200 lb
        ("90% of 5RM", "90% of 81.6 kg"),  # 180 lb
    ],
)
def test_a_percentage_is_of_a_weight_in_the_unit_of_the_load(load: str, words: str) -> None:
    """Where the test is in pounds and the plates are in kilograms, both numbers of a line are in kilograms."""
    book = bind_book(fragment_book(BOOK.replace("{load}", load))).book
    assert book is not None
    planned = resolve_book(book).plans[0].sessions[0].parts[Part.MAIN][0]
    notes = load_notes(planned, Figures(), planned.load.items[0], percents=True, usual_bar="Bar, 20 kg")
    assert notes[-1] == words
