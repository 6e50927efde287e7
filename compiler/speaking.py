"""Lines and files for people and programs: text goes to stderr, data that was asked for to stdout or a file.

What is slow to load is imported where it is needed.
"""

from __future__ import annotations

import io
import os
import sys
from contextlib import nullcontext
from pathlib import Path
from typing import TYPE_CHECKING

import click

from compiler.exits import Exit

if TYPE_CHECKING:
    from collections.abc import Collection
    from contextlib import AbstractContextManager

    from compiler.flags.model import Flag
    from compiler.terminal import Meter

STANDARD_OUTPUT = "-"


def say(text: str) -> None:
    """Write a line for people."""
    click.echo(text, err=True)


def put(file: str, content: bytes) -> None:
    """Write data that was asked for, to a file or to standard output."""
    from compiler.files_disk import write_file

    if file == STANDARD_OUTPUT:
        sys.stdout.buffer.write(content)
        sys.stdout.buffer.flush()
    else:
        write_file(Path(file), content)


def meter() -> AbstractContextManager[Meter | None]:
    """Return the progress bar of a long command, on a terminal; elsewhere nothing is shown."""
    if not sys.stderr.isatty():
        return nullcontext()
    from compiler.terminal import Meter

    return Meter()


def say_flags(flags: tuple[Flag, ...], *, counts: bool = True) -> None:
    """Write the flags for people, with or without the counts of each kind."""
    import shutil

    from compiler.flags.text import flags_as_text, flags_listed
    from compiler.schema.sheets import SHEET_ORDER

    colour = sys.stderr.isatty() and not os.environ.get("NO_COLOR")
    width = shutil.get_terminal_size().columns if sys.stderr.isatty() else 100
    say((flags_as_text if counts else flags_listed)(flags, SHEET_ORDER, width, colour=colour))


class Aloud:
    """The speaker of this process: it writes to stderr."""

    def say(self, text: str) -> None:
        """Write a line for people."""
        say(text)

    def flags(self, flags: tuple[Flag, ...], *, counts: bool) -> None:
        """Write flags for people."""
        say_flags(flags, counts=counts)

    def trouble(self, error: Exception) -> None:
        """Say what an exception means."""
        ended_by(error)


def code_of(flags: Collection[Flag], *, strict: bool = False) -> Exit:
    """Return the code that tells of what was found in a workbook."""
    from compiler.flags.model import Severity, has

    bad = has(Severity.ERROR, flags) or (strict and has(Severity.WARNING, flags))
    return Exit.WORKBOOK_ERRORS if bad else Exit.OK


def ended_by(error: Exception) -> Exit:
    """Say what an exception means; return the code for it."""
    from compiler.files_disk import CannotWrite
    from compiler.source.unreadable import UnreadableWorkbook

    if isinstance(error, UnreadableWorkbook):
        say_flags((error.flag,))
        return Exit.UNREADABLE
    if isinstance(error, CannotWrite):
        say(error.message)
        return Exit.CANNOT_WRITE
    say(f"This is a mistake of the tool, not of the workbook. A report without any names is in {report(error)}.")
    return Exit.BUG


def report(error: Exception) -> Path:
    """Write where a mistake of ours happened, frames alone: no value, no message, no name of anybody."""
    import tempfile
    import traceback

    frames = traceback.extract_tb(error.__traceback__)
    lines = [
        type(error).__name__,
        *(f"{Path(frame.filename).name}:{frame.lineno} {frame.name}" for frame in frames),
    ]
    descriptor, name = tempfile.mkstemp(prefix="programme-report-", suffix=".txt")
    with os.fdopen(descriptor, "w", encoding="utf-8") as file:
        file.write("\n".join(lines) + "\n")
    return Path(name)


def utf8() -> None:
    """Write UTF-8 whatever the terminal; stderr replaces what it cannot show."""
    for stream, how in ((sys.stdout, "strict"), (sys.stderr, "replace")):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(encoding="utf-8", errors=how)
