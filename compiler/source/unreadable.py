"""Files that cannot be read as a workbook at all: one exception, with one flag that says why and what to do."""

from __future__ import annotations

from compiler.flags.catalogue import flag
from compiler.flags.model import Flag, Remark


class UnreadableWorkbook(Exception):  # noqa: N818 - it is a state of the file, told by its flag
    """The file cannot be read as a workbook; `flag` is the one finding to show."""

    def __init__(self, flag: Flag) -> None:
        super().__init__(flag.message)
        self.flag = flag


def unreadable(slug: str, message: str, hint: str) -> UnreadableWorkbook:
    """Return the exception for a reason: not-a-workbook, protected-, damaged-workbook or workbook-too-large."""
    return UnreadableWorkbook(flag(Remark(slug, message, hint)))


def damaged(name: str, what: str) -> UnreadableWorkbook:
    """Return the exception for a workbook that opens but is broken inside; `what` says where."""
    return unreadable(
        "damaged-workbook",
        f'"{name}" is incomplete or damaged: {what}.',
        "Download or save it again; if a spreadsheet program can still open it, save it from there as .xlsx.",
    )
