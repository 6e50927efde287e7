"""Kinds of days: dates, lists of dates, years of birth.

A date stored as one is taken as the day the spreadsheet shows. A typed date needs one reading only; a date with
two is refused with both of them.
"""

from __future__ import annotations

import re
from datetime import date, timedelta

from compiler.flags.model import Remark
from compiler.folding import fold, fold_marks, small_figure
from compiler.notation.values import BirthDay
from compiler.quantities import plain
from compiler.schema.kinds_base import Kind, Refusal, Understood, cleaned, refuse, section_of, unusable
from compiler.source.cells import CellType, SourceCell
from compiler.source.serials import day_of
from compiler.source.shown import shown

FIRST_YEAR, LAST_YEAR = 1950, 2100
FIRST_BIRTH = 1910  # a year typed into a date cell is stored as a day of 1905
LATE_HOUR = 20  # programs that store midnight in another time zone land on the evening before
_MONTH_NAMES = (
    "january", "february", "march", "april", "may", "june",
    "july", "august", "september", "october", "november", "december",
)  # fmt: skip
_WEEKDAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
_ISO = re.compile(
    r"(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})(?:[t ]\d{1,2}:\d{2}(?::\d{2}(?:\.\d+)?)?(?:z|[+-]\d{2}:?\d{2})?)?",
    re.ASCII,
)
_NUMERIC = re.compile(r"(\d{1,2})([-/. ])(\d{1,2})\2(\d{4}|\d{2})", re.ASCII)
_DAY_MONTH = re.compile(r"(\d{1,2})(?:st|nd|rd|th)?[-/. ]*([a-z]{3,9})\.?[-/., ]*(\d{4}|\d{2})?", re.ASCII)
_MONTH_DAY = re.compile(r"([a-z]{3,9})\.?[-/. ]*(\d{1,2})(?:st|nd|rd|th)?[,. ]+(\d{4})", re.ASCII)
_LEADING_WEEKDAY = re.compile(r"([a-z]{3,9})[.,]? +(?=\d)", re.ASCII)
_SEPARATORS = re.compile(r"[,;\n]")
Read = Understood[date] | Refusal


def read_date_text(text: str) -> Read:
    """Return the day a text means, or why it has none or two."""
    folded = fold(text).strip("'\"")
    if small_figure(text):
        return _unreadable(text)
    weekday = _LEADING_WEEKDAY.match(folded)
    if weekday and _index(weekday[1], _WEEKDAYS) is not None:
        return _with_weekday(read_date_text(folded[weekday.end() :]), weekday[1], text)
    if found := _ISO.fullmatch(folded):
        return _day(int(found[1]), int(found[2]), int(found[3]), text)
    if found := _NUMERIC.fullmatch(folded):
        return _numeric(int(found[1]), int(found[3]), found[4], text)
    if found := _DAY_MONTH.fullmatch(folded):
        return _named(found[1], found[2], found[3], text)
    if found := _MONTH_DAY.fullmatch(folded):
        return _named(found[2], found[1], found[3], text)
    return _unreadable(text)


def _unreadable(text: str) -> Refusal:
    return refuse(
        "unreadable-date",
        f'"{fold_marks(text)}" cannot be read as a date.',
        "Write the year, the month and the day: 2026-08-10, or 10 August 2026.",
    )


def _index(word: str, names: tuple[str, ...]) -> int | None:
    """Return the place of a name written in full or cut to three letters or more."""
    hits = [place for place, name in enumerate(names) if len(word) >= 3 and name.startswith(word)]
    return hits[0] if len(hits) == 1 else None


def _with_weekday(result: Read, word: str, text: str) -> Read:
    if isinstance(result, Refusal) or result.value.weekday() == _index(word, _WEEKDAYS):
        return result
    day = result.value
    return refuse(
        "unreadable-date",
        f'"{fold_marks(text)}" names a weekday, but {_long(day)} is a {_WEEKDAYS[day.weekday()].title()}.',
        "Correct the day or the weekday.",
    )


