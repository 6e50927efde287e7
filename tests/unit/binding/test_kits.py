"""Rows of Kit -> what a site owns; what could not be read is spoilt, never missing."""

from __future__ import annotations

from decimal import Decimal

from compiler.binding.records import bind_book
from compiler.model.kit import SiteKit
from tests.fragments import fragment_book

HEAD = "## Kit\n| Site | Kind | Name | Sizes | Unit | How many |\n"


def kit_of(*rows: str) -> tuple[SiteKit, list[tuple[str, str]]]:
    """Return the kit of the Gym, and what was told."""
    bound = bind_book(fragment_book(HEAD + "".join(f"| Gym | {row} |\n" for row in rows)))
    assert bound.book is not None
    return bound.book.kits["gym"], [(str(flag.place), flag.slug) for flag in bound.flags]


def test_bars_keep_the_order_of_the_sheet() -> None:
    """The first bar that is light enough is taken, so the order counts."""
    kit, told = kit_of("bar | 20 kg bar | 20 | kg | 2", "bar | 15 kg bar | 15 | kg |", "plates | | 20 x2, 5 | kg |")
    assert [(bar.name, bar.weight.amount, bar.count) for bar in kit.bars] == [
        ("20 kg bar", Decimal(20), 2),
        ("15 kg bar", Decimal(15), None),
    ]
    assert told == []


def test_sizes_of_two_rows_are_added_up() -> None:
    """Two rows of dumbbells are one stock, ascending; a size without a count is there for everybody."""
    kit, _ = kit_of("dumbbells | | 10 x2, 4 | kg |", "dumbbells | | 10 x1, 2 | kg |")
    dumbbells = kit.sizes("dumbbells")
    assert dumbbells is not None
    assert [(size.amount, size.count) for size in dumbbells.sizes] == [
        (Decimal(2), None),
        (Decimal(4), None),
        (Decimal(10), 3),
    ]


def test_collars_count_as_a_pair() -> None:
    """The size is of one collar, the bar carries two."""
    kit, _ = kit_of("bar | | 20 | kg |", "collars | | 2.5 | kg |")
    assert kit.collars is not None
    assert kit.collars.amount == 5


def test_bands_have_names() -> None:
    """A band's word and its colour."""
    kit, _ = kit_of("bands | | light = yellow, medium = red | |")
    assert [pair for bands in kit.bands for pair in bands.pairs] == [("light", "yellow"), ("medium", "red")]


def test_two_units_on_one_bar() -> None:
    """Plates in pounds on a bar in kilograms: told at the unit, and no bar is loaded."""
    kit, told = kit_of("bar | | 20 | kg |", "plates | | 45, 25 | lb |", "dumbbells | | 10, 20 | lb |")
    assert told == [("Kit!E3", "unit-missing")]
    assert (kit.bars, kit.plates) == ((), None)
    assert kit.sizes("dumbbells") is not None
    assert {kind for kind, _ in kit.spoilt} == {"bar", "plates", "collars"}


def test_sizes_that_cannot_be_read() -> None:
    """The dumbbells are spoilt at their cell, and still a thing that is there."""
    kit, told = kit_of("dumbbells | | 2-40 by | kg |")
    assert told == [("Kit!D2", "not-a-number")]
    assert [(kind, str(place)) for kind, place in kit.spoilt] == [("dumbbells", "Kit!D2")]
    assert [item.name for item in kit.items] == ["dumbbells"]


def test_a_row_of_no_known_kind() -> None:
    """It may be anything."""
    kit, told = kit_of("dumbells | | 2-40 by 2 | kg |")
    assert told == [("Kit!B2", "unknown-choice")]
    assert [(kind, str(place)) for kind, place in kit.spoilt] == [("", "Kit!B2")]


def test_weights_without_sizes() -> None:
    """Dumbbells that weigh nobody knows what are told; a rack needs no size."""
    _, told = kit_of("dumbbells | | | |", "rack | | | |")
    assert told == [("Kit!D2", "not-a-number")]
