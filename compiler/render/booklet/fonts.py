"""Characters -> glyph codes, and the subsets of the fonts that a document embeds.

Every document embeds the same first subset of each face, a fixed alphabet under fixed codes: its bytes are made
once a process, and one client's rare letter changes no other client's file. What lies outside goes into further
subsets of the document, in order of appearance. A code is one byte; 0 is never used (ISO 32000-1, 9.6.6.4).
"""

from __future__ import annotations

import zlib
from functools import cache, lru_cache
from typing import Any

from compiler.fallback import Fallback, in_use
from compiler.frozen import frozen
from compiler.layout.metrics import Face, Source, advance, characters, font, source_of
from compiler.render.booklet.raw import Written, register, stream

_ASCII = range(0x20, 0x7F)
_CODES = range(1, 0x100)
_FURTHER = "".join(
    chr(code)
    for code in (
        *range(0xA1, 0xAD),
        *range(0xAE, 0x100),
        *map(ord, "ŒœŠšŽžŸĆćČčĐđŁłŚśŹźŻż–—‘’‚“”„…•−×½¼¾⅓⅔→✓€"),
    )
)
_SYMBOLIC = 4
_MOST_IN_A_RANGE = 100


@cache
def first_subset() -> tuple[int, ...]:
    """Return the code point under each code of the alphabet, 0 where there is none. ASCII stands for itself."""
    points = [0] * len(range(0x100))
    for code in _ASCII:
        points[code] = code
    known = characters()
    further = [ord(sign) for sign in dict.fromkeys(_FURTHER) if ord(sign) in known]
    free = [code for code in _CODES if code not in _ASCII]
    for code, point in zip(free, further, strict=False):
        points[code] = point
    return tuple(points)


@cache
def first_codes() -> dict[str, int]:
    """Return the code of each character of the alphabet."""
    return {chr(point): code for code, point in enumerate(first_subset()) if point}


@frozen
class _Embedded:
    """The bytes of one subset. The font's dictionary lacks only the numbers of the objects it refers to."""

    name: str
    widths: str
    descriptor: str
    program: bytes
    to_unicode: bytes


@lru_cache(maxsize=64)
def _embedded(face: Source, subset: tuple[int, ...]) -> _Embedded:
    """Return a subset of a font ready to be written. Its name says what is in it."""
    parsed = font(face).face
    program = parsed.makeSubset(list(subset))
    letters = zlib.crc32(repr(subset).encode("ascii"))
    tag = "".join(chr(ord("A") + letters // 26**place % 26) for place in range(6))
    name = f"{tag}+{parsed.name.decode('ascii')}"
    box = " ".join(f"{edge:g}" for edge in parsed.bbox)
    descriptor = (
        f"/Type/FontDescriptor/FontName/{name}/Flags {_SYMBOLIC}/FontBBox[{box}]/ItalicAngle 0"
        f"/Ascent {parsed.ascent:g}/Descent {parsed.descent:g}/CapHeight {parsed.capHeight:g}"
        f"/StemV {parsed.stemV:g}/MissingWidth {parsed.defaultWidth:g}"
    )
    return _Embedded(
        name=name,
        widths=" ".join(str(advance(face, point)) for point in subset),
        descriptor=descriptor,
        program=stream(zlib.compress(program), f"/Length1 {len(program)}"),
        to_unicode=stream(zlib.compress(_to_unicode(name, subset)), ""),
    )


def _to_unicode(name: str, subset: tuple[int, ...]) -> bytes:
    """Return the map from codes to characters, for searching and copying (ISO 32000-1, 9.10.3)."""
    pairs = [
        f"<{code:02X}> <{chr(point).encode('utf-16-be').hex().upper()}>" for code, point in enumerate(subset) if point
    ]
    groups = [pairs[start : start + _MOST_IN_A_RANGE] for start in range(0, len(pairs), _MOST_IN_A_RANGE)]
    ranges = "\n".join(
        f"{len(group)} beginbfchar\n{chr(10).join(group)}\nendbfchar" for group in groups
    )
    return (
        "/CIDInit /ProcSet findresource begin\n12 dict begin\nbegincmap\n"
        "/CIDSystemInfo <</Registry (Adobe) /Ordering (UCS) /Supplement 0>> def\n"
        f"/CMapName /{name} def\n/CMapType 2 def\n"
        f"1 begincodespacerange\n<00> <FF>\nendcodespacerange\n{ranges}\n"
        "endcmap\nCMapName currentdict /CMap defineresource pop\nend\nend"
    ).encode("ascii")


def font_name(face: Face, subset: int) -> str:
    """Return the name of a subset of a face in the resources of a page."""
    return f"/{face.name[0]}{subset}"


class FontSet:
    """The fonts of one document while it is drawn: which further characters it has needed so far."""

    def __init__(self) -> None:
        self._further: dict[Source, list[int]] = {face: [] for face in Face}
        self._places: dict[tuple[Face, str], tuple[str, int]] = {}

    def place(self, face: Face, character: str) -> tuple[str, int]:
        """Return the name of a subset and the code of a character, a new code if this document has not had it."""
        code = first_codes().get(character)
        if code is not None:
            return font_name(face, 0), code
        known = self._places.get((face, character))
        if known:
            return known
        source = source_of(character, face, in_use())
        if isinstance(source, Fallback):  # one weight serves all faces, under the codes of the first that asked
            known = next((self._places[key] for one in Face if (key := (one, character)) in self._places), None)
        if known is None:
            further = self._further.setdefault(source, [])
            subset, index = divmod(len(further), len(_CODES))
            further.append(ord(character))
            known = self._name(source, subset), index + 1
        self._places[face, character] = known
        return known

    def _name(self, source: Source, subset: int) -> str:
        """Return the name of a further subset; fonts of the coach's are counted in the order of their first use."""
        if isinstance(source, Face):
            return font_name(source, subset + 1)
        return f"/F{list(self._further).index(source)}_{subset}"

    def embed(self, document: Any) -> None:
        """Add the fonts to a document, under the names that its pages use."""
        resources = document.idToObject["BasicFonts"].dict
        for source, further in self._further.items():
            starts = range(0, len(further), len(_CODES))
            subsets = {
                self._name(source, number): (0, *further[start : start + len(_CODES)])
                for number, start in enumerate(starts)
            }
            if isinstance(source, Face):
                subsets = {font_name(source, 0): first_subset(), **subsets}
            for name, subset in subsets.items():
                written = _add(document, _embedded(source, subset), len(subset))
                resources[name[1:]] = document.Reference(written)


def _add(document: Any, embedded: _Embedded, length: int) -> Written:
    """Add the objects of one subset to a document; return its dictionary, which is not added yet."""
    program = register(document, Written(embedded.program))
    to_unicode = register(document, Written(embedded.to_unicode))
    descriptor = f"<<{embedded.descriptor}/FontFile2 {program} 0 R>>".encode("ascii")
    described = register(document, Written(descriptor))
    return Written(
        f"<</Type/Font/Subtype/TrueType/BaseFont/{embedded.name}/FirstChar 0/LastChar {length - 1}"
        f"/Widths[{embedded.widths}]/ToUnicode {to_unicode} 0 R/FontDescriptor {described} 0 R>>".encode("ascii")
    )
