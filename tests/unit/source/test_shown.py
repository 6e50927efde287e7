"""Serial numbers as days, and cells as a coach sees them."""

from __future__ import annotations

from datetime import date, datetime
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from compiler.cellref import CellRef
from compiler.source.cells import CellType, SourceCell
from compiler.source.formats import section_for
from compiler.source.serials import day_of, serial_of
from compiler.source.shown import shown

HERE = CellRef("Sheet1", 1, 1)


@pytest.mark.parametrize(
    ("serial", "epoch_1904", "day"),
    [
        (1, False, date(1900, 1, 1)),
        (59, False, date(1900, 2, 28)),
        (60, False, None),
        (61, False, date(1900, 3, 1)),
        (46244, False, date(2026, 8, 10)),
        (0, True, date(1904, 1, 1)),
        (44782, True, date(2026, 8, 10)),
        (0, False, None),
        (-5, False, None),
        (3_000_000, False, None),
    ],
)
def test_days(serial: int, epoch_1904: bool, day: date | None) -> None:
    """1 January 1900 is 1, 1 January 1904 is 0 (ECMA-376 part 1, 18.17.4.1); 29 February 1900 never was."""
    found = day_of(Decimal(serial), epoch_1904=epoch_1904)
    assert day == (found[0] if found else None)


@given(st.datetimes(datetime.fromisoformat("1900-03-01"), datetime.fromisoformat("2100-12-31")), st.booleans())
def test_a_moment_survives_its_serial_to_the_second(moment: datetime, epoch_1904: bool) -> None:
    moment = moment.replace(microsecond=0, year=max(moment.year, 1904) if epoch_1904 else moment.year)
    found = day_of(serial_of(moment, epoch_1904=epoch_1904), epoch_1904=epoch_1904)
    assert (moment.date(), moment.hour * 3600 + moment.minute * 60 + moment.second) == found


@pytest.mark.parametrize(
    ("value", "code", "text"),
    [
        ("0.75", "0%", "75%"),
        ("0.725", "0%", "73%"),
        ("75", "0%", "7500%"),
        ("60", '0" kg"', "60 kg"),
        ("60.25", '0" kg"', "60 kg"),
        ("0.7", '0" %"', "1 %"),
        ("310", "0000", "0310"),
        ("2.5", "# ?/?", "2.5"),
        ("72.5", "General", "72.5"),
        ("46244", "d-mmm", "10-Aug"),
        ("42339", "mmm-yy", "Dec-15"),
        ("46244", "[$-409]d\\-mmm;@", "10-Aug"),
        ("46244", "yyyy-mm-dd", "2026-08-10"),
        ("0.0625", "h:mm", "01:30"),
        ("3.75", "[h]:mm:ss", "90:00:00"),
        ("3.75", "h:mm", "18:00"),
        ("0.5625", "h:mm AM/PM", "01:30 PM"),
        ("-5", "d-mmm", "-5"),
    ],
)
def test_shown(value: str, code: str, text: str) -> None:
    """What the hostile files say their cells show; days and hours with two figures."""
    number = Decimal(value)
    kind = CellType.DATE if section_for(code, number).is_date else CellType.NUMBER
    assert text == shown(SourceCell(HERE, number, kind, code))
