"""Efforts and pounds against their sources (tests/data/reference: effort_scales.csv, equipment_standards.csv)."""

from __future__ import annotations

import csv
from decimal import Decimal
from pathlib import Path

import pytest
import scipy.constants

from compiler.quantities import KILOGRAMS_IN_A_POUND, Load, Unit
from compiler.resolve.effort_table import reps_in_reserve

REFERENCE = Path(__file__).parents[2] / "data" / "reference"


def rows(file: str) -> list[dict[str, str]]:
    with (REFERENCE / file).open(encoding="utf-8", newline="") as lines:
        return list(csv.DictReader(lines))


RATED = [row for row in rows("effort_scales.csv") if row["scale"] == "rir_rpe" and row["reps_in_reserve_min"]]
POUNDS = [row for row in rows("equipment_standards.csv") if row["attribute"].endswith("_lb_in_kg")]


@pytest.mark.parametrize("row", RATED, ids=lambda row: f"RPE {row['rating_max']}")
def test_reps_in_reserve(row: dict[str, str]) -> None:
    """The scale of Zourdos 2016 and Helms 2016, as read on secondary pages: within the printed reserve."""
    left = reps_in_reserve(Decimal(row["rating_max"]))
    assert left is not None
    assert Decimal(row["reps_in_reserve_min"]) <= left <= Decimal(row["reps_in_reserve_max"])


@pytest.mark.parametrize("row", POUNDS, ids=lambda row: row["attribute"])
def test_pounds_in_kilograms(row: dict[str, str]) -> None:
    """A pound is 0.45359237 kg exactly (International yard and pound agreement, 1959): computed rows, every digit."""
    pounds = Decimal(row["attribute"].removesuffix("_lb_in_kg"))
    assert Load(pounds, Unit.LB).to(Unit.KG).amount == Decimal(row["value"])


def test_the_pound_of_a_general_library() -> None:
    """scipy.constants has it in binary; ours is the decimal it stands for."""
    assert float(KILOGRAMS_IN_A_POUND) == pytest.approx(scipy.constants.pound, rel=1e-15)
