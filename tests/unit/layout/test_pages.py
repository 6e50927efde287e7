"""What must be true of every page, whatever the coach typed."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest

from compiler.documents.booklet_value import Booklet, Paper
from compiler.layout.booklet import lay_out_booklet
from compiler.layout.measures import MM, SHEETS
from compiler.layout.page import Box, Grid, Pages, Stroke, Text
from tests.unit.layout.extremes import BOOKLETS
from tests.unit.layout.flat import Area, grids_of, marks_of, small_letters, texts_of, words_on
from tests.unit.layout.sample_booklet import BOOKLET

EVERY = {"sample": BOOKLET, **BOOKLETS}
HAIR = 0.8
PAPERS = [Paper.A4, Paper.LETTER]


def laid_out(booklet: Booklet, paper: Paper) -> Pages:
    return lay_out_booklet(replace(booklet, paper=paper))


@pytest.fixture(params=PAPERS)
def paper(request: pytest.FixtureRequest) -> Paper:
    return request.param


@pytest.fixture(params=EVERY, ids=lambda name: name.replace(" ", "-"))
def pages(request: pytest.FixtureRequest, paper: Paper) -> Pages:
    return laid_out(EVERY[request.param], paper)


def test_text_stays_in_the_live_area(pages: Pages, paper: Paper) -> None:
    """Printers lose 4 to 6 mm at the edges (printer manuals); the margins keep 10 mm and the binding side 20."""
    sheet = SHEETS[paper]
    for page in pages.pages:
        for text in texts_of(page):
            area = small_letters(text)
            assert area.left >= -HAIR, (page.number, text)
            assert area.right <= sheet.live + HAIR, (page.number, text)
            assert area.top >= sheet.top, (page.number, text)
            assert area.bottom <= sheet.height - sheet.bottom, (page.number, text)


def test_nothing_stands_on_the_footer(pages: Pages, paper: Paper) -> None:
    """Content ends above the footer, which is the last text of every page but the cover."""
    sheet = SHEETS[paper]
    for page in pages.pages[1:]:
        low = [mark for _, mark in marks_of(page) if mark.y > sheet.foot + HAIR]
        texts = [mark for mark in low if isinstance(mark, Text)]
        assert all(mark.y == sheet.height - sheet.bottom - 0.6 * MM for mark in texts)
        for _, mark in marks_of(page):
            if isinstance(mark, Box | Grid):
                assert mark.y + mark.height <= sheet.foot + HAIR, (page.number, mark)


def test_no_two_texts_overlap(pages: Pages) -> None:
    """The bands of small letters of two texts never share room."""
    for page in pages.pages:
        areas = sorted(
            ((small_letters(text), text.text) for text in texts_of(page) if text.text.strip()),
            key=lambda pair: pair[0].top,
        )
        for i, (area, words) in enumerate(areas):
            for other, more in areas[i + 1 :]:
                if other.top > area.bottom:
                    break
                assert not area.meets(other, HAIR), (page.number, words, more)


def test_no_text_crosses_a_wall(pages: Pages) -> None:
    """Text stands within a box or outside it, never across an upright line of one."""
    for page in pages.pages:
        walls = []
        for _, mark in marks_of(page):
            if isinstance(mark, Grid):
                for wall in range(mark.count + 1):
                    lowered = mark.lowered if 0 < wall <= mark.short_walls else 0.0
                    x = mark.x + wall * mark.width
                    walls.append(Area(x - HAIR, mark.y + lowered, x + HAIR, mark.y + mark.height))
            elif isinstance(mark, Box):
                walls += [
                    Area(x - HAIR, mark.y, x + HAIR, mark.y + mark.height)
                    for x in (mark.x, mark.x + mark.width)
                ]
        for text in texts_of(page):
            area = small_letters(text)
            assert not any(area.meets(wall, 1.0) for wall in walls), (page.number, text)


def test_boxes_can_be_written_in(pages: Pages) -> None:
    """Boxes are at least 9.5 mm high and 9 mm wide (clerks' rule of forms: three lines and five characters an inch)."""
    for page in pages.pages:
        for grid in grids_of(page):
            assert grid.height >= 9.5 * MM - 0.01, (page.number, grid)
            assert grid.width >= 9 * MM, (page.number, grid)
            assert grid.count >= 1


def test_boxes_do_not_overlap(pages: Pages) -> None:
    for page in pages.pages:
        areas = [Area(g.x, g.y, g.x + g.count * g.width, g.y + g.height) for g in grids_of(page)]
        for i, area in enumerate(areas):
            assert not any(area.meets(other, 0.5) for other in areas[i + 1 :]), page.number


def test_type_never_falls_below_its_floor(pages: Pages) -> None:
    """Captions 8 pt, cues and footers 9 pt, names 11 pt, by the measures of the booklet."""
    for page in pages.pages:
        assert min(text.size for text in texts_of(page)) >= 8


def test_pages_are_numbered(pages: Pages) -> None:
    """Every page but the cover says its number and how many there are."""
    total = len(pages.pages)
    assert [page.number for page in pages.pages] == list(range(1, total + 1))
    for page in pages.pages[1:]:
        assert f"Page {page.number} of {total}" in words_on(page)


@pytest.mark.parametrize("paper", PAPERS)
def test_contents_name_the_page_of_each_session(paper: Paper) -> None:
    pages = laid_out(BOOKLET, paper)
    first = {page.bookmark: page.number for page in pages.pages if page.bookmark}
    cover = words_on(pages.pages[0])
    for session in BOOKLET.sessions:
        if session.key != "2-3":
            assert f"p. {first[session.bookmark]}" in cover


def test_the_month_has_a_page_a_session() -> None:
    """Cover, how to read, one page for each of twelve sessions, safety."""
    assert [len(laid_out(BOOKLET, paper).pages) for paper in PAPERS] == [15, 15]


def test_the_last_page_is_safety(pages: Pages) -> None:
    assert pages.pages[-1].section == BOOKLET.safety.bookmark


def test_binding_margin_changes_sides_only_when_printed_on_both() -> None:
    both = {page.number % 2: page.origin for page in lay_out_booklet(BOOKLET).pages}
    assert both == {1: 20 * MM, 0: 10 * MM}
    one_side = lay_out_booklet(replace(BOOKLET, simplex=True)).pages
    assert {page.origin for page in one_side} == {20 * MM}


@pytest.mark.parametrize(
    ("name", "most"),
    [
        ("14 exercises", 2),
        ("60-character names", 1),
        ("300-character cues", 1),
        ("5, 6 and 10 sets", 1),
        ("two circuits of eight", 2),
        ("one exercise, nothing else", 1),
        ("long session name, wide doses", 1),
    ],
)
def test_extreme_sessions_keep_to_few_pages(name: str, most: int) -> None:
    booklet = BOOKLETS[name]
    bookmark = booklet.sessions[0].bookmark
    pages = [page for page in laid_out(booklet, Paper.A4).pages if page.section == bookmark]
    assert len(pages) <= most


def test_a_session_over_pages_says_so() -> None:
    """The next page repeats the title, and the head of a block that was broken."""
    booklet = BOOKLETS["two circuits of eight"]
    pages = [p for p in laid_out(booklet, Paper.A4).pages if p.section == booklet.sessions[0].bookmark]
    assert "Hinge and pull, continued" in words_on(pages[1])
    assert "Giant set (continued)" in words_on(pages[1])


def test_no_word_is_lost() -> None:
    """Everything that the coach typed is on the pages of the session, long or not."""
    for name in ("300-character cues", "rows taller than a page", "long warm-up", "14 exercises"):
        booklet = BOOKLETS[name]
        for paper in PAPERS:
            pages = laid_out(booklet, paper).pages
            printed = " ".join(words_on(page) for page in pages).split()
            for block in booklet.sessions[0].blocks:
                for row in block.rows:
                    assert printed.count(row.cue.split()[-1]) >= row.cue.split().count(row.cue.split()[-1])
            assert "ellipsis" not in printed


def test_short_sessions_open_up() -> None:
    """The rows of a short session stand further apart than those of a full one, by at most 2.5 mm."""
    def steps(name: str) -> list[float]:
        [page] = [p for p in laid_out(BOOKLETS[name], Paper.A4).pages if p.number == 3]
        tops = sorted({grid.y for grid in grids_of(page)})
        return [b - a for a, b in pairwise(tops)]

    assert min(steps("300-character cues")) > 9.5 * MM


def test_notes_are_ruled_where_there_is_room() -> None:
    """Up to six lines, 9 mm apart."""
    page = next(p for p in lay_out_booklet(BOOKLET).pages if p.bookmark == "Week 1: Long legs, quiet trunk")
    lines = sorted(
        mark.y for _, mark in marks_of(page) if getattr(mark, "stroke", None) is Stroke.WRITING
    )
    assert 1 <= len(lines) <= 6
    assert all(abs(b - a - 9 * MM) < 0.01 for a, b in pairwise(lines))
