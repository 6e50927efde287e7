"""Formats of cells as properties -> those of a workbook, each made once."""

from __future__ import annotations

from typing import Any

from xlsxwriter.format import Format
from xlsxwriter.workbook import Workbook

Properties = dict[str, Any]
"""By their names in XlsxWriter."""


class Formats:
    """The formats of one workbook; the same properties give the same format."""

    def __init__(self, book: Workbook) -> None:
        self._book = book
        self._made: dict[tuple[tuple[str, Any], ...], Format] = {}

    def of(self, *properties: Properties) -> Format:
        """Return the format with all the properties; a later one wins."""
        merged = {name: value for part in properties for name, value in part.items()}
        key = tuple(sorted(merged.items()))
        if key not in self._made:
            self._made[key] = self._book.add_format(merged)
        return self._made[key]
