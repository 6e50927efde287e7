"""The looks that a checked copy needs, put into the coach's styles without moving any that are there.

A look that is there already, from an earlier checked copy, is used again. Marks are told apart without colour: an
error has a drawn-through edge and a mid tone, a warning a dashed edge and a light one, a note a dotted edge.
"""

from __future__ import annotations

from compiler.flags.model import Severity
from compiler.frozen import frozen
from compiler.render.checked_package import CONTENT_TYPES, MAIN, Parts
from compiler.render.checked_xml import Edit, appended, edited, parse, placed, prefixed, with_attribute

_ORDER = (
    "numFmts",
    "fonts",
    "fills",
    "borders",
    "cellStyleXfs",
    "cellXfs",
    "cellStyles",
    "dxfs",
    "tableStyles",
    "colors",
    "extLst",
)
_ENTRY = {"fonts": "font", "fills": "fill", "borders": "border", "cellStyleXfs": "xf", "cellXfs": "xf", "dxfs": "dxf"}
_NO_BORDER = "<border><left/><right/><top/><bottom/><diagonal/></border>"
_NO_FILL = '<fill><patternFill patternType="none"/></fill>'
_FIRST = {
    "fonts": '<font><sz val="11"/><name val="Calibri"/><family val="2"/></font>',
    "fills": f'{_NO_FILL}<fill><patternFill patternType="gray125"/></fill>',
    "borders": _NO_BORDER,
    "cellStyleXfs": '<xf numFmtId="0" fontId="0" fillId="0" borderId="0"/>',
    "cellXfs": '<xf numFmtId="0" fontId="0" fillId="0" borderId="0" xfId="0"/>',
    "dxfs": "",
}
"""What every workbook has at the start of a table of styles; cells without a style mean its first entry."""

_NO_STYLES = (
    '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n<styleSheet xmlns="{}">'
    '<cellStyles count="1"><cellStyle name="Normal" xfId="0" builtinId="0"/></cellStyles></styleSheet>'
)

TONES = {Severity.ERROR: "FFE9A58F", Severity.WARNING: "FFFFE08A", Severity.NOTE: "FFE8EFF5"}
EDGES = {Severity.ERROR: "thin", Severity.WARNING: "dashed", Severity.NOTE: "dotted"}
"""Edges that the conditional formats of all programs can draw."""


@frozen
class Look:
    """How cells of the Flags sheet look."""

    bold: bool = False
    size: int = 11
    link: bool = False
    tone: str | None = None
    edge: str | None = None
    under: bool = False
    wrap: bool = False
    inset: bool = True
    text: bool = False  # stays text when it is edited, whatever it begins with


HAIR = "hair"
LOOKS = {
    "title": Look(bold=True, size=16, inset=False),
    "said": Look(inset=False),
    "count": Look(bold=True),
    "head": Look(bold=True, under=True),
    "text": Look(edge=HAIR, wrap=True, text=True),
    "link": Look(edge=HAIR, wrap=True, link=True, text=True),
    **{str(severity): Look(bold=True, tone=TONES[severity], edge=EDGES[severity]) for severity in Severity},
}


@frozen
class Styles:
    """Where the looks stand: cell formats by name, formats of marks by severity."""

    cells: dict[str, int]
    marks: dict[Severity, int]


def with_styles(parts: Parts) -> Styles:
    """Put the looks into the workbook's styles; return their numbers."""
    part = parts.related(parts.main, "styles")
    if part is None:
        part = parts.free_name("xl/styles{}.xml") if "xl/styles.xml" in parts else "xl/styles.xml"
        space = parse(parts.read(parts.main), {"sheets"}).namespace() or MAIN
        parts.write(part, _NO_STYLES.format(space).encode())
        parts.set_type(part, CONTENT_TYPES["styles"])
        parts.relate(parts.main, "styles", part)
    sheet = _StyleSheet(parts.read(part))
    cells = {name: sheet.cell_format(look) for name, look in LOOKS.items()}
    marks = {severity: sheet.number("dxfs", _mark(severity)) for severity in Severity}
    if sheet.data != parts.read(part):
        parts.write(part, sheet.data)
    return Styles(cells, marks)


