"""The Flags sheet of the summary: every flag with everything that is known of it."""

from __future__ import annotations

from collections.abc import Iterable

from compiler.documents.neutral import Heading, Sheet
from compiler.flags.model import Flag

HEADINGS = (
    Heading("Severity", width=9),
    Heading("Flag", width=22),
    Heading("Sheet", width=13),
    Heading("Cell", width=7),
    Heading("Client", width=28),
    Heading("Stops", width=24),
    Heading("Found", width=24),
    Heading("Message", width=60),
    Heading("Hint", width=50),
    Heading("Related cells", width=24),
)


def flags_sheet(flags: Iterable[Flag]) -> Sheet:
    """Return the sheet, in the order of the flags. Stops names the clients who get no booklet because of one."""
    return Sheet("Flags", "Flags", HEADINGS, tuple(_row(flag) for flag in flags), frozen=2)


def _row(flag: Flag) -> tuple[str | None, ...]:
    return (
        str(flag.severity),
        flag.slug,
        flag.sheet_name,
        flag.cell,
        flag.client,
        ", ".join(flag.touches) or None,
        flag.found,
        flag.message,
        flag.hint,
        ", ".join(str(place) for place in flag.related) or None,
    )
