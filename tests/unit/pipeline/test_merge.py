"""What is the same for many is told once; errors never; and no slip is told by two flags."""

from __future__ import annotations

import pytest

from compiler.cellref import CellRef
from compiler.flags.catalogue import flag
from compiler.flags.model import Flag, Remark
from compiler.pipeline.merge import NAMED, SEVERAL, told_once

CELL, OTHER = CellRef("Programme", 2, 8), CellRef("Programme", 3, 8)
PEOPLE = ("Imogen", "Rufus", "Odette", "Callum", "Nell", "Priya", "Tobias", "Edwin")


def of_client(name: str, slug: str = "missing-test", place: CellRef | None = CELL, says: str = "has no test.") -> Flag:
    remark = Remark(slug, f"{name} {says}", "Add a row to Tests.")
    return flag(remark, place, client=name, related=(CellRef("Clients", 2, 1),))


@pytest.mark.parametrize("many", range(1, SEVERAL))
def test_a_few_are_told_one_by_one(many: int) -> None:
    """Up to two by name."""
    flags = [of_client(name) for name in PEOPLE[:many]]
    assert list(told_once(flags)) == flags


def test_three_are_told_in_one() -> None:
    """With their names, for nobody in particular; the hint stays."""
    (merged,) = told_once(of_client(name) for name in PEOPLE[:3])
    assert merged.message == "Each of 3 clients (Imogen, Rufus and Odette) has no test."
    assert (merged.client, merged.related, merged.hint) == (None, (), "Add a row to Tests.")


def test_many_are_counted() -> None:
    """Six are named."""
    (merged,) = told_once(of_client(name) for name in PEOPLE)
    assert merged.message.startswith(f"Each of {len(PEOPLE)} clients (Imogen, ")
    assert f"Priya and {len(PEOPLE) - NAMED} more)" in merged.message


def test_one_client_three_times_is_one_client() -> None:
    """A flag that comes of every week is no crowd."""
    assert len(told_once([of_client("Imogen")] * 3)) == 1


@pytest.mark.parametrize(
    "flags",
    [
        [of_client(name, place=place) for name, place in zip(PEOPLE, (CELL, CELL, OTHER), strict=False)],
        [of_client(name, says=f"has {number} kg.") for number, name in enumerate(PEOPLE[:4])],
        [*(of_client(name) for name in PEOPLE[:2]), of_client(PEOPLE[2], slug="changed")],
        [flag(Remark("stale-test", f"{name}'s test is old."), CELL, client=name) for name in PEOPLE],
    ],
    ids=["other cells", "other words", "other slugs", "a name that is not the first word"],
)
def test_what_is_not_the_same_stays(flags: list[Flag]) -> None:
    """Cell, slug and words after the name must be alike."""
    assert list(told_once(flags)) == flags


def test_errors_are_never_merged() -> None:
    """Each of them holds somebody's booklet."""
    flags = [of_client(name, slug="test-required") for name in PEOPLE]
    assert list(told_once(flags)) == flags


def test_one_blank_is_told_once() -> None:
    """Two rows that want the same client's body weight are one blank; two clients' are two."""
    blank = CellRef("Clients", 2, 5)
    flags = [
        of_client("Imogen", "missing-body-weight", blank, "has no body weight, and Dip counts it."),
        of_client("Imogen", "missing-body-weight", blank, "has no body weight, and Chin-up counts it."),
        of_client("Rufus", "missing-body-weight", CellRef("Clients", 3, 5), "has no body weight, and Dip counts it."),
    ]
    assert list(told_once(flags)) == [flags[0], flags[2]]


def test_a_percentage_is_told_by_the_flag_that_says_more() -> None:
    """105% for one is beyond the table and beyond the Block's range: one slip."""
    unusual = flag(Remark("unusual-percentage", "105% is over the highest."), CELL)
    beyond = flag(Remark("reps-far-beyond-percentage", "1 at 105%."), CELL)
    elsewhere = flag(Remark("unusual-percentage", "25% is under the lowest."), OTHER)
    assert list(told_once([unusual, elsewhere, beyond])) == [elsewhere, beyond]


def test_whom_a_flag_stops_stays_told() -> None:
    """Where one error is told by another at its cell, those it stops are named there."""
    beyond = flag(Remark("reps-far-beyond-percentage", "1 at 120%."), CELL, touches=("Imogen",))
    impossible = flag(Remark("impossible-percentage", "The load comes to 120%."), CELL, touches=("Rufus",))
    (told,) = told_once([beyond, impossible])
    assert (told.slug, told.touches) == ("impossible-percentage", ("Rufus", "Imogen"))
