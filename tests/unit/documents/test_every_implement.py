"""Every implement goes through: kit, loads that the site has, kit demand, words, boxes, summary, next month.

The rows come from the table of implements, so that one that is added is followed without being named here. 33 kg is
typed; the kit below is such that each way of loading makes another weight of it, worked by hand.
"""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import pytest

from compiler.documents.booklet import build_booklet
from compiler.documents.booklet_value import BlankLoad
from compiler.documents.log_entry import build_log_entry
from compiler.documents.room_sheet import build_room_sheets
from compiler.pipeline.check import Checked, check_source
from compiler.progress.next_block import next_month
from compiler.resolve.values import Part
from compiler.review.kit_demand import kit_demand
from compiler.review.logged import read_log
from compiler.schema.implements import IMPLEMENTS, KIT_KIND, KIT_KINDS, Implement, LoadedBy
from tests.all_at_once import summarise
from tests.fragments import case_book

SHARED = (Path(__file__).parents[2] / "cases" / "ottermere.md").read_text(encoding="utf-8")

SIZES = {"bar": "20", "plates": "10 x2, 5 x2", "collars": "2.5", "bands": "light = yellow", "stack": "28, 34, 36, 60"}
"""Sizes of each kind of kit that is not lifted as it is."""

TAKEN = "30 x1, 34 x1, 35 x1, 60"
"""Sizes of what is lifted as it is."""

LOADS = {
    LoadedBy.BAR: "35 kg",  # the bar of 20, two collars of 2.5 and 5 on each side
    LoadedBy.PLATES: "35 kg",  # three of 10 and one of 5 on the one end
    LoadedBy.SIZE: "34 kg",
    LoadedBy.STACK: "34 kg",
    LoadedBy.BAND: "32.5 kg",  # a weight typed for a band goes by the Block's step
    LoadedBy.BODY: "32.5 kg",
    LoadedBy.STEP: "32.5 kg",
}
"""What 33 kg is printed as."""

RISES = {LoadedBy.SIZE: "35", LoadedBy.STACK: "36"}
"""What 34 kg goes up to: by at most 2 kg (1 kg in each hand) and 5%."""

BOOK = """
## Exercises

| Exercise | Implement   |
| -------- | ----------- |
| Carry    | {implement} |

## Sites

| Site | Staffed |
| ---- | ------- |
| Gym  | yes     |
| Home | yes     |

## Kit

| Site | Kind  | Name | Sizes | Unit |
| ---- | ----- | ---- | ----- | ---- |
| Home | bench |      |       |      |
{kit}

## Programme

| Programme | Session | Part | Order | Exercise | Week 1 sets | Week 1 reps | Week 1 load |
| --------- | ------- | ---- | ----- | -------- | ----------- | ----------- | ----------- |
| Strength  | Legs    | main | A     | Carry    | 3           | 5           | {load}      |

## Clients

| Client          | Programme | Site   | Group   | Training days | Screened on |
| --------------- | --------- | ------ | ------- | ------------- | ----------- |
| Imogen Thackray | Strength  | {site} | Evening | Tue           | 2026-12-01  |

## Tests

| Client          | Date       | Exercise | Load | Unit | Reps | Source         |
| --------------- | ---------- | -------- | ---- | ---- | ---- | -------------- |
| Imogen Thackray | 2026-12-20 | Carry    | 34   | kg   |      | working weight |

## Log

| Client          | Session | Order | Exercise | Week 1 | Week 2 | Week 3           | Week 4           |
| --------------- | ------- | ----- | -------- | ------ | ------ | ---------------- | ---------------- |
| Imogen Thackray | Legs    | A     | Carry    | 34x5   | 34x5   | 34x5, 34x5, 34x7 | 34x5, 34x5, 34x7 |
"""


def checked(implement: Implement, load: str, site: str = "Gym") -> Checked:
    kit = "\n".join(
        f"| Gym | {kind.name} | | {TAKEN if kind.taken else SIZES.get(kind.name, '')} | kg |" for kind in KIT_KINDS
    )
    return check_source(case_book(BOOK.format(implement=implement.name, load=load, site=site, kit=kit), SHARED))


@pytest.mark.parametrize("implement", IMPLEMENTS, ids=lambda implement: implement.name)
def test_it_is_loaded_and_said(implement: Implement) -> None:
    """The weight is one that its kind of kit has, and stands in booklet, room sheet, log entry and summary."""
    found = checked(implement, "33 kg")
    assert found.book is not None
    (plan,) = found.plans
    weight = LOADS[implement.loaded_by]
    (planned,) = plan.sessions[0].parts[Part.MAIN]
    assert str(planned.load.items[0].low.load) == weight
    (row,) = build_booklet(found.book, plan).sessions[0].blocks[0].rows
    assert row.load is not None
    assert not isinstance(row.load, BlankLoad)
    assert weight in row.load.text
    assert row.load.text.startswith("2 ×") == implement.pair
    assert ("each hand" in row.log.caption) == implement.pair
    assert ("kg" in row.log.caption) == implement.weighed
    assert build_log_entry(found.book, found.plans).rows
    assert build_room_sheets(found.book, found.plans, ()).sheets[0].rows
    assert summarise(found.book, found.plans, found.flags, ())


@pytest.mark.parametrize(
    "implement", [one for one in IMPLEMENTS if one.loaded_by is LoadedBy.SIZE], ids=lambda implement: implement.name
)
def test_it_is_wanted_by_size(implement: Implement) -> None:
    """Kit demand counts the size that is lifted, and what there is of it."""
    found = checked(implement, "33 kg")
    assert found.book is not None
    (kind,) = implement.kit
    wanted = [(d.item.kind, d.item.size, d.wanted, d.owned) for d in kit_demand(found.book, found.plans)]
    owned = 2 if KIT_KIND[kind].in_pairs else 1
    assert wanted == [(kind, Decimal(34), 2 if implement.pair else 1, owned)]


@pytest.mark.parametrize("implement", [one for one in IMPLEMENTS if one.kit], ids=lambda implement: implement.name)
def test_it_is_missed_where_there_is_none(implement: Implement) -> None:
    """A site that lists its kit and has none of its kind gives no booklet, and says why."""
    found = checked(implement, "33 kg", site="Home")
    assert found.plans == ()
    assert "kit-missing" in {flag.slug for flag in found.flags}


@pytest.mark.parametrize(
    "implement", [one for one in IMPLEMENTS if one.loaded_by in RISES], ids=lambda implement: implement.name
)
def test_it_goes_up_to_what_there_is(implement: Implement) -> None:
    """Two to spare twice: next month's working weight is the next that the site has."""
    found = checked(implement, "own")
    assert found.book is not None
    (proposal,) = next_month(found.book, found.plans, read_log(found.book, found.plans)).proposals
    assert str(proposal.new) == f"{RISES[implement.loaded_by]} kg"
