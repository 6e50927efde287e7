"""The target beside a cell of the log says of a list what the booklet says of its sets."""

from __future__ import annotations

import pytest

from compiler.documents.log_entry import build_log_entry
from compiler.pipeline.check import check_source
from tests.fragments import fragment_book

BOOK = """
## Block
| Setting | Value |
| Start date | 2027-01-04 |
| Weeks | 1 |
| Unit | kg |
## Exercises
| Exercise | Implement |
| Press | {implement} |
## Programme
| Programme | Session | Order | Exercise | Week 1 sets | Week 1 reps | Week 1 load |
| Strength | One | A | Press | 3 | 5 | {load} |
## Clients
| Client | Programme | Screened on |
| Ana Ruiz | Strength | 2026-12-01 |
## Kit
| Site | Kind | Name | Sizes |
| Gym | bar | Bar | 20 |
| Gym | plates | | 20, 10, 5, 2.5 |
| Gym | dumbbells | | 10-40 by 2 |
| Gym | stack | Press | 10-60 by 10 |
"""


@pytest.mark.parametrize(
    ("implement", "load", "target"),
    [
        ("dumbbells", "10, 12 kg", "3 × 5 @ 2 × 10, 12 kg"),
        ("dumbbells", "12 kg", "3 × 5 @ 2 × 12 kg"),
        ("dumbbell", "10, 12 kg", "3 × 5 @ 10, 12 kg"),
        ("landmine", "10, 12.5 kg", "3 × 5 @ bar + 10, 12.5 kg"),
        ("barbell", "60, 65-70 kg", "3 × 5 @ 60, 65–70 kg"),
        ("machine", "40, 2 kg", "3 × 5 @ 40, ____ kg"),
    ],
)
def test_a_list(implement: str, load: str, target: str) -> None:
    """A pair is told as a pair; a set without a number is left open and never told as the one before it."""
    checked = check_source(fragment_book(BOOK.format(implement=implement, load=load)))
    assert checked.book is not None
    rows = build_log_entry(checked.book, checked.plans).rows
    assert [row.targets for row in rows if row.exercise] == [(target,)]
