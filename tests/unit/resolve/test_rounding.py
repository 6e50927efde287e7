"""Rounding to sizes and steps against worked examples, and the laws it keeps."""

from __future__ import annotations

import csv
from collections.abc import Sequence
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from compiler.model.kit import Stock
from compiler.notation.values import Size
from compiler.pipeline.check import check_source
from compiler.quantities import Load, Percent, Unit
from compiler.resolve.rounding import (
    Ladder,
    Loaded,
    Miss,
    Rounding,
    in_kit_unit,
    is_coarse,
    round_to_step,
)
from compiler.resolve.strength import Estimate, Method, estimate_one_rm
from compiler.resolve.values import Part
from tests.fragments import fragment_book

REFERENCE = Path(__file__).parents[2] / "data" / "reference"
COLUMNS = {
    "rounded_down": Rounding.DOWN,
    "rounded_up": Rounding.UP,
    "nearest_ties_down": Rounding.NEAREST,
}


def kg(amount: str | int | Decimal) -> Load:
    return Load(Decimal(amount), Unit.KG)


def lb(amount: str | int | Decimal) -> Load:
    return Load(Decimal(amount), Unit.LB)


def stock(*amounts: str | int | Decimal, unit: Unit = Unit.KG) -> Stock:
    return Stock(unit, tuple(Size(Decimal(amount)) for amount in amounts), ())


def to_size(exact: Load, sizes: Stock, rounding: Rounding) -> Loaded:
    return Ladder.of_stock(sizes).loadable(exact.amount, exact.unit, rounding)


def to_step(exact: Load, step: Load, rounding: Rounding, *, signed: bool = False) -> Loaded:
    return round_to_step(exact.amount, exact.unit, step, rounding, signed=signed)


def worked() -> list[dict[str, str]]:
    with (REFERENCE / "percent_load_worked_examples.csv").open(newline="") as lines:
        return list(csv.DictReader(lines))


@pytest.mark.parametrize("row", worked(), ids=lambda row: f"{row['percent']}% of {row['one_rm']}")
@pytest.mark.parametrize("column", COLUMNS)
def test_worked_examples(row: dict[str, str], column: str) -> None:
    """Cells of the NSCA training load chart and exact fractions, binary traps among them (SOURCES.md there)."""
    unit = Unit(row["unit"])
    exact = Load(Decimal(row["one_rm"]), unit).times(Percent(Decimal(row["percent"])).share)
    assert exact.amount == Decimal(row["exact_load"])
    step = Load(Decimal(row["step"]), unit)
    expected = Load(Decimal(row[column]), unit)
    assert to_step(exact, step, COLUMNS[column]) == Loaded(exact.quantised(), expected)
    sizes = stock(*(step.amount * n for n in range(1, 200)), unit=unit)
    assert to_size(exact, sizes, COLUMNS[column]).load == expected


def test_a_tie_that_is_exact_in_fractions_is_a_tie() -> None:
    """20 kg x 9, Brzycki, working max 90 %, 81 %: 20 / 0.7776 x 0.9 x 0.81 = 18.75, by exact fractions."""
    one_rm = estimate_one_rm(kg(20), 9, None, Method.BRZYCKI)
    assert isinstance(one_rm, Estimate)
    exact = one_rm.one_rm.times(Decimal("0.9")).times(Decimal("0.81"))
    assert in_kit_unit(exact.amount, exact.unit, Unit.KG) == Decimal("18.75")
    assert to_step(exact, kg("2.5"), Rounding.NEAREST).load == kg("17.5")
    assert to_size(exact, stock("17.5", "20"), Rounding.NEAREST).load == kg("17.5")
    assert to_step(exact, kg("1.25"), Rounding.DOWN).load == kg("18.75")
    assert to_step(exact, kg("1.25"), Rounding.UP).load == kg("18.75")


PAIRS = stock(*range(2, 41, 2))


