"""One sheet part -> its stored cells. Cells are placed by their addresses, in whatever order they come.

Cells that store nothing are skipped, and `<dimension>` is not trusted: a formatted cell in the last row costs
nothing.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from compiler.cellref import CellRef, column_number
from compiler.source.cells import CellType, SourceCell, SourceSheet
from compiler.source.container import Package
from compiler.source.events import element_names, parse
from compiler.source.parts import TRUE_WORDS, SheetPart, read_totals_rows, whole_number
from compiler.source.stored import EMPTY, Shelf, Stored
from compiler.source.strings import StoredText, TextParts, unescaped
from compiler.source.unreadable import UnreadableWorkbook, damaged, unreadable

MOST_CELLS = 1_000_000  # stored values of a whole workbook; a block has some thousands
LAST_ROW = 1_048_576
LAST_COLUMN = 16_384
_LONGEST_ROW = 7  # digits
_ADDRESS = re.compile(r"([A-Za-z]{1,3})([1-9][0-9]{0,6})", re.ASCII)
_RANGE = re.compile(r"([A-Z]{1,3})([1-9][0-9]{0,6})(?::([A-Z]{1,3})([1-9][0-9]{0,6}))?", re.ASCII)
_TRUTH_FORMULAS = ("TRUE()", "FALSE()")  # how one spreadsheet program stores a typed TRUE
_NAMES = element_names("row", "c", "v", "f", "is", "t", "r", "rPr", "rPh", "strike", "mergeCell", "col")


@dataclass(slots=True)
class Budget:
    """How many values the sheets of a workbook may still store."""

    name: str
    left: int = MOST_CELLS

    def spend(self, cells: int) -> None:
        """Use some up; raises `UnreadableWorkbook` when there are none left."""
        self.left -= cells
        if self.left < 0:
            raise unreadable(
                "workbook-too-large",
                f'"{self.name}" has more than {MOST_CELLS:,} filled cells, far more than a block workbook.',
                "Move what the block does not need to a workbook of its own.",
            )


def range_of(text: str) -> tuple[int, int, int, int] | None:
    """Return (first row, first column, last row, last column) of A2:A4; None where the text is not a range."""
    found = _RANGE.fullmatch(text)
    if not found:
        return None
    first = (int(found[2]), column_number(found[1]))
    last = (int(found[4]), column_number(found[3])) if found[3] else first
    return (*first, *last)


class SheetReader:
    """Takes the elements of one sheet part and keeps its cells; formulas keep the results stored behind them."""

    def __init__(self, sheet: SheetPart, shelf: Shelf, package: Package, budget: Budget) -> None:
        self._sheet, self._shelf, self._package, self._budget = sheet, shelf, package, budget
        self._cells: dict[tuple[int, int], SourceCell] = {}
        self._hidden_rows: set[int] = set()
        self._hidden_columns: set[int] = set()
        self._merges: list[tuple[int, int, int, int]] = []
        self._letters: dict[str, int] = {}
        self._texts = TextParts()
        self._row = self._column = self._counted = 0
        self._in_cell = False
        self._style, self._kind = "", "n"
        self._raw: str | None = None
        self._formula: str | None = None
        self._inline: StoredText | None = None

    def read(self) -> SourceSheet:
        """Return the sheet."""
        parse(self._package, self._sheet.part, self._start, self._end, self._texts.chunks.append)
        self._budget.spend(len(self._cells) - self._counted)
        return SourceSheet(
            name=self._sheet.name,
            cells=self._cells,
            hidden=self._sheet.hidden,
            hidden_rows=frozenset(self._hidden_rows),
            merges=tuple(self._merges),
            hidden_columns=frozenset(self._hidden_columns),
            totals_rows=read_totals_rows(self._package, self._sheet.part),
        )

    def _start(self, full: str, attributes: dict[str, str]) -> None:
        name = _NAMES.get(full)
        if name == "c":
            self._start_cell(attributes)
        elif name == "v" or name == "f" or name == "t":  # noqa: PLR1714 - called for every element of the sheet
            self._texts.chunks.clear()
        elif name == "row":
            self._start_row(attributes)
        elif name == "mergeCell":
            self._merge(attributes.get("ref", ""))
        elif name == "col":
            self._hide_columns(attributes)
        elif name is not None and self._in_cell:
            self._texts.start(name, attributes)

    def _end(self, full: str) -> None:
        if not self._in_cell:
            return
        name = _NAMES.get(full)
        if name == "v":
            self._raw = "".join(self._texts.chunks)
        elif name == "c":
            self._in_cell = False
            if self._raw is not None or self._formula is not None or self._inline is not None:
                self._keep()
        elif name == "f":
            self._formula = "".join(self._texts.chunks)
        elif name == "is":
            self._inline = self._texts.take()
        elif name is not None:
            self._texts.end(name)

    def _start_row(self, attributes: dict[str, str]) -> None:
        text = attributes.get("r")
        if text is None:
            self._row += 1
        else:
            self._row = whole_number(text) or 0
        if not 1 <= self._row <= LAST_ROW:
            raise self._beyond(f"row {text or self._row}")
        self._column = 0
        if attributes.get("hidden", "").casefold() in TRUE_WORDS:
            self._hidden_rows.add(self._row)
        if len(self._cells) - self._counted > MOST_CELLS // 100:
            self._budget.spend(len(self._cells) - self._counted)
            self._counted = len(self._cells)

    def _start_cell(self, attributes: dict[str, str]) -> None:
        address = attributes.get("r")
        if address is not None:
            self._place(address)
        else:
            self._column += 1
            if self._column > LAST_COLUMN:
                raise self._beyond(f"column {self._column}")
        self._style = attributes.get("s", "")
        self._kind = attributes.get("t", "n")
        self._raw = self._formula = self._inline = None
        self._in_cell = True

    def _place(self, address: str) -> None:
        """Take row and column from an address; the letters of a column are looked up once."""
        letters = address.rstrip("0123456789")
        digits = address[len(letters) :]
        column = self._letters.get(letters)
        if column is None:
            if not _ADDRESS.fullmatch(address):
                raise self._beyond(f"cell {address}")
            column = self._letters[letters] = column_number(letters)
        if not digits[:1] > "0" or len(digits) > _LONGEST_ROW:
            raise self._beyond(f"cell {address}")
        self._row, self._column = int(digits), column
        if self._row > LAST_ROW or column > LAST_COLUMN:
            raise self._beyond(f"cell {address}")

    def _beyond(self, what: str) -> UnreadableWorkbook:
        return damaged(self._package.name, f'the sheet "{self._sheet.name}" has a {what}, which no sheet has')

    def _merge(self, text: str) -> None:
        merge = range_of(text)
        if merge:
            self._merges.append(merge)

    def _hide_columns(self, attributes: dict[str, str]) -> None:
        first, last = (whole_number(attributes.get(end, "")) for end in ("min", "max"))
        if first is not None and last is not None and attributes.get("hidden", "").casefold() in TRUE_WORDS:
            self._hidden_columns.update(range(first, min(last, LAST_COLUMN) + 1))

    def _stored(self) -> Stored:
        if self._inline is not None and self._kind == "inlineStr":
            style, text = self._shelf.style(self._style), self._inline
            return (text.text, CellType.TEXT, style.code, style.struck or text.struck)
        if self._raw is not None:
            return self._shelf.stored(self._kind, self._raw, self._style)
        return EMPTY

    def _keep(self) -> None:
        """Keep the cell that has just ended."""
        value, kind, code, struck = self._stored()
        formula = self._formula
        if formula in _TRUTH_FORMULAS and kind is CellType.TRUTH:
            formula = None
        if formula is not None:
            formula = f"={unescaped(formula)}" if formula else ""
            if kind is CellType.EMPTY:
                kind = CellType.UNCALCULATED
        elif kind is CellType.EMPTY or value == "":
            return
        key = (self._row, self._column)
        if key in self._cells:
            value, kind = f"{self._cells[key].value} and {value}", CellType.ERROR
        place = CellRef(self._sheet.name, self._row, self._column)
        self._cells[key] = SourceCell(place, value, kind, code, formula, struck, self._shelf.date_1904)
