"""The structure tree of a tagged file: what every piece of a page is, in reading order (ISO 32000-1, 14.7).

The elements write their own bytes, and not before the file is put together: a booklet has some five hundred of them,
built from ReportLab's dictionaries they would take longer than the drawing; many room sheets have two hundred thousand.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from reportlab.pdfbase import pdfdoc

from compiler.layout.page import Role
from compiler.render.booklet.raw import Written, register

Outline = list[Any]
"""What stands on a page, in reading order, in values that JSON has too.

A text is marked content with that role; a dictionary a figure: its role, and what is told in its place. A list is an
element that holds others: its role, then these.
"""


class Element(pdfdoc.PDFObject):
    """An element that holds others: its object number, its role, the numbers of its parent and of what it holds."""

    def __init__(self, role: str, parent: int, title: str = "") -> None:
        self.role = role
        self.parent = parent
        self.title = title
        self.number = 0
        self.kids: list[int] = []

    def format(self, document: Any) -> bytes:
        """Return the bytes of the object."""
        title = b"/T" + _string(self.title, document) if self.title else b""
        return _head(self.role, self.parent) + title + f"/K[{_references(self.kids)}]>>".encode("ascii")


class Leaf(pdfdoc.PDFObject):
    """An element that holds marked content: its role, the number of its parent, its page and the mark within that."""

    def __init__(self, role: str, parent: int, page: int, mark: int, described: str) -> None:
        self.role = role
        self.parent = parent
        self.page = page
        self.mark = mark
        self.described = described

    def format(self, document: Any) -> bytes:
        """Return the bytes of the object."""
        page, _ = document.idToObjectNumberAndVersion[f"Page{self.page}"]
        told = b"/Alt" + _string(self.described, document) if self.described else b""
        return _head(self.role, self.parent) + told + f"/Pg {page} 0 R/K {self.mark}>>".encode("ascii")


class StructureTree:
    """Collects the elements of a document while its pages are drawn."""

    def __init__(self, document: Any) -> None:
        self._document = document
        self._marked: list[list[int]] = []
        self._root = Written()
        self._root_number = register(document, self._root)
        self._whole = self._element("Document", None)
        self._section = self._whole
        self._section_title = ""

    def _element(self, role: str, parent: Element | None, title: str = "") -> Element:
        element = Element(role, parent.number if parent else self._root_number, title)
        element.number = register(self._document, element)
        if parent:
            parent.kids.append(element.number)
        return element

    def add_page(self, section: str, outline: Outline) -> None:
        """Add what stands on a page to its section, a new one if the title is new."""
        self._marked.append([])
        if section != self._section_title or self._section is self._whole:
            self._section = self._element(Role.SECTION, self._whole, section)
            self._section_title = section
        self._add(outline, self._section)

    def _add(self, outline: Iterable[Any], parent: Element) -> None:
        for part in outline:
            match part:
                case str(role):
                    self._leaf(role, parent)
                case [role, *parts]:
                    self._add(parts, self._element(role, parent))
                case dict():
                    for role, described in part.items():
                        self._leaf(role, parent, described)

    def _leaf(self, role: str, parent: Element, described: str = "") -> None:
        """Add an element that holds text, or a figure told in words: the next mark of the page."""
        marked = self._marked[-1]
        leaf = Leaf(role, parent.number, len(self._marked), len(marked), described)
        number = register(self._document, leaf)
        parent.kids.append(number)
        marked.append(number)

    def finish(self) -> None:
        """Hang the tree into the catalogue."""
        entries = " ".join(
            f"{page} [{_references(marked)}]" for page, marked in enumerate(self._marked)
        )
        self._root.body = (
            f"<</Type/StructTreeRoot/K {self._whole.number} 0 R"
            f"/ParentTree<</Nums[{entries}]>>/ParentTreeNextKey {len(self._marked)}>>"
        ).encode("ascii")
        self._document.Catalog.StructTreeRoot = self._root
        self._document.Catalog.MarkInfo = pdfdoc.PDFDictionary({"Marked": "true"})


def _head(role: str, parent: int) -> bytes:
    return f"<</Type/StructElem/S/{role}/P {parent} 0 R".encode("ascii")


def _string(text: str, document: Any) -> bytes:
    return bytes(pdfdoc.PDFString(text).format(document))


def _references(numbers: list[int]) -> str:
    return " ".join(f"{number} 0 R" for number in numbers)
