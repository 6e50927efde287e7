"""The foot of a page: whose booklet it is, and the number of the page."""

from __future__ import annotations

from compiler.documents.booklet_value import Booklet
from compiler.layout.editions import Edition
from compiler.layout.lines import plain
from compiler.layout.measures import MM, Sheet
from compiler.layout.metrics import Face, width
from compiler.layout.page import Group, Stroke, Text
from compiler.layout.piece import decoration, flush_right, rule

_GAP = 6 * MM
_UP = 0.6 * MM
_RULE_UP = 1.8 * MM
_CUT = "…"


def footer(booklet: Booklet, edition: Edition, sheet: Sheet, number: int, total: int) -> Group:
    """Return the foot of one page. In a folded booklet the number stands at the outer edge, the name at the fold."""
    size = edition.footer
    baseline = sheet.height - sheet.bottom - _UP
    above = baseline - size * 0.78 - _RULE_UP
    pattern = booklet.wording.page_short if edition.folded else booklet.wording.page
    words = plain(pattern.format(number, total))
    taken = width(plain(pattern.format(total, total)), Face.SEMIBOLD, size) + _GAP
    names = _names(booklet.footer, baseline, size, sheet.live - taken)
    right = flush_right(words, sheet.live, baseline, Face.SEMIBOLD, size)
    if edition.folded and number % 2 == 0:
        right = Text(0.0, baseline, words, Face.SEMIBOLD, size)
        names = _moved(names, sheet.live)
    return decoration(*rule(above, sheet.live, Stroke.THIN).marks, *names, right)


def _names(words: tuple[str, ...], baseline: float, size: float, room: float) -> tuple[Text, ...]:
    """Return the words one after the other; one that does not fit ends in an ellipsis, the rest is left out."""
    x = 0.0
    texts: list[Text] = []
    for text in filter(None, map(plain, words)):
        kept = text
        while kept and x + width(kept + _CUT, Face.REGULAR, size) > room:
            kept = kept[:-1]
        if not kept:
            break
        fits = x + width(text, Face.REGULAR, size) <= room
        if not fits and texts:
            break
        shown = text if fits else kept.rstrip() + _CUT
        texts.append(Text(x, baseline, shown, Face.REGULAR, size))
        x += width(shown, Face.REGULAR, size) + _GAP
    return tuple(texts)


def _moved(names: tuple[Text, ...], right: float) -> tuple[Text, ...]:
    """Return the words so that the last ends at `right`."""
    if not names:
        return ()
    last = names[-1]
    by = right - last.x - width(last.text, last.face, last.size)
    return tuple(Text(text.x + by, text.y, text.text, text.face, text.size) for text in names)
