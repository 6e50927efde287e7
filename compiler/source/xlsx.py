"""Workbook file -> SourceBook; the only place where cells are read from a file.

The reader is our own, on top of zip and expat: one pass gives values, formulas and number formats, and no formatting
can stop it. A workbook that cannot be read raises `UnreadableWorkbook`, and is never returned as one without cells.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

from compiler.source.cells import CellType, SourceBook, SourceSheet
from compiler.source.collecting import no_collecting
from compiler.source.container import Package, open_package
from compiler.source.parts import Outline, read_outline, read_properties
from compiler.source.sheet import Budget, SheetReader
from compiler.source.stored import Shelf
from compiler.source.strings import read_strings
from compiler.source.styles import read_styles
from compiler.source.unreadable import unreadable

LARGEST_FILE = 100_000_000  # bytes; a block workbook has some hundred thousand
SETTLING = 0.3  # seconds between two looks at a file that is being saved
LOOKS = 4
_END_OF_ZIP = b"PK\x05\x06"
_END_WITHIN = 66_000  # bytes; the end record and the longest comment after it


def read_workbook(path: Path) -> SourceBook:
    """Return the workbook in a file. Raises `UnreadableWorkbook`, also where there is no such file."""
    return read_workbook_bytes(read_file(path), path.name)


def read_workbook_bytes(data: bytes, name: str, wants: Callable[[str], bool] | None = None) -> SourceBook:
    """Return the workbook in these bytes; `name` is what messages call it.

    `wants` tells by name which sheets are read; the others are listed without their cells.
    """
    with no_collecting():
        return _read_package(open_package(data, name), name, wants)


def _read_package(package: Package, name: str, wants: Callable[[str], bool] | None) -> SourceBook:
    outline = read_outline(package)
    shelf = Shelf(read_strings(package, outline.strings), read_styles(package, outline.styles), outline.date_1904)
    budget = Budget(name)
    sheets = tuple(
        SheetReader(part, shelf, package, budget).read()
        if wants is None or wants(part.name)
        else SourceSheet(part.name, {}, part.hidden)
        for part in outline.sheets
    )
    if not _trusted(outline, sheets):
        sheets = tuple(_without_results(sheet) for sheet in sheets)
    return SourceBook(
        name=name,
        sheets=sheets,
        date_1904=outline.date_1904,
        has_macros=outline.has_macros,
        properties=read_properties(package),
    )


def _trusted(outline: Outline, sheets: tuple[SourceSheet, ...]) -> bool:
    """Tell whether the stored results of formulas were ever calculated.

    Some writers store 0 behind every formula and ask for a calculation on opening (`fullCalcOnLoad`); the zeros
    look like loads. Without that request, zeros alone and no order of calculation say the same.
    """
    if not outline.trusts_results:
        return False
    results = [cell.value for sheet in sheets for cell in sheet.cells.values() if cell.formula is not None]
    return outline.has_calculation_chain or not results or any(value != Decimal(0) for value in results)


def _without_results(sheet: SourceSheet) -> SourceSheet:
    cells = {
        at: cell if cell.formula is None else replace(cell, value=None, type=CellType.UNCALCULATED)
        for at, cell in sheet.cells.items()
    }
    return replace(sheet, cells=cells)


def read_file(path: Path) -> bytes:
    """Return the bytes of a file; one that is just being saved is given a second to settle."""
    name = path.name
    owner = _marked_by(name)
    if owner:
        raise unreadable(
            "not-a-workbook",
            f'"{name}" is the marker file that a program leaves while "{owner}" is open, not a workbook.',
            f'Name "{owner}" itself.',
        )
    try:
        if path.is_dir():
            raise unreadable("not-a-workbook", f'"{name}" is a folder, not a workbook.', "Name a workbook in it.")
        if path.stat().st_size > LARGEST_FILE:
            raise unreadable(
                "workbook-too-large",
                f'"{name}" has more than {LARGEST_FILE // 1_000_000} MB, far more than a block workbook.',
                "Copy the sheets into a new workbook, values only, and save that.",
            )
        return _settled(path)
    except FileNotFoundError as missing:
        raise unreadable(
            "not-a-workbook",
            f'There is no file "{name}" in "{path.parent}".',
            "Check the name and the folder.",
        ) from missing
    except PermissionError as locked:
        raise unreadable(
            "damaged-workbook",
            f'"{name}" may not be read; it is open in another program, or belongs to somebody else.',
            "Close it in the spreadsheet program and try again.",
        ) from locked
    except (OSError, ValueError) as broken:
        raise unreadable(
            "damaged-workbook",
            f'"{name}" could not be read to its end; it may not have been downloaded from the cloud yet.',
            "Open its folder, choose to keep the file on this device, and try again.",
        ) from broken


def _settled(path: Path) -> bytes:
    data = path.read_bytes()
    for _ in range(LOOKS):
        if not data.startswith(b"PK") or _END_OF_ZIP in data[-_END_WITHIN:]:
            break
        before = path.stat()
        time.sleep(SETTLING)
        after = path.stat()
        if (before.st_size, before.st_mtime_ns) == (after.st_size, after.st_mtime_ns):
            break
        data = path.read_bytes()
    return data


def _marked_by(name: str) -> str | None:
    """Return the workbook a marker file stands for: `~$x.xlsx`, `.~lock.x.xlsx#`, `._x.xlsx`."""
    if name.startswith("~$"):
        return name[2:]
    if name.startswith(".~lock.") and name.endswith("#"):
        return name[7:-1]
    return name[2:] if name.startswith("._") else None
