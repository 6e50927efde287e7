"""Pages -> PDF bytes. ReportLab keeps document, fonts and cross-references; the operators are ours.

The same pages give the same bytes: no clock, no random id.
"""

from __future__ import annotations

from io import BytesIO
from typing import Any

from reportlab import rl_config
from reportlab.pdfgen.canvas import Canvas

from compiler.layout.metrics import Face, font
from compiler.layout.page import Pages
from compiler.render.booklet.fonts import FontSet
from compiler.render.booklet.ink import Ink
from compiler.render.booklet.tags import StructureTree

_PDF_VERSION = (1, 7)
_CREATOR = "programme-compiler"


def render_booklet(pages: Pages) -> bytes:
    """Return the file of one booklet: tagged, with bookmarks, page labels and a hint for the printer."""
    # ReportLab reads this switch while it writes; base 85 would cost a tenth of the time, a quarter in size.
    rl_config.useA85 = 0
    canvas: Any = _canvas(pages)  # the stubs leave out what is used here: the document and its data
    document = canvas._doc  # noqa: SLF001  # the canvas offers no other way to its document
    tree = StructureTree(document)
    fonts = FontSet()
    ink = Ink(fonts, tree, pages.height)
    for page in pages.pages:
        canvas.addLiteral(ink.page(page))
        if page.bookmark:
            key = f"page-{page.number}"
            canvas.bookmarkPage(key)
            canvas.addOutlineEntry(page.bookmark, key, 0)
        canvas.showPage()
        tree.close_page()
    canvas.addPageLabel(0, style="ARABIC", start=1, prefix=pages.label_prefix or None)
    tree.finish()
    fonts.embed(document)
    return bytes(canvas.getpdfdata())


def _canvas(pages: Pages) -> Canvas:
    """Return an empty document with its properties."""
    regular = font(Face.REGULAR)
    canvas = Canvas(
        BytesIO(),
        pagesize=(pages.width, pages.height),
        pageCompression=1,
        invariant=1,
        initialFontName=regular.fontName,  # type: ignore[arg-type]  # the stubs take it for a size
        pdfVersion=_PDF_VERSION,
        lang=pages.language,
    )
    canvas.setTitle(pages.title)
    canvas.setAuthor(pages.author)
    canvas.setSubject(pages.subject)
    canvas.setCreator(_CREATOR)
    canvas.setViewerPreference("DisplayDocTitle", "true")
    canvas.setViewerPreference("PrintScaling", "None")
    canvas.setViewerPreference("Duplex", "Simplex" if pages.simplex else "DuplexFlipLongEdge")
    return canvas
