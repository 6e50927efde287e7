"""XML parts patched in place: every byte stays as it was, but for the places that are cut or filled.

A part that is parsed and written again by a general library loses prefixes that only attributes name, and a
spreadsheet program then calls the workbook damaged. So a part is read for the places of its elements, and changed
as bytes. Bytes in, bytes out; names are compared without their prefixes.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from xml.parsers import expat

from defusedxml import ElementTree

from compiler.render.clean import as_value, clean_text, escaped

Edit = tuple[int, int, bytes]
"""From, to, and what stands there afterwards."""

_TAG = re.compile(rb"""<[^\s/>]+(?:\s+[^\s=]+\s*=\s*(?:"[^"]*"|'[^']*'))*\s*/?>""")
_ATTRIBUTE = re.compile(rb"""\s+([^\s=]+)\s*=\s*(?:"[^"]*"|'[^']*')""")
_OPENING = re.compile(r"<(/?)(?=\w)")
_LOOKS_ESCAPED = re.compile(r"_(?=x[0-9A-Fa-f]{4}_)")
_DECLARED = re.compile(rb"""^<\?xml[^>]*?encoding\s*=\s*["']([A-Za-z0-9._-]+)["'][^>]*\?>""")
_MARKS = re.compile(rb"[&<\r]")
_BOM_8 = b"\xef\xbb\xbf"


class MalformedPart(Exception):  # noqa: N818 - it is a state of the part
    """The part is no sound XML, or declares a document type."""


@dataclass(slots=True)
class Node:
    """One element and its places: start tag from `start` to `inner`, content to `close`, all of it to `end`.

    It is filled while its part is read, so it is not frozen.
    """

    name: str
    attributes: dict[str, str]
    start: int
    inner: int
    close: int = 0
    end: int = 0
    children: list[Node] = field(default_factory=list)

    @property
    def local(self) -> str:
        """The name without its prefix."""
        return self.name.rpartition(":")[2]

    @property
    def prefix(self) -> str:
        """The prefix with its colon, or nothing."""
        return self.name[: self.name.find(":") + 1]

    def get(self, local: str, default: str = "") -> str:
        """Return an attribute by its name without prefix."""
        for name, value in self.attributes.items():
            if name.rpartition(":")[2] == local and not name.startswith("xmlns"):
                return value
        return default

    def all(self, *path: str) -> Iterator[Node]:
        """Yield the elements under a path of local names."""
        for child in self.children:
            if child.local == path[0]:
                if len(path) == 1:
                    yield child
                else:
                    yield from child.all(*path[1:])

    def first(self, *path: str) -> Node | None:
        """Return the first element under a path."""
        return next(self.all(*path), None)

    def walk(self) -> Iterator[Node]:
        """Yield the element and everything in it."""
        yield self
        for child in self.children:
            yield from child.walk()

    def namespace(self) -> str:
        """Return the namespace that the element declares for itself."""
        name = f"xmlns:{self.prefix[:-1]}" if self.prefix else "xmlns"
        return self.attributes.get(name, "")

    def prefix_of(self, namespace: str) -> str | None:
        """Return the prefix, with its colon, that the element declares for a namespace."""
        for name, value in self.attributes.items():
            if value == namespace and name.startswith("xmlns:"):
                return f"{name[6:]}:"
        return None


class _Builder:
    """Takes the events of one part and builds its tree; what is in a `shallow` element is passed over."""

    __slots__ = ("_data", "_hidden", "_open", "_parser", "_shallow", "root")

    def __init__(self, data: bytes, shallow: frozenset[str]) -> None:
        self._data, self._shallow, self._hidden = data, shallow, 0
        self._open: list[Node] = []
        self.root: Node | None = None
        self._parser = parser = expat.ParserCreate()
        parser.StartElementHandler = self._start
        parser.EndElementHandler = self._end
        parser.StartDoctypeDeclHandler = _no_doctype

    def build(self) -> Node:
        try:
            self._parser.Parse(self._data, True)  # noqa: FBT003 - the parser takes it by position alone
        except (expat.ExpatError, ValueError, LookupError) as broken:
            raise MalformedPart from broken
        if self.root is None:
            raise MalformedPart
        return self.root

    def _start(self, name: str, attributes: dict[str, str]) -> None:
        if self._hidden or (self._open and self._open[-1].local in self._shallow):
            self._hidden += 1
            return
        start = self._parser.CurrentByteIndex
        tag = _TAG.match(self._data, start)
        if tag is None:
            raise MalformedPart
        node = Node(name, attributes, start, tag.end())
        if self._open:
            self._open[-1].children.append(node)
        else:
            self.root = node
        self._open.append(node)

    def _end(self, _name: str) -> None:
        if self._hidden:
            self._hidden -= 1
            return
        node = self._open.pop()
        if self._data[node.inner - 2 : node.inner] == b"/>":
            node.close = node.end = node.inner
        else:
            node.close = self._parser.CurrentByteIndex
            node.end = self._data.index(b">", node.close) + 1


