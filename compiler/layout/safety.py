"""The safety page -> the bodies of its pages: in the largest type that fits one page, else over several."""

from __future__ import annotations

from compiler.documents.booklet_value import EmergencyLine, Safety, SafetyList, Wording
from compiler.fallback import remembered
from compiler.layout.editions import Edition
from compiler.layout.lines import plain, wrap
from compiler.layout.measures import BODY_LEAD, MM
from compiler.layout.metrics import Face, width
from compiler.layout.page import Box, Branch, Bullet, Group, Part, Role, Stroke, Text
from compiler.layout.piece import Filler, Piece, decoration, paragraph, text_lines
from compiler.layout.running import framed, title_piece

_BASELINE = 0.85
_BULLET = 1.3 * MM
_HALF_SMALL_LETTER = 0.243
_ITEM_X = 5 * MM
_CONTACT_BOX = 10 * MM
_LABEL_LEAST = 0.21
_LABEL_GAP = 6 * MM
_LINE_SPACE = 1.6 * MM


@remembered(16)
def lay_out_safety(safety: Safety, edition: Edition, wording: Wording) -> tuple[tuple[Part, ...], ...]:
    """Return the parts of each page. Most clients of a block have the same, so the last ones are kept."""
    sheet = edition.sheet
    title = title_piece(safety.title, sheet.live, edition.style)
    room = sheet.foot - sheet.top - title.height
    for body in edition.safety:
        pieces = _pieces(safety, edition, body, room)
        if sum(piece.height for piece in pieces) <= room:
            break
    again = title_piece(wording.continued_title.format(safety.title), sheet.live, edition.style)
    filler = Filler(title, again, sheet.top, sheet.foot)
    for piece in pieces:
        if piece.parts or piece.height <= filler.room:
            filler.put(piece)
    return tuple(map(tuple, filler.pages))


def _pieces(safety: Safety, edition: Edition, body: float, most: float) -> list[Piece]:
    live = edition.sheet.live
    pieces = [Piece(1 * MM, ())]
    for part in safety.lists:
        pieces += _list(part, live, body)
    if safety.changed:
        whole = framed(safety.changed.title, safety.changed.lines, live, body, Stroke.FRAME)
        if whole.height <= most:
            pieces.append(whole)
        else:
            head = SafetyList(safety.changed.title, safety.changed.lines)
            pieces += _list(head, live, body)
        pieces.append(Piece(4 * MM, ()))
    if safety.emergency:
        pieces.append(_heading(safety.emergency_title, live, body))
    labels = (plain(line.label) for line in safety.emergency)
    label = max((width(words, Face.SEMIBOLD, body) for words in labels), default=0.0)
    stop = min(max(label + _LABEL_GAP, _LABEL_LEAST * live), live / 2)
    for line in safety.emergency:
        if not line.label:
            pieces += [
                paragraph(line.text, 0.0, live, Face.REGULAR, body, body * BODY_LEAD),
                Piece(_LINE_SPACE, ()),
            ]
        else:
            pieces.append(_emergency(line, stop, live, body))
    if safety.cautions:
        pieces.append(Piece(2 * MM, ()))
    small = min(body, edition.body)
    pieces += [
        paragraph(text, 0.0, live, Face.REGULAR, small, small * BODY_LEAD) for text in safety.cautions
    ]
    return pieces


def _heading(title: str, live: float, body: float) -> Piece:
    lead = body * BODY_LEAD
    size = body + 1
    lines = wrap(title, Face.BOLD, size, live)
    marks = text_lines(lines, 0.0, body * _BASELINE, Face.BOLD, size, lead)
    return Piece(max(len(lines), 1) * lead + 1 * MM, (Group(Role.HEADING, tuple(marks)),))


def _list(part: SafetyList, live: float, body: float) -> list[Piece]:
    """Return a heading with its first item, the other items, and the space after them."""
    lead = body * BODY_LEAD
    items = []
    for text in part.items:
        lines = wrap(text, Face.REGULAR, body, live - _ITEM_X)
        marks = text_lines(lines, _ITEM_X, body * _BASELINE, Face.REGULAR, body, lead)
        middle = body * (_BASELINE - _HALF_SMALL_LETTER)
        dot = decoration(Bullet(1 * MM, middle - _BULLET / 2, _BULLET))
        item = Branch(Role.ITEM, (Group(Role.BODY, tuple(marks)),))
        items.append(Piece(len(lines) * lead, (dot, item)))
    return [_heading(part.title, live, body), *items, Piece(2.4 * MM, ())] if items else []


def _emergency(line: EmergencyLine, stop: float, live: float, body: float) -> Piece:
    """Return a label and what to do, or a box to write in."""
    lead = body * BODY_LEAD
    baseline = body * _BASELINE + 1 * MM
    labels = wrap(line.label, Face.SEMIBOLD, body, stop - 2 * MM)
    texts = wrap(line.text, Face.REGULAR, body, live - stop)
    marks: list[Text] = [
        Text(x, baseline + i * lead, words, face, body)
        for x, face, lines in ((0.0, Face.SEMIBOLD, labels), (stop, Face.REGULAR, texts))
        for i, words in enumerate(lines)
    ]
    parts: list[Part] = [Group(Role.PARAGRAPH, tuple(marks))]
    height = max(len(labels), len(texts), 1) * lead + _LINE_SPACE
    if not line.text:
        parts.append(decoration(Box(stop, 0.0, live - stop, _CONTACT_BOX, Stroke.BOX)))
        height = max(height, _CONTACT_BOX + 2 * MM)
    return Piece(height, tuple(parts))
