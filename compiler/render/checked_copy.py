"""The coach's workbook again, with every flag shown on its cell: workbook bytes and flags in, workbook bytes out.

The file is patched part by part. Cells, values, formulas, formats, pictures, charts, drop-downs, names and all that
this program knows nothing of keep their bytes; only parts that a mark goes into are changed, and only at that place.
Marks of an earlier checked copy are taken out first, so that they do not pile up. Macros are left out, because the
copy is an .xlsx; its Flags sheet says so.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from compiler.flags.model import Flag
from compiler.render.checked_comments import with_comments, without_our_comments
from compiler.render.checked_list import FlagsSheet, flags_front, free_sheet_name, is_ours, may_be_ours
from compiler.render.checked_marks import OPENING, marks_of
from compiler.render.checked_package import CONTENT_TYPES, Parts
from compiler.render.checked_sheet import (
    SHALLOW,
    SIGN,
    drawing_id,
    merges,
    naming_drawing,
    new_marks,
    not_selected,
    our_marks,
)
from compiler.render.checked_styles import Styles, with_styles
from compiler.render.checked_vml import Grid
from compiler.render.checked_workbook import Listed, listed_sheets, retitle, with_front
from compiler.render.checked_xml import Edit, MalformedPart, Node, edited, parse, removal
from compiler.source.container import open_package
from compiler.source.xlsx import read_workbook_bytes

_NAME = "the workbook"
_MACRO_SHEETS = frozenset({"xlMacrosheet", "xlIntlMacrosheet"})


def render_checked_copy(workbook: bytes, flags: tuple[Flag, ...]) -> bytes:
    """Return the workbook with a Flags sheet in front, and a mark and a comment on every flagged cell.

    Equal workbooks and flags give equal bytes. Raises `UnreadableWorkbook` where the bytes are no workbook.
    """
    open_package(workbook, _NAME)
    parts = Parts(workbook)
    before = listed_sheets(parts)
    gone = _gone(workbook, before)
    lost_macros = _without_macros(parts, [before[place] for place in gone])
    stay = [sheet for place, sheet in enumerate(before) if place not in gone]
    sheets = [sheet for sheet in stay if sheet.kind == "worksheet" and sheet.part in parts]
    for sheet in sheets:
        _unmark(parts, sheet.part)
    styles = with_styles(parts)
    by_sheet = _by_sheet(flags, sheets)
    for sheet in stay:
        _mark(parts, sheet.part, by_sheet.get(sheet.part, ()), styles)
    names = {sheet.name.casefold(): sheet.name for sheet in reversed(stay)}
    listing = FlagsSheet(flags, styles.cells, lost_macros, lambda name: names.get(name.casefold()))
    name = free_sheet_name([sheet.name for sheet in stay])
    part = parts.free_name("xl/worksheets/sheet{}.xml")
    parts.write(part, listing.markup(parts.space))
    parts.set_type(part, CONTENT_TYPES["worksheet"])
    relation = parts.relate(parts.main, "worksheet", part)
    with_front(parts, gone, flags_front(name, relation, len(flags)))
    retitle(
        parts,
        [sheet.name for sheet in before if sheet.kind == "worksheet"],
        [name, *(sheet.name for sheet in stay if sheet.kind == "worksheet")],
    )
    return parts.to_bytes()


def _gone(workbook: bytes, sheets: Sequence[Listed]) -> frozenset[int]:
    """Return the places of sheets that do not go into the copy: earlier Flags sheets, and sheets of macros."""
    gone = {place for place, sheet in enumerate(sheets) if sheet.kind in _MACRO_SHEETS}
    if any(may_be_ours(sheet.name) for sheet in sheets):
        book = read_workbook_bytes(workbook, _NAME, may_be_ours)
        ours = {sheet.name for sheet in book.sheets if may_be_ours(sheet.name) and is_ours(sheet)}
        gone |= {place for place, sheet in enumerate(sheets) if sheet.name in ours}
    return frozenset(gone)


def _without_macros(parts: Parts, sheets: Sequence[Listed]) -> bool:
    """Take out macros and the sheets that go, with everything that only they lead to; return whether macros went.

    What the workbook says it is becomes an ordinary workbook, also where it was a pattern for others.
    """
    macros = [r.id for r in parts.relations(parts.main) if r.kind == "vbaProject"]
    code = [name for name in parts.names() if name.casefold().endswith("vbaproject.bin")]
    parts.cut([*macros, *(sheet.relation for sheet in sheets)])
    for name in code:
        if name in parts:
            parts.remove(name)
    parts.set_type(parts.main, CONTENT_TYPES["officeDocument"])
    return bool(macros or code) or any(sheet.kind in _MACRO_SHEETS for sheet in sheets)


def _by_sheet(flags: Sequence[Flag], sheets: Sequence[Listed]) -> Mapping[str, list[Flag]]:
    """Return the flags that have a cell, by the part of their sheet."""
    part_of = {sheet.name.casefold(): sheet.part for sheet in reversed(sheets)}
    found: dict[str, list[Flag]] = {}
    for flag in flags:
        part = part_of.get(flag.place.sheet.casefold()) if flag.place else None
        if part:
            found.setdefault(part, []).append(flag)
    return found


def _unmark(parts: Parts, sheet: str) -> None:
    """Take marks of an earlier checked copy out of a sheet."""
    comments = parts.related(sheet, "comments")
    noted = comments is not None and OPENING.encode() in parts.raw(comments)
    if not noted and SIGN.encode() not in parts.raw(sheet):
        return  # a copy of ours is in UTF-8, and so is what programs save
    data = parts.read(sheet)
    root = parse(data, SHALLOW)
    edits = list(our_marks(data, root))
    boxes = root.first("legacyDrawing")
    if without_our_comments(parts, sheet, _drawing(parts, sheet, root)) and boxes:
        edits.append(removal(boxes))
    parts.write(sheet, edited(data, edits))


def _mark(parts: Parts, sheet: str, flags: Sequence[Flag], styles: Styles) -> None:
    """Mark the flagged cells of a sheet, and leave it unselected."""
    try:
        data = parts.read(sheet) if sheet in parts else b""
        if not flags and b"tabSelected" not in data:
            return
        root = parse(data, SHALLOW)
    except MalformedPart:
        return  # a sheet that nobody reads
    edits: list[Edit] = list(not_selected(data, root))
    marks = marks_of(flags, merges(root))
    if marks:
        edits += new_marks(data, root, marks, styles.marks)
        number = with_comments(parts, sheet, _drawing(parts, sheet, root), marks, Grid(root))
        if number:
            edits.append(naming_drawing(data, root, number, parts.links))
    if edits:
        parts.write(sheet, edited(data, edits))


def _drawing(parts: Parts, sheet: str, root: Node) -> str | None:
    """Return the part that a sheet draws the boxes of its comments from."""
    number = drawing_id(root)
    target = next((r.target for r in parts.relations(sheet) if r.id == number), None)
    return target if target and target in parts else None
