"""Booklet value -> pages: the order of pages, their numbers, the contents, the footers."""

from __future__ import annotations

from dataclasses import dataclass

from compiler.documents.booklet_value import Booklet
from compiler.layout.cover import lay_out_cover
from compiler.layout.how_to import lay_out_how_to
from compiler.layout.lines import plain
from compiler.layout.measures import FOOTER_SIZE, MM, SHEETS, Sheet
from compiler.layout.metrics import Face, width
from compiler.layout.page import Group, Page, Pages, Part, Stroke, Text
from compiler.layout.piece import decoration, flush_right, rule
from compiler.layout.safety import lay_out_safety
from compiler.layout.session import lay_out_session

_FOOTER_GAP = 6 * MM
_FOOTER_UP = 0.6 * MM
_FOOTER_RULE_UP = 1.8 * MM
_CUT = "…"


@dataclass(frozen=True, slots=True)
class _Body:
    """The body of one page before it has a number."""

    section: str
    bookmark: str
    parts: tuple[Part, ...]


def lay_out_booklet(booklet: Booklet) -> Pages:
    """Return the pages of a booklet: cover, how to read, sessions in their order, safety last."""
    sheet = SHEETS[booklet.paper]
    wording = booklet.wording
    bodies = _bodies(booklet.how_to.bookmark, lay_out_how_to(booklet.how_to, sheet, wording))
    page_of: dict[str, int] = {}
    long_sessions: list[str] = []
    for session in booklet.sessions:
        page_of[session.key] = len(bodies) + 2
        session_pages = lay_out_session(session, sheet, wording)
        if len(session_pages) > 1:
            long_sessions.append(session.key)
        bodies += _bodies(session.bookmark, session_pages)
    bodies += _bodies(booklet.safety.bookmark, lay_out_safety(booklet.safety, sheet))
    cover = booklet.cover
    front = _Body(cover.bookmark, plain(cover.bookmark), lay_out_cover(cover, sheet, page_of, wording))
    total = len(bodies) + 1
    left = _footer_words(booklet, sheet, total)
    pages = [Page(1, sheet.origin(1, simplex=booklet.simplex), front.section, front.bookmark, front.parts)]
    for number, body in enumerate(bodies, start=2):
        right = plain(wording.page.format(number, total))
        parts = (*body.parts, _footer(left, right, sheet))
        origin = sheet.origin(number, simplex=booklet.simplex)
        pages.append(Page(number, origin, body.section, body.bookmark, parts))
    return Pages(
        width=sheet.width,
        height=sheet.height,
        pages=tuple(pages),
        language=booklet.language,
        title=plain(booklet.title),
        author=plain(booklet.author),
        subject=plain(booklet.subject),
        label_prefix=booklet.label_prefix,
        simplex=booklet.simplex,
        long_sessions=tuple(long_sessions),
    )


def _bodies(bookmark: str, pages: tuple[tuple[Part, ...], ...]) -> list[_Body]:
    """Return the bodies of consecutive pages, the first with the bookmark."""
    name = plain(bookmark)
    return [_Body(name, "" if index else name, parts) for index, parts in enumerate(pages)]


def _footer_words(booklet: Booklet, sheet: Sheet, total: int) -> tuple[Text, ...]:
    """Return the left part of the footer, the same on every page; what does not fit ends in an ellipsis."""
    number = width(plain(booklet.wording.page.format(total, total)), Face.SEMIBOLD, FOOTER_SIZE)
    room = sheet.live - number - _FOOTER_GAP
    baseline = sheet.height - sheet.bottom - _FOOTER_UP
    x = 0.0
    texts = []
    for words in filter(None, map(plain, booklet.footer)):
        kept = words
        while kept and x + width(kept + _CUT, Face.REGULAR, FOOTER_SIZE) > room:
            kept = kept[:-1]
        if not kept:
            break
        shown = words if x + width(words, Face.REGULAR, FOOTER_SIZE) <= room else kept.rstrip() + _CUT
        texts.append(Text(x, baseline, shown, Face.REGULAR, FOOTER_SIZE))
        x += width(shown, Face.REGULAR, FOOTER_SIZE) + _FOOTER_GAP
    return tuple(texts)


def _footer(left: tuple[Text, ...], right: str, sheet: Sheet) -> Group:
    baseline = sheet.height - sheet.bottom - _FOOTER_UP
    above = baseline - FOOTER_SIZE * 0.78 - _FOOTER_RULE_UP
    number = flush_right(right, sheet.live, baseline, Face.SEMIBOLD, FOOTER_SIZE)
    return decoration(*rule(above, sheet.live, Stroke.THIN).marks, *left, number)
