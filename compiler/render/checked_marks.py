"""Flags -> what is marked on each sheet: the cells, worst severity, and the words of the comment on each.

Every text of ours in a comment stands between two lines of brackets, so that it can be told from the coach's own
and taken out again, whatever program has saved the workbook in between.
"""

from __future__ import annotations

import re
from collections.abc import Iterable

from compiler.cellref import column_letters
from compiler.flags.model import Flag, Severity
from compiler.flags.text import one_line
from compiler.frozen import frozen
from compiler.render.checked_xml import text_of

OPENING = "[Flags on this cell]"
CLOSING = "[end of flags]"
OURS = re.compile(
    rf"(?:\r?\n){{0,2}}{re.escape(OPENING)}.*?{re.escape(CLOSING)}",
    re.DOTALL,
)
"""Words of ours in a comment, with the blank line before them."""

AUTHOR = "Flags"
MOST_TOLD = 8
"""Flags told in one comment; the Flags sheet has them all."""

WORST_FIRST = tuple(Severity)
Place = tuple[int, int]  # row and column, counted from 1


@frozen
class Run:
    """A stretch of a comment's text, all bold or all plain."""

    text: str
    bold: bool = False


@frozen
class Mark:
    """One marked cell, and its flags, worst first."""

    row: int
    column: int
    flags: tuple[Flag, ...]

    @property
    def severity(self) -> Severity:
        """The worst of its flags."""
        return self.flags[0].severity

    @property
    def a1(self) -> str:
        """The cell as spreadsheets write it."""
        return f"{column_letters(self.column)}{self.row}"

    def runs(self) -> tuple[Run, ...]:
        """Return the words of its comment."""
        told: list[Run] = [Run(f"{OPENING}\n")]
        for flag in self.flags[:MOST_TOLD]:
            told += (Run(f"{flag.severity.upper()} {flag.slug}\n", bold=True), Run(f"{_said(flag)}\n"))
        if len(self.flags) > MOST_TOLD:
            told.append(Run(f"{len(self.flags) - MOST_TOLD} more on the {AUTHOR} sheet.\n"))
        return (*told, Run(CLOSING))


def marks_of(flags: Iterable[Flag], merges: Iterable[tuple[int, int, int, int]]) -> tuple[Mark, ...]:
    """Return the marks of one sheet's flags, by row and column.

    A cell that a merge covers is marked where the merge shows its value.
    """
    shown = tuple(merges)
    by_cell: dict[Place, list[Flag]] = {}
    for flag in flags:
        if flag.place is not None:
            by_cell.setdefault(_shown_at(flag.place.row, flag.place.column, shown), []).append(flag)
    return tuple(Mark(*place, worst_first(found)) for place, found in sorted(by_cell.items()))


def worst_first(flags: Iterable[Flag]) -> tuple[Flag, ...]:
    """Return the flags with the worst in front, and each kind in the order given."""
    return tuple(sorted(flags, key=lambda flag: WORST_FIRST.index(flag.severity)))


def rich_text(runs: Iterable[Run]) -> str:
    """Return runs as a comment holds them."""
    return "".join(
        f'<r><rPr>{"<b/>" if run.bold else ""}<sz val="10"/><rFont val="Calibri"/><family val="2"/></rPr>'
        f'<t xml:space="preserve">{text_of(run.text)}</t></r>'
        for run in runs
    )


def _shown_at(row: int, column: int, merges: tuple[tuple[int, int, int, int], ...]) -> Place:
    for first_row, first_column, last_row, last_column in merges:
        if first_row <= row <= last_row and first_column <= column <= last_column:
            return first_row, first_column
    return row, column


def _said(flag: Flag) -> str:
    who = f"{flag.client}: " if flag.client and flag.client not in flag.message else ""
    hint = f"\nHint: {one_line(flag.hint)}" if flag.hint else ""
    return f"{one_line(who + flag.message)}{hint}".replace(CLOSING, CLOSING.strip("[]"))
