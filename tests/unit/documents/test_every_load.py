"""Every documented form of a load goes through: a plan, words in the booklet, the summary, the room sheet, the log."""

from __future__ import annotations

from pathlib import Path

import pytest

from compiler.documents.booklet import build_booklet
from compiler.documents.booklet_text import booklet_as_text
from compiler.documents.booklet_value import BlankLoad
from compiler.documents.log_entry import build_log_entry
from compiler.documents.room_sheet import build_room_sheets
from compiler.notation.load import EXAMPLES
from compiler.notation.values import BodyWeightLoad, LoadText, Step, WeightLoad
from compiler.pipeline.check import check_source
from tests.all_at_once import summarise
from tests.fragments import case_book

SHARED = (Path(__file__).parents[2] / "cases" / "ottermere.md").read_text(encoding="utf-8")
BOOK = """
## Block

| Setting    | Value                      |
| ---------- | -------------------------- |
| Start date | 2027-01-04                 |
| Weeks      | 2                          |
| Heart-rate zones | zone 2 60-69%        |

## Exercises

| Exercise   | Implement   |
| ---------- | ----------- |
| Back squat | {implement} |

## Kit

| Site | Kind      | Name      | Sizes                               | Unit |
| ---- | --------- | --------- | ----------------------------------- | ---- |
| Gym  | bar       | 20 kg bar | 20                                  | kg   |
| Gym  | plates    |           | 20 x6, 10 x6, 5 x6, 2.5 x6, 1.25 x6 | kg   |
| Gym  | dumbbells |           | 2-40 by 2                           | kg   |
| Gym  | bands     |           | light = yellow, medium = red        |      |

## Programme

| Programme | Session | Part | Order | Exercise   | Week 1 sets | Week 1 reps | Week 1 load | Week 2 load |
| --------- | ------- | ---- | ----- | ---------- | ----------- | ----------- | ----------- | ----------- |
| Strength  | Legs    | main | A     | Back squat | 3           | 5           | {first}     | {second}    |

## Tests

| Client          | Date       | Exercise   | Load | Unit | Reps | Source         |
| --------------- | ---------- | ---------- | ---- | ---- | ---- | -------------- |
| Imogen Thackray | 2026-12-14 | Back squat | 100  | kg   | 1    |                |
| Imogen Thackray | 2026-12-15 | Back squat | 80   | kg   | 8    |                |
| Imogen Thackray | 2026-12-16 | Back squat | 85   | kg   | 5    |                |
| Imogen Thackray | 2026-12-20 | Back squat | 60   | kg   |      | working weight |

## Clients

| Client          | Programme | Site | Body weight | Resting HR | Max HR | Screening | Screened on |
| --------------- | --------- | ---- | ----------- | ---------- | ------ | --------- | ----------- |
| Imogen Thackray | Strength  | Gym  | 70 kg       | 60         | 180    | clear     | 2026-12-01  |
"""


@pytest.mark.parametrize(("text", "value"), EXAMPLES, ids=[text for text, _ in EXAMPLES])
def test_it_is_planned_and_said(text: str, value: LoadText) -> None:
    """A form that the reader knows, and a later stage does not, would hold a client without a word."""
    first = "75%" if isinstance(value, Step) else text
    implement = "dumbbells" if isinstance(value, WeightLoad) and value.implements else "barbell"
    implement = "body weight plus load" if isinstance(value, BodyWeightLoad) and value.added else implement
    checked = check_source(case_book(BOOK.format(first=first, second=text, implement=implement), SHARED))
    assert checked.book is not None
    assert [plan.name for plan in checked.plans] == ["Imogen Thackray"], [flag.message for flag in checked.flags]
    (plan,) = checked.plans
    booklet = build_booklet(checked.book, plan)
    (row,) = booklet.sessions[1].blocks[0].rows
    assert row.load is not None
    assert row.load.notes if isinstance(row.load, BlankLoad) else row.load.text
    assert "Back squat" in booklet_as_text(booklet)
    assert summarise(checked.book, checked.plans, checked.flags, ())
    assert build_room_sheets(checked.book, checked.plans, ()).sheets[0].rows
    assert build_log_entry(checked.book, checked.plans).rows