@pytest.mark.parametrize(
    ("exact", "rounding", "load", "miss"),
    [
        ("16", Rounding.UP, "16", None),
        ("17", Rounding.NEAREST, "16", None),
        ("17.000001", Rounding.NEAREST, "18", None),
        ("17.0000001", Rounding.NEAREST, "16", None),
        ("40.9", Rounding.NEAREST, "40", None),
        ("41", Rounding.NEAREST, "40", None),
        ("41.1", Rounding.NEAREST, "40", Miss.TOO_HEAVY),
        ("41.9", Rounding.DOWN, "40", None),
        ("42", Rounding.DOWN, "40", Miss.TOO_HEAVY),
        ("40.1", Rounding.UP, "40", Miss.TOO_HEAVY),
        ("80", Rounding.NEAREST, "40", Miss.TOO_HEAVY),
        ("1.5", Rounding.NEAREST, "2", None),
        ("1", Rounding.NEAREST, None, Miss.BELOW_LIGHTEST),
        ("1.9", Rounding.DOWN, None, Miss.BELOW_LIGHTEST),
        ("0.1", Rounding.UP, "2", None),
        ("0", Rounding.UP, None, Miss.BELOW_LIGHTEST),
        ("-4", Rounding.UP, None, Miss.BELOW_LIGHTEST),
    ],
)
def test_dumbbells_from_2_to_40(exact: str, rounding: Rounding, load: str | None, miss: Miss | None) -> None:
    """Worked out by hand; at its ends the rack is read as if it went on by twos."""
    found = to_size(kg(exact), PAIRS, rounding)
    assert found == Loaded(kg(exact).quantised(), kg(load) if load else None, miss)


def test_one_size_has_no_step_to_lean_on() -> None:
    assert to_size(kg(16), stock(16), Rounding.NEAREST).load == kg(16)
    assert to_size(kg("16.1"), stock(16), Rounding.NEAREST).miss is Miss.TOO_HEAVY
    assert to_size(kg("15.9"), stock(16), Rounding.UP).miss is Miss.BELOW_LIGHTEST


def test_nothing_to_choose_from() -> None:
    assert to_size(kg(16), stock(), Rounding.NEAREST).miss is Miss.NO_KIT
    assert to_step(kg(16), kg(0), Rounding.NEAREST).miss is Miss.NO_KIT


def test_sizes_in_another_unit() -> None:
    """16 kg is 35.274 lb (international pound, 1959); the rack has 35 and 40."""
    found = to_size(kg(16), stock(30, 35, 40, unit=Unit.LB), Rounding.NEAREST)
    assert found == Loaded(lb("35.273962"), lb(35))


@pytest.mark.parametrize(
    ("exact", "rounding", "load"),
    [
        ("1.25", Rounding.NEAREST, None),
        ("1.26", Rounding.NEAREST, "2.5"),
        ("2.4", Rounding.DOWN, None),
        ("0.1", Rounding.UP, "2.5"),
        ("0", Rounding.UP, None),
    ],
)
def test_less_than_a_step_is_no_load(exact: str, rounding: Rounding, load: str | None) -> None:
    found = to_step(kg(exact), kg("2.5"), rounding)
    assert (found.load, found.miss) == ((kg(load), None) if load else (None, Miss.BELOW_LIGHTEST))


@pytest.mark.parametrize(
    ("exact", "rounding", "load"),
    [
        ("1.25", Rounding.NEAREST, "0"),
        ("-1.25", Rounding.NEAREST, "-2.5"),
        ("-1.24", Rounding.NEAREST, "0"),
        ("-3.75", Rounding.NEAREST, "-5"),
        ("-6", Rounding.DOWN, "-7.5"),
        ("-6", Rounding.UP, "-5"),
        ("6", Rounding.DOWN, "5"),
        ("0", Rounding.NEAREST, "0"),
    ],
)
def test_added_to_body_weight_down_means_more_help(exact: str, rounding: Rounding, load: str) -> None:
    assert to_step(kg(exact), kg("2.5"), rounding, signed=True).load == kg(load)


