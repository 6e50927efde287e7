"""A workbook worked out again by LibreOffice: a second program, so that formulas are checked against no code of ours."""

from __future__ import annotations

import re
import shutil
import subprocess
from io import BytesIO
from pathlib import Path
from typing import Any
from zipfile import ZIP_DEFLATED, ZipFile

from tests.workbook_content import open_workbook

SOFFICE = shutil.which("soffice")

LONGEST_WAIT = 300
"""Seconds: the first start of a fresh profile is slow on a busy machine."""

_STORED = re.compile(r"(</f>)<v>[^<]*</v>")

Place = tuple[str, str]


def without_stored_values(data: bytes) -> bytes:
    """Return the workbook with its formulas alone, so that whoever opens it must work them out."""
    stream = BytesIO()
    with ZipFile(BytesIO(data)) as source, ZipFile(stream, "w", ZIP_DEFLATED) as target:
        for name in source.namelist():
            part = source.read(name)
            if name.startswith("xl/worksheets/sheet"):
                part = _STORED.sub(r"\1", part.decode()).encode()
            target.writestr(name, part)
    return stream.getvalue()


def recalculated(data: bytes, folder: Path) -> bytes:
    """Return the workbook as LibreOffice works it out."""
    if SOFFICE is None:
        raise FileNotFoundError("soffice")
    before = folder / "formulas.xlsx"
    before.write_bytes(without_stored_values(data))
    profile = (folder / "profile").as_uri()
    subprocess.run(
        [
            *(SOFFICE, f"-env:UserInstallation={profile}", "--headless"),
            *("--convert-to", "xlsx:Calc MS Excel 2007 XML", "--outdir", str(folder / "after"), str(before)),
        ],
        check=True,
        capture_output=True,
        timeout=LONGEST_WAIT,
    )
    return (folder / "after" / "formulas.xlsx").read_bytes()


def values_at(data: bytes, places: set[Place]) -> dict[Place, Any]:
    """Return what stands in some cells, as stored."""
    book = open_workbook(data, data_only=True)
    return {(sheet, cell): book[sheet][cell].value for sheet, cell in places}


def formula_cells(data: bytes) -> set[Place]:
    """Return where the formulas of a workbook stand."""
    book = open_workbook(data)
    return {
        (page.title, cell.coordinate)
        for page in book.worksheets
        for row in page.iter_rows()
        for cell in row
        if cell.data_type == "f"
    }


def differences(data: bytes, again: bytes, within: float) -> dict[Place, tuple[Any, Any]]:
    """Return the formula cells of a workbook whose stored value is not what they came to again."""
    places = formula_cells(data)
    stored, found = values_at(data, places), values_at(again, places)
    return {
        place: (stored[place], found[place])
        for place in sorted(places)
        if not _alike(stored[place], found[place], within)
    }


def _alike(stored: object, found: object, within: float) -> bool:
    numbers = isinstance(stored, int | float) and isinstance(found, int | float)
    return numbers and abs(stored - found) <= within  # type: ignore[operator]  # both are numbers here
