"""The long explanation of a flag: what it is, why it matters, an example, how to fix it. One page a slug in pages/."""

from __future__ import annotations

import re
from importlib import resources

from compiler.flags.catalogue import CATALOGUE
from compiler.flags.nearest import nearest
from compiler.folding import fold

_PACKAGE = "compiler.flags"
_BETWEEN_WORDS = re.compile(r"[\s_]+")
_TABLE = re.compile(r"(?:^\|.*\n)+", re.MULTILINE)
_STORED = re.compile(r"\{(\w+) ([^{}]*?)(?: as ([^{}]*))?\}")
_SHOWN_AS = {"date": "a date", "number": "a number", "struck": "struck out"}


class UnknownFlag(LookupError):  # noqa: N818 - it is what the coach asked for, not an error of the program
    """No flag has the slug that was asked for. The text of the exception says so and offers near ones."""

    def __init__(self, asked: str) -> None:
        near = nearest(_slug_of(asked), CATALOGUE)
        hint = f"Near it: {', '.join(near)}." if near else "Run `programme explain` for the list."
        super().__init__(f'There is no flag "{asked}". {hint}')


def explain(slug: str) -> str:
    """Return the page of a flag, headed by its slug and severity. Raises `UnknownFlag`."""
    known = _slug_of(slug)
    if known not in CATALOGUE:
        raise UnknownFlag(slug)
    page = resources.files(_PACKAGE).joinpath("pages", f"{known}.md").read_text(encoding="utf-8")
    return f"{known} ({CATALOGUE[known].severity})\n\n{_TABLE.sub(_aligned, page)}"


def _aligned(table: re.Match[str]) -> str:
    """Return a table of an example with its cells as a coach sees them: no braces, columns under each other."""
    rows = [[_plain(cell.strip()) for cell in line.strip("|").split("|")] for line in table[0].splitlines()]
    widths = [max(len(row[column]) for row in rows if not _is_rule(row)) for column in range(len(rows[0]))]
    lines = []
    for row in rows:
        cells = ["-" * width for width in widths] if _is_rule(row) else map(str.ljust, row, widths)
        lines.append(f"| {' | '.join(cells)} |\n")
    return "".join(lines)


def _is_rule(row: list[str]) -> bool:
    return all(cell and not cell.strip("-") for cell in row)


def _plain(cell: str) -> str:
    """Return a cell whose braces say how it is stored in words: `60 kg (struck out)`."""

    def told(stored: re.Match[str]) -> str:
        kind, value, shown = stored.groups()
        how = _SHOWN_AS.get(kind)
        if how is None:
            return value
        return f"{value} ({how} shown as {shown})" if shown else f"{value} ({how})"

    return _STORED.sub(told, cell)


def list_of_flags() -> str:
    """Return all flags, one a line: slug, severity, title."""
    longest = max(map(len, CATALOGUE))
    lines = [f"{slug:<{longest}}  {entry.severity:<7}  {entry.title}" for slug, entry in CATALOGUE.items()]
    return "\n".join(lines) + "\n"


def _slug_of(asked: str) -> str:
    """Return what was asked for in the form of a slug: `Missing test` is missing-test."""
    return _BETWEEN_WORDS.sub("-", fold(asked))