def _day(year: int, month: int, day: int, text: str, *, note: str | None = None) -> Read:
    found = _valid(year, month, day)
    if found is None:
        return _no_such_day(text)
    if not FIRST_BIRTH <= year <= LAST_YEAR:
        return _out_of_range(fold_marks(text))
    return Understood(found, (Remark("loose-date", note),) if note else ())


def _out_of_range(what: str) -> Refusal:
    return refuse(
        "unreadable-date",
        f'"{what}" is not a date between {FIRST_YEAR} and {LAST_YEAR}.',
        "Type the date again: 2026-08-10.",
    )


def _numeric(first: int, second: int, year: str, text: str) -> Read:
    if len(year) == 2:
        return refuse(
            "unreadable-date",
            f'"{fold_marks(text)}" has a two-digit year, so the order of its numbers is not clear.',
            "Write the year first, with four digits: 2026-08-10.",
        )
    number = int(year)
    day_first, month_first = _valid(number, second, first), _valid(number, first, second)
    if day_first and month_first and day_first != month_first:
        return refuse(
            "ambiguous-date",
            f'"{fold_marks(text)}" may be {_long(day_first)} or {_long(month_first)}.',
            f"Write {day_first:%Y-%m-%d} or {month_first:%Y-%m-%d}.",
        )
    found = day_first or month_first
    if found is None:
        return _no_such_day(text)
    return _day(found.year, found.month, found.day, text, note=f'"{fold_marks(text)}" was read as {_long(found)}.')


def _no_such_day(text: str) -> Refusal:
    return refuse(
        "unreadable-date",
        f'"{fold_marks(text)}" is not a day in the calendar.',
        "Correct the day or the month.",
    )


def _valid(year: int, month: int, day: int) -> date | None:
    try:
        return date(year, month, day)
    except ValueError:
        return None


def _long(day: date) -> str:
    return f"{day.day} {_MONTH_NAMES[day.month - 1].title()} {day.year}"


def _named(day: str, month: str, year: str | None, text: str) -> Read:
    number = _index(month, _MONTH_NAMES)
    if number is None:
        return _unreadable(text)
    if year is None:
        return refuse(
            "unreadable-date",
            f'"{fold_marks(text)}" has no year.',
            f"Write {int(day)} {_MONTH_NAMES[number].title()} with its year.",
        )
    if len(year) == 2:
        full = 2000 + int(year)
        return _day(full, number + 1, int(day), text, note=f'"{fold_marks(text)}" was read as a day of {full}.')
    return _day(int(year), number + 1, int(day), text)


def read_serial(cell: SourceCell, first_year: int = FIRST_YEAR) -> Read:
    """Return the day that a date cell shows. A time of day is noted; one late in the evening is a warning."""
    value = cell.number
    section = section_of(cell)
    found = None if value is None else day_of(value, epoch_1904=cell.serial_epoch_1904)
    if section.is_time and value is not None and value < 1:
        return refuse(
            "unreadable-date",
            f'The cell holds a time, shown as "{shown(cell)}"; expected a date.',
            "Type the date again: 2026-08-10.",
        )
    if found is None or not first_year <= found[0].year <= LAST_YEAR:
        return _out_of_range(shown(cell))
    day, seconds = found
    if not seconds:
        return Understood(day)
    return Understood(day, (_with_time(day, seconds),))


def _with_time(day: date, seconds: int) -> Remark:
    """Return what is said of a date stored with a time of day."""
    clock = f"{seconds // 3600}:{seconds // 60 % 60:02d}"
    if seconds < LATE_HOUR * 3600:
        return Remark("loose-date", f"The date {_long(day)} is stored with the time {clock}, which is left out.")
    return Remark(
        "near-midnight",
        f"The date {_long(day)} is stored with the time {clock}; the next day may be meant.",
        f"Write the day that is meant: {day:%Y-%m-%d} or {day + timedelta(days=1):%Y-%m-%d}.",
    )


