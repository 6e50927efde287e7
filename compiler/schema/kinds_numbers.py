"""Kinds of plain numbers: whole numbers, percentages, efforts, heart rates.

A number may be stored as a number or as text; its number format may hold a sign or a unit. What a cell shows and
what it holds are kept apart, and nothing is decided by size.
"""

from __future__ import annotations

import re
from decimal import Decimal

from compiler.flags.model import Remark
from compiler.folding import fold
from compiler.frozen import frozen
from compiler.notation.numbers import Refused, decimal, settle_commas
from compiler.quantities import Percent, plain
from compiler.schema.kinds_base import (
    Kind,
    Refusal,
    Understood,
    cleaned,
    refuse,
    refuse_small_figure,
    section_of,
    unusable,
)
from compiler.source.cells import CellType, SourceCell
from compiler.source.formats import Section
from compiler.source.shown import shown

LARGEST_PERCENT = Decimal(300)
SMALLEST_PERCENT = Decimal(1)
LOOKS_LIKE_A_SHARE = Decimal("1.5")  # at most this, a number without a sign may be a share: 0.75 for 75%
MOST_DECIMALS = 10  # formats with more hide nothing that matters
_NUMBER = re.compile(r"(?P<sign>[+-]?)\s*(?P<digits>[0-9]+(?:\.[0-9]+)?)\s*(?P<word>%|[a-z]+)?")
_LEADING_QUOTES = "'\""


@frozen
class Figure:
    """A number as a cell holds it: its value, the word or sign after it, and what there is to remark."""

    value: Decimal
    word: str
    remarks: tuple[Remark, ...] = ()


def written_number(cell: SourceCell) -> tuple[str, tuple[Remark, ...]] | Refusal:
    """Return a number cell as a coach would have typed it, with the sign or unit of its format: 75%, 60 kg.

    What the format rounds is noted. A per cent sign that is only decoration, and a number shown in powers of ten,
    are refused.
    """
    value = cell.number
    if value is None:
        return refuse("not-a-number", f'"{shown(cell)}" is not a number that can be read.', "Type the number again.")
    section = section_of(cell)
    words = "" if section.fraction else section.words
    if "%" in words and not section.percent:
        return refuse(
            "bare-percentage",
            f'The cell shows "{shown(cell)}", but its format alone adds the sign: it holds {plain(value)}.',
            "Format the cell as Text and type the percentage with its sign"
            + (f": {plain(value)}%." if value > LOOKS_LIKE_A_SHARE else "."),
        )
    if section.scientific:
        return refuse(
            "not-a-number",
            f'The cell shows "{shown(cell)}", a number in powers of ten; it holds {plain(value)}.',
            "Format the cell as Text and type it again.",
        )
    remarks = _rounded(cell, value, section)
    if section.percent:
        return f"{plain(value * 100)}%", remarks
    if len(section.digits) > 1 and set(section.digits) == {"0"} and value >= 0:
        return plain(value).zfill(len(section.digits)), remarks
    text = " ".join(f"{section.before} {plain(value)} {section.after}".split()) if words else plain(value)
    if words.strip(" ()-+/"):
        note = f'The unit is only in the number format; the cell holds {plain(value)} and was read as "{text}".'
        return text, (*remarks, Remark("unit-in-format", note))
    return plain(value), remarks


def _rounded(cell: SourceCell, value: Decimal, section: Section) -> tuple[Remark, ...]:
    places = section.decimals
    if places is None or places > MOST_DECIMALS or section.fraction:
        return ()
    seen = value * 100 if section.percent else value
    if round(seen, places) == seen:
        return ()
    sign = "%" if section.percent else ""
    return (Remark("shown-rounded", f'The cell shows "{shown(cell)}" and holds {plain(seen)}{sign}, which is used.'),)


def figure(cell: SourceCell, expected: str) -> Figure | Refusal:
    """Return the number in a cell, stored as number or text, with the word or sign after it."""
    refused = unusable(cell, expected)
    if refused:
        return refused
    if cell.type is CellType.DATE:
        return lost(cell, expected)
    if cell.type is CellType.NUMBER:
        written = written_number(cell)
        if isinstance(written, Refusal):
            return written
        text, remarks = written
        return _parsed(text, remarks, expected)
    text, remarks = cleaned(str(cell.value))
    refused = refuse_small_figure(text, "not-a-number", expected)
    if refused:
        return refused
    return _parsed(text, remarks, expected)


def lost(cell: SourceCell, expected: str) -> Refusal:
    """Return the refusal of a date or time where none belongs and nothing can be recovered."""
    time = section_of(cell).is_time
    return refuse(
        "lost-to-time" if time else "lost-to-date",
        f'The cell holds a {"time" if time else "date"}, shown as "{shown(cell)}"; expected {expected}.',
        "Format the cell as Text and type it again.",
    )


