"""Rows of a sheet that XlsxWriter has begun -> its part of the workbook, written row by row.

XlsxWriter keeps every cell as an object until the workbook is closed and then writes it value by value: of a sheet of
a hundred thousand cells that is most of the time and of the memory. Here it makes all but the rows below the
headings: formats, print set-up, charts, names. The rows are text from the start, one piece for each cell, made once
for all cells of a column that are alike. They wait deflated, and are put in their places when the workbook is closed.
"""

from __future__ import annotations

import zlib
from collections.abc import Iterable, Iterator
from io import BytesIO
from typing import Any
from zipfile import ZIP_DEFLATED, ZipFile, ZipInfo

from xlsxwriter.format import Format
from xlsxwriter.utility import xl_col_to_name
from xlsxwriter.workbook import Workbook
from xlsxwriter.worksheet import Worksheet

from compiler.render.clean import as_markup, escaped

_PACKED_FROM = 2**18
"""So many characters of rows are packed together."""

_LIGHT = 1
"""How hard rows are packed while they wait: they are packed again for good, and lightly is three times as fast."""

_A_TEXT = ' t="s"><v>'
"""Before the number of a text. No formula has this in it, as its own > is escaped."""

_DAY = (1980, 1, 1, 0, 0, 0)  # the first day that the format of the package knows, as XlsxWriter has it


class RowBook:
    """A workbook whose sheets get their rows from `SheetRows`. `book` is XlsxWriter's; `close` gives the file."""

    def __init__(self) -> None:
        self._stream = BytesIO()
        self.book = Workbook(self._stream, {"in_memory": True})
        self._rows: list[SheetRows] = []

    def rows_of(self, sheet: Worksheet) -> SheetRows:
        """Return what takes the rows of a sheet, which is to have headings in its first row and no cell below."""
        rows = SheetRows(self.book, sheet)
        self._rows.append(rows)
        return rows

    def close(self) -> bytes:
        """Return the file."""
        for rows in self._rows:
            rows.end()
        self.book.close()
        parts = {f"xl/worksheets/sheet{rows.sheet.index + 1}.xml": rows for rows in self._rows}
        out = BytesIO()
        with ZipFile(self._stream) as made, ZipFile(out, "w", ZIP_DEFLATED) as whole:
            for name in made.namelist():
                info = ZipInfo(name, _DAY)
                info.compress_type = ZIP_DEFLATED
                content = made.read(name)
                with whole.open(info, "w") as part:
                    part.writelines(parts[name].within(content) if name in parts else [content])
        return out.getvalue()


class SheetRows:
    """Takes the rows of one sheet, from the second on, and gives what its cells are in XML.

    A cell is said by what follows the number of its row: `text`, `number`, `formula` and `blank` give that.
    """

    def __init__(self, book: Workbook, sheet: Worksheet) -> None:
        self.sheet = sheet
        self._strings = book.str_table
        self._numbers: dict[str, int] = {}
        self._open: list[str] = []
        self._size = 0
        self._packed: list[bytes] = []
        self._last = 0
        self._texts = 0

    def add(self, number: int, cells: Iterable[tuple[str, str]], height: float | None = None) -> None:
        """Add a row, counted from 0: the letters of each cell's column and what it is.

        `height` is in points; None where it is the usual one.
        """
        tall = "" if height is None else f' ht="{height:.16g}" customHeight="1"'
        row = number + 1
        within = "".join([f'<c r="{column}{row}{cell}' for column, cell in cells])
        text = f'<row r="{row}"{tall}>{within}</row>'
        self._texts += text.count(_A_TEXT)
        self._last = number
        self._open.append(text)
        self._size += len(text)
        if self._size >= _PACKED_FROM:
            self._pack()

    def text(self, text: str, look: Format) -> str:
        """Return a cell with a text that a workbook can hold, as `clean.write_string` writes it."""
        if not text:
            return self.blank(look)
        return f'" s="{_place(look)}"{_A_TEXT}{self._string(text)}</v></c>'

    def number(self, number: float, look: Format) -> str:
        """Return a cell with a number."""
        return f'" s="{_place(look)}"><v>{number:.16G}</v></c>'

    def formula(self, formula: str, result: float, look: Format) -> str:
        """Return a cell with a formula, without its =, and what it comes to."""
        return f'" s="{_place(look)}"><f>{escaped(formula)}</f><v>{result}</v></c>'

    def blank(self, look: Format) -> str:
        """Return a cell that has a format and nothing in it."""
        return f'" s="{_place(look)}"/>'

    def end(self) -> None:
        """Say that all rows are there: how far the sheet goes, and how many texts it has."""
        if self._last and self._last not in self.sheet.row_sizes:
            self.sheet.set_row(self._last, None)
        self._strings.count += self._texts - len(self._numbers)

    def within(self, content: bytes) -> Iterator[bytes]:
        """Yield the part of a sheet as XlsxWriter made it, with the rows below its first one."""
        first = content.index(b"</row>") + len(b"</row>")
        yield content[:first]
        yield from map(zlib.decompress, self._packed)
        yield "".join(self._open).encode()
        # What XlsxWriter has between are rows without cells, for their heights.
        yield content[content.index(b"</sheetData>", first) :]

    def _string(self, text: str) -> int:
        """Return the number of a text in the workbook's table of texts."""
        number = self._numbers.get(text)
        if number is None:
            shown = as_markup(text)
            number = self._numbers[text] = self._strings._get_shared_string_index(shown)  # noqa: SLF001 - no other way to write a text into the table
        return number

    def _pack(self) -> None:
        self._packed.append(zlib.compress("".join(self._open).encode(), _LIGHT))
        self._open.clear()
        self._size = 0


def letters(column: int) -> str:
    """Return the letters of a column, counted from 0."""
    return str(xl_col_to_name(column))


def _place(look: Format) -> Any:
    """Return the number of a format in the workbook, which it gets when it is first used."""
    return look._get_xf_index()  # noqa: SLF001 - no other way to name a format