def _bare_number(cell: SourceCell) -> Refusal:
    value = cell.number
    found = None if value is None else day_of(value, epoch_1904=cell.serial_epoch_1904)
    if found and FIRST_YEAR <= found[0].year <= LAST_YEAR:
        return refuse(
            "unreadable-date",
            f"The cell holds the number {shown(cell)}, not a date; it may be {_long(found[0])} without its format.",
            f"Write {found[0]:%Y-%m-%d} if that is meant.",
        )
    return refuse(
        "unreadable-date",
        f"The cell holds the number {shown(cell)}; expected a date.",
        "Write it year first: 2026-08-10.",
    )


def _read_date(cell: SourceCell) -> Read:
    refused = unusable(cell, "a date")
    if refused:
        return refused
    if cell.type is CellType.DATE:
        return read_serial(cell)
    if cell.type is CellType.NUMBER:
        return _bare_number(cell)
    text, remarks = cleaned(str(cell.value))
    result = read_date_text(text)
    if isinstance(result, Refusal):
        return result
    if result.value.year < FIRST_YEAR:
        return _out_of_range(fold_marks(text))
    return Understood(result.value, remarks + result.remarks)


def _read_dates(cell: SourceCell) -> Understood[tuple[date, ...]] | Refusal:
    if cell.type is not CellType.TEXT:
        one = _read_date(cell)
        return one if isinstance(one, Refusal) else Understood((one.value,), one.remarks)
    refused = unusable(cell, "dates with commas between")
    if refused:
        return refused
    text, remarks = cleaned(str(cell.value))
    days: list[date] = []
    for part in _SEPARATORS.split(text):
        if not part.strip():
            continue
        result = read_date_text(part)
        if isinstance(result, Refusal):
            return result
        days.append(result.value)
        remarks += result.remarks
    if not days:
        return _unreadable(text)
    return Understood(tuple(dict.fromkeys(days)), remarks)


def _read_birth(cell: SourceCell) -> Understood[BirthDay] | Refusal:
    refused = unusable(cell, "a year or a date of birth")
    if refused:
        return refused
    number = cell.number
    year = number if number is not None and FIRST_BIRTH <= number <= LAST_YEAR else None
    if cell.type is CellType.NUMBER:
        whole = year is not None and year == year.to_integral_value()
        return _born_in(int(year or 0)) if whole else _bare_number(cell)
    if cell.type is CellType.DATE:
        if year is not None:
            return refuse(
                "unreadable-date",
                f'The cell shows "{shown(cell)}", but holds {plain(year)}: a year in a cell formatted as a date.',
                "Format the cell as Text and type the year again.",
            )
        return _born_on(read_serial(cell, FIRST_BIRTH), ())
    text, remarks = cleaned(str(cell.value))
    folded = fold(text).strip("'\"")
    if re.fullmatch(r"[0-9]{4}", folded) and FIRST_BIRTH <= int(folded) <= LAST_YEAR:
        return Understood(_born_in(int(folded)).value, remarks)
    return _born_on(read_date_text(text), remarks)


def _born_in(year: int) -> Understood[BirthDay]:
    return Understood(BirthDay(date(year, 12, 31)))


def _born_on(result: Read, remarks: tuple[Remark, ...]) -> Understood[BirthDay] | Refusal:
    if isinstance(result, Refusal):
        return result
    return Understood(BirthDay(result.value), remarks + result.remarks)


DATE: Kind[date] = Kind("date", _read_date, as_text=False, says="2026-08-10, 10 August 2026, or a date cell.")
DATES: Kind[tuple[date, ...]] = Kind("dates", _read_dates, says="Dates with commas between: 2026-12-25, 2026-12-26.")
YEAR_OR_DATE: Kind[BirthDay] = Kind("year or date", _read_birth, says="A year, 1984, or a date, 1984-03-15.")
