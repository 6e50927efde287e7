"""The structure tree of a tagged file: what every piece of a page is, in reading order (ISO 32000-1, 14.7).

The elements are written as finished bytes: a booklet has some five hundred of them, and built from
ReportLab's dictionaries they would take longer than the drawing.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from reportlab.pdfbase import pdfdoc

from compiler.layout.page import Role
from compiler.render.booklet.raw import Written, register


@dataclass(slots=True)
class Element:
    """One element under construction: its object number, role, parent and children, or its marked content."""

    number: int
    written: Written
    role: str
    parent: int
    title: str = ""
    described: str = ""
    kids: list[int] = field(default_factory=list)
    page: int = 0
    mark: int = -1


class StructureTree:
    """Collects the elements of a document while its pages are drawn."""

    def __init__(self, document: Any) -> None:
        self._document = document
        self._elements: list[Element] = []
        self._marked: list[list[int]] = []
        self._root_number, self._root = self._register()
        self._whole = self._element("Document", None)
        self._section = self._whole
        self._section_title = ""

    def _register(self) -> tuple[int, Written]:
        written = Written()
        return register(self._document, written), written

    def _element(self, role: str, parent: Element | None) -> Element:
        number, written = self._register()
        element = Element(number, written, role, parent.number if parent else self._root_number)
        self._elements.append(element)
        if parent:
            parent.kids.append(number)
        return element

    def open_page(self, section: str) -> Element:
        """Begin a page; return the section that its parts belong to, a new one if the title is new."""
        self._marked.append([])
        if section != self._section_title or self._section is self._whole:
            self._section = self._element(Role.SECTION, self._whole)
            self._section.title = section
            self._section_title = section
        return self._section

    def branch(self, role: Role, parent: Element) -> Element:
        """Return a new element that holds others."""
        return self._element(role, parent)

    def leaf(self, role: Role, parent: Element, described: str = "") -> int:
        """Return the mark, within this page, of a new element that holds text, or a figure told in words."""
        marked = self._marked[-1]
        element = self._element(role, parent)
        element.page = len(self._marked)
        element.mark = len(marked)
        element.described = described
        marked.append(element.number)
        return element.mark

    def finish(self) -> None:
        """Write every element and hang the tree into the catalogue."""
        numbers = self._document.idToObjectNumberAndVersion
        pages = [numbers[f"Page{page + 1}"][0] for page in range(len(self._marked))]
        for element in self._elements:
            element.written.body = self._body(element, pages)
        entries = " ".join(
            f"{page} [{_references(marked)}]" for page, marked in enumerate(self._marked)
        )
        self._root.body = (
            f"<</Type/StructTreeRoot/K {self._whole.number} 0 R"
            f"/ParentTree<</Nums[{entries}]>>/ParentTreeNextKey {len(self._marked)}>>"
        ).encode("ascii")
        self._document.Catalog.StructTreeRoot = self._root
        self._document.Catalog.MarkInfo = pdfdoc.PDFDictionary({"Marked": "true"})

    def _body(self, element: Element, pages: list[int]) -> bytes:
        head = f"<</Type/StructElem/S/{element.role}/P {element.parent} 0 R"
        if element.mark >= 0:
            told = b"/Alt" + self._string(element.described) if element.described else b""
            content = f"/Pg {pages[element.page - 1]} 0 R/K {element.mark}>>"
            return head.encode("ascii") + told + content.encode("ascii")
        title = self._string(element.title) if element.title else b""
        kids = _references(element.kids)
        return head.encode("ascii") + (b"/T" + title if title else b"") + f"/K[{kids}]>>".encode("ascii")

    def _string(self, text: str) -> bytes:
        return bytes(pdfdoc.PDFString(text).format(self._document))


def _references(numbers: list[int]) -> str:
    return " ".join(f"{number} 0 R" for number in numbers)
