"""The files of many booklets -> one file for the front desk's printer.

Its pages are the booklets' own, operator by operator: what was checked is what is printed. Each font is embedded once,
where merged files would carry those of every booklet along. The run is for paper alone: it takes the pages and leaves
the structure trees, which are half of a booklet.
"""

from __future__ import annotations

from collections.abc import Mapping
from io import BytesIO
from pathlib import Path
from typing import IO

import pikepdf

from compiler.frozen import frozen
from compiler.render.desk_file import describe, save
from compiler.render.stream_file import StreamFile

_ONE_SIDE = "/Simplex"
_Letters = tuple[str, bytes]
"""A font by its name and what its codes mean."""
_Fonts = tuple[tuple[str, _Letters], ...]
"""The fonts of a page, by the names that its operators have for them."""


@frozen
class _Page:
    """A page of a run: the number of the stream of its operators (None: blank), its size, its fonts."""

    operators: int | None
    box: pikepdf.Object
    fonts: _Fonts


@frozen
class RunBooklet:
    """One booklet of a print run: whose it is in the reader's list of pages, its file, the password that opens it."""

    client: str
    content: bytes
    password: str = ""


class PrintRun:
    """A print run while it is put together, booklet by booklet; `finish` or `write` gives the file.

    Each begins on a fresh sheet: on both sides, one with an odd number of pages is followed by a blank one.
    """

    def __init__(self, title: str, room: IO[bytes] | None = None) -> None:
        """Begin a run. What is drawn on its pages waits in `room`, an empty file to write and read; else in memory.

        Where that is full, adding and writing raise OSError.
        """
        self._title = title
        self._operators = StreamFile(BytesIO() if room is None else room)
        self._pages: list[_Page] = []
        self._blank: _Page | None = None
        self._marks: list[tuple[str, int]] = []
        self._labels: list[int | pikepdf.Object] = []
        self._shared = pikepdf.new()  # the fonts, and what the file says of itself
        self._duplex = ""
        self._fonts: dict[_Letters, pikepdf.Object] = {}
        self._together: dict[_Fonts, _Fonts] = {}  # each once: codes and their meanings are kilobytes
        self._boxes: dict[bytes, pikepdf.Object] = {}

    def add(self, booklet: RunBooklet) -> int:
        """Add the pages of a booklet, with a bookmark and page labels of its own; return how many they are."""
        with pikepdf.open(BytesIO(booklet.content), password=booklet.password) as source:
            duplex = str(source.Root.ViewerPreferences.Duplex)
            if not self._marks:
                describe(self._shared, source, duplex)
                self._duplex = duplex
            if self._blank is not None:
                self._pages.append(self._blank)
            self._marks.append((booklet.client, len(self._pages)))
            self._labels += [len(self._pages), _copied(source.Root.PageLabels.Nums[1])]
            fonts = self._fonts_of(source.pages[0].Resources.Font)
            pages = [page.obj for page in source.pages]
            self._pages += [
                _Page(self._operators.add(page.Contents.read_raw_bytes()), self._box(page), fonts) for page in pages
            ]
        blank = _Page(None, self._pages[-1].box, fonts)
        self._blank = blank if len(pages) % 2 and duplex != _ONE_SIDE else None
        return len(pages)

    def finish(self) -> bytes:
        """Return the file, as `write` writes it."""
        out = BytesIO()
        self.write(out)
        return out.getvalue()

    def write(self, out: IO[bytes]) -> None:
        """Write the file, from where `out` is. Raises ValueError where there is no booklet: a file needs a page."""
        if not self._marks:
            raise ValueError("a print run needs a booklet")
        with self._operators.opened() as made:
            _describe(made, self._shared, self._duplex, self._title)
            tree = made.Root.Pages
            tree.Kids, tree.Count = self._kids(made), len(self._pages)
            made.Root.PageLabels = pikepdf.Dictionary(Nums=pikepdf.Array(self._labels))
            with made.open_outline() as outline:
                outline.root.extend(pikepdf.OutlineItem(client, first) for client, first in self._marks)
            save(made, out)

    def _kids(self, made: pikepdf.Pdf) -> pikepdf.Array:
        """Return the pages as objects of the file, with their fonts."""
        kids = pikepdf.Array()  # not a list: that would hold an object of Python's for each page
        fonts: dict[_Letters, pikepdf.Object] = {}
        resources: dict[_Fonts, pikepdf.Object] = {}
        for page in self._pages:
            if page.fonts not in resources:
                fonts |= {key: made.copy_foreign(self._fonts[key]) for _, key in page.fonts if key not in fonts}
                named = pikepdf.Dictionary({name: fonts[key] for name, key in page.fonts})
                resources[page.fonts] = made.make_indirect(pikepdf.Dictionary(Font=named))
            kid = pikepdf.Dictionary(
                Type=pikepdf.Name.Page,
                MediaBox=page.box,
                Resources=resources[page.fonts],
                Parent=made.Root.Pages,
            )
            if page.operators is not None:
                kid.Contents = made.get_object(page.operators, 0)
            kids.append(made.make_indirect(kid))
        return kids

    def _box(self, page: pikepdf.Object) -> pikepdf.Object:
        """Return the size of a page: one object for all pages of a size, as five for each are much memory."""
        size = page.MediaBox.unparse()
        if size not in self._boxes:
            self._boxes[size] = _copied(page.MediaBox)
        return self._boxes[size]

    def _fonts_of(self, fonts: pikepdf.Object) -> _Fonts:
        """Return what the fonts are known by that the pages of a booklet share."""
        together = tuple(sorted((name, self._font(font)) for name, font in fonts.items()))
        return self._together.setdefault(together, together)

    def _font(self, font: pikepdf.Object) -> _Letters:
        """Return what a font is known by."""
        key = _letters(font)
        if key not in self._fonts:
            self._fonts[key] = self._shared.copy_foreign(font)
        return key


