"""One reader for each kind of cell: what the declaration of the sheets is written in.

A kind takes one cell that is not blank and returns `Understood` or `Refusal`, never an exception.
"""

from __future__ import annotations

from compiler.schema.kinds_base import Kind, Refusal, Understood
from compiler.schema.kinds_dates import DATE, DATES, YEAR_OR_DATE
from compiler.schema.kinds_notation import (
    DONE_AS,
    EFFORT_LIMIT,
    LOAD,
    LOG,
    RAMP,
    RAMP_OR_NO,
    REPS,
    REST,
    RESULT,
    SETS,
    SIZES_OR_BANDS,
    TEMPO,
    TESTED_WEIGHT,
    WEEKDAYS,
    WEEKS,
    WEIGHT,
    ZONES,
)
from compiler.schema.kinds_numbers import (
    HEART_RATE,
    PERCENT,
    RPE,
    whole,
)
from compiler.schema.kinds_text import CUE, LONG_TEXT, NAME, NAMES, SHORT_TEXT, UNIT, YES_NO, choice

__all__ = [
    "CUE",
    "DATE",
    "DATES",
    "DONE_AS",
    "EFFORT_LIMIT",
    "HEART_RATE",
    "LOAD",
    "LOG",
    "LONG_TEXT",
    "NAME",
    "NAMES",
    "PERCENT",
    "RAMP",
    "RAMP_OR_NO",
    "REPS",
    "REST",
    "RESULT",
    "RPE",
    "SETS",
    "SHORT_TEXT",
    "SIZES_OR_BANDS",
    "TEMPO",
    "TESTED_WEIGHT",
    "UNIT",
    "WEEKDAYS",
    "WEEKS",
    "WEIGHT",
    "YEAR_OR_DATE",
    "YES_NO",
    "ZONES",
    "Kind",
    "Refusal",
    "Understood",
    "choice",
    "whole",
]
