"""Objects of a PDF file given as finished bytes, for what ReportLab would take long to put together.

ReportLab's document is typed `Any` throughout this package: its stubs leave out the catalogue, the pages and
the numbers of objects.
"""

from __future__ import annotations

from typing import Any

from reportlab.pdfbase.pdfdoc import PDFObject


class Written(PDFObject):
    """An object whose bytes are known, or will be by the time the file is put together."""

    def __init__(self, body: bytes = b"null") -> None:
        self.body = body

    def format(self, document: Any) -> bytes:  # noqa: ARG002  # ReportLab calls it so
        """Return the bytes of the object."""
        return self.body


def register(document: Any, written: PDFObject) -> int:
    """Add an object to a document; return its number."""
    number, _ = document.idToObjectNumberAndVersion[document.Reference(written).name]
    return int(number)


def stream(content: bytes, entries: str) -> bytes:
    """Return a stream object of content that is already deflated."""
    head = f"<<{entries}/Filter/FlateDecode/Length {len(content)}>>\nstream\n"
    return head.encode("ascii") + content + b"\nendstream"
