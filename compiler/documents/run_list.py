"""The booklets of a print run -> the list for the front desk, as a value: every string that will be printed.

Whoever stands at the desk reads it: names, pages, groups and sites, nothing of health and no reasons.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from compiler.documents.booklet_value import Paper
from compiler.documents.paper import Printing, first_pages, sheets
from compiler.model.book import Book
from compiler.model.records import Client

LANGUAGE = "en-GB"
PRINT_RUN = "print-run.pdf"
FOLDED_RUN = "print-run-imposed.pdf"

HOW = {
    Printing.ONE_SIDE: ("one side only", "Staple or punch each booklet on the left."),
    Printing.BOTH_SIDES: (
        "both sides, flipped on the long edge",
        "Every booklet begins on a fresh sheet. Staple or punch it on the left.",
    ),
    Printing.FOLDED: (
        "both sides, flipped on the short edge",
        "Fold the sheets of each booklet together in the middle and staple them on the fold.",
    ),
}
"""For each way of printing: what to set on the printer, and what to do with the sheets."""


@dataclass(frozen=True, slots=True)
class RunItem:
    """One booklet of a run. `label` is what its cover shows in place of the name, empty where it shows the name."""

    client: Client
    pages: int
    label: str = ""


@dataclass(frozen=True, slots=True)
class RunRow:
    """One booklet of the list. `first` is its first page in the run."""

    name: str
    label: str
    first: str
    pages: str
    sheets: str
    group: str
    site: str


@dataclass(frozen=True, slots=True)
class RunHeads:
    """The heads of the columns; `done` stands over the boxes to tick."""

    done: str = "Handed out"
    name: str = "Client"
    label: str = "Cover says"
    first: str = "First page"
    pages: str = "Pages"
    sheets: str = "Sheets"
    group: str = "Group"
    site: str = "Site"


@dataclass(frozen=True, slots=True)
class RunList:
    """The whole list. `total` is the last row; `how` says how to print, a sentence each; `footer` as in a booklet."""

    language: str
    paper: Paper
    title: str
    about: str
    author: str
    how_title: str
    how: tuple[str, ...]
    heads: RunHeads
    rows: tuple[RunRow, ...]
    total: RunRow
    footer: tuple[str, ...]
    page: str = "Page {} of {}"


def build_run_list(book: Book, items: Sequence[RunItem], printing: Printing, *, changed_only: bool = False) -> RunList:
    """Return the list of a run, in the order of the run."""
    block = book.block
    paper = Paper(block.paper.needed)
    firsts = first_pages([item.pages for item in items], printing)
    rows = tuple(_row(item, first, printing) for item, first in zip(items, firsts, strict=True))
    folded = printing is Printing.FOLDED
    about = [block.gym.value or "", block.title.value or ""]
    return RunList(
        language=LANGUAGE,
        paper=paper,
        title="Print run",
        about=", ".join(part for part in about if part),
        author=block.coach.value or "",
        how_title="How to print",
        how=_how(paper, printing, changed_only=changed_only),
        heads=RunHeads(first="First side" if folded else "First page"),
        rows=rows,
        total=_total(items, printing),
        footer=tuple(part for part in ("Print run", *about) if part),
    )


def _how(paper: Paper, printing: Printing, *, changed_only: bool) -> tuple[str, ...]:
    setting, after = HOW[printing]
    file = FOLDED_RUN if printing is Printing.FOLDED else PRINT_RUN
    only = ["These are only the booklets that have changed since the last print."] if changed_only else []
    return (
        *only,
        f"Print {file} on {paper}, {setting}, at 100%: actual size, nothing fitted or scaled.",
        after,
    )


def _row(item: RunItem, first: int, printing: Printing) -> RunRow:
    client = item.client
    return RunRow(
        name=client.print_name.value or client.name.needed,
        label=item.label,
        first=str(first),
        pages=str(item.pages),
        sheets=str(sheets(item.pages, printing)),
        group=client.group.value or "",
        site=client.site.value or "",
    )


def _total(items: Sequence[RunItem], printing: Printing) -> RunRow:
    count = len(items)
    return RunRow(
        name=f"{count} {'booklet' if count == 1 else 'booklets'}",
        label="",
        first="",
        pages=str(sum(item.pages for item in items)),
        sheets=str(sum(sheets(item.pages, printing) for item in items)),
        group="",
        site="",
    )
