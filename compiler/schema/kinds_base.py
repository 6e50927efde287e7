"""What a kind of cell is, and what every kind does first.

A kind takes one cell that is not blank and returns what it means, or a refusal. It adds no place and no severity.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable
from typing import Generic, TypeVar

from compiler.flags.model import Remark
from compiler.folding import small_figure
from compiler.frozen import frozen
from compiler.source.cells import CellType, SourceCell
from compiler.source.formats import Section, section_for
from compiler.source.shown import shown

T = TypeVar("T")


@frozen
class Understood(Generic[T]):
    """A value, and remarks that do not spoil it: warnings and notes."""

    value: T
    remarks: tuple[Remark, ...] = ()


@frozen
class Refusal:
    """No value, and why."""

    remark: Remark


@frozen
class Kind(Generic[T]):
    """One kind of cell.

    `name` also names its section of the field reference. `read` is never called with a blank cell. `choices` is
    a closed list, offered as a drop-down; `names_of` the sheet whose names are offered. `as_text`: entry cells
    are formatted as Text in the template. `says` is one line: what may be written.
    """

    name: str
    read: Callable[[SourceCell], Understood[T] | Refusal]
    choices: tuple[str, ...] = ()
    names_of: str | None = None
    as_text: bool = True
    says: str = ""


ERROR_MEANINGS: dict[str, str] = {
    "#N/A": "a lookup found nothing",
    "#DIV/0!": "something was divided by zero",
    "#REF!": "a cell it refers to is gone",
    "#NAME?": "it uses a name or a function that the spreadsheet does not know",
    "#VALUE!": "it met a text where it needs a number",
    "#NUM!": "the number cannot be worked out",
    "#NULL!": "two ranges do not meet",
    "#SPILL!": "there is no room for its results",
    "#CALC!": "the spreadsheet cannot work it out",
    "#FIELD!": "a part of it that the formula asks for is not there",
    "#BLOCKED!": "it was not allowed to run",
    "#CONNECT!": "it could not reach its source",
    "#GETTING_DATA": "its data had not arrived when the workbook was saved",
}
"""Error values of spreadsheets and what they mean; the list grows, and an unknown one is refused all the same."""

_LINE_ENDS = re.compile(r"\r\n?|[\u2028\u2029\x0b\x0c\x85]")
_JOINERS = frozenset("\u200c\u200d")  # they hold letters and emoji together
_KEPT_CONTROLS = frozenset("\n\t")
_TAGS = range(0xE0020, 0xE0080)  # they spell the flags of regions


def error_text(cell: SourceCell) -> str | None:
    """Return the error value a cell shows, stored as one or typed as text; None where it shows none."""
    if cell.type is CellType.ERROR:
        return str(cell.value)
    if cell.type is CellType.TEXT:
        text = str(cell.value).strip().upper()
        return text if text in ERROR_MEANINGS else None
    return None


def refuse(slug: str, message: str, hint: str) -> Refusal:
    """Return a refusal; it always says what to do."""
    return Refusal(Remark(slug, message, hint))


def section_of(cell: SourceCell) -> Section:
    """Return the section of a cell's number format that shows its number; an empty one where it holds none."""
    number = cell.number
    return Section() if number is None else section_for(cell.number_format, number)


def unusable(cell: SourceCell, expected: str) -> Refusal | None:
    """Return why a cell cannot be used whatever its kind, or None: errors, no result, struck out, truth values.

    `expected` completes "expected ...".
    """
    error = error_text(cell)
    if error is not None:
        return _error(cell, error, expected)
    if cell.type is CellType.UNCALCULATED:
        return refuse(
            "formula-not-calculated",
            f"The formula {cell.formula or 'in this cell'} has no result yet; expected {expected}.",
            "Open the workbook in a spreadsheet program, let it recalculate (in LibreOffice Ctrl+Shift+F9), and save.",
        )
    if cell.struck:
        return refuse(
            "struck-out",
            f'"{shown(cell)}" is struck out, or part of it is; expected {expected} without a line through it.',
            "Delete what no longer counts, or remove the line through it.",
        )
    if cell.type is CellType.TRUTH or isinstance(cell.value, bool):
        return refuse(
            "truth-value",
            f"The cell holds {shown(cell)}, the value of a tick box or a comparison; expected {expected}.",
            "Type the value itself; if it is meant as a word, format the cell as Text and type it again.",
        )
    return None


def _error(cell: SourceCell, error: str, expected: str) -> Refusal:
    if not error.startswith("#"):
        return refuse(
            "not-a-number",
            f'The file stores "{error}" where a number belongs; expected {expected}.',
            "Type the value again.",
        )
    known = ERROR_MEANINGS.get(error.upper())
    means = f": {known}" if known else ""
    where = f"The formula {cell.formula} gives" if cell.formula else "The cell shows"
    return refuse(
        "formula-error",
        f"{where} {error}{means}; expected {expected}.",
        "Correct the formula, or type the value itself.",
    )


def cleaned(text: str) -> tuple[str, tuple[Remark, ...]]:
    """Return a text without invisible characters, composed, with one kind of line end; and a note of what went."""
    text = _LINE_ENDS.sub("\n", text)
    kept = "".join(char for char in text if not _unseen(char))
    remarks: tuple[Remark, ...] = ()
    if kept != text:
        gone = sorted({f"U+{ord(char):04X}" for char in text if _unseen(char)})
        remarks = (Remark("odd-characters", f"Invisible characters were left out: {', '.join(gone)}."),)
    return unicodedata.normalize("NFC", kept), remarks


def refuse_small_figure(text: str, slug: str, expected: str) -> Refusal | None:
    """Return the refusal of a text with a figure such as ², which may point to a note; None for any other text."""
    small = small_figure(text)
    if small is None:
        return None
    message = f'"{text.strip()}" has the figure {small}, which may be a footnote mark; expected {expected}.'
    return refuse(slug, message, "Write plain digits.")


def _unseen(char: str) -> bool:
    category = unicodedata.category(char)
    if category == "Cc":
        return char not in _KEPT_CONTROLS
    if category in {"Cs", "Cn"}:
        return True
    return category == "Cf" and char not in _JOINERS and ord(char) not in _TAGS
