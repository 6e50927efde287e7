"""What one stored cell holds: its raw text, type and style in; value, type and number format out.

What cannot be a value (a number that is not one, a text that is not in the table) becomes a cell of type ERROR that
holds what the file says: one bad cell is one finding, and never costs the whole workbook.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import field
from datetime import datetime
from decimal import Context, Decimal, InvalidOperation

from compiler.frozen import frozen
from compiler.source.cells import CellType, CellValue
from compiler.source.formats import GENERAL, ISO_DATE
from compiler.source.parts import TRUE_WORDS, whole_number
from compiler.source.serials import serial_of
from compiler.source.strings import StoredText, unescaped
from compiler.source.styles import PLAIN, Style

FIFTEEN_DIGITS = Context(prec=15)  # what a spreadsheet keeps of a number
LARGEST_EXPONENT = 308
_NUMBER = re.compile(r"[+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]{1,4})?", re.ASCII)
_PLAIN_NUMBER = re.compile(r"-?(?:0|[1-9][0-9]{0,12})(?:\.[0-9]{0,12}[1-9])?", re.ASCII)
_PLAIN_LENGTH = 15
_ISO = re.compile(r"(\d{4}-\d{2}-\d{2})(?:T(\d{2}:\d{2}(?::\d{2})?)(?:\.\d+)?(?:Z|[+-]\d{2}:\d{2})?)?", re.ASCII)
_FALSE_WORDS = frozenset({"0", "false", "off"})


Stored = tuple[CellValue, CellType, str, bool]
"""Value, type, number format and whether it is struck out: a plain tuple, because there is one for every cell."""


@frozen
class Shelf:
    """What the sheets of a workbook share: its texts, its styles, its epoch."""

    strings: list[StoredText]
    styles: tuple[Style, ...]
    date_1904: bool
    _seen: dict[tuple[str, str, str], Stored] = field(default_factory=dict)

    def stored(self, kind: str, raw: str, style: str) -> Stored:
        """Return what a cell holds; cells repeat one another, so each different one is looked at once."""
        key = (kind, raw, style)
        found = self._seen.get(key)
        if found is None:
            found = self._seen[key] = stored_value(kind, raw, self.style(style), self)
        return found

    def style(self, number: str) -> Style:
        """Return a style by its number; a number that is not in the table means plain."""
        index = whole_number(number)
        return self.styles[index] if index is not None and index < len(self.styles) else PLAIN


EMPTY: Stored = (None, CellType.EMPTY, GENERAL, False)


def decimal_of(text: str) -> Decimal | None:
    """Return a stored number to 15 significant digits, written plainly; None where it is not a number."""
    if len(text) <= _PLAIN_LENGTH and _PLAIN_NUMBER.fullmatch(text):
        return Decimal(text)
    if not _NUMBER.fullmatch(text):
        return None
    try:
        number = FIFTEEN_DIGITS.create_decimal(text)
    except InvalidOperation:
        return None
    if not number:
        return Decimal(0)
    if abs(number.adjusted()) > LARGEST_EXPONENT:
        return None
    return Decimal(format(number.normalize(FIFTEEN_DIGITS), "f"))


def stored_value(kind: str, raw: str, style: Style, shelf: Shelf) -> Stored:
    """Return what a cell of this stored type holds; `kind` is its `t` attribute, `raw` the text of its `<v>`."""
    text = raw.strip()
    if not text and kind != "str":
        return EMPTY
    reader = _READERS.get(kind)
    if reader:
        return reader(text, style, shelf)
    return (unescaped(raw), CellType.TEXT, style.code, style.struck)


def _number(text: str, style: Style, _shelf: Shelf) -> Stored:
    number = decimal_of(text)
    if number is None:
        return (text, CellType.ERROR, style.code, style.struck)
    kind = CellType.DATE if style.always_date or style.is_date(number) else CellType.NUMBER
    return (number, kind, style.code, style.struck)


def _shared(number: str, style: Style, shelf: Shelf) -> Stored:
    index = whole_number(number)
    if index is None or index >= len(shelf.strings):
        return (f"text {number}", CellType.ERROR, style.code, style.struck)
    text = shelf.strings[index]
    return (text.text, CellType.TEXT, style.code, style.struck or text.struck)


def _truth(text: str, style: Style, _shelf: Shelf) -> Stored:
    word = text.casefold()
    if word in TRUE_WORDS or word in _FALSE_WORDS:
        return (word in TRUE_WORDS, CellType.TRUTH, style.code, style.struck)
    return (text, CellType.ERROR, style.code, style.struck)


def _error(text: str, style: Style, _shelf: Shelf) -> Stored:
    return (text, CellType.ERROR, style.code, style.struck)


def _iso(text: str, style: Style, shelf: Shelf) -> Stored:
    """Return an ISO date cell as the serial number it stands for; its zone is left out, as spreadsheets do."""
    found = _ISO.fullmatch(text)
    try:
        moment = datetime.fromisoformat(f"{found[1]}T{found[2] or '00:00'}") if found else None
    except ValueError:
        moment = None
    if moment is None:
        return (text, CellType.TEXT, style.code, style.struck)
    serial = FIFTEEN_DIGITS.plus(serial_of(moment, epoch_1904=shelf.date_1904))
    code = style.code if style.is_date(serial) else ISO_DATE
    return (serial, CellType.DATE, code, style.struck)


_READERS: dict[str, Callable[[str, Style, Shelf], Stored]] = {
    "n": _number,
    "s": _shared,
    "b": _truth,
    "e": _error,
    "d": _iso,
}
"""By the `t` attribute; anything else is text."""
