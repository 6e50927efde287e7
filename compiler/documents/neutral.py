"""Sheets as values: what a workbook for the coach will show, and nothing of how a workbook is written.

A cell holds a value, not a text made of it: a load keeps its number and its unit, so that the coach can sort,
filter and calculate. A place in the coach's workbook is plain text (`Programme!L12`).
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from enum import StrEnum

from compiler.quantities import Load, Percent

Cell = str | int | Decimal | Load | Percent | date | None


class ColumnKind(StrEnum):
    """What the cells of a column hold, where they hold anything."""

    TEXT = "text"
    AMOUNT = "amount"  # a load with its unit, or a plain number
    PERCENT = "percent"
    DATE = "date"
    WHOLE = "whole"


@dataclass(frozen=True, slots=True)
class Heading:
    """One column. `width` in characters; `decimals` is how many are shown at most, all of them are kept."""

    text: str
    kind: ColumnKind = ColumnKind.TEXT
    width: int = 14
    decimals: int = 6


@dataclass(frozen=True, slots=True)
class Sheet:
    """One sheet; every row has a cell for each heading.

    `title` stands at the head of the printed page, `paper` is A4 or Letter, `pages_wide` how many pages the columns
    are spread over. `frozen` columns stay in sight and are printed on each of them, as the headings always are.
    `heads` are the rows, counted from 0, that begin a section.
    """

    name: str
    title: str
    headings: tuple[Heading, ...]
    rows: tuple[tuple[Cell, ...], ...]
    frozen: int = 0
    filtered: bool = True
    heads: frozenset[int] = frozenset()
    paper: str = "A4"
    pages_wide: int = 1

    def column(self, text: str) -> tuple[Cell, ...]:
        """Return the cells under a heading."""
        place = [heading.text for heading in self.headings].index(text)
        return tuple(row[place] for row in self.rows)
