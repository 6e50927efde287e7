"""The list of sheets with another in front, and everything that counts sheets by their order.

Names that belong to a sheet, the windows' chosen sheets and the list in the document's properties go by order;
formulas, the order of calculation and pivots go by name or by a number of the sheet's own, and stay.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence

from compiler.cellref import column_letters
from compiler.frozen import frozen
from compiler.render.checked_package import Parts
from compiler.render.checked_xml import (
    Edit,
    MalformedPart,
    Node,
    appended,
    content_of,
    edited,
    parse,
    placed,
    prefixed,
    removal,
    with_attribute,
)
from compiler.render.clean import as_value, escaped
from compiler.render.template_rules import quoted

_ORDER = (
    "fileVersion",
    "fileSharing",
    "workbookPr",
    "AlternateContent",
    "workbookProtection",
    "bookViews",
    "sheets",
    "functionGroups",
    "externalReferences",
    "definedNames",
)
_PROPERTIES = "docProps/app.xml"


@frozen
class Listed:
    """A sheet as the workbook lists it: the relationship that leads to it, of which kind, and its part."""

    name: str
    relation: str
    kind: str
    part: str


@frozen
class Front:
    """The sheet that goes in front: its relationship, and what its rows and columns are called, by defined name."""

    name: str
    relation: str
    names: tuple[tuple[str, str], ...]


def front_of(name: str, relation: str, head_row: int, columns: int, rows: int) -> Front:
    """Return a sheet to go in front: its table is filtered from the row of its heads, which is repeated in print."""
    sheet = quoted(name)
    last = f"${column_letters(columns)}${head_row + max(1, rows)}"
    return Front(
        name,
        relation,
        (
            ("_xlnm._FilterDatabase", f"{sheet}!$A${head_row}:{last}"),
            ("_xlnm.Print_Titles", f"{sheet}!${head_row}:${head_row}"),
        ),
    )


def listed_sheets(parts: Parts) -> tuple[Listed, ...]:
    """Return the sheets in order."""
    relations = {relation.id: relation for relation in parts.relations(parts.main)}
    found = []
    for node in parse(parts.read(parts.main)).all("sheets", "sheet"):
        relation = relations.get(node.get("id"))
        target = relation.target if relation and relation.target else ""
        found.append(Listed(node.get("name"), node.get("id"), relation.kind if relation else "", target))
    return tuple(found)


def with_front(parts: Parts, gone: Collection[int], front: Front) -> None:
    """Take sheets out, by their places counted from 0, and put one in front; what goes by order is put right."""
    data = parts.read(parts.main)
    root = parse(data)
    edits = [*_sheets(root, gone, front, parts.links), *_views(data, root, gone), *_names(data, root, gone, front)]
    parts.write(parts.main, edited(data, edits))


def _moved(place: int, gone: Collection[int]) -> int | None:
    """Return where a sheet stands afterwards; None where it is gone."""
    return None if place in gone else place + 1 - sum(1 for other in gone if other < place)


def with_last(parts: Parts, name: str, relation: str) -> None:
    """Put a sheet behind the others."""
    data = parts.read(parts.main)
    root = parse(data)
    table = next(root.all("sheets"))
    entry = _entry(root, list(table.all("sheet")), name, relation, parts.links)
    parts.write(parts.main, edited(data, [appended(data, table, entry)]))


def _entry(root: Node, others: Sequence[Node], name: str, relation: str, links: str) -> bytes:
    """Return the entry of a sheet beside others in the list of sheets."""
    numbers = [int(node.get("sheetId")) for node in others if node.get("sheetId").isdecimal()]
    prefix = root.prefix_of(links)
    own = "" if prefix else f' xmlns:r="{links}"'
    markup = (
        f'<sheet{own} name={as_value(name)} sheetId="{max(numbers, default=0) + 1}" '
        f"{prefix or 'r:'}id={as_value(relation)}/>"
    )
    return prefixed(markup, root.prefix).encode()


def _sheets(root: Node, gone: Collection[int], front: Front, links: str) -> Iterator[Edit]:
    table = next(root.all("sheets"))
    sheets = list(table.all("sheet"))
    stay = [node for place, node in enumerate(sheets) if place not in gone]
    yield table.inner, table.inner, _entry(root, stay, front.name, front.relation, links)
    yield from (removal(node) for place, node in enumerate(sheets) if place in gone)


def _views(data: bytes, root: Node, gone: Collection[int]) -> Iterator[Edit]:
    """Yield the edits of the windows: the first opens on the sheet in front, others on the sheet they showed."""
    for number, view in enumerate(root.all("bookViews", "workbookView")):
        for name in ("activeTab", "firstSheet"):
            place = view.attributes.get(name, "0" if number else "")
            if place.isdecimal():
                yield with_attribute(data, view, name, str((_moved(int(place), gone) or 0) if number else 0))


def _names(data: bytes, root: Node, gone: Collection[int], front: Front) -> Iterator[Edit]:
    for node in root.all("definedNames", "definedName"):
        place = node.get("localSheetId")
        if place.isdecimal():
            moved = _moved(int(place), gone)
            yield removal(node) if moved is None else with_attribute(data, node, "localSheetId", str(moved))
    new = "".join(
        f'<definedName name="{name}" localSheetId="0"{hidden}>{escaped(formula)}</definedName>'
        for name, formula in front.names
        for hidden in (' hidden="1"' if "Filter" in name else "",)
    )
    table = root.first("definedNames")
    if table:
        yield appended(data, table, prefixed(new, root.prefix).encode())
    else:
        markup = prefixed(f"<definedNames>{new}</definedNames>", root.prefix).encode()
        yield placed(data, root, _ORDER, "definedNames", markup)


def retitle(parts: Parts, before: Sequence[str], after: Sequence[str]) -> None:
    """Put the names of the worksheets right in the document's properties, where they stand as programs write them."""
    if _PROPERTIES not in parts:
        return
    try:
        data = parts.read(_PROPERTIES)
        root = parse(data)
        edits = list(_titles(data, root, before, after))
    except MalformedPart:
        return
    if edits:
        parts.write(_PROPERTIES, edited(data, edits))


def _titles(data: bytes, root: Node, before: Sequence[str], after: Sequence[str]) -> Iterator[Edit]:
    vector = root.first("TitlesOfParts", "vector")
    counted = root.first("HeadingPairs", "vector", "variant", "i4")
    if vector is None or counted is None or not before:
        return
    titles = list(vector.all("lpstr"))
    told = [content_of(data, node) for node in titles]
    if content_of(data, counted).strip() != str(len(before)) or told[: len(before)] != list(before):
        return
    name = titles[0].name
    new = "".join(f"<{name}>{escaped(title)}</{name}>" for title in after)
    yield counted.inner, counted.close, str(len(after)).encode()
    yield with_attribute(data, vector, "size", str(len(titles) - len(before) + len(after)))
    yield titles[0].start, titles[len(before) - 1].end, new.encode()
