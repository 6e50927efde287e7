"""Serial numbers: how a workbook counts days and times. Days since the workbook's epoch in, day and seconds out.

The 1900 system counts 1 January 1900 as 1 and has a 29 February 1900 (serial 60) that never was; the 1904 system
counts 1 January 1904 as 0 (ECMA-376 part 1, 18.17.4.1).
"""

from __future__ import annotations

from datetime import date, datetime, timedelta
from decimal import ROUND_HALF_EVEN, Decimal

SECONDS_IN_A_DAY = 86_400
_BEFORE_THE_LEAP = date(1899, 12, 31)
_AFTER_THE_LEAP = date(1899, 12, 30)
_MAC = date(1904, 1, 1)
_LAST = 2_958_465  # 31 December 9999 in the 1900 system


def whole_seconds(serial: Decimal) -> int | None:
    """Return a serial in seconds, to the nearest one; None for one beyond all dates."""
    if abs(serial) > _LAST:
        return None
    return int((serial * SECONDS_IN_A_DAY).to_integral_value(rounding=ROUND_HALF_EVEN))


def day_of(serial: Decimal, *, epoch_1904: bool) -> tuple[date, int] | None:
    """Return the day a serial is shown as and the seconds into it; None where it is not a day."""
    seconds = whole_seconds(serial)
    if seconds is None or seconds < 0:
        return None
    days, into = divmod(seconds, SECONDS_IN_A_DAY)
    if epoch_1904:
        return _after(_MAC, days, into)
    if days == 0 or days == 60:  # noqa: PLR1714 - day 0 is a time alone, day 60 the leap day that never was
        return None
    return _after(_BEFORE_THE_LEAP if days < 60 else _AFTER_THE_LEAP, days, into)


def _after(epoch: date, days: int, into: int) -> tuple[date, int] | None:
    try:
        return epoch + timedelta(days=days), into
    except OverflowError:
        return None


def serial_of(moment: datetime, *, epoch_1904: bool) -> Decimal:
    """Return the serial of a moment, as the workbook would have stored it; days before March 1900 are not exact."""
    start = _MAC if epoch_1904 else _AFTER_THE_LEAP
    days = (moment.date() - start).days
    into = moment.hour * 3600 + moment.minute * 60 + moment.second
    return Decimal(days) + (Decimal(into) / SECONDS_IN_A_DAY if into else 0)
