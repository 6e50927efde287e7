"""Flags -> JSON and CSV: the same flags in the same order, one object or row each. And JSON -> flags.

A missing value is null in JSON and empty in CSV.
"""

from __future__ import annotations

import csv
import io
import json
from collections import Counter
from collections.abc import Iterable, Mapping
from typing import Any

from compiler.cellref import CellRef
from compiler.flags.model import Flag, Severity

VERSION = 1
COLUMNS = ("slug", "severity", "sheet", "cell", "client", "touches", "found", "message", "hint", "related")
_FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r")
_BETWEEN = "; "

Value = str | list[str] | None


def flags_as_json(flags: Iterable[Flag], workbook_name: str) -> str:
    """Return the flags as one JSON object, ending with a line break."""
    listed = list(flags)
    counts = Counter(flag.severity for flag in listed)
    document = {
        "version": VERSION,
        "workbook": _sound(workbook_name),
        "counts": {str(severity): counts[severity] for severity in Severity},
        "flags": [_row(flag) for flag in listed],
    }
    return json.dumps(document, ensure_ascii=False, indent=2) + "\n"


def flags_from_json(text: str) -> tuple[Flag, ...]:
    """Return the flags that `flags_as_json` wrote. Raises ValueError or KeyError for any other text."""
    return tuple(map(_flag, json.loads(text)["flags"]))


def flags_as_csv(flags: Iterable[Flag]) -> str:
    """Return the flags as CSV with a header row.

    A text that a spreadsheet program would take for a formula gets an apostrophe in front.
    """
    buffer = io.StringIO(newline="")
    writer = csv.writer(buffer)
    writer.writerow(COLUMNS)
    for flag in flags:
        writer.writerow([_as_text(value) for value in _row(flag).values()])
    return buffer.getvalue()


def _row(flag: Flag) -> dict[str, Value]:
    values: tuple[Value, ...] = (
        flag.slug,
        str(flag.severity),
        flag.sheet_name,
        flag.cell,
        flag.client,
        list(flag.touches) or None,
        flag.found,
        flag.message,
        flag.hint,
        [str(place) for place in flag.related] or None,
    )
    return dict(zip(COLUMNS, map(_sound_value, values), strict=True))


def _flag(row: Mapping[str, Any]) -> Flag:
    sheet, cell = row["sheet"], row["cell"]
    related = (place.rpartition("!") for place in row["related"] or ())
    return Flag(
        row["slug"],
        Severity(row["severity"]),
        row["message"],
        row["hint"],
        CellRef.at(sheet, cell) if cell else None,
        None if cell else sheet,
        row["client"],
        row["found"],
        tuple(CellRef.at(sheet, cell) for sheet, _, cell in related),
        tuple(row["touches"] or ()),
    )


def _sound_value(value: Value) -> Value:
    if value is None:
        return None
    return _sound(value) if isinstance(value, str) else [_sound(item) for item in value]


def _sound(text: str) -> str:
    """Return a text that UTF-8 can hold: a damaged workbook may store half a character."""
    return text.encode("utf-8", "replace").decode("utf-8")


def _as_text(value: Value) -> str:
    text = _BETWEEN.join(value) if isinstance(value, list) else value or ""
    return f"'{text}" if text.startswith(_FORMULA_STARTS) else text
