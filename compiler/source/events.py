"""Large parts as a stream of elements: an expat parser that refuses document types, and entities with them.

The parts of a sheet are too long for a tree. Names arrive without their namespace where it is one of the two main
ones of spreadsheets (ordinary and Strict); elements of other namespaces are not reported.
"""

from __future__ import annotations

from collections.abc import Callable
from xml.parsers import expat

from defusedxml.common import DTDForbidden

from compiler.source.container import Package
from compiler.source.unreadable import damaged

MAIN_NAMESPACES = (
    "http://schemas.openxmlformats.org/spreadsheetml/2006/main",
    "http://purl.oclc.org/ooxml/spreadsheetml/main",
)
_SEPARATOR = "}"
Start = Callable[[str, dict[str, str]], None]
End = Callable[[str], None]


def element_names(*names: str) -> dict[str, str]:
    """Return a table from names as expat reports them, in either main namespace or in none, to bare names."""
    return {
        full: name for name in names for full in (name, *(f"{space}{_SEPARATOR}{name}" for space in MAIN_NAMESPACES))
    }


def parse(package: Package, part: str, start: Start, end: End, text: Callable[[str], object]) -> None:
    """Feed a part to the handlers; where it is not well-formed XML the workbook is damaged."""
    parser = expat.ParserCreate(namespace_separator=_SEPARATOR)
    parser.buffer_text = True
    parser.StartElementHandler = start
    parser.EndElementHandler = end
    parser.CharacterDataHandler = text
    parser.StartDoctypeDeclHandler = _no_doctype
    try:
        parser.Parse(package.read(part), True)  # noqa: FBT003 - expat takes it by position
    except (expat.ExpatError, DTDForbidden, ValueError, LookupError) as broken:
        raise damaged(package.name, f'its part "{part}" cannot be read') from broken


def _no_doctype(name: str, system_id: str | None, public_id: str | None, _subset: object) -> None:
    raise DTDForbidden(name, system_id, public_id)