class _StyleSheet:
    """The styles of a workbook as bytes that grow."""

    def __init__(self, data: bytes) -> None:
        self.data = data
        self._root = parse(data)

    def _edit(self, edits: list[Edit]) -> None:
        self.data = edited(self.data, edits)
        self._root = parse(self.data)

    def cell_format(self, look: Look) -> int:
        font = self.number("fonts", _font(look))
        fill = self.number("fills", _solid(look.tone) if look.tone else _NO_FILL)
        border = self.number("borders", _border(look))
        self._ensure("cellStyleXfs")
        wrap = ' wrapText="1"' if look.wrap else ""
        indent = ' indent="1"' if look.inset else ""
        quote = ' quotePrefix="1"' if look.text else ""
        upright = "bottom" if look.under else "top"
        return self.number(
            "cellXfs",
            f'<xf numFmtId="0" fontId="{font}" fillId="{fill}" borderId="{border}" xfId="0"'
            f'{quote} applyFont="1" applyFill="1"'
            ' applyBorder="1" applyAlignment="1">'
            f'<alignment horizontal="left" vertical="{upright}"{indent}{wrap}/></xf>',
        )

    def number(self, group: str, entry: str) -> int:
        """Return the number of an entry; it is added where it is not there yet."""
        self._ensure(group)
        table = next(self._root.all(group))
        entries = list(table.all(_ENTRY[group]))
        wanted = prefixed(entry, self._root.prefix).encode()
        for number, node in enumerate(entries):
            if self.data[node.start : node.end] == wanted:
                return number
        edits = [appended(self.data, table, wanted)]
        if table.get("count"):
            edits.append(with_attribute(self.data, table, "count", str(len(entries) + 1)))
        self._edit(edits)
        return len(entries)

    def _ensure(self, group: str) -> None:
        """Make sure that a table is there, with the entries that every workbook has."""
        root = self._root
        table = root.first(group)
        first = prefixed(_FIRST[group], root.prefix).encode()
        if table is None:
            markup = prefixed(f"<{group}>{{}}</{group}>", root.prefix).encode().replace(b"{}", first)
            self._edit([placed(self.data, root, _ORDER, group, markup)])
        elif not table.children and first:
            filled = prefixed(f"<{group}>{{}}</{group}>", root.prefix).encode().replace(b"{}", first)
            self._edit([(table.start, table.end, filled)])


def _font(look: Look) -> str:
    bold = "<b/>" if look.bold else ""
    line = "<u/>" if look.link else ""
    return f'<font>{bold}{line}<sz val="{look.size}"/><name val="Calibri"/><family val="2"/></font>'


def _solid(tone: str) -> str:
    return f'<fill><patternFill patternType="solid"><fgColor rgb="{tone}"/><bgColor indexed="64"/></patternFill></fill>'


def _border(look: Look) -> str:
    if look.under:
        return '<border><left/><right/><top/><bottom style="medium"><color auto="1"/></bottom><diagonal/></border>'
    if look.edge is None:
        return _NO_BORDER
    sides = ("bottom",) if look.edge == HAIR else ("left", "right", "top", "bottom")
    return f"<border>{_sides(sides, look.edge)}<diagonal/></border>"


def _sides(sides: tuple[str, ...], edge: str) -> str:
    return "".join(
        f'<{side} style="{edge}"><color auto="1"/></{side}>' if side in sides else f"<{side}/>"
        for side in ("left", "right", "top", "bottom")
    )


def _mark(severity: Severity) -> str:
    """Return the format that a conditional format lays over the coach's own.

    Its letters are black: white ones of a dark header would be lost on the tone.
    """
    edges = _sides(("left", "right", "top", "bottom"), EDGES[severity])
    tone = f'<fgColor rgb="{TONES[severity]}"/><bgColor rgb="{TONES[severity]}"/>'
    black = '<font><color rgb="FF000000"/></font>'
    return (
        f'<dxf>{black}<fill><patternFill patternType="solid">{tone}</patternFill></fill><border>{edges}</border></dxf>'
    )
