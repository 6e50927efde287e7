"""Numbers and dates of a sheet -> what a workbook stores of them, and how it shows them."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from functools import lru_cache

from compiler.documents.neutral import Number
from compiler.quantities import Load, Percent

_DAY_NOUGHT = date(1899, 12, 31)
_LEAP_DAY = 59
"""Workbooks count days as if 1900 had been a leap year: from 1 March on there is one more of them."""


def serial(day: date) -> int:
    """Return the number that a workbook stores for a date."""
    count = (day - _DAY_NOUGHT).days
    return count + (count > _LEAP_DAY)


def stored(cell: Number) -> float:
    """Return what a workbook stores for a number: of a percentage its share of 1, of a load its amount."""
    match cell:
        case Percent():
            return float(cell.share)
        case Load():
            return float(cell.amount)
        case int():
            return cell
        case Decimal():
            return float(cell)


def number_format(cell: Number, decimals: int) -> str:
    """Return the number format that shows a number with its unit and no more decimals than it has."""
    match cell:
        case Percent():
            return f"{_digits(cell.value, decimals)}%"
        case Load():
            return f'{_digits(cell.amount, decimals)} "{cell.unit}"'
        case int():
            return "0"
        case Decimal():
            return _digits(cell, decimals)


@lru_cache(maxsize=4096)
def _digits(value: Decimal, decimals: int) -> str:
    exponent = round(value, decimals).normalize().as_tuple().exponent
    places = -exponent if isinstance(exponent, int) and exponent < 0 else 0
    return f"0.{'0' * places}" if places else "0"
