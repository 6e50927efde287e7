"""Kinds of words: names, short and long texts, lists of names, closed lists, yes and no."""

from __future__ import annotations

import re
from collections.abc import Mapping

from compiler.flags.model import Remark
from compiler.flags.nearest import nearest
from compiler.folding import fold, header_key, name_key
from compiler.schema.kinds_base import Kind, Refusal, Understood, cleaned, refuse, section_of, unusable
from compiler.source.cells import CellType, SourceCell
from compiler.source.shown import shown

LONGEST_NAME = 100
LONGEST_CUE = 500
LONGEST_TEXT = 2000
_LABELS_UNDER = 100  # a session or an order may be called 1, 2, 3; a name of three digits has lost its zeros
_SEPARATORS = re.compile(r"[,;\n]")
_SPACES = re.compile(r"[^\S\n]+")
_ALL_SPACES = re.compile(r"\s+")
_YES = frozenset({"yes", "y", "true", "1"})
_NO = frozenset({"no", "n", "false", "0"})


def _words(cell: SourceCell, expected: str) -> tuple[str, tuple[Remark, ...]] | Refusal:
    """Return the text of a cell that holds words, or a number that may stand for them."""
    refused = unusable(cell, expected)
    if refused:
        return refused
    if cell.type is CellType.DATE:
        return refuse(
            "lost-to-date",
            f'The cell holds a date or a time, shown as "{shown(cell)}"; expected {expected}.',
            "Format the cell as Text and type it again.",
        )
    if cell.type is CellType.NUMBER:
        return shown(cell), ()
    text, remarks = cleaned(str(cell.value))
    if text.lstrip().startswith("=") and len(text.strip()) > 1:
        remarks += (
            Remark(
                "formula-as-text",
                f'"{text.strip()}" is a formula typed as text; it is taken as it stands.',
                "If a result was meant, format the cell as General and type the formula again.",
            ),
        )
    return text, remarks


def _text_kind(name: str, expected: str, longest: int, says: str, *, lines: bool) -> Kind[str]:
    def read(cell: SourceCell) -> Understood[str] | Refusal:
        words = _words(cell, expected)
        if isinstance(words, Refusal):
            return words
        text, remarks = words
        text = _tidy_lines(text) if lines else _ALL_SPACES.sub(" ", text).strip()
        if not text:
            return refuse(
                "missing-name",
                f"The cell holds only invisible characters; expected {expected}.",
                "Type it again.",
            )
        if len(text) > longest:
            return refuse(
                "too-long",
                f"The text has {len(text)} characters; {expected} has at most {longest}.",
                f"Shorten it to {longest} characters, or move the rest to a note.",
            )
        return Understood(text, remarks)

    return Kind(name, read, says=says)


def _tidy_lines(text: str) -> str:
    return "\n".join(_SPACES.sub(" ", line).strip() for line in text.split("\n")).strip("\n")


def _read_name(cell: SourceCell) -> Understood[str] | Refusal:
    result = _ONE_LINE.read(cell)
    if isinstance(result, Understood) and cell.type is CellType.NUMBER and _lost_zeros(cell):
        remark = Remark(
            "number-as-name",
            f"The name is stored as the number {result.value}; zeros in front of it would be lost.",
            "Format the cell as Text and type the name again.",
        )
        return Understood(result.value, (*result.remarks, remark))
    return result


def _lost_zeros(cell: SourceCell) -> bool:
    if section_of(cell).percent:
        return False  # a scale is a percentage, and lives in a column of names
    value = cell.number
    return value is None or value != value.to_integral_value() or not 0 <= value < _LABELS_UNDER


_ONE_LINE = _text_kind("name", "a name", LONGEST_NAME, "", lines=False)
NAME: Kind[str] = Kind("name", _read_name, says=f"A name, up to {LONGEST_NAME} characters.")
SHORT_TEXT = _text_kind(
    "short text", "a short text", LONGEST_NAME, f"Words, up to {LONGEST_NAME} characters.", lines=False
)
CUE = _text_kind("cue", "a cue or note", LONGEST_CUE, f"Words, up to {LONGEST_CUE} characters.", lines=True)
LONG_TEXT = _text_kind(
    "long text", "a text", LONGEST_TEXT, f"Lines of words, up to {LONGEST_TEXT} characters.", lines=True
)


def _read_names(cell: SourceCell) -> Understood[tuple[str, ...]] | Refusal:
    words = _words(cell, "names with commas between")
    if isinstance(words, Refusal):
        return words
    text, remarks = words
    names: dict[str, str] = {}
    for part in _SEPARATORS.split(text):
        name = _ALL_SPACES.sub(" ", part).strip()
        if len(name) > LONGEST_NAME:
            return refuse(
                "too-long",
                f'"{name[:30]}…" has {len(name)} characters; a name has at most {LONGEST_NAME}.',
                "Put a comma between the names, or shorten it.",
            )
        if name:
            names.setdefault(name_key(name), name)
    if not names:
        return refuse(
            "missing-name",
            f'"{text.strip()}" holds no name; expected names with commas between.',
            "Name at least one, or clear the cell.",
        )
    return Understood(tuple(names.values()), remarks)


NAMES: Kind[tuple[str, ...]] = Kind(
    "names", _read_names, says="One name, or several with commas, semicolons or line breaks between."
)


def choice(*words: str, also: Mapping[str, str] | None = None) -> Kind[str]:
    """Return the kind of a closed list. Case, spaces and dashes do not count; `also` gives words for one of it."""
    meant = {**{word: word for word in words}, **(also or {})}
    by_key = {_choice_key(typed): word for typed, word in meant.items()}

    def read(cell: SourceCell) -> Understood[str] | Refusal:
        listed = ", ".join(words)
        found = _words(cell, f"one of {listed}")
        if isinstance(found, Refusal):
            return found
        text, remarks = found
        word = by_key.get(_choice_key(text))
        if word is None:
            near = nearest(text, words, most=1)
            return refuse(
                "unknown-choice",
                f'"{text.strip()}" is not one of the choices: {listed}.',
                f"Write {near[0]}, if that is meant." if near else "Pick one from the list.",
            )
        return Understood(word, remarks)

    return Kind("choice", read, choices=words, says=f"One of: {', '.join(words)}.")


def _choice_key(text: str) -> str:
    return header_key(text) or fold(text)


def _read_yes_no(cell: SourceCell) -> Understood[bool] | Refusal:
    if isinstance(cell.value, bool) and not cell.struck and cell.type is CellType.TRUTH:
        return Understood(cell.value)
    found = _words(cell, "yes or no")
    if isinstance(found, Refusal):
        return found
    text, remarks = found
    key = fold(text)
    if key in _YES or key in _NO:
        return Understood(key in _YES, remarks)
    return refuse("unknown-choice", f'"{text.strip()}" is neither yes nor no.', "Write yes or no.")


YES_NO: Kind[bool] = Kind("yes or no", _read_yes_no, choices=("yes", "no"), says="yes or no.")


_UNIT_WORDS = {
    "kg": ("kgs", "kg.", "kilo", "kilos", "kilogram", "kilograms", "kilogramme", "kilogrammes"),
    "lb": ("lbs", "lb.", "lbs.", "pound", "pounds"),
}
UNIT = choice("kg", "lb", also={word: unit for unit, words in _UNIT_WORDS.items() for word in words})
