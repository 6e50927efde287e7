"""Sheets as values: what a workbook for the coach will show, and nothing of how a workbook is written.

A cell holds a value, not a text made of it: a load keeps its number and its unit, so that the coach can sort,
filter and calculate. A formula stands with the value it comes to. A place in the coach's workbook is plain text
(`Programme!L12`).
"""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from enum import StrEnum

from compiler.frozen import frozen
from compiler.quantities import Load, Percent

Number = int | Decimal | Load | Percent


@frozen
class Formula:
    """A formula and what it comes to. `{Working max}` stands for the cell of its row under that heading."""

    text: str
    value: Number


Cell = str | Number | date | Formula | None


class ColumnKind(StrEnum):
    """What the cells of a column hold, where they hold anything."""

    TEXT = "text"
    AMOUNT = "amount"  # a load with its unit, or a plain number
    PERCENT = "percent"
    DATE = "date"
    WHOLE = "whole"


@frozen
class Heading:
    """One column. `width` in characters; `decimals` is how many are shown at most, all of them are kept."""

    text: str
    kind: ColumnKind = ColumnKind.TEXT
    width: int = 14
    decimals: int = 6


@frozen
class NamedList:
    """Cells of one column under a name that formulas of any sheet can use. Rows and columns are counted from 0."""

    name: str
    column: int
    rows: range


class ChartKind(StrEnum):
    """How a chart shows its numbers."""

    LINE = "line"
    COLUMNS = "columns"  # side by side


HEADINGS_ROW = -1


@frozen
class Cells:
    """Part of one row or one column of a sheet, counted from 0; the headings are row -1."""

    rows: range
    columns: range


@frozen
class Series:
    """One run of numbers of a chart, and the cells that name them along the axis."""

    name: str
    labels: Cells
    numbers: Cells


def down(column: int, rows: range) -> Cells:
    """Return cells of one column."""
    return Cells(rows, range(column, column + 1))


def across(row: int, columns: range) -> Cells:
    """Return cells of one row."""
    return Cells(range(row, row + 1), columns)


@frozen
class Chart:
    """A chart of cells that its sheet holds. `unit` stands at the axis of the numbers, `along` at the other."""

    title: str
    kind: ChartKind
    series: tuple[Series, ...]
    unit: str
    along: str = ""


@frozen
class Sheet:
    """One sheet; every row has a cell for each heading.

    `title` stands at the head of the printed page, `paper` is A4 or Letter, `pages_wide` how many pages the columns
    are spread over. `frozen` columns stay in sight and are printed on each of them, as the headings always are.
    `heads` are the rows, counted from 0, that begin a section. `charts` stand to the right of the columns, under
    `charts_note`, and are printed after them. Of a sheet with `printed` cells nothing else is printed.
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
    names: tuple[NamedList, ...] = ()
    charts: tuple[Chart, ...] = ()
    charts_note: str = ""
    printed: Cells | None = None

    def column(self, text: str) -> tuple[Cell, ...]:
        """Return the values under a heading, what the formulas come to among them."""
        place = [heading.text for heading in self.headings].index(text)
        return tuple(shown_value(row[place]) for row in self.rows)


def shown_value(cell: Cell) -> Cell:
    """Return what a cell shows: of a formula what it comes to."""
    return cell.value if isinstance(cell, Formula) else cell
