"""A workbook as it was written: cells with value, type, number format and place. Nothing is converted.

The reader hands over what the file holds; what a cell means is decided by the kind of its column.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import field
from decimal import Decimal
from enum import StrEnum

from compiler.cellref import CellRef
from compiler.frozen import frozen


class CellType(StrEnum):
    """What kind of value the file stores."""

    EMPTY = "empty"
    TEXT = "text"
    NUMBER = "number"
    TRUTH = "truth"
    DATE = "date"
    ERROR = "error"
    UNCALCULATED = "uncalculated"


_UNSEEN = "".join(
    chr(code)
    for codes in (range(0x21), range(0x2000, 0x2010), range(0x2028, 0x2030), range(0x205F, 0x2070))
    for code in (*codes, 0x7F, 0x85, 0xA0, 0xAD, 0x3000, 0xFEFF)
)
"""Spaces and invisible characters: a cell that holds nothing else looks empty, and counts as empty."""

_TOO_LARGE = Decimal(10) ** 15  # more digits than a spreadsheet keeps
_TOO_SMALL = -20  # power of ten

CellValue = None | str | bool | Decimal


@frozen
class SourceCell:
    """One stored cell.

    `value` is what the file holds (for a formula its stored result): text as typed, a number as Decimal of at
    most 15 significant digits; a cell whose number format is a date or a time has type DATE and keeps its
    serial number, in days since the workbook's epoch, as Decimal in `value` (`serial_epoch_1904` says which).
    `formula` is the formula's text where there is one, with its `=`; empty where the file keeps it with another
    cell. An ERROR cell holds the error value as text, or whatever the file has instead of a value. `struck` is true
    where part of the text is struck out.
    """

    place: CellRef
    value: CellValue
    type: CellType
    number_format: str = "General"
    formula: str | None = None
    struck: bool = False
    serial_epoch_1904: bool = False

    @property
    def number(self) -> Decimal | None:
        """The number stored, where it is one of a size that a cell can mean; None for anything else."""
        number = self.value
        if not isinstance(number, Decimal) or not number.is_finite() or abs(number) >= _TOO_LARGE:
            return None
        return number if not number or number.adjusted() > _TOO_SMALL else None

    @property
    def blank(self) -> bool:
        """True where nothing, or nothing visible, is written."""
        return self.type is CellType.EMPTY or (self.type is CellType.TEXT and not str(self.value).strip(_UNSEEN))


@frozen
class SourceSheet:
    """One sheet: its stored cells by (row, column), and what the file says about rows and merges."""

    name: str
    cells: dict[tuple[int, int], SourceCell]
    hidden: bool = False
    hidden_rows: frozenset[int] = frozenset()
    merges: tuple[tuple[int, int, int, int], ...] = ()  # first row, first column, last row, last column
    hidden_columns: frozenset[int] = frozenset()
    totals_rows: frozenset[int] = frozenset()  # last rows of tables that the spreadsheet sums up by itself

    def rows(self) -> Iterator[tuple[int, dict[int, SourceCell]]]:
        """Yield (row number, cells by column) for rows that store anything, in order."""
        by_row: dict[int, dict[int, SourceCell]] = {}
        for at in sorted(self.cells):
            by_row.setdefault(at[0], {})[at[1]] = self.cells[at]
        yield from by_row.items()


@frozen
class SourceBook:
    """A whole workbook as written."""

    name: str
    sheets: tuple[SourceSheet, ...]
    date_1904: bool = False
    has_macros: bool = False
    properties: dict[str, str] = field(default_factory=dict)  # custom document properties, by name