@pytest.mark.parametrize(
    ("sizes", "step"),
    [
        (range(2, 41, 2), "2"),
        ((4, 6, 8, 10, 12, 14, 16, 18, 20, 24, 28, 32, 36, 40, 48), "2"),
        ((4, 6, 10), "2"),
        ((5, 10, 15, 20, 22), "5"),
    ],
)
def test_usual_step(sizes: Sequence[int], step: str) -> None:
    """The most frequent gap; kettlebells as usual in the trade (common practice, no source)."""
    assert Ladder.of_stock(stock(*sizes)).usual_step == kg(step)


def test_one_size_has_no_usual_step() -> None:
    assert Ladder.of_stock(stock(16)).usual_step is None
    assert Ladder.of_stock(stock()).usual_step is None


@pytest.mark.parametrize(
    ("exact", "loaded", "one_rm", "usual", "coarse"),
    [
        ("44", "40", "60", "2", True),  # 6.7 points, two steps
        ("43", "40", "60", "2", False),  # just 5 points
        ("43.01", "40", "60", "2", True),
        ("44", "40", "100", "2", False),  # 4 points
        ("6", "5", "10", "2.5", False),  # 10 points, but less than half the step
        ("6.25", "5", "10", "2.5", False),
        ("6.26", "5", "10", "2.5", True),
        ("22", "25", "40", "5", True),  # upwards counts alike
        ("20", "16", "40", None, True),
    ],
)
def test_coarse_rounding(exact: str, loaded: str, one_rm: str, usual: str | None, coarse: bool) -> None:
    """More than 5 points of 1RM and more than half the kit's usual step, worked out by hand."""
    step = kg(usual) if usual else None
    assert is_coarse(kg(exact), kg(loaded), kg(one_rm), step) is coarse


def test_coarse_rounding_over_units() -> None:
    """40 kg is 88.18 lb: 8.18 lb off 80 lb, over 5 points of 60 kg (132.3 lb: 6.6 lb) and over half of 5 lb."""
    assert is_coarse(kg(40), lb(80), kg(60), lb(5))
    assert not is_coarse(kg(40), lb(80), kg(90), lb(5))


amounts = st.decimals("0.01", 300, places=6)
ladders = st.lists(st.decimals("0.25", 120, places=2), min_size=1, max_size=12, unique=True).map(sorted)
roundings = st.sampled_from(list(Rounding))


@given(amounts, st.sampled_from(["0.5", "1", "1.25", "2", "2.5", "5"]), roundings)
@settings(derandomize=True)
def test_steps_are_within_reach(exact: Decimal, step: str, rounding: Rounding) -> None:
    """Nearest within half a step, down never above, up never below; always a whole number of steps."""
    found = to_step(kg(exact), kg(step), rounding).load
    amount = found.amount if found else Decimal(0)
    assert amount % Decimal(step) == 0
    if rounding is Rounding.NEAREST:
        assert abs(amount - exact) * 2 <= Decimal(step)
    assert rounding is not Rounding.DOWN or exact - Decimal(step) < amount <= exact
    assert rounding is not Rounding.UP or exact <= amount < exact + Decimal(step)


@given(amounts, ladders, roundings)
@settings(derandomize=True)
def test_sizes_are_the_best_there_are(exact: Decimal, ladder: list[Decimal], rounding: Rounding) -> None:
    """Against a plain look through all sizes."""
    found = to_size(kg(exact), stock(*ladder), rounding).load
    below = [size for size in ladder if size <= exact]
    above = [size for size in ladder if size >= exact]
    if below and above:
        nearest = min(ladder, key=lambda size: (abs(size - exact), size))
        best = {Rounding.DOWN: below[-1], Rounding.UP: above[0], Rounding.NEAREST: nearest}
        assert found == kg(best[rounding])
    elif not above:
        assert found == kg(ladder[-1])
    else:
        assert found in {None, kg(ladder[0])}
        assert rounding is not Rounding.DOWN or found is None


