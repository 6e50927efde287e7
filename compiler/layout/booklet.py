"""Booklet value -> pages: the order of pages, their numbers, the contents, the footers."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from compiler.documents.booklet_value import Booklet, Format, HowTo
from compiler.frozen import frozen
from compiler.layout.cover import lay_out_cover
from compiler.layout.editions import Edition, edition_of, lying
from compiler.layout.footer import footer
from compiler.layout.how_to import lay_out_how_to, note_pieces
from compiler.layout.lines import plain
from compiler.layout.notes import notes_page
from compiler.layout.page import Page, Pages, Part
from compiler.layout.piece import Piece
from compiler.layout.progress import lay_out_progress
from compiler.layout.safety import lay_out_safety
from compiler.layout.session import lay_out_session
from compiler.layout.weeks import lay_out_weeks

_FOLDED_PAGES = 4


@frozen
class _Body:
    """The body of one page before it has a number."""

    section: str
    bookmark: str
    parts: tuple[Part, ...]
    lying: bool = False


@frozen
class _Chapter:
    """The bodies of a session's pages, and the keys of the sessions that stand on them."""

    keys: tuple[str, ...]
    bodies: tuple[_Body, ...]


def lay_out_booklet(booklet: Booklet) -> Pages:
    """Return the pages of a booklet: cover, how to read, sessions in their order, progress, safety last."""
    edition = edition_of(booklet.format, booklet.paper)
    sheet, wording = edition.sheet, booklet.wording
    upright = booklet.format is not Format.WEEKS_SHEET
    chapters = _chapters(booklet, edition)
    unknown = {session.key: 0 for session in booklet.sessions}
    covers = len(lay_out_cover(booklet.cover, edition, unknown, wording))
    opening, progress = _opening(booklet, edition, chapters, covers)
    bodies = list(opening)
    page_of = _put_sessions(bodies, chapters, covers, booklet, edition)
    bodies += progress
    safety = _bodies(booklet.safety.bookmark, lay_out_safety(booklet.safety, edition, booklet.wording))
    if edition.folded:
        short = -(covers + len(bodies) + len(safety)) % _FOLDED_PAGES
        bodies += [_notes(booklet, edition)] * short
    front = _bodies(booklet.cover.bookmark, lay_out_cover(booklet.cover, edition, page_of, wording))
    pages = []
    every = (*front, *bodies, *safety)
    for number, body in enumerate(every, start=1):
        on = lying(sheet) if body.lying else sheet
        foot = () if number == 1 else (footer(booklet, edition, on, number, len(every)),)
        origin = on.origin(number, simplex=booklet.simplex or body.lying)
        pages.append(Page(number, origin, body.section, body.bookmark, (*body.parts, *foot), body.lying))
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
        long_sessions=tuple(
            (key, len(chapter.bodies))
            for chapter in chapters
            for key in chapter.keys
            if len(chapter.bodies) > edition.long or not (chapter.bodies[0].lying or upright)
        ),
    )


def _chapters(booklet: Booklet, edition: Edition) -> list[_Chapter]:
    """Return the pages of every session: a weeks sheet where there is one that fits, pages of its own otherwise."""
    wording = booklet.wording
    on_sheet: dict[str, _Chapter] = {}
    for weeks in booklet.sheets if booklet.format is Format.WEEKS_SHEET else ():
        parts = lay_out_weeks(weeks, lying(edition.sheet), wording)
        if parts is not None:
            name = plain(weeks.bookmark)
            chapter = _Chapter(weeks.keys, (_Body(name, name, parts, lying=True),))
            on_sheet |= dict.fromkeys(weeks.keys, chapter)
    chapters: list[_Chapter] = []
    for session in booklet.sessions:
        chapter = on_sheet.get(session.key) or _Chapter(
            (session.key,), _bodies(session.bookmark, lay_out_session(session, edition, wording))
        )
        if not any(chapter is known for known in chapters):
            chapters.append(chapter)
    return chapters


def _opening(
    booklet: Booklet, edition: Edition, chapters: list[_Chapter], covers: int
) -> tuple[tuple[_Body, ...], tuple[_Body, ...]]:
    """Return what stands between the cover and the first session, and the progress page where that is not among it.

    In a folded booklet progress fills the page that faces the how-to page, if the first session begins on the next.
    A coach's note for which there is no room on the how-to page goes there, too, if there is room for both.
    """
    how_to, progress = _how_to(booklet, edition, booklet.how_to), _progress(booklet, edition)
    note = booklet.how_to.note
    if not edition.folded:
        return how_to, progress
    if note and len(how_to) > 1:
        alone = _how_to(booklet, edition, replace(booklet.how_to, note=None))
        both = _progress(booklet, edition, note_pieces(note, edition, edition.sheet.foot))
        if len(alone) < len(how_to) and _begins_with_a_gap(chapters, covers + len(alone), both):
            return (*alone, *both), ()
    if _begins_with_a_gap(chapters, covers + len(how_to), progress):
        return (*how_to, *progress), ()
    return how_to, progress


def _how_to(booklet: Booklet, edition: Edition, how_to: HowTo) -> tuple[_Body, ...]:
    return _bodies(how_to.bookmark, lay_out_how_to(how_to, edition, booklet.wording))


def _progress(booklet: Booklet, edition: Edition, above: Sequence[Piece] = ()) -> tuple[_Body, ...]:
    progress = booklet.progress
    if progress is None:
        return ()
    return _bodies(progress.bookmark, lay_out_progress(progress, edition, booklet.wording, above))


def _begins_with_a_gap(chapters: list[_Chapter], before: int, progress: tuple[_Body, ...]) -> bool:
    """Tell whether a page would be empty before the first session, and progress fills it: `before` pages are there."""
    first_is_spread = bool(chapters) and len(chapters[0].bodies) > 1
    return first_is_spread and before % 2 == 0 and len(progress) == 1


def _put_sessions(
    bodies: list[_Body], chapters: list[_Chapter], covers: int, booklet: Booklet, edition: Edition
) -> dict[str, int]:
    """Add the sessions to the bodies; return the first page of each.

    In a folded booklet one of several pages begins on a left page, so that its pages face each other.
    """
    page_of: dict[str, int] = {}
    for chapter in chapters:
        if edition.folded and len(chapter.bodies) > 1 and (covers + len(bodies)) % 2 == 0:
            bodies.append(_notes(booklet, edition))
        page_of |= dict.fromkeys(chapter.keys, covers + len(bodies) + 1)
        bodies += chapter.bodies
    return page_of


def _notes(booklet: Booklet, edition: Edition) -> _Body:
    return _Body(plain(booklet.wording.notes_page), "", notes_page(edition, booklet.wording))


def _bodies(bookmark: str, pages: tuple[tuple[Part, ...], ...]) -> tuple[_Body, ...]:
    """Return the bodies of consecutive pages, the first with the bookmark."""
    name = plain(bookmark)
    return tuple(_Body(name, "" if index else name, parts) for index, parts in enumerate(pages))