def renew_run(last: Path, password: str, title: str, changed: Mapping[range, RunBooklet], out: IO[bytes]) -> bool:
    """Write a run with some booklets in the places of others, of which `changed` has the pages, counted from 0.

    It is the file that all booklets put together would make. Where one does not fit into its place, as it has more
    pages or other fonts, nothing is written; tell whether it was. `password` opens the last run, if it is locked.
    """
    with pikepdf.open(last, password=password) as made:
        pages = made.pages
        for places, booklet in changed.items():
            with pikepdf.open(BytesIO(booklet.content), password=booklet.password) as source:
                if len(source.pages) != len(places):
                    return False
                if places.start == 0:
                    _describe(made, source, str(source.Root.ViewerPreferences.Duplex), title)
                for number, page in zip(places, source.pages, strict=True):
                    place = pages[number].obj
                    if _sheet_of(place) != _sheet_of(page.obj):
                        return False
                    operators = page.obj.Contents.read_raw_bytes()
                    place.Contents = pikepdf.Stream(made, operators, Filter=pikepdf.Name.FlateDecode)
        del made.trailer.ID  # the first half of it would be that of the last run
        save(made, out)
    return True


def _sheet_of(page: pikepdf.Object) -> tuple[bytes, dict[str, _Letters]]:
    """Return the size of a page and what its fonts are known by."""
    return page.MediaBox.unparse(), {name: _letters(font) for name, font in page.Resources.Font.items()}


def _letters(font: pikepdf.Object) -> _Letters:
    """Return what a font is known by: the same typeface with the same letters under the same codes is the same."""
    return str(font.BaseFont), font.ToUnicode.read_raw_bytes()


def _describe(made: pikepdf.Pdf, source: pikepdf.Pdf, duplex: str, title: str) -> None:
    """Say what a run is, after its first booklet."""
    describe(made, source, duplex)
    made.docinfo.Title = made.docinfo.Subject = title


def _copied(simple: pikepdf.Object) -> pikepdf.Object:
    """Return an object that refers to no other, for another file."""
    return pikepdf.Object.parse(simple.unparse(resolved=True))
