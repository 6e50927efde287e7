"""Texts as a workbook stores them, shared or inline: runs, phonetic guides, escapes."""

from __future__ import annotations

import re
from dataclasses import dataclass, field

from compiler.frozen import frozen
from compiler.source.container import Package
from compiler.source.events import element_names, parse
from compiler.source.parts import TRUE_WORDS

_ESCAPE = re.compile(r"_x([0-9A-Fa-f]{4})_")
NAMES = element_names("si", "is", "t", "r", "rPr", "rPh", "strike")


@frozen
class StoredText:
    """One text, with whether part of it is struck out."""

    text: str
    struck: bool = False


def unescaped(text: str) -> str:
    """Return a stored text with its `_xHHHH_` escapes decoded (ECMA-376 part 1, 22.9.2.19, ST_Xstring)."""
    if "_x" not in text:
        return text
    decoded = _ESCAPE.sub(lambda found: chr(int(found[1], 16)), text)
    return decoded.encode("utf-16", "surrogatepass").decode("utf-16", "replace")


@dataclass(slots=True)
class TextParts:
    """Gathers the runs of one text. Phonetic guides are left out."""

    chunks: list[str] = field(default_factory=list)
    _runs: list[str] = field(default_factory=list)
    _struck: bool = False
    _strike: bool = False
    _aid: bool = False

    def start(self, name: str, attributes: dict[str, str]) -> None:
        """Take the start of an element inside a text."""
        match name:
            case "t":
                self.chunks.clear()
            case "r":
                self._strike = False
            case "rPh":
                self._aid = True
            case "strike":
                self._strike = attributes.get("val", "1").casefold() in TRUE_WORDS

    def end(self, name: str) -> None:
        """Take the end of an element inside a text."""
        match name:
            case "t" if not self._aid:
                run = "".join(self.chunks)
                self._runs.append(run)
                self._struck = self._struck or (self._strike and bool(run.strip()))
            case "r":
                self._strike = False
            case "rPh":
                self._aid = False

    def take(self) -> StoredText:
        """Return the text gathered, and begin the next."""
        stored = StoredText(unescaped("".join(self._runs)), self._struck)
        self._runs.clear()
        self._struck = self._strike = self._aid = False
        return stored


def read_strings(package: Package, part: str | None) -> list[StoredText]:
    """Return the shared strings in order."""
    if part is None:
        return []
    gathered = TextParts()
    strings: list[StoredText] = []

    def start(name: str, attributes: dict[str, str]) -> None:
        if name in NAMES:
            gathered.start(NAMES[name], attributes)

    def end(name: str) -> None:
        bare = NAMES.get(name)
        if bare == "si":
            strings.append(gathered.take())
        elif bare:
            gathered.end(bare)

    parse(package, part, start, end, gathered.chunks.append)
    return strings
