"""Text -> lines that fit a width. Lines break at ordinary spaces; numbers never part from their units."""

from __future__ import annotations

import re
from functools import lru_cache

from compiler.fallback import remembered
from compiler.layout.metrics import Face, width
from compiler.printable import printable

_JOINED = "\u00a0"
_NUMBER_UNIT = re.compile(
    r"(\d) (kg|lb|s|min|mm|cm|m|km|yd|cal|bpm|%|reps|sets|each side|each hand|a side)(?!\w)"
)
_AROUND_SIGN = re.compile(r"(?<=\S) ([×+–−]) (?=\S)")
_PHRASES = re.compile(r"\b(each side|each hand|a side)\b")
_SLACK = 0.01
_HALVINGS = 8


def glued(text: str) -> str:
    """Return the text, printable, with no-break spaces wherever a line must not end."""
    return _glued(printable(text))


@lru_cache(maxsize=8192)
def _glued(text: str) -> str:
    text = _NUMBER_UNIT.sub(lambda found: found[0].replace(" ", _JOINED), text)
    text = _AROUND_SIGN.sub(f"{_JOINED}\\1{_JOINED}", text)
    return _PHRASES.sub(lambda found: found[0].replace(" ", _JOINED), text)


def unbroken(text: str) -> str:
    """Return the text with every space a no-break one, to be kept on one line if it fits any."""
    return printable(text).replace(" ", _JOINED)


def plain(text: str) -> str:
    """Return one line as it is drawn: printable, with ordinary spaces."""
    return printable(text).replace(_JOINED, " ")


def _cut(word: str, face: Face, size: float, room: float) -> int:
    """Return where to split a word that is wider than the room: after a hyphen or a slash, else anywhere.

    A joined phrase splits at its last joint that fits.
    """
    fits = 1
    at_joint = 0
    for end in range(2, len(word)):
        if width(word[:end], face, size) > room:
            break
        fits = end
        if word[end - 1] in "-/" or word[end] == _JOINED:
            at_joint = end
    return at_joint or fits


def _words(text: str) -> list[str]:
    return [word for word in glued(text).split(" ") if word]


def _filled(words: list[str], face: Face, size: float, room: float, indent: float) -> list[str]:
    """Return the lines of some words, filled in turn. Widths add up: the fonts are set unkerned."""
    space = width(" ", face, size)
    waiting = words[::-1]
    lines: list[str] = []
    line: list[str] = []
    taken, available = 0.0, room - indent
    while waiting:
        word = waiting.pop()
        wide = width(word, face, size)
        trial = taken + space + wide if line else wide
        if trial <= available + _SLACK:
            line.append(word)
            taken = trial
            continue
        if line or available < room:
            waiting.append(word)
            lines.append(" ".join(line))
        else:
            cut = _cut(word, face, size, room)
            lines.append(word[:cut])
            waiting.append(word[cut:].lstrip(_JOINED))
        line, taken, available = [], 0.0, room
    if line:
        lines.append(" ".join(line))
    return lines


@remembered(16384)
def wrap(text: str, face: Face, size: float, room: float, indent: float = 0.0) -> tuple[str, ...]:
    """Return the lines of a text, filled one after the other; the first begins `indent` further in.

    A last line of one word is given company where the line above can spare a word. Empty text has no lines.
    If not even one word fits after the indent, the first line is empty.
    """
    lines = _filled(_words(text), face, size, room, indent)
    if len(lines) > 1 and " " not in lines[-1] and lines[-2].count(" ") > 1:
        kept, last = lines[-2].rsplit(" ", 1)
        if width(f"{last} {lines[-1]}", face, size) <= room:
            lines[-2:] = [kept, f"{last} {lines[-1]}"]
    return tuple(line.replace(_JOINED, " ") for line in lines)


@remembered(16384)
def balanced(text: str, face: Face, size: float, room: float) -> tuple[str, ...]:
    """Return the lines of a short text evened out: no one-word last line, two lines parting at a comma.

    Texts of five lines and more, or with a word wider than the room, are only filled.
    """
    best = wrap(text, face, size, room)
    words = _words(text)
    low = max((width(word, face, size) for word in words), default=0.0)
    if not 2 <= len(best) <= 4 or low > room:
        return best
    if len(best) == 2:
        at_comma = _comma_break(text, face, size, room)
        if at_comma:
            return at_comma
    high = room
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        lines = _filled(words, face, size, middle, 0.0)
        if len(lines) == len(best):
            high, best = middle, tuple(line.replace(_JOINED, " ") for line in lines)
        else:
            low = middle
    return best


def _comma_break(text: str, face: Face, size: float, room: float) -> tuple[str, ...]:
    """Return two lines parted after a comma, the least lopsided ones; none if all are too lopsided."""
    whole = printable(text)
    choices = []
    for found in re.finditer(", ", whole):
        first, second = whole[: found.start() + 1], whole[found.end() :]
        widths = width(first, face, size), width(second, face, size)
        if max(widths) <= room:
            choices.append((abs(widths[0] - widths[1]), (first, second)))
    if not choices:
        return ()
    lopsided, lines = min(choices)
    return tuple(map(plain, lines)) if lopsided < 0.6 * room else ()


def fitted(text: str, face: Face, size: float, room: float, floor: float) -> float:
    """Return the largest size in half points, not over `size` nor under `floor`, at which the text fits."""
    text = plain(text)
    while size > floor and width(text, face, size) > room:
        size = max(size - 0.5, floor)
    return size


def fitted_lines(
    text: str, face: Face, size: float, room: float, floor: float
) -> tuple[float, tuple[str, ...]]:
    """Return one line at the largest size that fits; if none does, balanced lines at the floor."""
    best = fitted(text, face, size, room, floor)
    if width(plain(text), face, best) <= room:
        return best, (plain(text),)
    return floor, balanced(text, face, floor, room)
