"""Pages as they are drawn, and how a file keeps them for the next run.

A file of room sheets has a page for each group, session and week, and from one run to the next few of them change. The
others are taken over as they are, without laying them out again. Their operators stand in the file as they were drawn;
what stands on each page is written once more, in a few kilobytes, where a file keeps what its own program wants to find
again (page-piece dictionaries, ISO 32000-1, 14.5): read out of the structure tree it would take as long as the layout.
"""

from __future__ import annotations

import json
import zlib
from io import BytesIO
from typing import Any

import pikepdf

from compiler.frozen import frozen
from compiler.render.booklet.raw import Written, register, stream
from compiler.render.booklet.tags import Outline

_OURS = "ProgrammeCompiler"
_CHANGED = "D:20000101000000Z"  # the entry must be there; no clock is read


@frozen
class Sketch:
    """A page that was drawn, but for its foot: its operators, deflated, and what stands on it in reading order.

    `alike`: it is drawn so in every file, as it has no character of a font that only some files have.
    """

    section: str
    bookmark: str
    operators: bytes
    outline: Outline
    alike: bool


class Sketches:
    """Gathers the sketches of a file while its pages are put down, but for the operators."""

    def __init__(self) -> None:
        self._told: list[str] = []

    def add(self, sketch: Sketch) -> None:
        """Add the next page."""
        self._told.append(json.dumps((sketch.section, sketch.bookmark, sketch.outline, sketch.alike)))

    def hidden(self, document: Any) -> Any:
        """Return the dictionary for the catalogue of a document that keeps what was added."""
        told = zlib.compress(f"[{','.join(self._told)}]".encode())
        number = register(document, Written(stream(told, "")))
        return Written(f"<</{_OURS}<</LastModified({_CHANGED})/Private {number} 0 R>>>>".encode("ascii"))


def read_sketches(content: bytes, password: str = "") -> list[Sketch]:
    """Return the pages of a file that `render_in_turn` made, locked by this password or by none."""
    with pikepdf.open(BytesIO(content), password=password) as file:
        told = json.loads(file.Root.PieceInfo[f"/{_OURS}"].Private.read_bytes())
        operators = [_first(page.obj.Contents).read_raw_bytes() for page in file.pages]
    return [
        Sketch(section, bookmark, content, outline, alike)
        for (section, bookmark, outline, alike), content in zip(told, operators, strict=True)
    ]


def _first(contents: pikepdf.Object) -> pikepdf.Object:
    """Return the operators of a page without those of its foot."""
    return contents[0] if isinstance(contents, pikepdf.Array) else contents
