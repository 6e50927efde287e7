"""The decimal sign of the Block goes through a whole booklet and the room sheets."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from compiler.documents.booklet import build_booklet
from compiler.documents.booklet_text import booklet_as_text
from compiler.documents.room_sheet import build_room_sheets
from compiler.pipeline.check import check_source
from tests.fragments import case_book

SHARED = (Path(__file__).parents[2] / "cases" / "ottermere.md").read_text(encoding="utf-8")
BOOK = """
## Block

| Setting | Value |
| --- | --- |
| Decimal sign in print | {sign} |
| Weeks | 1 |
| Print percentages | yes |

## Exercises

| Exercise | Implement |
| --- | --- |
| Back squat | barbell |
| Push-up | body weight |
| Rowing machine | cardio |

## Programme

| Programme | Session | Part | Order | Exercise | Week 1 sets | Week 1 reps | Week 1 load |
| --- | --- | --- | --- | --- | --- | --- | --- |
| Strength | Legs | main | A | Back squat | 3 | 5 | 72.5% |
| Strength | Legs | main | B | Push-up | 2 | 62.5% of max | |
| Strength | Legs | main | C | Rowing machine | 2 | 1.5 km | RPE 6.5 |
| Strength | Legs | cool-down | | Rowing machine | 1 | 0.5-1.5 km | |

## Clients

| Client | Programme | Site | Group |
| --- | --- | --- | --- |
| Imogen Thackray | Strength | Gym | Early |

## Tests

| Client | Date | Exercise | Load | Unit | Reps |
| --- | --- | --- | --- | --- | --- |
| Imogen Thackray | 2026-12-14 | Back squat | 81.25 | kg | 1 |
"""


@pytest.mark.parametrize(("sign", "other"), [("comma", r"\d\.\d"), ("point", r"\d,\d")])
def test_one_decimal_sign(sign: str, other: str) -> None:
    """Loads, percentages, efforts and distances have the sign of the Block, and none has the other."""
    checked = check_source(case_book(BOOK.format(sign=sign), SHARED))
    assert checked.book is not None
    (plan,) = checked.plans
    booklet = booklet_as_text(build_booklet(checked.book, plan))
    printed = "1,5\u00a0km" if sign == "comma" else "1.5\u00a0km"
    assert printed in booklet
    assert re.findall(rf".*{other}.*", booklet) == []
    assert re.findall(other, repr(build_room_sheets(checked.book, checked.plans, ()))) == []
