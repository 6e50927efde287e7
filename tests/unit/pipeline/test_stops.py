"""Who is held is on a flag: the one at the cell, else one of the row, else one made for it."""

from __future__ import annotations

from compiler.cellref import CellRef
from compiler.flags.catalogue import flag
from compiler.flags.model import Flag, Remark
from compiler.pipeline.stops import errors, stopped_by, with_stops
from compiler.resolve.values import Stop

LOAD, REPS, ELSEWHERE = CellRef("Programme", 2, 8), CellRef("Programme", 2, 7), CellRef("Programme", 3, 7)


def told(slug: str, place: CellRef | None, *touches: str, related: tuple[CellRef, ...] = ()) -> Flag:
    return flag(Remark(slug, f"Something about {slug}."), place, touches=touches, related=related)


def brief(flags: tuple[Flag, ...]) -> list[tuple[str, str, tuple[str, ...]]]:
    return [(flag.slug, str(flag.place), flag.touches) for flag in flags]


def test_a_stop_goes_to_the_flag_at_its_cell() -> None:
    """Also where another error stands in the same row."""
    flags = [told("unreadable-reps", REPS), told("unreadable-load", LOAD)]
    assert brief(with_stops(flags, [Stop("Imogen", LOAD)])) == [
        ("unreadable-reps", "Programme!G2", ()),
        ("unreadable-load", "Programme!H2", ("Imogen",)),
    ]


def test_a_stop_goes_to_a_flag_of_its_row() -> None:
    """A row that a check found wrong stops at a cell that is itself all right."""
    flags = [told("sets-and-list-disagree", REPS)]
    assert brief(with_stops(flags, [Stop("Imogen", LOAD)])) == [("sets-and-list-disagree", "Programme!G2", ("Imogen",))]


def test_a_stop_goes_to_the_other_row_of_a_pair() -> None:
    """Two rows that are wrong together stop at either."""
    flags = [told("weeks-overlap", ELSEWHERE, related=(REPS,))]
    assert brief(with_stops(flags, [Stop("Imogen", LOAD)])) == [("weeks-overlap", "Programme!G3", ("Imogen",))]


def test_a_stop_without_a_flag_gets_one() -> None:
    """Nobody is held without an error that names them; a warning or another row's error is none."""
    flags = [told("became-date", REPS), told("unreadable-reps", ELSEWHERE)]
    found = with_stops(flags, [Stop("Imogen", LOAD), Stop("Rufus", LOAD)])
    assert brief(found)[2:] == [("missing-name", "Programme!H2", ("Imogen", "Rufus"))]
    assert stopped_by(found) == {"Imogen", "Rufus"}


def test_a_client_is_named_once() -> None:
    """However often a client met the cell, and whoever the flag named before."""
    flags = [told("unreadable-load", LOAD, "Imogen")]
    stops = [Stop("Imogen", LOAD), Stop("Rufus", LOAD), Stop("Rufus", LOAD)]
    assert brief(with_stops(flags, stops)) == [("unreadable-load", "Programme!H2", ("Imogen", "Rufus"))]


def test_two_flags_at_one_cell() -> None:
    """The first of them tells whom the cell stops."""
    flags = [told("unreadable-load", LOAD), told("missing-load", LOAD)]
    assert [flag.touches for flag in with_stops(flags, [Stop("Imogen", LOAD)])] == [("Imogen",), ()]


def test_flags_without_stops_stay() -> None:
    """Nothing is lost, and what is told twice alike is told once."""
    flags = (told("became-date", REPS), told("missing-sheet", None), told("became-date", REPS))
    assert with_stops(flags, ()) == flags[:2]


def test_only_errors_stop() -> None:
    """A warning names whom it concerns and holds nobody."""
    flags = [told("stale-test", LOAD, "Imogen"), told("ask-first", REPS, "Rufus")]
    assert stopped_by(flags) == {"Rufus"}
    assert [flag.slug for flag in errors(flags)] == ["ask-first"]


def test_an_error_of_a_whole_sheet_is_enough() -> None:
    """An empty sheet that stops everybody needs no second error at a cell of each."""
    flags = [flag(Remark("missing-name", "Programme has no rows."), sheet="Programme", touches=("Imogen",))]
    found = with_stops(flags, [Stop("Imogen", LOAD), Stop("Rufus", ELSEWHERE)])
    assert brief(found) == [("missing-name", "None", ("Imogen",)), ("missing-name", "Programme!G3", ("Rufus",))]
