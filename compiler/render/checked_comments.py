"""Comments of one sheet: ours taken out, ours put in, the coach's kept.

A cell that has a comment gets our words after the coach's; one of a threaded conversation gets them in the copy
that older programs read, and the conversation itself is left alone. A part that cannot be read as XML is left as
it is, and its sheet gets no comments.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from compiler.render.checked_marks import AUTHOR, OPENING, OURS, Mark, Run, rich_text
from compiler.render.checked_package import CONTENT_TYPES, VML, Parts
from compiler.render.checked_vml import Box, Grid, has_shapes, new_drawing, next_block, with_boxes, without_boxes
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
)
from compiler.render.clean import escaped
from compiler.source.sheet import range_of

_BETWEEN = Run("\n\n")
Place = tuple[int, int]


# ---------------------------------------------------------------- taking out


def without_our_comments(parts: Parts, sheet: str, drawing: str | None) -> bool:
    """Take our words out of a sheet's comments; return whether its drawing of boxes is gone as well.

    `drawing` is the part that the sheet draws its boxes from.
    """
    part = parts.related(sheet, "comments")
    if part is None or OPENING.encode() not in parts.read(part):
        return False
    try:
        data, gone, left = _cut(parts.read(part))
    except MalformedPart:
        return False
    if left:
        parts.write(part, data)
    else:
        _drop(parts, sheet, part)
    if drawing is None:
        return False
    shapes = without_boxes(parts.raw(drawing), gone)
    if gone and not has_shapes(shapes):
        _drop(parts, sheet, drawing)
        return True
    parts.write(drawing, shapes)
    return False


def _drop(parts: Parts, sheet: str, part: str) -> None:
    parts.unrelate(sheet, [r.id for r in parts.relations(sheet) if (r.target or "").casefold() == part.casefold()])
    parts.remove(part)


def _cut(data: bytes) -> tuple[bytes, set[Place], int]:
    """Return comments without our words, the cells that have none left, and how many there still are."""
    root = parse(data)
    edits: list[Edit] = []
    gone: set[Place] = set()
    left = 0
    for comment in root.all("commentList", "comment"):
        texts = list(_texts(comment))
        whole = "".join(content_of(data, node) for node, _ in texts)
        ours = [found.span() for found in OURS.finditer(whole)]
        kept = "".join(part for part in OURS.split(whole))
        if ours and not kept.strip():
            edits.append(removal(comment))
            gone.add(_place(comment))
        else:
            left += 1
            edits += _cut_texts(data, texts, ours) if ours else []
    return edited(data, edits), gone, left


def _texts(comment: Node) -> Iterable[tuple[Node, Node]]:
    """Yield each text of a comment with the element that goes when it is empty: its run, or itself."""
    for text in comment.all("text"):
        for child in text.children:
            if child.local == "t":
                yield child, child
            elif child.local == "r":
                yield from ((node, child) for node in child.all("t"))


def _cut_texts(data: bytes, texts: Sequence[tuple[Node, Node]], ours: Sequence[tuple[int, int]]) -> Iterable[Edit]:
    at = 0
    for node, run in texts:
        old = content_of(data, node)
        new = "".join(
            letter for number, letter in enumerate(old, at) if not any(first <= number < last for first, last in ours)
        )
        at += len(old)
        if old and not new:
            yield removal(run)
        elif new != old:
            name = node.name.encode()
            kept = escaped(new).replace("\r", "&#13;").encode()
            yield node.start, node.end, b'<%s xml:space="preserve">%s</%s>' % (name, kept, name)


def _place(comment: Node) -> Place:
    found = range_of(comment.get("ref"))
    return found[:2] if found else (0, 0)


# ---------------------------------------------------------------- putting in


def with_comments(parts: Parts, sheet: str, drawing: str | None, marks: Sequence[Mark], grid: Grid) -> str | None:
    """Put a comment on every marked cell; return the relationship of a drawing that the sheet must now name."""
    part = parts.related(sheet, "comments")
    try:
        data = _with_words(parts.read(part) if part else _none(parts), {(m.row, m.column): m for m in marks})
        boxes = _boxes(data, marks, everywhere=drawing is None)
    except MalformedPart:
        return None
    if part is None:
        _forget_lost(parts, sheet)
        part = parts.free_name("xl/comments{}.xml")
        parts.set_type(part, CONTENT_TYPES["comments"])
        parts.relate(sheet, "comments", part)
    parts.write(part, data)
    fresh = next_block(parts.raw(name) for name in parts.names() if name.casefold().endswith(".vml"))
    old = parts.raw(drawing) if drawing else new_drawing(fresh)
    target = drawing or parts.free_name("xl/drawings/vmlDrawing{}.vml")
    parts.write(target, with_boxes(old, boxes, grid, fresh))
    if drawing:
        return None
    parts.set_ending("vml", VML)
    return parts.relate(sheet, "vmlDrawing", target)


def _forget_lost(parts: Parts, sheet: str) -> None:
    """Take away relationships to comments that are not in the file."""
    lost = [r.id for r in parts.relations(sheet) if r.kind == "comments"]
    if lost:
        parts.unrelate(sheet, lost)


def _none(parts: Parts) -> bytes:
    return (
        f'<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n<comments xmlns="{parts.space}">'
        "<authors></authors><commentList></commentList></comments>"
    ).encode()


def _with_words(data: bytes, marks: Mapping[Place, Mark]) -> bytes:
    data, author = _with_author(data)
    root = parse(data)
    edits: list[Edit] = []
    there: set[Place] = set()
    for comment in root.all("commentList", "comment"):
        place = _place(comment)
        text = comment.first("text")
        if place in marks and place not in there and text is not None:
            there.add(place)
            edits += _added(data, text, marks[place])
    new = "".join(
        f'<comment ref="{mark.a1}" authorId="{author}"><text>{rich_text(mark.runs())}</text></comment>'
        for place, mark in marks.items()
        if place not in there
    )
    comments = root.first("commentList")
    markup = prefixed(new if comments else f"<commentList>{new}</commentList>", root.prefix).encode()
    return edited(data, [*edits, appended(data, comments or root, markup)])


def _added(data: bytes, text: Node, mark: Mark) -> Iterable[Edit]:
    """Yield the edits that put our words after the coach's: runs, and a bare text made one."""
    prefix = text.prefix.encode()
    bare = [node for node in text.children if node.local == "t"]
    for node in bare:
        yield node.start, node.end, b"<%sr>%s</%sr>" % (prefix, data[node.start : node.end], prefix)
    written = any(node.local in {"t", "r"} for node in text.children)
    markup = prefixed(rich_text((_BETWEEN, *mark.runs()) if written else mark.runs()), text.prefix).encode()
    after = [node for node in text.children if node.local in {"t", "r"}]
    yield (after[-1].end, after[-1].end, markup) if after else appended(data, text, markup)


def _with_author(data: bytes) -> tuple[bytes, int]:
    """Return comments with us among the authors, and our number there."""
    root = parse(data)
    table = root.first("authors")
    names = [content_of(data, node) for node in table.all("author")] if table else []
    if AUTHOR in names:
        return data, names.index(AUTHOR)
    author = f"<author>{AUTHOR}</author>"
    if table:
        return edited(data, [appended(data, table, prefixed(author, root.prefix).encode())]), len(names)
    markup = prefixed(f"<authors>{author}</authors>", root.prefix).encode()
    return edited(data, [placed(data, root, ("authors", "commentList"), "authors", markup)]), 0


def _boxes(data: bytes, marks: Sequence[Mark], *, everywhere: bool) -> list[Box]:
    """Return the boxes that are needed: of marked cells, or of every comment where none has a box yet."""
    wanted = {(mark.row, mark.column) for mark in marks}
    return [
        Box(*_place(comment), "".join(content_of(data, node) for node, _ in _texts(comment)))
        for comment in parse(data).all("commentList", "comment")
        if everywhere or _place(comment) in wanted
    ]
