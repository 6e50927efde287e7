"""One reader for each kind of cell: what the declaration of the sheets is written in.

A kind takes one cell that is not blank and returns `Understood` or `Refusal`, never an exception.
"""

from __future__ import annotations

from compiler.schema.kinds_base import Kind, Refusal, Understood
from compiler.schema.kinds_dates import DATE, DATES, YEAR_OR_DATE
from compiler.schema.kinds_numbers import (
    DURATION_MINUTES,
    HEART_RATE,
    NUMBER,
    PERCENT,
    RPE,
    percent,
    whole,
)
from compiler.schema.kinds_text import CUE, LONG_TEXT, NAME, NAMES, SHORT_TEXT, YES_NO, choice

__all__ = [
    "CUE",
    "DATE",
    "DATES",
    "DURATION_MINUTES",
    "HEART_RATE",
    "LONG_TEXT",
    "NAME",
    "NAMES",
    "NUMBER",
    "PERCENT",
    "RPE",
    "SHORT_TEXT",
    "YEAR_OR_DATE",
    "YES_NO",
    "Kind",
    "Refusal",
    "Understood",
    "choice",
    "percent",
    "whole",
]
