"""Flags -> text for people: by sheet and cell, the cell's own text quoted, the hint last, the counts at the end.

Nothing is printed here; colour is put in only where it is asked for.
"""

from __future__ import annotations

import textwrap
import unicodedata
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from itertools import groupby

from compiler.counting import counted, first_of
from compiler.flags.model import Flag, Severity, sort_flags

NO_SHEET = "The workbook"
NARROWEST = 40
LONGEST_FOUND = 60
MOST_CLIENTS = 12
_WORST_FIRST = tuple(Severity)
_COLOURS = {Severity.ERROR: "1;31", Severity.WARNING: "33", Severity.NOTE: "36"}
_BOLD = "1"
_PLURALS = {Severity.ERROR: "errors", Severity.WARNING: "warnings", Severity.NOTE: "notes"}


def flags_as_text(flags: Iterable[Flag], sheet_order: Mapping[str, int], width: int, colour: bool) -> str:
    """Return the flags as text of at most `width` columns, long words aside; ends with a line break."""
    ordered = sort_flags(flags, sheet_order)
    width = max(width, NARROWEST)
    lines = [*_listed(ordered, width, colour), *_summary(ordered, width, colour)]
    return "\n".join(lines) + "\n"


def flags_listed(flags: Iterable[Flag], sheet_order: Mapping[str, int], width: int, colour: bool) -> str:
    """Return the flags as `flags_as_text` does, without the counts; empty where there are none."""
    return "\n".join(_listed(sort_flags(flags, sheet_order), max(width, NARROWEST), colour))


def _listed(flags: tuple[Flag, ...], width: int, colour: bool) -> Iterator[str]:
    for sheet, of_sheet in groupby(flags, key=lambda flag: flag.sheet_name):
        yield _painted(one_line(sheet or NO_SHEET), _BOLD, colour)
        for _, of_cell in groupby(of_sheet, key=lambda flag: flag.cell):
            yield from _cell(list(of_cell), width, colour)
        yield ""


def one_line(text: str) -> str:
    """Return a text without line breaks and without characters that steer a terminal."""
    spaced = " ".join(text.split())
    return "".join(c for c in spaced if unicodedata.category(c) not in {"Cc", "Cf", "Cs"})


def _painted(text: str, code: str, colour: bool) -> str:
    return f"\x1b[{code}m{text}\x1b[0m" if colour else text


def _cell(flags: list[Flag], width: int, colour: bool) -> Iterator[str]:
    """Yield the lines of one cell. Its text stands once; a hint that several flags share stands after the last."""
    place = flags[0].cell or "-"
    for _, alike in groupby(flags, key=lambda flag: (flag.slug, flag.hint)):
        same = list(alike)
        for flag in same:
            yield from _head(place, flag, width, colour)
            if flag.found and flag is flags[0]:
                yield from _wrapped(f'the cell says "{_shortened(flag.found)}"', width)
            if flag.related:
                yield from _wrapped(f"related: {', '.join(map(str, flag.related))}", width)
            if flag.touches:
                yield from _wrapped(f"stops {_people(flag.touches)}", width)
        hint = same[-1].hint
        if hint:
            yield from _wrapped(f"hint: {one_line(hint)}", width)


def _head(place: str, flag: Flag, width: int, colour: bool) -> Iterator[str]:
    start = f"  {place:<5} {flag.severity:<8} {flag.slug}"
    who = f"{flag.client}: " if flag.client and flag.client not in flag.message else ""
    text = one_line(f"{who}{flag.message}")
    painted = f"  {place:<5} {_painted(f'{flag.severity:<8}', _COLOURS[flag.severity], colour)} {flag.slug}"
    if len(start) + 2 + len(text) <= width:
        yield f"{painted}  {text}"
    else:
        yield painted
        yield from _wrapped(text, width)


def _wrapped(text: str, width: int) -> list[str]:
    return textwrap.wrap(
        text,
        width,
        initial_indent="        ",
        subsequent_indent="          ",
        break_long_words=False,
        break_on_hyphens=False,
    )


def _shortened(found: str) -> str:
    text = one_line(found)
    return text if len(text) <= LONGEST_FOUND else text[: LONGEST_FOUND - 1] + "…"


def _people(names: Iterable[str]) -> str:
    people = [one_line(name) for name in names]
    return f"{counted(len(people), 'client')}: {first_of(people, MOST_CLIENTS)}"


def _summary(flags: tuple[Flag, ...], width: int, colour: bool) -> Iterator[str]:
    if not flags:
        yield "Nothing was flagged."
        return
    yield _painted(counted_flags(flags), _BOLD, colour)
    slugs = Counter((flag.severity, flag.slug) for flag in flags)
    longest = max(len(slug) for _, slug in slugs)
    for severity, slug in sorted(slugs, key=lambda key: (_WORST_FIRST.index(key[0]), -slugs[key], key[1])):
        painted = _painted(f"{severity:<8}", _COLOURS[severity], colour)
        yield f"  {painted} {slug:<{longest}} {slugs[severity, slug]:>4}"
    stopped = dict.fromkeys(name for flag in flags if flag.severity is Severity.ERROR for name in flag.touches)
    if stopped:
        text = f"No booklet for {_people(stopped)}"
        yield from textwrap.wrap(text, width, subsequent_indent="  ", break_long_words=False)


def counted_flags(flags: Iterable[Flag]) -> str:
    """Return how many flags there are of each severity, worst first: 2 errors, 1 warning."""
    counts = Counter(flag.severity for flag in flags)
    told = [
        f"{counts[severity]} {severity if counts[severity] == 1 else _PLURALS[severity]}"
        for severity in _WORST_FIRST
        if counts[severity]
    ]
    return ", ".join(told) if told else "no flags"
