"""The files of many booklets -> one file for the front desk's printer.

Its pages are the booklets' own, operator by operator: what was checked is what is printed. Each font is embedded once,
where merged files would carry those of every booklet along. The run is for paper alone: it takes the pages and leaves
the structure trees, which are half of a booklet.
"""

from __future__ import annotations

from io import BytesIO
from typing import IO

import pikepdf

from compiler.frozen import frozen
from compiler.render.desk_file import describe, save

_ONE_SIDE = "/Simplex"
_Letters = tuple[str, bytes]
"""A font by its name and what its codes mean."""


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

    def __init__(self, title: str) -> None:
        self._title = title
        self._made = pikepdf.new()
        self._pages = pikepdf.Array()  # not a list: that would hold an object of Python's for each page
        self._blank: pikepdf.Dictionary | None = None
        self._marks: list[tuple[str, int]] = []
        self._labels: list[int | pikepdf.Object] = []
        self._fonts: dict[_Letters, pikepdf.Object] = {}
        self._resources: dict[tuple[tuple[str, _Letters], ...], pikepdf.Object] = {}
        self._boxes: dict[bytes, pikepdf.Object] = {}

    def add(self, booklet: RunBooklet) -> int:
        """Add the pages of a booklet, with a bookmark and page labels of its own; return how many they are."""
        with pikepdf.open(BytesIO(booklet.content), password=booklet.password) as source:
            duplex = str(source.Root.ViewerPreferences.Duplex)
            if not self._marks:
                describe(self._made, source, duplex)
                self._made.docinfo.Title = self._made.docinfo.Subject = self._title
            if self._blank is not None:
                self._add_page(self._blank)
            self._marks.append((booklet.client, len(self._pages)))
            self._labels += [len(self._pages), _copied(source.Root.PageLabels.Nums[1])]
            resources = self._resources_of(source.pages[0].Resources.Font)
            for page in source.pages:
                self._take(page.obj, resources)
            count, last = len(source.pages), self._box(source.pages[-1].obj)
        blank = pikepdf.Dictionary(Type=pikepdf.Name.Page, MediaBox=last, Resources=resources)
        self._blank = blank if count % 2 and duplex != _ONE_SIDE else None
        return count

    def finish(self) -> bytes:
        """Return the file, as `write` writes it."""
        out = BytesIO()
        self.write(out)
        return out.getvalue()

    def write(self, out: IO[bytes]) -> None:
        """Write the file, from where `out` is. Raises ValueError where there is no booklet: a file needs a page."""
        if not self._marks:
            raise ValueError("a print run needs a booklet")
        tree = self._made.Root.Pages
        tree.Kids, tree.Count = self._pages, len(self._pages)
        self._made.Root.PageLabels = pikepdf.Dictionary(Nums=pikepdf.Array(self._labels))
        with self._made.open_outline() as outline:
            outline.root.extend(pikepdf.OutlineItem(client, first) for client, first in self._marks)
        save(self._made, out)

    def _take(self, page: pikepdf.Object, fonts: pikepdf.Object) -> None:
        """Add a page with its operators as they are, deflated already."""
        operators = pikepdf.Stream(self._made, page.Contents.read_raw_bytes(), Filter=pikepdf.Name.FlateDecode)
        self._add_page(
            pikepdf.Dictionary(Type=pikepdf.Name.Page, MediaBox=self._box(page), Resources=fonts, Contents=operators)
        )

    def _box(self, page: pikepdf.Object) -> pikepdf.Object:
        """Return the size of a page: one object for all pages of a size, as five for each are a fifth of the memory."""
        size = page.MediaBox.unparse()
        if size not in self._boxes:
            self._boxes[size] = _copied(page.MediaBox)
        return self._boxes[size]

    def _add_page(self, page: pikepdf.Dictionary) -> None:
        page.Parent = self._made.Root.Pages
        self._pages.append(self._made.make_indirect(page))

    def _resources_of(self, fonts: pikepdf.Object) -> pikepdf.Object:
        """Return the resources of a booklet's pages, which share their fonts: the same for the same fonts."""
        keys = {name: self._font(font) for name, font in fonts.items()}
        together = tuple(sorted(keys.items()))
        if together not in self._resources:
            named = pikepdf.Dictionary({name: self._fonts[key] for name, key in keys.items()})
            self._resources[together] = self._made.make_indirect(pikepdf.Dictionary(Font=named))
        return self._resources[together]

    def _font(self, font: pikepdf.Object) -> _Letters:
        """Return what a font is known by: the same typeface with the same letters under the same codes is the same."""
        key = str(font.BaseFont), font.ToUnicode.read_raw_bytes()
        if key not in self._fonts:
            self._fonts[key] = self._made.copy_foreign(font)
        return key


def _copied(simple: pikepdf.Object) -> pikepdf.Object:
    """Return an object that refers to no other, for another file."""
    return pikepdf.Object.parse(simple.unparse(resolved=True))
