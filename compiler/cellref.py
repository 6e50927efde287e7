"""Places in a workbook: a cell or a row, with the text a coach knows them by.

They are named tuples: thousands are made of every workbook, and more is looked up by them.
"""

from __future__ import annotations

import re
from typing import NamedTuple

_A1 = re.compile("([A-Z]+)([0-9]+)")


def column_letters(column: int) -> str:
    """Return the letters of a column, counted from 1: 1 is A, 27 is AA."""
    letters = ""
    while column > 0:
        column, rest = divmod(column - 1, 26)
        letters = chr(ord("A") + rest) + letters
    return letters


def column_number(letters: str) -> int:
    """Return the number of a column from its letters, capital or small: A is 1, AA is 27."""
    number = 0
    for letter in letters.upper():
        number = number * 26 + ord(letter) - ord("A") + 1
    return number


class CellRef(NamedTuple):
    """One cell; rows and columns count from 1."""

    sheet: str
    row: int
    column: int

    @property
    def a1(self) -> str:
        """The cell without its sheet, as spreadsheets write it: L12."""
        return f"{column_letters(self.column)}{self.row}"

    def __str__(self) -> str:
        return f"{self.sheet}!{self.a1}"

    @classmethod
    def at(cls, sheet: str, a1: str) -> CellRef:
        """Return the cell that is written so: L12. Raises ValueError for anything else."""
        found = _A1.fullmatch(a1)
        if found is None:
            raise ValueError(f"not a cell: {a1}")
        return cls(sheet, int(found[2]), column_number(found[1]))


class RowRef(NamedTuple):
    """One row of a sheet; rows count from 1."""

    sheet: str
    row: int

    def cell(self, column: int) -> CellRef:
        """Return the cell of this row in a column."""
        return CellRef(self.sheet, self.row, column)

    def __str__(self) -> str:
        return f"{self.sheet} row {self.row}"