@given(amounts, amounts, ladders, roundings)
@settings(derandomize=True)
def test_more_is_never_less(one: Decimal, other: Decimal, ladder: list[Decimal], rounding: Rounding) -> None:
    low, high = sorted((one, other))
    to_sizes = [to_size(kg(exact), stock(*ladder), rounding).load for exact in (low, high)]
    to_steps = [to_step(kg(exact), kg("2.5"), rounding).load for exact in (low, high)]
    for lower, higher in (to_sizes, to_steps):
        assert lower is None or (higher is not None and lower.amount <= higher.amount)


@given(amounts, ladders, roundings)
@settings(derandomize=True)
def test_kilograms_and_pounds_agree(exact: Decimal, ladder: list[Decimal], rounding: Rounding) -> None:
    """The same load written in pounds gets the same size."""
    in_pounds = kg(exact).to(Unit.LB)
    assert to_size(in_pounds, stock(*ladder), rounding) == to_size(kg(exact), stock(*ladder), rounding)


DUMBBELLS = """
## Block
| Setting     | Value      |
| Start date  | 2027-01-04 |
| Working max | 100%       |

## Exercises
| Exercise | Implement |
| Raise    | dumbbell  |

## Tests
| Client | Date       | Exercise | Load | Unit | Reps |
| Ana    | 2026-12-14 | Raise    | 10   | kg   | 1    |

## Kit
| Site | Kind      | Name | Sizes        | Unit |
| Gym  | bar       | Bar  | 20           | kg   |
| Gym  | plates    |      | 5, 2.5, 1.25 | kg   |
| Gym  | dumbbells |      | {sizes}      | kg   |

## Programme
| Programme | Session | Order | Exercise | Week 1 sets | Week 1 reps | Week 1 load |
| S         | A       | A     | Raise    | 3           | 8           | {load}      |

## Clients
| Client | Programme | Site |
| Ana    | S         | Gym  |
"""


@pytest.mark.parametrize(
    ("sizes", "load", "told"),
    [("2-40 by 2", "70%", []), ("2-6 by 2, 10-40 by 2", "75%", ["coarse-rounding"])],
)
def test_coarse_is_measured_by_the_dumbbells_and_not_by_the_plates(sizes: str, load: str, told: list[str]) -> None:
    """7 kg of a 10 kg maximum lie half a step of 2 kg from 6 and 8 kg; 7.5 kg lie more than that from 6 and 10 kg.

    The plates of the site are finer, and no raise is loaded with them.
    """
    flags = check_source(fragment_book(DUMBBELLS.format(sizes=sizes, load=load))).flags
    assert [flag.slug for flag in flags if flag.slug == "coarse-rounding"] == told


@pytest.mark.parametrize(
    ("unit", "typed", "loaded"),
    [("kg", "61 kg", "60 kg"), ("kg", "61.5 kg", "62.5 kg"), ("lb", "132 lb", "130 lb"), ("lb", "133 lb", "135 lb")],
)
def test_without_kit_loads_go_by_a_step(unit: str, typed: str, loaded: str) -> None:
    """2.5 kg or 5 lb, the smallest change on a bar with the plates that most gyms have: common practice, no source."""
    text = DUMBBELLS[: DUMBBELLS.index("## Tests")] + DUMBBELLS[DUMBBELLS.index("## Programme") :]
    text = text.replace("| Working max", f"| Unit | {unit} |\n| Working max").replace("dumbbell ", "barbell ")
    (plan,) = check_source(fragment_book(text.format(load=typed).replace(" Site |", "").replace(" Gym  |", ""))).plans
    assert str(plan.sessions[0].parts[Part.MAIN][0].load.items[0].low.load) == loaded
