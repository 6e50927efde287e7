"""The parts of a workbook's file, to be changed one by one: contents, relationships, content types.

Parts that nobody writes to keep their bytes. Names are compared without regard to case and kept as they are. Equal
parts give equal bytes: no clock is read.
"""

from __future__ import annotations

import posixpath
import zipfile
from collections.abc import Iterable, Iterator, Sequence
from io import BytesIO

from compiler.frozen import frozen
from compiler.render.checked_xml import (
    MalformedPart,
    Node,
    appended,
    as_utf8,
    edited,
    parse,
    prefixed,
    removal,
    with_attribute,
)
from compiler.render.clean import as_value

TYPES = "[Content_Types].xml"
MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
_STRICT_MAIN = "http://purl.oclc.org/ooxml/spreadsheetml/main"
_RELATIONSHIPS = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
_STRICT_RELATIONSHIPS = "http://purl.oclc.org/ooxml/officeDocument/relationships"
_PACKAGE = "http://schemas.openxmlformats.org/package/2006"
_RELATIONS_TYPE = "application/vnd.openxmlformats-package.relationships+xml"
_HEAD = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n'
_SHEETS = "application/vnd.openxmlformats-officedocument.spreadsheetml"
CONTENT_TYPES = {
    "officeDocument": f"{_SHEETS}.sheet.main+xml",
    "worksheet": f"{_SHEETS}.worksheet+xml",
    "chartsheet": f"{_SHEETS}.chartsheet+xml",
    "styles": f"{_SHEETS}.styles+xml",
    "sharedStrings": f"{_SHEETS}.sharedStrings+xml",
    "comments": f"{_SHEETS}.comments+xml",
    "theme": "application/vnd.openxmlformats-officedocument.theme+xml",
}
"""What a part is, by the last word of the relationship that leads to it."""

VML = "application/vnd.openxmlformats-officedocument.vmlDrawing"
FIXED_DATE = (1980, 1, 1, 0, 0, 0)


@frozen
class Relation:
    """One relationship: its id, the last word of its type, the part it leads to (None where it leads outside)."""

    id: str
    kind: str
    target: str | None


