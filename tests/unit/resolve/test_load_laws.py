"""Laws of the whole way from a test to the load printed, at a kilogram site and a pound site side by side."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from compiler.binding.records import bind_book
from compiler.quantities import Load, Unit
from compiler.resolve.plan import resolve_book
from compiler.resolve.values import Fitted, Part
from tests.fragments import fragment_book

BOOK = """
## Block
| Setting | Value |
| Weeks | 1 |
| Unit | kg |
| Start date | 2026-11-30 |
| Round loads | {rounding} |
| Estimate 1RM by | {method} |
## Exercises
| Exercise | Implement |
| Lift | {implement} |
## Programme
| Programme | Session | Order | Exercise | Week 1 sets | Week 1 reps | Week 1 load |
| Strength | Day | A | Lift | 3 | 5 | {percent}% |
## Clients
| Client | Programme | Site |
| Ann | Strength | Metric |
| Bea | Strength | Metric |
| Cis | Strength | Pounds |
| Dot | Strength | Pounds |
## Tests
| Client | Date | Exercise | Load | Unit | Reps | Source |
| Ann | 2026-11-23 | Lift | {light} | kg | {reps} | tested |
| Bea | 2026-11-23 | Lift | {heavy} | kg | {reps} | tested |
| Cis | 2026-11-23 | Lift | {light} | kg | {reps} | tested |
| Dot | 2026-11-23 | Lift | {heavy} | kg | {reps} | tested |
## Kit
| Site | Kind | Name | Sizes | Unit |
| Metric | bar | Bar | 20 | kg |
| Metric | plates | | 1.25x4, 2.5x4, 5x4, 10x4, 20x10 | kg |
| Metric | dumbbells | | 2-300 by 2 | kg |
| Pounds | bar | Bar | 45 | lb |
| Pounds | plates | | 2.5x4, 5x4, 10x4, 25x4, 45x10 | lb |
| Pounds | dumbbells | | 5-660 by 5 | lb |
"""
STEPS = {
    "barbell": (Load(Decimal("2.5"), Unit.KG), Load(Decimal(5), Unit.LB)),
    "dumbbells": (Load(Decimal(2), Unit.KG), Load(Decimal(5), Unit.LB)),
}
amounts = st.decimals("60", "160", places=1)


@pytest.mark.parametrize("implement", STEPS)
@given(
    amounts,
    amounts,
    st.integers(1, 10),
    st.decimals("50", "100", places=1),
    st.sampled_from(["nearest", "down", "up"]),
    st.sampled_from(["Brzycki", "Epley", "Wathan", "handbook table"]),
)
@settings(derandomize=True, max_examples=60, deadline=None)
def test_from_the_test_to_the_load(
    implement: str, one: Decimal, other: Decimal, reps: int, percent: Decimal, rounding: str, method: str
) -> None:
    """A heavier test never gives a lighter load; within a step of what was asked; two units agree."""
    light, heavy = sorted((one, other))
    text = BOOK.format(
        implement=implement, light=light, heavy=heavy, reps=reps, percent=percent, rounding=rounding, method=method
    )
    ann, bea, cis, dot = loads(text)
    way = "down" if percent >= 90 else rounding
    for lighter, heavier, site in ((ann, bea, 0), (cis, dot, 1)):
        for end in (lighter, heavier):
            within_reach(end, STEPS[implement][site], way)
            assert end.load is not None
            assert end.load.amount == made_of(end)
        assert lighter.load is not None
        assert heavier.load is not None
        assert lighter.load.amount <= heavier.load.amount
    for metric, pounds in ((ann, cis), (bea, dot)):
        assert metric.load is not None
        assert pounds.load is not None
        apart = abs(metric.load.amount - pounds.load.to(Unit.KG).amount)
        assert apart <= sum(step.to(Unit.KG).amount for step in STEPS[implement])


LIGHT_KIT = {
    "| Metric | plates | | 1.25x4, 2.5x4, 5x4, 10x4, 20x10 | kg |": "| Metric | plates | | 10x1 | kg |",
    "| Pounds | plates | | 2.5x4, 5x4, 10x4, 25x4, 45x10 | lb |": "| Pounds | plates | | 25x1 | lb |",
    "2-300 by 2": "2-40 by 2",
    "5-660 by 5": "5-90 by 5",
}


@pytest.mark.parametrize(("implement", "metric", "pounds"), [("barbell", 40, 95), ("dumbbell", 40, 90)])
@given(amounts, st.integers(1, 10), st.decimals("75", "100", places=1), st.sampled_from(["nearest", "down", "up"]))
@settings(derandomize=True, max_examples=30, deadline=None)
def test_no_load_above_the_kit(
    implement: str, metric: int, pounds: int, single: Decimal, reps: int, percent: Decimal, rounding: str
) -> None:
    """One pair of plates, or dumbbells to 40 kg and 90 lb, for what is 45 kg and more: the heaviest."""
    text = BOOK.format(
        implement=implement, light=single, heavy=single, reps=reps, percent=percent, rounding=rounding, method="Epley"
    )
    for full, light in LIGHT_KIT.items():
        text = text.replace(full, light)
    for end, heaviest in zip(loads(text), (metric, metric, pounds, pounds), strict=True):
        assert end.exact.amount > heaviest
        assert end.load is not None
        assert end.load.amount == heaviest


def loads(text: str) -> list[Fitted]:
    """Return what each client lifts."""
    book = bind_book(fragment_book(text)).book
    assert book is not None
    plans = resolve_book(book).plans
    return [plan.sessions[0].parts[Part.MAIN][0].load.items[0].low for plan in plans]


def within_reach(end: Fitted, step: Load, way: str) -> None:
    """Nearest within half a step, down never above, up never below."""
    assert end.load is not None
    off = end.load.amount - end.exact.amount
    low, high = {"nearest": (-step.amount / 2, step.amount / 2), "down": (-step.amount, 0), "up": (0, step.amount)}[way]
    assert low <= off <= high


def made_of(end: Fitted) -> Decimal:
    """Return bar and plates added up; a dumbbell is of one piece."""
    assert end.load is not None
    if end.bar is None or end.per_side is None:
        return end.load.amount
    return end.bar.weight.amount + 2 * sum(end.per_side)
