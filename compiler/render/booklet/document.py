"""Pages -> PDF bytes. ReportLab keeps document, fonts and cross-references; the operators are ours.

The same pages give the same bytes: no clock, no random id.
"""

from __future__ import annotations

import zlib
from collections.abc import Iterable
from io import BytesIO
from typing import Any

from reportlab import rl_config
from reportlab.pdfgen.canvas import Canvas

from compiler.layout.metrics import Face, font
from compiler.layout.page import Page, Pages
from compiler.render.booklet.fonts import FontSet
from compiler.render.booklet.ink import Ink
from compiler.render.booklet.raw import Written, register, stream
from compiler.render.booklet.tags import StructureTree

_PDF_VERSION = (1, 7)
_CREATOR = "programme-compiler"


class Drawing:
    """One file while it is drawn: pages one after the other, with bookmarks and labels; `finish` gives its bytes."""

    def __init__(self, language: str, *, simplex: bool) -> None:
        # ReportLab reads this switch while it writes; base 85 would cost a tenth of the time, a quarter in size.
        rl_config.useA85 = 0
        self._canvas = _canvas(language, simplex=simplex)
        self._document = self._canvas._doc  # noqa: SLF001  # the canvas offers no other way to its document
        self._tree = StructureTree(self._document)
        self._parent = register(self._document, self._document.Pages)
        self._basic_fonts, _ = self._document.idToObjectNumberAndVersion["BasicFonts"]
        self._fonts = FontSet()
        self._ink = Ink(self._fonts, self._tree)
        self.count = 0

    def describe(self, title: str, author: str, subject: str) -> None:
        """Say what the file is, in its properties."""
        self._canvas.setTitle(title)
        self._canvas.setAuthor(author)
        self._canvas.setSubject(subject)

    def page(self, page: Page, width: float, height: float) -> None:
        """Draw a page on a sheet of this size, turned where the page lies."""
        if page.lying:
            width, height = height, width
        # deflated at once: as text, the operators of many room sheets weigh heavy till the end
        operators = zlib.compress(self._ink.page(page, height).encode("latin-1"))
        content = register(self._document, Written(stream(operators, "")))
        self._canvas.showPage()
        self.count += 1
        self._document.idToObject[f"Page{self.count}"] = Written(
            f"<</Type/Page/Parent {self._parent} 0 R/MediaBox[0 0 {width:.4f} {height:.4f}]"
            f"/Resources<</Font {self._basic_fonts} 0 R/ProcSet[/PDF/Text]>>/Contents {content} 0 R"
            f"/StructParents {self.count - 1}/Tabs/S>>".encode("ascii")
        )

    def bookmark(self, title: str) -> None:
        """Name the next page in the reader's list of pages."""
        key = f"page-{self.count + 1}"
        self._canvas.bookmarkPage(key)
        self._canvas.addOutlineEntry(title, key, 0)

    def label_pages(self, prefix: str) -> None:
        """Count the pages from here on anew, with something before the number."""
        self._canvas.addPageLabel(self.count, style="ARABIC", start=1, prefix=prefix or None)

    def finish(self) -> bytes:
        """Return the file."""
        self._tree.finish()
        self._fonts.embed(self._document)
        return bytes(self._canvas.getpdfdata())


def render_booklet(pages: Pages) -> bytes:
    """Return the file of one booklet: tagged, with bookmarks, page labels and a hint for the printer."""
    return render_in_turn(pages, pages.pages)


def render_in_turn(file: Pages, pages: Iterable[Page]) -> bytes:
    """Return a file as `render_booklet` does, of pages that come one after the other; none is kept."""
    drawing = Drawing(file.language, simplex=file.simplex)
    drawing.describe(file.title, file.author, file.subject)
    drawing.label_pages(file.label_prefix)
    for page in pages:
        if page.bookmark:
            drawing.bookmark(page.bookmark)
        drawing.page(page, file.width, file.height)
    return drawing.finish()


def _canvas(language: str, *, simplex: bool) -> Any:
    """Return an empty document that says how to show and to print it.

    The stubs leave out what is used of it, hence no type.
    """
    regular = font(Face.REGULAR)
    canvas = Canvas(
        BytesIO(),
        pageCompression=1,
        invariant=1,
        initialFontName=regular.fontName,  # type: ignore[arg-type]  # the stubs take it for a size
        pdfVersion=_PDF_VERSION,
        lang=language,
    )
    canvas.setCreator(_CREATOR)
    canvas.setViewerPreference("DisplayDocTitle", "true")
    canvas.setViewerPreference("PrintScaling", "None")
    canvas.setViewerPreference("Duplex", "Simplex" if simplex else "DuplexFlipLongEdge")
    return canvas
