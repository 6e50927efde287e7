"""The Done sheet: sessions done, missed and not typed, and volume planned against done.

Volume load is sets x repetitions x load, both hands counted (Haff GG, Prof Strength Cond 2010); worked by hand.
"""

from __future__ import annotations

from decimal import Decimal

import pytest

from compiler.documents.neutral import Sheet
from compiler.documents.summary_done import done_sheets
from compiler.pipeline.check import check_source
from compiler.quantities import Load, Percent, Unit
from tests.unit.progress.months import source_of, with_cell

SQUAT = "A | Back squat | 3 | 8 | 60 kg | | | 2"
PAIR = "B | Goblet squat | 2 | 8-10 | 20 kg | | | 2"
DIP = "C | Weighted dip | 2 | 8 | body weight | | | 2"


def sheet(programme: str, log: str, rotating: str = "") -> tuple[Sheet, ...]:
    source = source_of(programme, log, rotating=rotating)
    if rotating:
        source = with_cell(source, "Log", (3, 2), "Press (2)")
    checked = check_source(source)
    assert checked.book is not None
    return done_sheets(checked.book, checked.plans)


def kg(amount: str) -> Load:
    return Load(Decimal(amount), Unit.KG)


def test_without_a_log_there_is_no_sheet() -> None:
    """There would be nothing on it but what is on others."""
    assert sheet(SQUAT, "") == ()


def test_sessions_and_volume_of_each_week() -> None:
    """Done as planned, done in part, missed, and not typed: 3 x 8 x 60 = 1440 kg, and 2 x 8 x 60 = 960 kg in week 4."""
    (found,) = sheet(SQUAT, "A | Back squat | ok | 60x8, 60x8, 50x6 | - | ")
    assert [row[1:6] for row in found.rows] == [(1, 1, 1, 0, 0), (2, 1, 1, 0, 0), (3, 1, 0, 1, 0), (4, 1, 0, 0, 1)]
    assert found.column("Planned volume") == (kg("1440"), kg("1440"), kg("1440"), kg("960"))
    assert found.column("Done volume") == (kg("1440"), kg("1260"), kg("0"), None)
    assert found.column("Share") == (Percent(Decimal(100)), Percent(Decimal("87.5")), Percent(Decimal(0)), None)


def test_the_lower_end_counts_so_that_ok_is_all_of_it() -> None:
    """Of 2 x 8-10 with 20 kg 320 kg; body weight alone is no volume load, on either side."""
    (found,) = sheet(f"{PAIR}\n{DIP}", " | | ok | | | \nC | Weighted dip | | 10 | | ")
    assert (found.column("Planned volume")[0], found.column("Done volume")[:2]) == (kg("320"), (kg("320"), kg("0")))
    assert found.column("Share")[0] == Percent(Decimal(100))


@pytest.mark.parametrize(("second", "done"), [("ok", 2), ("-", 1)])
def test_a_session_twice_in_a_week_counts_twice(second: str, done: int) -> None:
    """Either time is done or missed for itself."""
    (found,) = sheet(SQUAT, f"A | Back squat | ok | | | \nA | Back squat | {second} | | | ", "Mon Thu")
    assert found.rows[0][2:6] == (2, done, 2 - done, 0)
