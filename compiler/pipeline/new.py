"""A new block workbook from an old one: cells, what lasts of them, the new workbook, and what to look at in it."""

from __future__ import annotations

from pathlib import Path

from compiler.binding.records import bind_book
from compiler.flags.model import Flag, Severity
from compiler.frozen import frozen
from compiler.pipeline.check import check_source
from compiler.render.template import render_template
from compiler.render.template_kept import Kept, kept_of
from compiler.schema.sheets import LOG_SHEET, PROGRAMME
from compiler.source.xlsx import read_workbook, read_workbook_bytes

_NO_TABLE = frozenset({"missing-sheet", "missing-column", "duplicate-column", "newer-workbook"})
"""Errors that leave open which column means what: rows taken over from such a sheet might lose a restriction."""

_UNTIL_IT_IS_WRITTEN = frozenset({"change-matches-nothing", "no-start-date"})
"""What any block has to be told of as long as its programme and start date are not there."""


@frozen
class NewMade:
    """A new workbook as bytes and what was taken over, both None where the old one has not its columns; flags.

    The flags are of the new workbook, without those that any empty programme gives; of the old one where there is
    no new.
    """

    content: bytes | None
    kept: Kept | None
    flags: tuple[Flag, ...]


def make_new(old: Path, weeks: int, sessions: int, *, short: bool = False) -> NewMade:
    """Return an empty block with the people, exercises and kit of an old workbook, which stays as it is.

    Raises `UnreadableWorkbook` where the file cannot be read as one.
    """
    source = read_workbook(old)
    lost = tuple(flag for flag in bind_book(source).flags if flag.slug in _NO_TABLE and _is_kept(flag))
    if lost:
        return NewMade(None, None, lost)
    kept = kept_of(source)
    content = render_template(weeks, sessions, short=short, fill=kept.book)
    flags = check_source(read_workbook_bytes(content, old.name)).flags
    return NewMade(content, kept, tuple(flag for flag in flags if _matters(flag)))


def _is_kept(flag: Flag) -> bool:
    return flag.sheet_name not in (PROGRAMME.name, LOG_SHEET.name)


def _matters(flag: Flag) -> bool:
    return _is_kept(flag) and flag.slug not in _UNTIL_IT_IS_WRITTEN and flag.severity is not Severity.NOTE