class Parts:
    """The parts of one file, in their order.

    `space` is the namespace of its elements, `links` that of the attributes which name a relationship: a workbook in
    the strict form of the standard has its own.
    """

    def __init__(self, workbook: bytes) -> None:
        with zipfile.ZipFile(BytesIO(workbook)) as archive:
            members = [info for info in archive.infolist() if not info.is_dir()]
            self._data = {info.filename.lstrip("/"): archive.read(info) for info in members}
        self._names = {name.casefold(): name for name in self._data}
        self.main = next((r.target for r in self.relations("") if r.kind == "officeDocument"), None) or (
            "xl/workbook.xml"
        )
        strict = parse(self.read(self.main), {"sheets"}).namespace() == _STRICT_MAIN
        self.space = _STRICT_MAIN if strict else MAIN
        self.links = _STRICT_RELATIONSHIPS if strict else _RELATIONSHIPS

    def __contains__(self, part: str) -> bool:
        return part.casefold() in self._names

    def names(self) -> tuple[str, ...]:
        """Return the names of all parts."""
        return tuple(self._data)

    def raw(self, part: str) -> bytes:
        """Return the bytes of a part as they are."""
        return self._data[self._names[part.casefold()]]

    def read(self, part: str) -> bytes:
        """Return an XML part in UTF-8."""
        return as_utf8(self.raw(part))

    def write(self, part: str, data: bytes) -> None:
        """Put a part in, or other bytes into one."""
        self._data[self._names.setdefault(part.casefold(), part)] = data

    def remove(self, part: str) -> None:
        """Take a part out, with its relationships and its content type."""
        for name in (part, _relations_part(part)):
            if name in self:
                del self._data[self._names.pop(name.casefold())]
        root, data = self._types()
        gone = [node for node in root.all("Override") if _same_part(node, part)]
        if gone:
            self.write(TYPES, edited(data, map(removal, gone)))

    def free_name(self, pattern: str) -> str:
        """Return the first name of a pattern with one `{}` that no part has, counted from 1."""
        number = 1
        while pattern.format(number) in self:
            number += 1
        return pattern.format(number)

    def relations(self, part: str) -> tuple[Relation, ...]:
        """Return the relationships of a part; those of the whole file where none is named."""
        name = _relations_part(part)
        if name not in self:
            return ()
        root = parse(self.read(name))
        return tuple(Relation(r.get("Id"), r.get("Type").rpartition("/")[2], _target(part, r)) for r in root.children)

    def related(self, part: str, kind: str) -> str | None:
        """Return the first part that another leads to by a kind of relationship, if it is there."""
        targets = (r.target for r in self.relations(part) if r.kind == kind)
        return next((target for target in targets if target and target in self), None)

    def relate(self, part: str, kind: str, target: str) -> str:
        """Add a relationship; return its id."""
        name = _relations_part(part)
        if name not in self:
            self.write(name, f'{_HEAD}<Relationships xmlns="{_PACKAGE}/relationships"></Relationships>'.encode())
        data = self.read(name)
        root = parse(data)
        taken = {node.get("Id") for node in root.children}
        number = next(number for number in range(1, len(taken) + 2) if f"rId{number}" not in taken)
        path = posixpath.relpath(f"/{target}", posixpath.dirname(f"/{part}"))
        markup = f'<Relationship Id="rId{number}" Type="{self.links}/{kind}" Target={as_value(path)}/>'
        self.write(name, edited(data, [appended(data, root, prefixed(markup, root.prefix).encode())]))
        return f"rId{number}"

    def unrelate(self, part: str, ids: Iterable[str]) -> None:
        """Take relationships away; a part of relationships that is empty then goes too."""
        name = _relations_part(part)
        data = self.read(name)
        root = parse(data)
        wanted = set(ids)
        gone = [node for node in root.children if node.get("Id") in wanted]
        if len(gone) == len(root.children):
            self.remove(name)
        elif gone:
            self.write(name, edited(data, map(removal, gone)))

    def cut(self, ids: Sequence[str]) -> None:
        """Take relationships of the workbook away, and every part that only they led to."""
        if not ids:
            return
        reached = self.reached()
        self.unrelate(self.main, ids)
        lost = reached - self.reached()
        for name in self.names():
            if name.casefold() in lost:
                self.remove(name)

    def set_type(self, part: str, content_type: str) -> None:
        """State the content type of a part."""
        root, data = self._types()
        for node in root.all("Override"):
            if _same_part(node, part):
                self.write(TYPES, edited(data, [with_attribute(data, node, "ContentType", content_type)]))
                return
        markup = f"<Override PartName={as_value('/' + part)} ContentType={as_value(content_type)}/>"
        self.write(TYPES, edited(data, [appended(data, root, prefixed(markup, root.prefix).encode())]))

    def set_ending(self, ending: str, content_type: str) -> None:
        """State the content type of all parts with an ending, unless it is stated already."""
        root, data = self._types()
        if any(node.get("Extension").casefold() == ending for node in root.all("Default")):
            return
        markup = prefixed(f'<Default Extension="{ending}" ContentType="{content_type}"/>', root.prefix)
        self.write(TYPES, edited(data, [(root.inner, root.inner, markup.encode())]))

    def reached(self) -> frozenset[str]:
        """Return the parts that relationships lead to, folded."""
        seen: set[str] = set()
        waiting = [""]
        while waiting:
            for relation in self.relations(waiting.pop()):
                if relation.target and relation.target in self and relation.target.casefold() not in seen:
                    seen.add(relation.target.casefold())
                    waiting.append(relation.target)
        return frozenset(seen)

    def to_bytes(self) -> bytes:
        """Return the file."""
        out = BytesIO()
        with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
            for name, data in self._data.items():
                info = zipfile.ZipInfo(name, FIXED_DATE)
                info.compress_type = zipfile.ZIP_DEFLATED
                info.create_system = 0
                archive.writestr(info, data)
        return out.getvalue()

    def _types(self) -> tuple[Node, bytes]:
        """Return the table of content types; one is made where there is none that can be read."""
        try:
            data = self.read(TYPES)
            return parse(data), data
        except (KeyError, MalformedPart):
            data = "".join((_HEAD, *_made_types(self))).encode()
            self._data = {TYPES: data, **{name: part for name, part in self._data.items() if name != TYPES}}
            self._names[TYPES.casefold()] = TYPES
            return parse(data), data


def _made_types(parts: Parts) -> Iterator[str]:
    yield f'<Types xmlns="{_PACKAGE}/content-types">'
    yield f'<Default Extension="rels" ContentType="{_RELATIONS_TYPE}"/>'
    yield '<Default Extension="xml" ContentType="application/xml"/>'
    yield f'<Override PartName="/{parts.main}" ContentType="{CONTENT_TYPES["officeDocument"]}"/>'
    for relation in parts.relations(parts.main):
        if relation.target and relation.target in parts and relation.kind in CONTENT_TYPES:
            name = as_value("/" + relation.target)
            yield f'<Override PartName={name} ContentType="{CONTENT_TYPES[relation.kind]}"/>'
    yield "</Types>"


def _relations_part(part: str) -> str:
    folder, base = posixpath.split(part)
    return posixpath.join(folder, "_rels", f"{base}.rels")


def _target(part: str, relation: Node) -> str | None:
    if relation.get("TargetMode") == "External":
        return None
    target = relation.get("Target").replace("\\", "/")
    path = target if target.startswith("/") else posixpath.join("/", posixpath.dirname(part), target)
    return posixpath.normpath(path).lstrip("/")


def _same_part(override: Node, part: str) -> bool:
    return override.get("PartName").lstrip("/").casefold() == part.casefold()
