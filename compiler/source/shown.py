"""What a cell looks like in the spreadsheet, for messages and for text columns: 75%, 10-Aug, 60 kg.

Good enough to be recognised; nothing is computed from it.
"""

from __future__ import annotations

import re
from decimal import ROUND_HALF_UP, Decimal

from compiler.quantities import plain
from compiler.source.cells import CellType, SourceCell
from compiler.source.formats import Section, section_for
from compiler.source.serials import SECONDS_IN_A_DAY, day_of, whole_seconds

_MOST_DECIMALS = 10
_DATE_RUN = re.compile(r"am/pm|a/p|\[[hms]+\]|y+|m+|d+|h+|s+", re.IGNORECASE)
_SKIPPED = re.compile(r'\[(?![hms]+\])[^\]]*\]|"|\\|[_*].|@|\.0+', re.IGNORECASE)


def shown(cell: SourceCell) -> str:
    """Return the text of a cell as the coach sees it."""
    value = cell.value
    if value is None:
        return cell.formula or ""
    if isinstance(value, bool):
        return "TRUE" if value else "FALSE"
    number = cell.number
    if number is None:
        return str(value)
    section = section_for(cell.number_format, number)
    return _moment(number, cell, section) if cell.type is CellType.DATE else _number(number, section)


def _number(value: Decimal, section: Section) -> str:
    if section.percent:
        value *= 100
    places = section.decimals
    if places is not None and places <= _MOST_DECIMALS and not section.scientific and not section.fraction:
        value = value.quantize(Decimal(1).scaleb(-places), rounding=ROUND_HALF_UP)
        text = format(value, "f")
        if section.digits.startswith("00"):
            text = text.zfill(len(section.digits))
    else:
        text = plain(value)
    sign = "%" if section.percent else ""
    after = "" if section.fraction else section.after
    return f"{section.before}{text}{sign}{after}".strip()


def _moment(serial: Decimal, cell: SourceCell, section: Section) -> str:
    """Return a day or a time in the order of the format, in plain figures and English months."""
    seconds = whole_seconds(serial)
    found = day_of(serial, epoch_1904=cell.serial_epoch_1904)
    if seconds is None or seconds < 0 or (section.days_only and found is None):
        return plain(serial)
    into = seconds % SECONDS_IN_A_DAY
    hours = seconds // 3600 if section.elapsed else into // 3600
    if section.half_day:
        hours = hours % 12 or 12
    named = {"h": f"{hours:02d}", "n": f"{into // 60 % 60:02d}", "s": f"{into % 60:02d}"}
    if found:
        day = found[0]
        month = day.strftime("%b") if "mmm" in cell.number_format.casefold() else f"{day.month:02d}"
        year = f"{day.year:04d}"
        named |= {"d": f"{day.day:02d}", "m": month, "y": year[-2:] if section.year_digits == 2 else year}
    parts = iter(section.dates)
    code = _SKIPPED.sub("", cell.number_format.partition(";")[0])

    def part(run: re.Match[str]) -> str:
        if "/" in run.group():
            return "AM" if into < SECONDS_IN_A_DAY // 2 else "PM"
        return named.get(next(parts, ""), "")

    return _DATE_RUN.sub(part, code).strip()
