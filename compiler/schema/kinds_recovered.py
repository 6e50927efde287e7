"""What a spreadsheet made of a range or a duration while it was typed, and what of that can be recovered.

`8-10` becomes a day of August or October, `1:30` an hour and a half. Only what has one reading is recovered, with
a warning at the cell; the rest is refused.
"""

from __future__ import annotations

from compiler.flags.model import Remark
from compiler.frozen import frozen
from compiler.schema.kinds_base import Refusal, Understood, refuse, section_of
from compiler.schema.kinds_numbers import lost
from compiler.source.cells import SourceCell
from compiler.source.formats import Section
from compiler.source.serials import SECONDS_IN_A_DAY, day_of, whole_seconds
from compiler.source.shown import shown

LARGEST = 30  # repetitions; a larger number in a date was hardly typed as one
WIDEST = 3  # times; 8-10 is a range, 2-28 a date
FIRST_YEAR_OF_TYPING = 2021  # a year up to 2020 may be the last of three numbers: 6/6/20
LAST_YEAR_OF_TYPING = 2099
FIRST_SERIAL, LAST_SERIAL = 36_000, 60_000  # days of 1998 and of 2064: a bare number between them was a date
SHORTEST = 10  # seconds; less, and 0:02 may be two minutes whose seconds the format hides
TYPE_AS_TEXT = "Format the column as Text and type it again."


@frozen
class Pair:
    """The two numbers that a date was typed as, ascending."""

    low: int
    high: int

    def __str__(self) -> str:
        return str(self.low) if self.low == self.high else f"{self.low}-{self.high}"


def pair_from_date(cell: SourceCell, expected: str) -> Understood[Pair] | Refusal:
    """Return the range that became this date, sorted, whatever the order of the country; or refuse the cell."""
    value = cell.number
    if value is None:
        return lost(cell, expected)
    section = section_of(cell)
    found = day_of(value, epoch_1904=cell.serial_epoch_1904)
    if section.times or found is None or found[1]:
        return lost(cell, expected)
    day = found[0]
    match section.days_only, section.dates[:1]:
        case parts, _ if parts == frozenset("dm"):
            numbers = (day.day, day.month)
        case parts, _ if parts == frozenset("my") and day.day == 1:
            numbers = (day.month, day.year % 100)
        case parts, first if parts == frozenset("dmy") and first != ("y",) and _year_of_typing(day.year):
            numbers = (day.day, day.month)
        case _:
            return _not_recoverable(cell, section, expected)
    low, high = sorted(numbers)
    if not 0 < low <= high <= min(LARGEST, WIDEST * low):
        return lost(cell, expected)
    pair = Pair(low, high)
    message = f'The cell holds a date, shown as "{shown(cell)}", and was read as {pair}.'
    return Understood(pair, (Remark("became-date", message, TYPE_AS_TEXT),))


def _year_of_typing(year: int) -> bool:
    return FIRST_YEAR_OF_TYPING <= year <= LAST_YEAR_OF_TYPING


def _not_recoverable(cell: SourceCell, section: Section, expected: str) -> Refusal:
    if section.days_only == frozenset("dmy"):
        return refuse(
            "lost-to-date",
            f'The cell holds a date, shown as "{shown(cell)}"; if numbers were typed, their order is lost. '
            f"Expected {expected}.",
            TYPE_AS_TEXT,
        )
    return lost(cell, expected)


def seconds_from_time(cell: SourceCell, expected: str, longest: int) -> Understood[int] | Refusal:
    """Return the seconds that were typed as minutes:seconds and became a time of day; or refuse the cell.

    A time that shows its seconds and is not longer than `longest` stands as it is.
    """
    value = cell.number
    if value is None:
        return lost(cell, expected)
    section = section_of(cell)
    seconds = whole_seconds(value)
    if not section.is_time:
        return lost(cell, expected)
    if seconds is None or seconds < 0:
        message = f"The cell holds {value}, which is not a time; expected {expected}."
        return refuse("lost-to-time", message, TYPE_AS_TEXT)
    if "s" in section.times and seconds <= longest:
        return Understood(seconds)
    typed, left = divmod(seconds, 60)  # 1:30, typed as minutes and seconds, is stored as an hour and a half
    if left or typed > longest or (section.half_day and seconds >= SECONDS_IN_A_DAY // 2):
        return _no_duration(cell, seconds, expected)
    if 0 < typed < SHORTEST:
        return refuse(
            "lost-to-time",
            f'The cell holds a time of day, shown as "{shown(cell)}": {typed} s or {typed} min. Expected {expected}.',
            f"Format the column as Text and write {typed} s or {typed} min.",
        )
    if not typed:
        return Understood(0)
    message = f'The cell holds a time of day, shown as "{shown(cell)}", and was read as {clock(typed)}.'
    return Understood(typed, (Remark("became-time", message, TYPE_AS_TEXT),))


def clock(seconds: int) -> str:
    """Return seconds as a coach says them: 45 s, 2 min, 1 min 30 s."""
    minutes, left = divmod(seconds, 60)
    if not minutes:
        return f"{left} s"
    return f"{minutes} min {left} s" if left else f"{minutes} min"


def _no_duration(cell: SourceCell, seconds: int, expected: str) -> Refusal:
    hours, minutes = seconds // 3600, seconds // 60 % 60
    stands = f"{hours} h {minutes} min" if hours else clock(seconds)
    meant = f"; {hours} min or {hours} s may be meant" if hours and not minutes else ""
    return refuse(
        "lost-to-time",
        f'The cell holds a time, shown as "{shown(cell)}": {stands}{meant}. Expected {expected}.',
        "Format the column as Text and write 90 s, 1:30 or 2 min.",
    )


def cleared_date(cell: SourceCell, expected: str) -> Refusal | None:
    """Return the refusal of a number that looks like a date whose format was cleared; None for any other number."""
    value = cell.number
    if value is None or not FIRST_SERIAL <= value <= LAST_SERIAL:
        return None
    found = day_of(value, epoch_1904=cell.serial_epoch_1904)
    day = f" ({found[0]:%Y-%m-%d})" if found else ""
    return refuse(
        "lost-to-date",
        f"The cell holds {shown(cell)}, perhaps a date{day} whose format was cleared; expected {expected}.",
        TYPE_AS_TEXT,
    )


def cleared_time(cell: SourceCell, expected: str) -> Refusal | None:
    """Return the refusal of a fraction of a day whose time format was cleared; None for any other number."""
    value = cell.number
    if value is None or not 0 < value < 1:
        return None
    seconds = whole_seconds(value) or 0
    return refuse(
        "lost-to-time",
        f"The cell holds {shown(cell)}, perhaps the time {seconds // 3600}:{seconds // 60 % 60:02d} whose format "
        f"was cleared; expected {expected}.",
        "Format the column as Text and write 90 s, 1:30 or 2 min.",
    )
