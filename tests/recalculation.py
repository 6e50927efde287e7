"""Workbooks worked out again by LibreOffice: a second program, so that formulas are not checked by our own code."""

from __future__ import annotations

import re
import shutil
import subprocess
from collections.abc import Mapping
from io import BytesIO
from pathlib import Path
from typing import Any
from xml.sax.saxutils import unescape
from zipfile import ZIP_DEFLATED, ZipFile

from tests.workbook_content import open_workbook

SOFFICE = shutil.which("soffice")

LONGEST_WAIT = 300
"""Seconds: the first start of a fresh profile is slow on a busy machine."""

_STORED = re.compile(r"(</f>)<v>[^<]*</v>")
_FORMULA = re.compile(r'<c r="([A-Z]+[0-9]+)"[^>]*><f>([^<]*)</f>')
_SHEETS = "xl/worksheets/sheet"

Place = tuple[str, str]


def with_parts(data: bytes, change: Mapping[str, bytes]) -> bytes:
    """Return a workbook with some of its parts replaced."""
    stream = BytesIO()
    with ZipFile(BytesIO(data)) as source, ZipFile(stream, "w", ZIP_DEFLATED) as target:
        for name in source.namelist():
            target.writestr(name, change.get(name, source.read(name)))
    return stream.getvalue()


def sheet_parts(data: bytes) -> dict[str, str]:
    """Return the XML of a workbook's sheets."""
    with ZipFile(BytesIO(data)) as source:
        return {name: source.read(name).decode() for name in source.namelist() if name.startswith(_SHEETS)}


def without_stored_values(data: bytes) -> bytes:
    """Return a workbook with its formulas alone, so that whoever opens it must work them out."""
    return with_parts(data, {name: _STORED.sub(r"\1", text).encode() for name, text in sheet_parts(data).items()})


def recalculated(books: Mapping[str, bytes], folder: Path) -> dict[str, bytes]:
    """Return workbooks as LibreOffice works them out."""
    if SOFFICE is None:
        raise FileNotFoundError("soffice")
    files = {name: folder / f"{name}.xlsx" for name in books}
    for name, data in books.items():
        files[name].write_bytes(without_stored_values(data))
    done = folder / "done"
    command = [SOFFICE, f"-env:UserInstallation={(folder / 'profile').as_uri()}", "--headless"]
    how = ["--convert-to", "xlsx:Calc MS Excel 2007 XML", "--outdir", str(done)]
    subprocess.run([*command, *how, *map(str, files.values())], check=True, capture_output=True, timeout=LONGEST_WAIT)
    return {name: (done / file.name).read_bytes() for name, file in files.items()}


def formulas(data: bytes) -> dict[str, dict[str, str]]:
    """Return the formulas of a workbook of ours, by sheet and cell."""
    names = open_workbook(data, read_only=True).sheetnames
    parts = sheet_parts(data)
    return {
        name: {cell: unescape(text) for cell, text in _FORMULA.findall(parts[f"{_SHEETS}{number}.xml"])}
        for number, name in enumerate(names, start=1)
    }


def differences(data: bytes, again: bytes, within: float) -> dict[Place, tuple[Any, Any]]:
    """Return the formula cells whose stored value is not what they come to when worked out again."""
    stored, found = open_workbook(data, data_only=True, read_only=True), open_workbook(again, data_only=True)
    pairs = {
        (name, cell): (values.get(cell), found[name][cell].value)
        for name, cells in formulas(data).items()
        for values in (_values(stored[name]) if cells else {},)
        for cell in cells
    }
    return {place: pair for place, pair in pairs.items() if not _alike(*pair, within)}


def _values(page: Any) -> dict[str, Any]:
    return {cell.coordinate: cell.value for row in page.iter_rows() for cell in row if cell.value is not None}


def _alike(stored: Any, found: Any, within: float) -> bool:
    numbers = all(isinstance(value, int | float) for value in (stored, found))
    return numbers and abs(stored - found) <= within
