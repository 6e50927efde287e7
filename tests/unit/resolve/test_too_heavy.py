"""A typed weight above the heaviest single: the total of a pair where there are two, else too light a kit."""

from __future__ import annotations

from decimal import Decimal

import pytest

from compiler.binding.records import bind_book
from compiler.quantities import Load, Unit, to_a_tenth
from compiler.resolve.plan import resolve_book
from compiler.resolve.values import Part
from tests.fragments import fragment_book

BOOK = """
## Block
| Setting | Value |
| Weeks | 1 |
| Unit | kg |
| Round loads | down |
## Exercises
| Exercise | Implement |
| Squat | {implement} |
## Programme
| Programme | Session | Order | Exercise | Week 1 sets | Week 1 reps | Week 1 load |
| Strength | Squat | A | Squat | 3 | 8 | 20 kg |
## Clients
| Client | Programme |
| Ana Ruiz | Strength |
## Kit
| Site | Kind | Name | Sizes | Unit |
| Gym | kettlebells | | 8, 12, 16 | kg |
| Gym | dumbbells | | 8, 12, 16 | kg |
"""


@pytest.mark.parametrize(
    ("implement", "slug", "printed"),
    [
        ("kettlebell", "kit-too-light", "16 kg"),
        ("dumbbell", "kit-too-light", "16 kg"),
        ("kettlebells", "pair-total", "None"),
        ("dumbbells", "pair-total", "None"),
    ],
)
def test_a_weight_above_the_heaviest(implement: str, slug: str, printed: str) -> None:
    """One kettlebell is never the total of a pair: the heaviest is printed and flagged."""
    book = bind_book(fragment_book(BOOK.format(implement=implement))).book
    assert book is not None
    found = resolve_book(book)
    assert [flag.slug for flag in found.flags] == [slug]
    (planned,) = found.plans[0].sessions[0].parts[Part.MAIN]
    assert str(planned.load.items[0].low.load) == printed


def test_exact_loads_in_messages() -> None:
    """A message shows tenths; the load keeps all of its digits."""
    assert to_a_tenth(Load(Decimal("31.609224"), Unit.KG)) == "31.6 kg"
    assert to_a_tenth(Load(Decimal(60), Unit.LB)) == "60 lb"
