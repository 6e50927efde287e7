"""The Block sheet: one row a setting; what is blank or not there is the default."""

from __future__ import annotations

import pytest

from compiler.binding.settings import bind_block
from compiler.model.records import Block
from compiler.schema.sheets import BLOCK
from tests.support import source_book

Told = list[tuple[str, str]]


def block_of(*rows: list[str]) -> tuple[Block, Told]:
    """Return the settings of some rows, and what was told of them."""
    block, flags = bind_block(source_book({"Block": rows}), BLOCK)
    return block, [(str(flag.place or flag.sheet_name), flag.slug) for flag in flags]


def test_defaults_without_a_sheet() -> None:
    """Every setting that has a default has it; a start date has none."""
    block, flags = bind_block(source_book({}), BLOCK)
    assert flags == []
    assert (block.weeks.value, block.unit.value, block.method.value) == (4, "kg", "Brzycki")
    assert block.start_date.blank


@pytest.mark.parametrize(
    "rows",
    [
        [["Setting", "Value"], ["Weeks", "3"]],
        [["Weeks", "3"]],
        [["", ""], ["Our block"], ["Value", "Setting"], ["3", "Weeks"]],
        [["Setting", "Note", "Value"], [" WEEKS: ", "as agreed", "3"]],
        [["Setting", "Value", "Note"], ["Weeks", "3", "value"], ["Title", "Value"]],
    ],
)
def test_where_settings_stand(rows: list[list[str]]) -> None:
    """Below their headers wherever those are, else in the first two columns; names are folded."""
    block, told = block_of(*rows)
    assert block.weeks.value == 3
    assert "duplicate-column" not in {slug for _, slug in told}


def test_place_of_a_setting() -> None:
    """A setting knows its value cell."""
    block, _ = block_of(["Setting", "Value"], ["Title", "January"], ["Weeks", "3"])
    assert str(block.weeks.place) == "Block!B3"


@pytest.mark.parametrize(
    ("rows", "told"),
    [
        ([["Weeks", "four"]], [("Block!B2", "not-a-number")]),
        ([["Weeks", "13"]], [("Block!B2", "not-a-number")]),
        ([["Unit", "stone"]], [("Block!B2", "unknown-choice")]),
        ([["Weeks", "3"], ["Title", "January"], ["weeks", "4"]], [("Block!B4", "duplicate-column")]),
        ([["Weeks", "x"], ["weeks", "y"]], [("Block!B3", "duplicate-column")]),
        ([["Favourite tea", "Assam"]], [("Block", "extra-column")]),
    ],
)
def test_settings_told(rows: list[list[str]], told: Told) -> None:
    """One flag a slip, at its value; settings that are not known in one note."""
    assert block_of(["Setting", "Value"], *rows)[1] == told


def test_a_setting_that_stands_twice_is_none() -> None:
    """Which of the two is meant nobody knows: neither is used."""
    block, _ = block_of(["Setting", "Value"], ["Weeks", "3"], ["Weeks", "4"])
    assert block.weeks.failed
    assert str(block.weeks.place) == "Block!B3"


def test_two_columns_of_values() -> None:
    """Last winter's values kept beside this winter's: which column counts nobody knows, and no setting is used."""
    block, told = block_of(["Setting", "Value", "Note", "Value"], ["Weeks", "6", "", "3"], ["Title", "January"])
    assert told == [("Block!D1", "duplicate-column")]
    assert (block.weeks.failed, block.title.failed, block.unit.value) == (True, True, "kg")
