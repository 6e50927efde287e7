"""The small parts of a workbook: where its sheets are, how it counts days, what its properties say.

Assumes a package that the container has looked at. Relationships are followed, names of parts are compared
without regard to case, and element names without regard to the namespace, so that Strict files read like others.
"""

from __future__ import annotations

import posixpath
from collections.abc import Iterator
from xml.etree.ElementTree import Element
from xml.parsers.expat import ExpatError

from defusedxml import ElementTree
from defusedxml.common import DefusedXmlException

from compiler.frozen import frozen
from compiler.source.container import Package
from compiler.source.unreadable import damaged

_WORKBOOK = "xl/workbook.xml"
_CUSTOM = "docprops/custom.xml"
TRUE_WORDS = frozenset({"1", "true", "on"})


@frozen
class SheetPart:
    """A sheet as the workbook lists it, with the part that holds it."""

    name: str
    part: str
    hidden: bool


@frozen
class Outline:
    """What the workbook part says. `trusts_results`: results stored behind formulas may be believed."""

    sheets: tuple[SheetPart, ...]
    strings: str | None
    styles: str | None
    date_1904: bool
    trusts_results: bool
    has_calculation_chain: bool
    has_macros: bool


def whole_number(text: str) -> int | None:
    """Return the number in an attribute, such as an index or a row; None for anything but one to nine digits."""
    return int(text) if text.isascii() and text.isdigit() and len(text) < 10 else None


def local(name: str) -> str:
    """Return an element or attribute name without its namespace."""
    return name.rpartition("}")[2]


def root_of(package: Package, part: str) -> Element:
    """Return the root element of a part."""
    try:
        root: Element = ElementTree.fromstring(package.read(part), forbid_dtd=True)
    except (ElementTree.ParseError, ExpatError, DefusedXmlException, ValueError, LookupError) as broken:
        raise damaged(package.name, f'its part "{part}" cannot be read') from broken
    return root


def children(element: Element, name: str) -> Iterator[Element]:
    """Yield the children with a local name."""
    return (child for child in element if isinstance(child.tag, str) and local(child.tag) == name)


def attribute(element: Element, name: str, default: str = "") -> str:
    """Return an attribute by its local name."""
    for key, value in element.attrib.items():
        if local(key) == name:
            return value
    return default


def _related(package: Package, part: str) -> dict[str, tuple[str, str]]:
    """Return the relationships of a part by id: (last word of the type, target part)."""
    folder, _, base = part.rpartition("/")
    rels = f"{folder}/_rels/{base}.rels" if folder else f"_rels/{base}.rels"
    if rels not in package:
        return {}
    found = {}
    for relation in root_of(package, rels):
        if attribute(relation, "TargetMode") == "External":
            continue
        target = attribute(relation, "Target").replace("\\", "/")
        path = target if target.startswith("/") else posixpath.join("/", folder, target)
        kind = attribute(relation, "Type").rpartition("/")[2]
        found[attribute(relation, "Id")] = (kind, posixpath.normpath(path).lstrip("/"))
    return found


def read_outline(package: Package) -> Outline:
    """Return what the workbook part says; a workbook without a single sheet of cells is damaged."""
    root_relations = _related(package, "")
    main = next((part for kind, part in root_relations.values() if kind == "officeDocument"), _WORKBOOK)
    root = root_of(package, main)
    related = _related(package, main)
    by_kind = dict(related.values())
    sheets = tuple(_sheets(package, root, related))
    if not sheets:
        raise damaged(package.name, "it has no sheets")
    properties = {key: value for child in children(root, "workbookPr") for key, value in child.attrib.items()}
    recalculate = any(attribute(c, "fullCalcOnLoad").casefold() in TRUE_WORDS for c in children(root, "calcPr"))
    return Outline(
        sheets=sheets,
        strings=by_kind.get("sharedStrings"),
        styles=by_kind.get("styles"),
        date_1904=properties.get("date1904", "").casefold() in TRUE_WORDS,
        trusts_results=not recalculate,
        has_calculation_chain="calcChain" in by_kind,
        has_macros="vbaProject" in by_kind or any(p.endswith("vbaproject.bin") for p in package.parts()),
    )


def _sheets(package: Package, root: Element, related: dict[str, tuple[str, str]]) -> Iterator[SheetPart]:
    for listed in children(root, "sheets"):
        for sheet in children(listed, "sheet"):
            name = attribute(sheet, "name")
            kind, part = related.get(attribute(sheet, "id"), ("", ""))
            if not part:
                raise damaged(package.name, f'the sheet "{name}" has no cells stored')
            if kind == "worksheet":
                hidden = attribute(sheet, "state", "visible").casefold() in {"hidden", "veryhidden"}
                yield SheetPart(name, part, hidden)


def read_totals_rows(package: Package, part: str) -> frozenset[int]:
    """Return the total rows under the tables of a sheet: they are sums, not records."""
    found: set[int] = set()
    for kind, table in _related(package, part).values():
        if kind != "table" or table not in package:
            continue
        root = root_of(package, table)
        rows, last = attribute(root, "totalsRowCount", "0"), attribute(root, "ref").rpartition(":")[2]
        row = whole_number(last.lstrip("ABCDEFGHIJKLMNOPQRSTUVWXYZ"))
        if rows == "1" and row is not None:
            found.add(row)
    return frozenset(found)


def read_properties(package: Package) -> dict[str, str]:
    """Return the custom document properties by name, as text."""
    related = _related(package, "").values()
    part = next((part for kind, part in related if kind == "custom-properties"), _CUSTOM)
    if part not in package:
        return {}
    return {
        attribute(entry, "name"): "".join(child.text or "" for child in entry).strip()
        for entry in children(root_of(package, part), "property")
    }