def _parsed(text: str, remarks: tuple[Remark, ...], expected: str) -> Figure | Refusal:
    try:
        settled = settle_commas(fold(text).strip(_LEADING_QUOTES).strip())
    except Refused as refused:
        return Refusal(refused.reason)
    found = _NUMBER.fullmatch(settled.text)
    value = decimal(found["digits"]) if found else None
    if found is None or value is None:
        return refuse("not-a-number", f'"{text.strip()}" is not a number; expected {expected}.', "Write plain digits.")
    if settled.decimal_comma:
        remarks += (decimal_comma(text),)
    return Figure(-value if found["sign"] == "-" else value, found["word"] or "", remarks)


def decimal_comma(text: str) -> Remark:
    """Return the note about a decimal comma."""
    return Remark("decimal-comma", f'The comma in "{text.strip()}" was read as a decimal point.')


def _figure_with(cell: SourceCell, expected: str, words: frozenset[str]) -> Figure | Refusal:
    """Return a number with no word after it but those of the kind: "62 bpm" where `words` has bpm."""
    found = figure(cell, expected)
    if isinstance(found, Refusal) or found.word in words:
        return found
    return refuse(
        "not-a-number",
        f'"{shown(cell).strip()}" has "{found.word}" after the number; expected {expected}.',
        "Write the number alone.",
    )


def whole(low: int, high: int, *words: str, name: str = "whole number", of: str = "") -> Kind[int]:
    """Return the kind of whole numbers from low to high; `words` may stand after the number."""
    expected = f"{of or 'a whole number'} from {low} to {high}"
    allowed = frozenset({"", *words})

    def read(cell: SourceCell) -> Understood[int] | Refusal:
        found = _figure_with(cell, expected, allowed)
        if isinstance(found, Refusal):
            return found
        if found.value != found.value.to_integral_value():
            return refuse(
                "not-a-number",
                f"{plain(found.value)} is not whole; expected {expected}.",
                "Write a whole number.",
            )
        if not low <= found.value <= high:
            return refuse(
                "not-a-number",
                f"{plain(found.value)} is out of range; expected {expected}.",
                f"Write a number from {low} to {high}.",
            )
        return Understood(int(found.value), found.remarks)

    return Kind(name, read, says=f"A whole number from {low} to {high}.")


def _read_rpe(cell: SourceCell) -> Understood[Decimal] | Refusal:
    expected = "an effort from 1 to 10, in halves"
    text = fold(str(cell.value)) if cell.type is CellType.TEXT else ""
    if text.startswith("rpe"):
        cell = SourceCell(cell.place, text.removeprefix("rpe"), cell.type, struck=cell.struck)
    found = _figure_with(cell, expected, frozenset({"", "rpe"}))
    if isinstance(found, Refusal):
        return found
    if not 1 <= found.value <= 10 or found.value * 2 % 1:
        return refuse("not-a-number", f"{plain(found.value)} is not {expected}.", "Write 8 or 8.5.")
    return Understood(found.value, found.remarks)


def _read_percent(cell: SourceCell) -> Understood[Percent] | Refusal:
    found = _figure_with(cell, "a percentage", frozenset({"", "%"}))
    if isinstance(found, Refusal):
        return found
    value = found.value
    if not found.word:
        return _bare(value)
    if not SMALLEST_PERCENT <= value <= LARGEST_PERCENT:
        meant = value / 100 if value > LARGEST_PERCENT else value * 100
        return refuse(
            "impossible-percentage",
            f"{plain(value)}% cannot be right; expected {SMALLEST_PERCENT}% to {LARGEST_PERCENT}%.",
            f"If {plain(meant)}% was meant, format the cell as Text and write {plain(meant)}%."
            if 1 <= meant <= LARGEST_PERCENT
            else f"Write a percentage from {SMALLEST_PERCENT}% to {LARGEST_PERCENT}%.",
        )
    return Understood(Percent(value), found.remarks)


def _bare(value: Decimal) -> Refusal:
    if 0 < value <= LOOKS_LIKE_A_SHARE:
        return refuse(
            "bare-percentage",
            f"{plain(value)} has no % sign; it may be {plain(value * 100)}% or {plain(value)}%.",
            f"Write {plain(value * 100)}% if that is meant.",
        )
    return refuse("bare-percentage", f"{plain(value)} has no % sign; expected a percentage.", f"Write {plain(value)}%.")


PERCENT: Kind[Percent] = Kind("percentage", _read_percent, says="75%, or a number formatted as a percentage.")
RPE: Kind[Decimal] = Kind("RPE", _read_rpe, says="1 to 10, halves allowed: 8, 8.5.")
HEART_RATE = whole(25, 250, "bpm", name="heart rate", of="beats a minute")
