"""A hint that shows a number shows the cell's own: what is typed from it must be what was meant."""

from __future__ import annotations

from typing import Any

import pytest

from compiler.cellref import CellRef
from compiler.schema.kinds import (
    EFFORT_LIMIT,
    LOAD,
    NAME,
    SETS,
    TESTED_WEIGHT,
    UNIT,
    WEIGHT,
    Kind,
    Refusal,
    Understood,
    whole,
)
from compiler.source.grid import cell_from_text

HERE = CellRef("Programme", 2, 3)


@pytest.mark.parametrize(
    ("kind", "text", "shows"),
    [
        (LOAD, '{number 72.5 as 0.0"%"}', "72.5%"),
        (LOAD, "7750%", "77.5%"),
        (LOAD, "0.725%", "72.5%"),
        (LOAD, "+2.5", "Write +2.5% or +2.5 kg."),
        (LOAD, "own + 2.5", "Write own + 2.5% or own + 2.5 kg."),
        (LOAD, "BW + 12", "Write BW + 12 kg or BW + 12 lb."),
        (LOAD, "2 x 14", "Write 2 x 14 kg or 2 x 14 lb."),
        (LOAD, "72.5% of max", "Write 72.5% (of the working max) or 72.5% 1RM."),
        (LOAD, "-7.5 kg", "BW - 7.5 kg for help."),
        (EFFORT_LIMIT, "90", "Write 90%."),
        (EFFORT_LIMIT, "6", "Write RPE 6, or a percentage."),
        (SETS, "3 x 8 72,5%", "Write 3 x 8 @ 72.5%."),
        (SETS, "3×10×24kg", "Write 3 x 10 @ 24kg."),
        (SETS, "3 x 5 x 75%", "Write 3 x 5 @ 75%."),
    ],
)
def test_the_hint_is_made_from_the_cell(kind: Kind[Any], text: str, shows: str) -> None:
    """No number of an example stands where a coach may take it for the cell's."""
    result = kind.read(cell_from_text(text, HERE))
    assert isinstance(result, Refusal)
    assert shows in (result.remark.hint or "")


@pytest.mark.parametrize(
    "text", ["60 kg / 65 kg", "about 62.5 kg", "60 kg+", "RPE 8 or RPE 7", "50 kg @ RPE 8", "60 stone"]
)
def test_other_hints_show_no_number_of_a_load_alone(text: str) -> None:
    """A hint that is not made from the cell names forms, at least two of them, or no number."""
    result = LOAD.read(cell_from_text(text, HERE))
    assert isinstance(result, Refusal)
    hint = result.remark.hint or ""
    assert hint.count(",") > 1 or not any(letter.isdigit() for letter in hint)


@pytest.mark.parametrize(
    ("kind", "text", "value"),
    [
        (UNIT, "lbs", "lb"),
        (UNIT, "Pounds", "lb"),
        (UNIT, "kgs", "kg"),
        (UNIT, "kg.", "kg"),
        (whole(1, 100, "rep", "reps"), "8 reps", 8),
    ],
)
def test_words_for_a_unit(kind: Kind[Any], text: str, value: object) -> None:
    """The usual words for a unit are read; the unit of repetitions may be said."""
    result = kind.read(cell_from_text(text, HERE))
    assert isinstance(result, Understood)
    assert result.value == value


@pytest.mark.parametrize(
    ("kind", "text", "shown"),
    [(TESTED_WEIGHT, "+10 kg", "10 kg"), (WEIGHT, "365 lb.", "365 lb"), (WEIGHT, "72 kg.", "72 kg")],
)
def test_weights_with_a_sign_or_a_stop(kind: Kind[Any], text: str, shown: str) -> None:
    """A plus before weight added to the body and a full stop after a unit change nothing."""
    result = kind.read(cell_from_text(text, HERE))
    assert isinstance(result, Understood)
    assert f"{result.value.amount} {result.value.unit}" == shown


def test_a_percentage_is_no_name_that_lost_its_zeros() -> None:
    """A scale stands in a column of names, and may be stored as a percentage."""
    result = NAME.read(cell_from_text("{number 0.5 as 0%}", HERE))
    assert result == Understood("50%")