def _no_doctype(*_: object) -> None:
    raise MalformedPart


def parse(data: bytes, shallow: Iterable[str] = ()) -> Node:
    """Return the tree of a part in UTF-8; raises `MalformedPart`."""
    return _Builder(data, frozenset(shallow)).build()


def as_utf8(data: bytes) -> bytes:
    """Return a part in UTF-8: the same bytes, unless they are in another encoding."""
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        return _recoded(data, "utf-16")
    if data[1:2] == b"\x00" and data[:1] == b"<":
        return _recoded(data, "utf-16-le")
    if data[:2] == b"\x00<":
        return _recoded(data, "utf-16-be")
    declared = _DECLARED.match(data.removeprefix(_BOM_8))
    if declared and declared[1].lower() not in {b"utf-8", b"utf8", b"us-ascii", b"ascii"}:
        return _recoded(data.removeprefix(_BOM_8), declared[1].decode("ascii"))
    return data


def _recoded(data: bytes, encoding: str) -> bytes:
    try:
        plain = data.decode(encoding).encode()
    except (UnicodeError, LookupError) as broken:
        raise MalformedPart from broken
    return _DECLARED.sub(b'<?xml version="1.0" encoding="UTF-8" standalone="yes"?>', plain)


def edited(data: bytes, edits: Iterable[Edit]) -> bytes:
    """Return a part with the edits made; those at one place in the order given."""
    pieces: list[bytes] = []
    at = 0
    for start, end, new in sorted(edits, key=lambda edit: edit[0]):
        pieces += (data[at:start], new)
        at = end
    return b"".join((*pieces, data[at:]))


def removal(node: Node) -> Edit:
    """Return the edit that takes an element out."""
    return node.start, node.end, b""


def appended(data: bytes, node: Node, new: bytes) -> Edit:
    """Return the edit that puts something at the end of an element, which may be an empty one."""
    if node.close == node.end:
        tag = data[node.start : node.inner].removesuffix(b"/>").rstrip()
        return node.start, node.end, b"%s>%s</%s>" % (tag, new, node.name.encode())
    return node.close, node.close, new


def placed(data: bytes, root: Node, order: Sequence[str], local: str, new: bytes) -> Edit:
    """Return the edit that puts a new child into its place in the order of a kind of part."""
    before = frozenset(order[: order.index(local)])
    at = max((child.end for child in root.children if child.local in before), default=root.inner)
    if root.close == root.end:
        return appended(data, root, new)
    return at, at, new


def with_attribute(data: bytes, node: Node, name: str, value: str | None) -> Edit:
    """Return the edit that sets an attribute, named as it is written, or takes it away."""
    new = b"" if value is None else f" {name}={as_value(value)}".encode()
    for found in _ATTRIBUTE.finditer(data, node.start, node.inner):
        if found[1] == name.encode():
            return found.start(), found.end(), new
    at = node.start + 1 + len(node.name.encode())
    return at, at, new


def prefixed(markup: str, prefix: str) -> str:
    """Return markup whose elements have no prefix with one; every text in it is escaped already."""
    return _OPENING.sub(rf"<\1{prefix}", markup) if prefix else markup


def text_of(text: str) -> str:
    """Return a text as an element of a workbook holds it: what looks like an escape of its own stays as it is."""
    return escaped(_LOOKS_ESCAPED.sub("_x005F_", clean_text(text)))


def content_of(data: bytes, node: Node) -> str:
    """Return the text of an element that has no other in it."""
    stored = data[node.inner : node.close]
    if not _MARKS.search(stored):
        return stored.decode()
    return ElementTree.fromstring(b"<t>%s</t>" % stored, forbid_dtd=True).text or ""
