"""What a workbook holds, as plain values: so that two files are compared by content and not by bytes."""

from __future__ import annotations

from io import BytesIO
from typing import Any

from openpyxl import load_workbook


def open_workbook(data: bytes, **how: bool) -> Any:
    """Return a workbook as openpyxl reads it; Any, because its type stubs lack half of what it has."""
    return load_workbook(BytesIO(data), **how)


def workbook_content(data: bytes) -> dict[str, Any]:
    """Return cells, formats, notes, drop-downs, marks, names and print set-up of a workbook."""
    book = open_workbook(data, rich_text=True)
    properties = {found.name: found.value for found in book.custom_doc_props}
    names = {name: found.attr_text for name, found in book.defined_names.items()}
    sheets = {sheet.title: _sheet_content(sheet) for sheet in book.worksheets}
    book.close()
    return {"properties": properties, "names": names, "order": list(sheets), **sheets}


def _sheet_content(sheet: Any) -> dict[str, Any]:
    cells, looks, notes = {}, {}, {}
    for row in sheet.iter_rows():
        for cell in row:
            if cell.value is not None:
                cells[cell.coordinate] = str(getattr(cell.value, "text", cell.value))
            if cell.has_style:
                looks[cell.coordinate] = (
                    cell.number_format,
                    cell.font.b,
                    cell.fill.fgColor.rgb,
                    cell.border.left.style,
                )
            if cell.comment:
                notes[cell.coordinate] = cell.comment.text
    return {
        "cells": cells,
        "looks": looks,
        "notes": notes,
        "drop-downs": drop_downs(sheet),
        "marks": marks(sheet),
        "widths": {letter: found.width for letter, found in sheet.column_dimensions.items()},
        "frozen": sheet.freeze_panes,
        "print": (sheet.page_setup.orientation, sheet.page_setup.fitToWidth, sheet.print_title_rows),
    }


def drop_downs(sheet: Any) -> dict[str, str]:
    """Return the list behind each range that has a drop-down."""
    lists = (found for found in sheet.data_validations.dataValidation if found.type == "list")
    return {str(found.sqref): found.formula1 for found in lists}


def marks(sheet: Any) -> dict[str, list[str]]:
    """Return the formulas that mark cells, by range."""
    return {
        str(found.sqref): [formula for rule in found.rules for formula in rule.formula]
        for found in sheet.conditional_formatting
    }
