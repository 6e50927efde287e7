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
from compiler.render.booklet.ink import Drawn, Ink
from compiler.render.booklet.raw import Written, register, stream
from compiler.render.booklet.sketch import Sketch, Sketches
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
        self._ink = Ink(self._fonts)
        self.count = 0

    def describe(self, title: str, author: str, subject: str) -> None:
        """Say what the file is, in its properties."""
        self._canvas.setTitle(title)
        self._canvas.setAuthor(author)
        self._canvas.setSubject(subject)

    def page(self, page: Page, width: float, height: float) -> Sketch:
        """Draw a page on a sheet of this size, turned where the page lies; return it as it was put down."""
        drawn = self._ink.draw(page.parts, page.origin, width if page.lying else height)
        sketch = Sketch(page.section, page.bookmark, _deflated(drawn), drawn.outline, drawn.alike)
        self.put(sketch, page, width, height)
        return sketch

    def put(self, sketch: Sketch, page: Page, width: float, height: float) -> None:
        """Put down a page that has been drawn, here or in another file, with the foot that it has here."""
        if page.lying:
            width, height = height, width
        if sketch.bookmark:
            self._bookmark(sketch.bookmark)
        self._tree.add_page(sketch.section, sketch.outline)
        contents = self._stream(sketch.operators)
        if page.foot:
            foot = self._ink.draw(page.foot, page.origin, height)
            contents = f"[{contents} {self._stream(_deflated(foot))}]"
        self._canvas.showPage()
        self.count += 1
        self._document.idToObject[f"Page{self.count}"] = Written(
            f"<</Type/Page/Parent {self._parent} 0 R/MediaBox[0 0 {width:.4f} {height:.4f}]"
            f"/Resources<</Font {self._basic_fonts} 0 R/ProcSet[/PDF/Text]>>/Contents {contents}"
            f"/StructParents {self.count - 1}/Tabs/S>>".encode("ascii")
        )

    def _stream(self, operators: bytes) -> str:
        """Add some deflated operators; return the reference to them."""
        return f"{register(self._document, Written(stream(operators, '')))} 0 R"

    def _bookmark(self, title: str) -> None:
        """Name the next page in the reader's list of pages."""
        key = f"page-{self.count + 1}"
        self._canvas.bookmarkPage(key)
        self._canvas.addOutlineEntry(title, key, 0)

    def label_pages(self, prefix: str) -> None:
        """Count the pages from here on anew, with something before the number."""
        self._canvas.addPageLabel(self.count, style="ARABIC", start=1, prefix=prefix or None)

    def keep(self, sketches: Sketches) -> None:
        """Keep beside the pages what it takes to put them down again in another file."""
        catalog = self._document.Catalog
        catalog.PieceInfo = sketches.hidden(self._document)
        catalog.__NoDefault__ = [*catalog.__NoDefault__, "PieceInfo"]  # what ReportLab writes of a catalogue

    def finish(self) -> bytes:
        """Return the file."""
        self._tree.finish()
        self._fonts.embed(self._document)
        return bytes(self._canvas.getpdfdata())


def render_booklet(pages: Pages) -> bytes:
    """Return the file of one booklet: tagged, with bookmarks, page labels and a hint for the printer."""
    drawing = _begun(pages)
    for page in pages.pages:
        drawing.page(page, pages.width, pages.height)
    return drawing.finish()


def render_in_turn(file: Pages, pages: Iterable[tuple[Page, Sketch | None]]) -> bytes:
    """Return a file as `render_booklet` does, of pages that come one after the other; none is held in memory.

    Those that were drawn in an earlier file, but for the foot, come with what it kept of them (`read_sketches`), as
    this one does, too.
    """
    drawing, sketches = _begun(file), Sketches()
    for page, sketch in pages:
        if sketch is None:
            sketches.add(drawing.page(page, file.width, file.height))
        else:
            drawing.put(sketch, page, file.width, file.height)
            sketches.add(sketch)
    drawing.keep(sketches)
    return drawing.finish()


def _deflated(drawn: Drawn) -> bytes:
    """Return operators deflated, at once: as text, those of many room sheets weigh heavy till the end."""
    return zlib.compress(drawn.operators.encode("latin-1"))


def _begun(file: Pages) -> Drawing:
    """Return the drawing of a file that says of itself what it should."""
    drawing = Drawing(file.language, simplex=file.simplex)
    drawing.describe(file.title, file.author, file.subject)
    drawing.label_pages(file.label_prefix)
    return drawing


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
