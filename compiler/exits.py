"""The exit codes of the command line: what a script, or the next command, can learn from one run."""

from __future__ import annotations

from enum import IntEnum, unique


@unique
class Exit(IntEnum):
    """How a command ended."""

    OK = 0
    """No errors in the workbook; warnings and notes are allowed."""

    WORKBOOK_ERRORS = 1
    """The workbook has errors, and what could be made was made. With --strict, warnings give this too."""

    USAGE = 2
    """The command was typed wrongly; nothing was read."""

    UNREADABLE = 3
    """The file is missing, or cannot be read as a workbook."""

    CANNOT_WRITE = 4
    """The output cannot be written: read-only, full, or a file is open in another program."""

    BUG = 5
    """A mistake of this program, not of the workbook. Python's own 1 would read as errors in the workbook."""

    INTERRUPTED = 130
    """Stopped from the keyboard: 128 and the number of the interrupt signal, as shells count."""
