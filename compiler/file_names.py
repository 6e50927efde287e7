"""The name of a client -> the stem of a file name that every file system takes.

Windows, macOS and memory sticks each refuse something else: device names, letter case, dots and blanks at the
end, marks, length. What is left is lower-case letters, digits and the hyphen.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable
from itertools import count

MOST_CHARACTERS = 60
MOST_BYTES = 150
"""Of the stem in UTF-8: file systems stop at 255 bytes, and an extension, a number or "(new)" may follow."""

WITHOUT_LETTERS = "client"
"""The stem of a name that has neither letter nor digit."""

DEVICES = frozenset(
    ("con", "prn", "aux", "nul", *(f"{port}{number}" for port in ("com", "lpt") for number in range(10)))
)
"""Names that Windows takes for devices, with any extension (Microsoft, Naming Files, Paths, Namespaces)."""

_SPELT_OUT = str.maketrans(
    {"ß": "ss", "æ": "ae", "œ": "oe", "ø": "o", "đ": "d", "ð": "d", "þ": "th", "ł": "l", "ħ": "h", "ı": "i"}
)
"""Latin letters that do not come apart into a plain letter and a mark."""

_APOSTROPHES = re.compile("['\u2019\u02bc`\u00b4]")


def file_stem(name: str) -> str:
    """Return the stem of a client's files: `Zoë O'Brien-Łuk` is `zoe-obrien-luk`. Never empty or a device.

    Accented Latin letters become plain ones; letters of other scripts stay, with the vowel signs that belong
    to them.
    """
    text = unicodedata.normalize("NFKD", _APOSTROPHES.sub("", name)).lower().translate(_SPELT_OUT)
    kept: list[str] = []
    for character in text:
        if character.isalnum():
            kept.append(character)
        elif not unicodedata.category(character).startswith("M"):
            kept.append("-")
        elif kept and kept[-1] != "-" and not kept[-1].isascii():
            kept.append(character)
    stem = re.sub("-+", "-", unicodedata.normalize("NFC", "".join(kept))).strip("-")
    stem = _shortened(stem, MOST_CHARACTERS, MOST_BYTES) or WITHOUT_LETTERS
    return f"{stem}-{WITHOUT_LETTERS}" if stem in DEVICES else stem


def unique_stems(names: Iterable[str]) -> tuple[dict[str, str], tuple[tuple[str, ...], ...]]:
    """Return the stem of every name, and the groups of names that would have had the same one.

    The first name of a group keeps the plain stem; the others are numbered in the order given, past numbers
    that belong to somebody's own name.
    """
    groups: dict[str, list[str]] = {}
    for name in dict.fromkeys(names):
        groups.setdefault(_key(file_stem(name)), []).append(name)
    taken = set(groups)
    stems: dict[str, str] = {}
    for group in groups.values():
        stems[group[0]] = file_stem(group[0])
        for name in group[1:]:
            stems[name] = _numbered(file_stem(name), taken)
            taken.add(_key(stems[name]))
    collisions = tuple(tuple(group) for group in groups.values() if len(group) > 1)
    return {name: stems[name] for group in groups.values() for name in group}, collisions


def _key(stem: str) -> str:
    """Return the key that two stems share where a file system would not tell them apart."""
    return unicodedata.normalize("NFC", stem.casefold())


def _numbered(stem: str, taken: set[str]) -> str:
    tails = (f"-{number}" for number in count(2))
    numbered = (_shortened(stem, MOST_CHARACTERS - len(tail), MOST_BYTES - len(tail)) + tail for tail in tails)
    return next(candidate for candidate in numbered if _key(candidate) not in taken)


def _shortened(stem: str, characters: int, most_bytes: int) -> str:
    """Cut a stem between two characters."""
    cut = stem[:characters].encode()[:most_bytes].decode(errors="ignore")
    return cut.strip("-")
