"""The Overview sheet of the summary: the block at a glance, who is held and why, who is untested or unscreened."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import timedelta

from compiler.documents.held import Held
from compiler.documents.neutral import Cell, ColumnKind, Heading, Sheet
from compiler.documents.summary_cells import spans
from compiler.documents.summary_to_test import TestWanted
from compiler.flags.model import Flag, Severity
from compiler.model.book import Book
from compiler.model.records import Client
from compiler.resolve.values import ClientPlan

HEADINGS = (
    Heading("What", width=36),
    Heading("Figure", ColumnKind.WHOLE, width=14),
    Heading("Details", width=84),
)
DAYS_IN_A_WEEK = 7
SEVERITIES = {Severity.ERROR: "Errors", Severity.WARNING: "Warnings", Severity.NOTE: "Notes"}
Row = tuple[Cell, ...]
Rows = list[Row]

NOBODY: Row = ("Nobody", 0, None)


def overview_sheet(
    book: Book,
    plans: tuple[ClientPlan, ...],
    flags: tuple[Flag, ...],
    held: tuple[Held, ...],
    wanted: tuple[TestWanted, ...],
) -> Sheet:
    """Return the sheet, a section each for the block, the counts, and everybody who needs a look."""
    sections: dict[str, Rows] = {
        "The block": _block(book),
        "Clients": _clients(book, plans, held),
        "Flags": _flags(flags),
        "Held booklets": [row for one in held for row in _held(one)] or [NOBODY],
        "Without a good test": list(_untested(wanted)) or [NOBODY],
        "Not screened, or not signed off": list(_unscreened(book.clients)) or [NOBODY],
    }
    rows: Rows = []
    heads = set()
    for title, section in sections.items():
        heads.add(len(rows))
        rows += [(title, None, None), *section]
    return Sheet("Overview", "Overview", HEADINGS, tuple(rows), filtered=False, heads=frozenset(heads))


def _block(book: Book) -> Rows:
    block = book.block
    first, weeks, easier = block.start_date.known, block.weeks.known, block.easier_weeks.known
    last = first + timedelta(days=DAYS_IN_A_WEEK * weeks - 1) if first and weeks else None
    rows: Rows = [
        ("Title", None, block.title.known),
        ("Gym", None, block.gym.known),
        ("Coach", None, block.coach.known),
        ("First day", first, None),
        ("Last day", last, None),
        ("Weeks", weeks, f"easier: {spans(list(easier.numbers))}" if easier and easier.numbers else None),
        ("Workbook", None, book.name),
    ]
    return [row for row in rows if row[1] is not None or row[2]]


def _clients(book: Book, plans: tuple[ClientPlan, ...], held: tuple[Held, ...]) -> Rows:
    stopped = {one.client for one in held}
    printed = [plan for plan in plans if plan.name not in stopped and plan.client.has_booklet]
    unprinted = [client.name.known for client in book.clients if not client.has_booklet]
    rows: Rows = [
        ("Clients", len(book.clients), None),
        ("Booklets", len(printed), None),
        ("Held booklets", len(held), None),
    ]
    if unprinted:
        rows.append(("No booklet wanted", len(unprinted), ", ".join(name for name in unprinted if name)))
    return rows


def _flags(flags: tuple[Flag, ...]) -> Rows:
    return [(words, sum(flag.severity is severity for flag in flags), None) for severity, words in SEVERITIES.items()]


def _held(held: Held) -> Iterator[Row]:
    """Yield a row for each flag that holds a client."""
    if not held.flags:
        yield (held.client, None, "see the Flags sheet")
    for flag in held.flags:
        yield (held.client, None, f"{flag.place or flag.sheet_name or 'the workbook'}: {flag.message}")


def _untested(wanted: Iterable[TestWanted]) -> Iterator[Row]:
    clients: dict[str, list[str]] = {}
    for found in wanted:
        clients.setdefault(found.client, []).append(f"{found.exercise} ({found.why})")
    for client, exercises in clients.items():
        yield (client, len(exercises), ", ".join(exercises))


def _unscreened(clients: Iterable[Client]) -> Iterator[Row]:
    for client in clients:
        if client.screening.known is None and client.screened_on.known is None:
            yield (client.name.known, None, "no screening on the Clients sheet")
        elif client.screening.known == "ask first" and client.signed_off_by.known is None:
            yield (client.name.known, None, "ask first, and nobody has signed")
