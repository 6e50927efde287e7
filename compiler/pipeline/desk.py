"""What the front desk prints: the print run, folded or not, its list, and the list of what was in it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path
from typing import IO

from compiler.documents.booklet import Look, Setting
from compiler.documents.booklet_value import Format
from compiler.documents.labels import labels
from compiler.documents.paper import Printing, first_pages
from compiler.documents.run_list import FOLDED_RUN, PRINT_RUN, RunItem, build_run_list
from compiler.files_disk import digest, digest_of
from compiler.files_printed import RUN, listing_of_run
from compiler.files_waiting import WaitingFiles
from compiler.flags.nearest import nearest
from compiler.folding import name_key
from compiler.frozen import frozen
from compiler.layout.editions import edition_of
from compiler.layout.run_list import lay_out_run_list
from compiler.model.book import Book
from compiler.model.records import Client
from compiler.pipeline.kept import Kept, Stretches, key_of, password_key
from compiler.render.booklet import render_booklet
from compiler.render.imposition import Stretch, impose
from compiler.render.print_run import PrintRun, RunBooklet, renew_run
from compiler.resolve.values import ClientPlan

TITLE = "Print run"

FLAT_RUN = f"desk/{PRINT_RUN}"

FEW = 6
"""Up to so many clients or groups are all named where none is near."""

RENEWED = 20
"""Up to so many booklets are put into the last run in place of those that were there."""


class NotInWorkbook(Exception):  # noqa: N818 - the name says what is the matter, as a coach would
    """A client or group was asked for that the workbook does not have. `message` is a sentence for a coach."""

    def __init__(self, message: str) -> None:
        super().__init__(message)
        self.message = message


@frozen
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


@frozen
class _Chosen:
    """A booklet that goes into the run: its file, the name in the reader's list of pages, and what the list says."""

    file: str
    shown: str
    client: Client
    printing: Printing
    label: str

    @property
    def folded(self) -> bool:
        """Whether its sheets are folded: those have a run of their own."""
        return self.printing is Printing.FOLDED


class Desk:
    """Notes which booklets of one compile go into the run; `write` makes what the desk gets.

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
        self._chosen: list[_Chosen] = []
        self._sheet = (0.0, 0.0)
        self._listed: dict[str, str] = {}

    @property
    def count(self) -> int:
        """How many booklets are in the run."""
        return len(self._chosen)

    def look(self, plan: ClientPlan) -> Look:
        """Return how a client's booklet is to look."""
        return Look(simplex=self._choice.simplex, label=self._labels.get(plan.name, ""))

    def add(self, plan: ClientPlan, setting: Setting, name: str, content: bytes) -> None:
        """Put a booklet into the run if it was asked for. `name` is that of its file, with `content`."""
        found = digest(content)
        if not self._choice.takes(plan.client) or (self._choice.changed and self._printed.get(name) == found):
            return
        folded = setting.format is Format.HALF_PAGE
        flat = Printing.ONE_SIDE if setting.simplex else Printing.BOTH_SIDES
        self._listed[name] = found
        label = self._labels.get(plan.name, "")
        printing = Printing.FOLDED if folded else flat
        self._chosen.append(_Chosen(name, setting.name, plan.client, printing, label))
        if folded:
            half = edition_of(setting.format, setting.paper).sheet
            self._sheet = 2 * half.width, half.height

    def write(self, files: WaitingFiles, kept: Kept) -> None:
        """Put what the desk gets to the booklets, and the list of what is in the run; nothing else for an empty run.

        Half pages are printed from the imposed file; their run as it is drawn is written where it is the only one. A
        run that differs from the last one in a few booklets is that one with these in their places.
        """
        files[RUN] = listing_of_run(self._listed)
        if not self._chosen:
            return
        pages: dict[str, int] = {}
        flat = [chosen for chosen in self._chosen if not chosen.folded]
        folded = [chosen for chosen in self._chosen if chosen.folded]
        if flat:
            self._write_flat(flat, files, pages, kept)
        if folded:
            with files.aside() as room:
                drawn = self._run(folded, files, pages, room).finish()
            if not flat:
                files[FLAT_RUN] = drawn
            files[f"desk/{FOLDED_RUN}"] = impose(drawn, self._sheet, _stretches(_items(folded, pages)))
        listed = build_run_list(self._book, _items(self._chosen, pages), changed_only=self._choice.changed)
        files["desk/run-list.pdf"] = render_booklet(lay_out_run_list(listed))

    def _write_flat(self, flat: Sequence[_Chosen], files: WaitingFiles, pages: dict[str, int], kept: Kept) -> None:
        """Put the run of what is not folded to the files; put down how many pages each booklet has."""
        shared = key_of([(one.shown, one.printing) for one in flat], password_key(self._password))
        last = kept.files.get(FLAT_RUN, Stretches())
        if last.shared == shared and self._renewed(flat, files, last, kept.folder / FLAT_RUN):
            pages |= {one.file: count for one, (_, count) in zip(flat, last.parts, strict=True)}
        else:
            with files.aside() as room:
                run = self._run(flat, files, pages, room)
                with files.writing(FLAT_RUN) as out:
                    run.write(out)
        parts = tuple((self._listed[one.file], pages[one.file]) for one in flat)
        kept.files_now[FLAT_RUN] = Stretches(shared, parts)

    def _renewed(self, flat: Sequence[_Chosen], files: WaitingFiles, last: Stretches, path: Path) -> bool:
        """Put the last run to the files with the booklets in it that have changed, where they are few and fit."""
        firsts = first_pages([count for _, count in last.parts], flat[0].printing)
        changed = {
            range(first - 1, first - 1 + count): one
            for one, first, (was, count) in zip(flat, firsts, last.parts, strict=True)
            if self._listed[one.file] != was
        }
        if len(changed) > RENEWED or digest_of(path) != last.digest:
            return False
        booklets = {at: RunBooklet(one.shown, files[one.file], self._password) for at, one in changed.items()}
        with files.writing(FLAT_RUN) as out:
            return renew_run(path, self._password, TITLE, booklets, out)

    def _run(
        self, chosen: Iterable[_Chosen], files: WaitingFiles, pages: dict[str, int], room: IO[bytes]
    ) -> PrintRun:
        """Return some booklets put together, for which there is room; put down how many pages each has."""
        run = PrintRun(TITLE, room)
        for one in chosen:
            pages[one.file] = run.add(RunBooklet(one.shown, files[one.file], self._password))
        return run


def _items(chosen: Iterable[_Chosen], pages: Mapping[str, int]) -> list[RunItem]:
    """Return what the list says of some booklets."""
    return [RunItem(one.client, pages[one.file], one.printing, one.label) for one in chosen]


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
