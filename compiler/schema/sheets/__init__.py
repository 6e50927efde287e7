"""THE declaration of every sheet of the block workbook, in the order of its tabs."""

from __future__ import annotations

from compiler.schema.column import SheetSpec
from compiler.schema.sheets.block import BLOCK
from compiler.schema.sheets.changes import CHANGES, RESTRICTIONS
from compiler.schema.sheets.clients import CLIENTS
from compiler.schema.sheets.exercises import EXERCISES
from compiler.schema.sheets.kit import KIT, SITES
from compiler.schema.sheets.log import HISTORY, LOG_SHEET
from compiler.schema.sheets.programme import PROGRAMME
from compiler.schema.sheets.tests import TESTS

SHEETS: tuple[SheetSpec, ...] = (
    BLOCK,
    EXERCISES,
    PROGRAMME,
    CLIENTS,
    TESTS,
    RESTRICTIONS,
    CHANGES,
    SITES,
    KIT,
    LOG_SHEET,
    HISTORY,
)

SHEET_ORDER: dict[str, int] = {sheet.name: position for position, sheet in enumerate(SHEETS)}

NOT_READ: tuple[str, ...] = ("Start here", "Flags", "Progress")
"""Sheets that are written for the coach and never read."""

FORMAT_VERSION = 1
"""The version of the block workbook this release writes and the newest it reads."""

VERSION_PROPERTY = "Block workbook version"
"""The custom document property that carries the format version."""

__all__ = [
    "BLOCK",
    "CHANGES",
    "CLIENTS",
    "EXERCISES",
    "FORMAT_VERSION",
    "HISTORY",
    "KIT",
    "LOG_SHEET",
    "NOT_READ",
    "PROGRAMME",
    "RESTRICTIONS",
    "SHEETS",
    "SHEET_ORDER",
    "SITES",
    "TESTS",
    "VERSION_PROPERTY",
]
