"""Every load of the example that starts from a test, worked out again by other means, exact to the last gram.

Only the readable tables are shared with the product. The 1RM is Brzycki's equation in fractions (Brzycki M, J Phys
Educ Recreat Dance 1993;64(1):88-90; values in tests/data/reference/one_rm_worked_examples.csv), percentages are plain
fractions, and the weights that the gym can load are all sums of its counted plates.
"""

from __future__ import annotations

import csv
import re
from collections.abc import Iterator
from decimal import Decimal
from fractions import Fraction
from functools import cache
from importlib.resources import files
from pathlib import Path

import pytest

from compiler.demo.workbooks import WINTER_BLOCK, demo_source
from compiler.pipeline.check import Checked, check_source
from compiler.resolve.values import Fitted, LoadKind, PlannedExercise
from tests.support import markdown_table

POUND = Fraction(45359237, 100000000)
REFERENCE = Path(__file__).parent / "data" / "reference"
RESERVE = {Fraction(10): Fraction(0), Fraction(19, 2): Fraction(0)}


@cache
def tables() -> dict[str, list[dict[str, str]]]:
    text = files("compiler.demo").joinpath(f"{WINTER_BLOCK}.md").read_text(encoding="utf-8")
    found = {}
    for part in re.split(r"^## ", text, flags=re.MULTILINE)[1:]:
        title, _, body = part.partition("\n")
        lines = [line for line in body.splitlines() if line.startswith("|")]
        if lines:
            header, *rows = markdown_table(lines)
            found[title.strip()] = [dict(zip(header, row, strict=False)) for row in rows]
    return found


@pytest.fixture(scope="module")
def winter() -> Checked:
    return check_source(demo_source(WINTER_BLOCK))


def planned_from_tests(checked: Checked) -> Iterator[tuple[str, PlannedExercise]]:
    for plan in checked.plans:
        for session in plan.sessions:
            for exercises in session.parts.values():
                for planned in exercises:
                    if planned.load.kind is LoadKind.WEIGHT and planned.load.maximum and not planned.load.about:
                        yield plan.name, planned


def number(text: str) -> Fraction:
    return Fraction(text.replace("kg", "").replace("lb", "").strip())


def brzycki(load: Fraction, reps: int, reserve: Fraction) -> Fraction:
    failure = reps + reserve
    return load if failure == 1 else load / (Fraction(10278, 10000) - Fraction(278, 10000) * failure)


def one_rm_kg(row: dict[str, str]) -> Fraction:
    rpe = Fraction(row["RPE"]) if row["RPE"] else Fraction(10)
    reserve = RESERVE.get(rpe, 10 - rpe)
    load = number(row["Load"]) * (POUND if row["Unit"] == "lb" else 1)
    return brzycki(load, int(row["Reps"] or 1), reserve)


def sums(sizes: str) -> set[Fraction]:
    """Return what one side can carry: every sum of the counted pairs."""
    found = {Fraction(0)}
    for item in sizes.split(","):
        size, _, count = item.strip().partition(" x")
        found = {total + n * Fraction(size) for total in found for n in range(int(count or 10) + 1)}
    return found


@cache
def bar_loads(bar: str) -> tuple[Fraction, ...]:
    kit = [row for row in tables()["Kit"] if row["Site"] == "Gym"]
    weight = next(Fraction(row["Sizes"].split(" x")[0]) for row in kit if row["Kind"] == "bar" and row["Name"] == bar)
    plates = next(row["Sizes"] for row in kit if row["Kind"] == "plates")
    return tuple(sorted(weight + 2 * side for side in sums(plates)))


def nearest(exact: Fraction, loads: tuple[Fraction, ...], *, down: bool) -> Fraction:
    below = max(load for load in loads if load <= exact)
    above = min((load for load in loads if load >= exact), default=below)
    return below if down or exact - below <= above - exact else above


def ends(planned: PlannedExercise) -> list[Fitted]:
    return [end for item in planned.load.items for end in (item.low, item.high)]


def test_maxima_are_those_of_the_tests(winter: Checked) -> None:
    """Each 1RM rests on the cell it names, and is Brzycki's equation, or the single itself, times the ratio."""
    tests = tables()["Tests"]
    seen = 0
    for client, planned in planned_from_tests(winter):
        known = planned.load.maximum
        assert known is not None
        row = tests[known.test.row - 2]
        assert row["Client"] == client
        assert row["Exercise"] == (known.lent_by or planned.exercise.name.value)
        ratio = Fraction(known.ratio.value) / 100 if known.ratio else Fraction(1)
        one_rm = known.one_rm or known.working_max
        expected = one_rm_kg(row) if row["Source"] != "working max" else number(row["Load"])
        in_kg = Fraction(one_rm.amount) * (POUND if one_rm.unit == "lb" else 1)
        assert abs(expected * ratio - in_kg) < Fraction(1, 10**20)
        seen += 1
    assert seen > 100


def typed_share(planned: PlannedExercise) -> tuple[Fraction, bool] | None:
    """Return the percentage where the week's own cell is one plain percentage, and whether it is of the 1RM."""
    for cells in planned.row.weeks:
        if cells.load.place == planned.load.source:
            plain = re.fullmatch(r"(\d+(?:\.\d+)?)%( 1RM)?", cells.load.text)
            return (Fraction(plain[1]), bool(plain[2])) if plain else None
    return None


def test_exact_loads_are_shares_of_the_working_max(winter: Checked) -> None:
    """Exact load = working max (or 1RM) x the percentage in the cell, in fractions, to the millionth."""
    seen = 0
    for _, planned in planned_from_tests(winter):
        known, share = planned.load.maximum, typed_share(planned)
        if known is None or share is None or planned.load.scaled:
            continue
        of = known.one_rm if share[1] else known.working_max
        assert of is not None
        in_kg = Fraction(of.amount) * (POUND if of.unit == "lb" else 1)
        (end,) = {*ends(planned)}
        assert end.exact.unit == "kg"
        assert abs(in_kg * share[0] / 100 - Fraction(end.exact.amount)) <= Fraction(1, 2 * 10**6)
        seen += 1
    assert seen > 50


def test_bar_loads_are_the_nearest_that_the_plates_make(winter: Checked) -> None:
    """Nearest of all sums of plates, a tie down, always down from 90% and for limited clients; plates add up."""
    checked = 0
    limited = {row["Client"] for row in tables()["Clients"] if row["Highest effort"] or row["Restrictions"]}
    for client, planned in planned_from_tests(winter):
        if planned.site != "Gym" or client in limited:
            continue
        for end in ends(planned):
            if end.bar is None or end.load is None or end.per_side is None:
                continue
            loads = bar_loads(end.bar.name)
            down = end.percent is not None and any(e.percent and e.percent.value >= Decimal(90) for e in ends(planned))
            assert Fraction(end.load.amount) == nearest(Fraction(end.exact.amount), loads, down=down)
            assert end.load.amount == end.bar.weight.amount + 2 * sum(end.per_side)
            checked += 1
    assert checked > 100


def test_brzycki_here_is_the_reference() -> None:
    """The fractions above give the published form's worked values (computed, mpmath 60 digits)."""
    with (REFERENCE / "one_rm_worked_examples.csv").open(encoding="utf-8", newline="") as file:
        rows = [row for row in csv.DictReader(file) if row["formula"] == "brzycki_1993" and row["reps"] != "1"]
    assert rows
    for row in rows:
        mine = brzycki(Fraction(row["weight"]), int(row["reps"]), Fraction(0))
        assert abs(mine - Fraction(row["expected_1rm_9dp"])) <= Fraction(1, 10**9)
