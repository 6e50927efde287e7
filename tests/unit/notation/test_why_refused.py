"""The readings that a refusal names are readings of what was typed, and its hint can be typed."""

from __future__ import annotations

import pytest

from compiler.flags.model import Remark
from compiler.notation.load import read_load


@pytest.mark.parametrize(
    ("text", "readings"),
    [
        ("62.5,65 kg", "one number with a slip in it or as the list 62.5 and 65"),
        ("1.250,5 kg", "1250.5 or as the list 1.250 and 5"),
        ("62,55 kg", "62.55 or as the list 62 and 55"),
        ("1,250 kg", "1250 or as 1.250 or as the list 1 and 250"),
    ],
)
def test_readings_of_a_comma(text: str, readings: str) -> None:
    """Points part thousands only in groups of three: nobody who typed 62.5,65 meant 625.65."""
    refused = read_load(text)
    assert isinstance(refused, Remark)
    assert refused.message.endswith(f"can be read as {readings}.")


def test_what_a_step_down_is_told_to_be() -> None:
    """`BW - 10%` cannot be read, so nobody is told to write it."""
    share, weight = read_load("-10%"), read_load("-10 kg")
    assert isinstance(share, Remark)
    assert isinstance(weight, Remark)
    assert share.hint == "Write same - 10% or own - 10% for a step down."
    assert not isinstance(read_load("same - 10%"), Remark)
    assert not isinstance(read_load("own - 10%"), Remark)
    assert weight.hint == "Write same - 10 kg or own - 10 kg for a step down, BW - 10 kg for help."
