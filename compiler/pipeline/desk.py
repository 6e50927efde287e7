"""What the front desk prints: the print run, folded or not, its list, and the list of what was in it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from compiler.documents.booklet import Look
from compiler.documents.booklet_value import Booklet, Format
from compiler.documents.labels import labels
from compiler.documents.paper import Printing, first_pages
from compiler.documents.run_list import FOLDED_RUN, PRINT_RUN, RunItem, build_run_list
from compiler.files_disk import digest
from compiler.files_printed import RUN, listing_of_run
from compiler.flags.nearest import nearest
from compiler.folding import name_key
from compiler.layout.editions import edition_of
from compiler.layout.run_list import lay_out_run_list
from compiler.model.book import Book
from compiler.model.records import Client
from compiler.render.booklet import render_booklet
from compiler.render.imposition import Stretch, impose
from compiler.render.print_run import PrintRun, RunBooklet
from compiler.resolve.values import ClientPlan

TITLE = "Print run"

FEW = 6
"""Up to so many clients or groups are all named where none is near."""


class NotInWorkbook(Exception):  # noqa: N818 - the name says what is the matter, as a coach would
    """A client or group was asked for that the workbook does not have. `message` is a sentence for a coach."""

    def __init__(self, message: str) -> None:
        super().__init__(message)
        self.message = message


@dataclass(frozen=True, slots=True)
class RunChoice:
    """Whose booklets go into the print run, and how they look.

    Without clients and groups everybody's; with both, either is enough. `changed` leaves out what is marked as
    printed. `simplex`: on one side. `initials`: in place of names.
    """

    clients: tuple[str, ...] = ()
    groups: tuple[str, ...] = ()
    changed: bool = False
    simplex: bool = False
    initials: bool = False

    def takes(self, client: Client) -> bool:
        """Tell whether somebody was asked for."""
        if not self.clients and not self.groups:
            return True
        asked = set(map(name_key, self.clients)), set(map(name_key, self.groups))
        return name_key(client.name.known or "") in asked[0] or name_key(client.group.known or "") in asked[1]


EVERYBODY = RunChoice()


class Desk:
    """Collects the booklets of one compile; `files` gives what the desk gets.

    `printed` are the booklets marked as printed, with their hashes; `password` opens every booklet. Raises
    `NotInWorkbook` for an unknown choice.
    """

    def __init__(self, book: Book, choice: RunChoice, printed: Mapping[str, str], password: str = "") -> None:
        _check_choice(book, choice)
        self._book = book
        self._choice = choice
        self._printed = printed
        self._password = password
        self._labels = labels(book.clients) if choice.initials else {}
        self._runs = {folded: PrintRun(TITLE) for folded in (False, True)}
        self._items: list[RunItem] = []
        self._sheet = (0.0, 0.0)
        self._listed: dict[str, str] = {}

    @property
    def count(self) -> int:
        """How many booklets are in the run."""
        return len(self._items)

    def look(self, plan: ClientPlan) -> Look:
        """Return how a client's booklet is to look."""
        return Look(simplex=self._choice.simplex, label=self._labels.get(plan.name, ""))

    def add(self, plan: ClientPlan, booklet: Booklet, name: str, content: bytes) -> None:
        """Put a booklet into the run if it was asked for. `name` is that of its file, with `content`."""
        found = digest(content)
        if not self._choice.takes(plan.client) or (self._choice.changed and self._printed.get(name) == found):
            return
        folded = booklet.format is Format.HALF_PAGE
        printing = Printing.ONE_SIDE if booklet.simplex else Printing.BOTH_SIDES
        label = self._labels.get(plan.name, "")
        self._listed[name] = found
        pages = self._runs[folded].add(RunBooklet(label or booklet.cover.client, content, self._password))
        self._items.append(RunItem(plan.client, pages, Printing.FOLDED if folded else printing, label))
        if folded:
            half = edition_of(booklet).sheet
            self._sheet = 2 * half.width, half.height

    def files(self) -> dict[str, bytes]:
        """Return the files of the desk by their names, and the list of what is in the run; none for an empty run.

        Half pages are printed from the imposed file; their run as it is drawn is written where it is the only one.
        To be asked once: the runs are let go of, as those of many clients are large.
        """
        made = {RUN: listing_of_run(self._listed)}
        if not self._items:
            return made
        folded = [item for item in self._items if item.printing is Printing.FOLDED]
        if len(folded) < len(self._items):
            made[f"desk/{PRINT_RUN}"] = self._runs.pop(False).finish()
        if folded:
            run = self._runs.pop(True).finish()
            made.setdefault(f"desk/{PRINT_RUN}", run)
            made[f"desk/{FOLDED_RUN}"] = impose(run, self._sheet, _stretches(folded))
        listed = build_run_list(self._book, self._items, changed_only=self._choice.changed)
        made["desk/run-list.pdf"] = render_booklet(lay_out_run_list(listed))
        return made


def _stretches(items: list[RunItem]) -> tuple[Stretch, ...]:
    """Return where the booklets stand in a run as it is drawn, each on an odd page."""
    firsts = first_pages([item.pages for item in items], Printing.BOTH_SIDES)
    return tuple(
        Stretch(first, item.pages, item.label or item.client.print_name.known or item.client.name.needed)
        for first, item in zip(firsts, items, strict=True)
    )


def _check_choice(book: Book, choice: RunChoice) -> None:
    clients = [client.name.known for client in book.clients if client.name.known]
    groups = list(dict.fromkeys(client.group.known for client in book.clients if client.group.known))
    for asked, known, kind in ((choice.clients, clients, "client"), (choice.groups, groups, "group")):
        keys = set(map(name_key, known))
        for name in asked:
            if name_key(name) not in keys:
                near = nearest(name, known) or (known if len(known) <= FEW else ())
                hint = f" The workbook has {', '.join(near)}." if near else ""
                raise NotInWorkbook(f'There is no {kind} "{name}" in the workbook.{hint}')
