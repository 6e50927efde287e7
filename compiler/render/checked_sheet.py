"""One sheet of the coach's: marks laid over its cells, which keep their own formats, values and bytes.

A mark is a conditional format. The cells are not touched for it, a blank cell that is not even stored can have one,
it wins over fills of every kind, and it can be told from the coach's own by its formula, so that the next checked
copy takes it out again. Cloned cell formats would have needed new cells, and nobody could undo them.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from compiler.flags.model import Severity
from compiler.render.checked_marks import WORST_FIRST, Mark
from compiler.render.checked_xml import Edit, Node, placed, prefixed, removal, with_attribute
from compiler.source.sheet import range_of

SIGN = "programme flags"
"""What our formula says; it is true whatever stands in the cell."""

_FORMULA = f'N("{SIGN}")=0'
_RANGES = 400  # cells of one conditional format; programs read long lists slowly
SHALLOW = ("sheetData",)
_ORDER = (
    "sheetPr",
    "dimension",
    "sheetViews",
    "sheetFormatPr",
    "cols",
    "sheetData",
    "sheetCalcPr",
    "sheetProtection",
    "protectedRanges",
    "scenarios",
    "autoFilter",
    "sortState",
    "dataConsolidate",
    "customSheetViews",
    "mergeCells",
    "phoneticPr",
    "conditionalFormatting",
    "dataValidations",
    "hyperlinks",
    "printOptions",
    "pageMargins",
    "pageSetup",
    "headerFooter",
    "rowBreaks",
    "colBreaks",
    "customProperties",
    "cellWatches",
    "ignoredErrors",
    "smartTags",
    "drawing",
    "legacyDrawing",
)
"""ECMA-376 part 1, 18.3.1.99 (CT_Worksheet), as far as something of ours goes in."""


def merges(root: Node) -> list[tuple[int, int, int, int]]:
    """Return the merged ranges of a sheet: first row, first column, last row, last column."""
    found = (range_of(node.get("ref")) for node in root.all("mergeCells", "mergeCell"))
    return [merge for merge in found if merge]


def drawing_id(root: Node) -> str | None:
    """Return the relationship by which a sheet names the boxes of its comments."""
    node = root.first("legacyDrawing")
    return node.get("id") if node else None


def naming_drawing(data: bytes, root: Node, number: str, space: str) -> Edit:
    """Return the edit that makes a sheet name a drawing of boxes."""
    node = root.first("legacyDrawing")
    written = next((name for name in node.attributes if name.rpartition(":")[2] == "id"), None) if node else None
    if node and written:
        return with_attribute(data, node, written, number)
    prefix = root.prefix_of(space)
    own = "" if prefix else f' xmlns:r="{space}"'
    markup = prefixed(f'<legacyDrawing{own} {prefix or "r:"}id="{number}"/>', root.prefix).encode()
    return placed(data, root, _ORDER, "legacyDrawing", markup)


def our_marks(data: bytes, root: Node) -> Iterator[Edit]:
    """Yield the edits that take earlier marks of ours out."""
    for node in root.all("conditionalFormatting"):
        rules = list(node.all("cfRule"))
        ours = [rule for rule in rules if SIGN.encode() in data[rule.start : rule.end]]
        if ours and len(ours) == len(rules):
            yield removal(node)
        else:
            yield from map(removal, ours)


def new_marks(data: bytes, root: Node, marks: Sequence[Mark], formats: dict[Severity, int]) -> Iterator[Edit]:
    """Yield the edits that lay marks over cells, in front of the coach's conditional formats."""
    chunks = [
        (severity, cells[at : at + _RANGES])
        for severity in WORST_FIRST
        if (cells := [mark.a1 for mark in marks if mark.severity is severity])
        for at in range(0, len(cells), _RANGES)
    ]
    if not chunks:
        return
    yield from _moved_back(data, root, len(chunks))
    formula = _FORMULA.replace('"', "&quot;")
    markup = "".join(
        f'<conditionalFormatting sqref="{" ".join(cells)}"><cfRule type="expression" dxfId="{formats[severity]}" '
        f'priority="{number}"><formula>{formula}</formula></cfRule></conditionalFormatting>'
        for number, (severity, cells) in enumerate(chunks, start=1)
    )
    yield placed(data, root, _ORDER, "conditionalFormatting", prefixed(markup, root.prefix).encode())


def _moved_back(data: bytes, root: Node, room: int) -> Iterable[Edit]:
    """Yield the edits that give the coach's rules numbers above ours."""
    rules = {
        node.start: (node, int(node.get("priority")))
        for node in root.walk()
        if node.local == "cfRule" and node.get("priority").isdecimal()
    }
    by = room + 1 - min((number for _, number in rules.values()), default=room + 1)
    if by > 0:
        for node, number in rules.values():
            yield with_attribute(data, node, "priority", str(number + by))


def not_selected(data: bytes, root: Node) -> Iterator[Edit]:
    """Yield the edits that leave a sheet unselected in the first window, where the Flags sheet is on top.

    With two sheets selected, what is typed into one would go into both.
    """
    for view in root.all("sheetViews", "sheetView"):
        if view.get("workbookViewId", "0") == "0" and "tabSelected" in view.attributes:
            yield with_attribute(data, view, "tabSelected", None)
