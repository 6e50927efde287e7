"""The booklets of a print run -> the list for the front desk, as a value: every string that will be printed.

Whoever stands at the desk reads it: names, pages, groups and sites, nothing of health and no reasons.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from compiler.counting import counted
from compiler.documents.booklet_value import LANGUAGE, Paper
from compiler.documents.paper import MOST_FOLDED, Printing, first_pages, sheets
from compiler.frozen import frozen
from compiler.model.book import Book
from compiler.model.records import Client

PRINT_RUN = "print-run.pdf"
FOLDED_RUN = "print-run-imposed.pdf"

FLAT, FOLDED = "flat", "folded"
CHANGED_ONLY = "These are only the booklets that have changed since the last print."
THICK = (
    "{} more than {} sheets: so many hardly stay folded, and a stapler may not go through. "
    "Try one first; if it does not hold, ask the coach for full pages, or for fewer weeks in a booklet."
)

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


@frozen
class RunItem:
    """One booklet of a run and how it is printed.

    `label` is what its cover shows in place of the name, empty where it shows the name.
    """

    client: Client
    pages: int
    printing: Printing
    label: str = ""


@frozen
class RunRow:
    """One booklet of the list. `first` is its first page in its file, `stack` which file: empty where there is one."""

    name: str
    label: str
    first: str
    pages: str
    sheets: str
    stack: str
    group: str
    site: str


@frozen
class RunHeads:
    """The heads of the columns; `done` stands over the boxes to tick."""

    done: str = "Handed out"
    name: str = "Client"
    label: str = "Cover says"
    first: str = "First page"
    pages: str = "Pages"
    sheets: str = "Sheets"
    stack: str = "Stack"
    group: str = "Group"
    site: str = "Site"


@frozen
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


def build_run_list(book: Book, items: Sequence[RunItem], *, changed_only: bool = False) -> RunList:
    """Return the list of a run: file by file, each in its order."""
    block = book.block
    paper = Paper(block.paper.needed)
    files = {printing: [item for item in items if item.printing is printing] for printing in Printing}
    files = {printing: found for printing, found in files.items() if found}
    named = Printing.FOLDED in files and len(files) > 1
    about = [block.gym.value or "", block.title.value or ""]
    return RunList(
        language=LANGUAGE,
        paper=paper,
        title="Print run",
        about=", ".join(part for part in about if part),
        author=block.coach.value or "",
        how_title="How to print",
        how=(*([CHANGED_ONLY] if changed_only else []), *_how(paper, files, named=named), *_too_thick(items)),
        heads=RunHeads(first="First side" if set(files) == {Printing.FOLDED} else "First page"),
        rows=tuple(
            row
            for printing, found in files.items()
            for row in _rows(found, printing, named=named)
        ),
        total=_total(items),
        footer=tuple(part for part in ("Print run", *about) if part),
    )


def _stack(printing: Printing) -> str:
    return FOLDED if printing is Printing.FOLDED else FLAT


def _how(paper: Paper, printings: Iterable[Printing], *, named: bool) -> Iterator[str]:
    for printing in printings:
        setting, after = HOW[printing]
        file = FOLDED_RUN if printing is Printing.FOLDED else PRINT_RUN
        stack = f" ({_stack(printing)})" if named else ""
        yield f"Print {file}{stack} on {paper}, {setting}, at 100%: actual size, nothing fitted or scaled. {after}"


def _too_thick(items: Sequence[RunItem]) -> Iterator[str]:
    """Yield a sentence where folded booklets have more sheets than lie flat; which, the column of sheets says."""
    folded = [item for item in items if item.printing is Printing.FOLDED]
    thick = sum(sheets(item.pages, item.printing) > MOST_FOLDED for item in folded)
    if thick:
        which = f"{counted(thick, 'booklet')} {'has' if thick == 1 else 'have'}"
        yield THICK.format(which, MOST_FOLDED)


def _rows(items: Sequence[RunItem], printing: Printing, *, named: bool) -> Iterator[RunRow]:
    firsts = first_pages([item.pages for item in items], printing)
    for item, first in zip(items, firsts, strict=True):
        client = item.client
        yield RunRow(
            name=client.print_name.value or client.name.needed,
            label=item.label,
            first=str(first),
            pages=str(item.pages),
            sheets=str(sheets(item.pages, printing)),
            stack=_stack(printing) if named else "",
            group=client.group.value or "",
            site=client.site.value or "",
        )


def _total(items: Sequence[RunItem]) -> RunRow:
    return RunRow(
        name=counted(len(items), "booklet"),
        label="",
        first="",
        pages=str(sum(item.pages for item in items)),
        sheets=str(sum(sheets(item.pages, item.printing) for item in items)),
        stack="",
        group="",
        site="",
    )
