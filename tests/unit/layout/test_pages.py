"""What must be true of every page, whatever the coach typed."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise, product

import pytest

from compiler.documents.booklet_value import Block, Booklet, CoachNote, ExerciseRow, Figure, Format, Paper
from compiler.layout.booklet import lay_out_booklet
from compiler.layout.measures import MM, STANDARD
from compiler.layout.page import Page, Pages, Stroke
from tests.unit.layout.extremes import BOOKLETS, booklet_of, row
from tests.unit.layout.flat import grids_of, marks_of, texts_of, words_on
from tests.unit.layout.formats import A4, EVERY, HALF_A4, LARGE_A4, PAIRS, SETTINGS, WEEKS_A4, Setting, laid_out
from tests.unit.layout.rules import RULES
from tests.unit.layout.sample_booklet import BOOKLET, COOL_DOWN, PROGRESS


@pytest.fixture(params=PAIRS, ids=lambda pair: f"{pair[0].replace(' ', '-')}-{pair[1]}")
def pair(request: pytest.FixtureRequest) -> tuple[str, Setting]:
    return request.param


@pytest.fixture
def setting(pair: tuple[str, Setting]) -> Setting:
    return pair[1]


@pytest.fixture
def pages(pair: tuple[str, Setting]) -> Pages:
    return laid_out(*pair)


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.__name__)
def test_every_page_keeps_the_rules(rule: Callable[[Pages, Setting], None], pages: Pages, setting: Setting) -> None:
    """Whatever the coach typed, however the booklet is set."""
    rule(pages, setting)


@pytest.mark.parametrize("setting", SETTINGS, ids=str)
def test_contents_name_the_page_of_each_session(setting: Setting) -> None:
    pages = laid_out("sample", setting)
    first = {page.bookmark: page.number for page in pages.pages if page.bookmark}
    cover = words_on(pages.pages[0])
    sheets = {key: sheet.bookmark for sheet in BOOKLET.sheets for key in sheet.keys}
    for session in BOOKLET.sessions:
        name = session.bookmark if session.bookmark in first else sheets[session.key]
        if session.key != "2-3":
            assert f"p. {first[name]} " in f"{cover} "


@pytest.mark.parametrize("setting", [Setting(Format.FULL_PAGE, paper) for paper in Paper], ids=str)
def test_the_month_has_a_page_a_session(setting: Setting) -> None:
    """Cover, how to read, one page for each of twelve sessions, progress, safety."""
    assert len(laid_out("sample", setting).pages) == 16
    assert laid_out("sample", setting).long_sessions == ()


def test_folded_pages_come_in_fours(pages: Pages, setting: Setting) -> None:
    """A stapled sheet has four pages; what is missing is filled with pages for notes before the safety page."""
    if setting.format is Format.HALF_PAGE:
        assert len(pages.pages) % 4 == 0


def test_long_sessions_of_a_folded_booklet_begin_on_a_left_page(pages: Pages, setting: Setting) -> None:
    """Two pages of a session face each other, so that nobody turns a page in the middle of it."""
    if setting.format is not Format.HALF_PAGE:
        return
    sections = [page.section for page in pages.pages]
    for page in pages.pages:
        if page.bookmark.startswith("Week") and sections.count(page.section) > 1:
            assert page.number % 2 == 0


def test_a_half_page_is_half_a_sheet() -> None:
    """Half of A4 lying is 148.5 × 210 mm, half of Letter 5.5 × 8.5 in."""
    sizes = [(pages.width, pages.height) for pages in (laid_out("bare", Setting(Format.HALF_PAGE, p)) for p in Paper)]
    assert sizes[0] == pytest.approx((148.5 * MM, 210 * MM))
    assert sizes[1] == pytest.approx((5.5 * 72, 8.5 * 72))


def test_numbers_of_a_folded_booklet_stand_outside() -> None:
    """Left on left pages, right on right ones; the name stands at the fold."""
    for page in laid_out("sample", HALF_A4).pages[1:]:
        live = HALF_A4.edition.sheet.live
        name, number = (next(t for t in reversed(texts_of(page)) if words in t.text) for words in ("Imogen", " of "))
        assert (number.x < live / 2) is (page.number % 2 == 0)
        assert (name.x > number.x) is (page.number % 2 == 0)


def test_large_print_has_the_words_of_the_usual_page() -> None:
    """Everything but page numbers and what repeats on further pages is the same."""
    usual, large = (
        " ".join(words_on(page) for page in laid_out("sample", setting).pages) for setting in (A4, LARGE_A4)
    )
    assert {word for word in usual.split() if word.isalpha()} <= set(large.split())


def test_the_last_page_is_safety(pages: Pages) -> None:
    assert pages.pages[-1].section == BOOKLET.safety.bookmark


@pytest.mark.parametrize("setting", SETTINGS, ids=str)
def test_three_lifts_of_a_month_take_one_page(setting: Setting) -> None:
    wordy = EVERY["progress of 4 weeks"].progress
    assert wordy is not None
    progress = replace(wordy, intro=BOOKLET.progress.intro)
    pages = lay_out_booklet(setting.of(replace(BOOKLET, progress=progress))).pages
    assert [page.section for page in pages].count("Progress") == 1


def test_weeks_stand_side_by_side_where_they_fit() -> None:
    """One lying page for the session whose weeks fit; the others have pages of their own, and that is said."""
    pages = laid_out("sample", WEEKS_A4)
    lying = [page for page in pages.pages if page.lying]
    assert [page.bookmark for page in lying] == ["Long legs, quiet trunk, weeks 1 to 4"]
    told = {key for key, _ in pages.long_sessions}
    assert told == {session.key for session in BOOKLET.sessions} - {"2-1", "2-2", "2-4"}
    words = words_on(lying[0])
    for word in ("Week 1", "Week 4", "leave 3 in reserve", "Warm-up: Easy rowing", "Changed: changed by your coach"):
        assert word in words


@pytest.mark.parametrize("name", ["a full weeks sheet", "six boxes on a weeks sheet"])
def test_what_does_not_fit_on_a_weeks_sheet_is_left_off(name: str) -> None:
    """Nothing is cut and no box gets narrower than 9 mm: the sheet is given up instead."""
    assert not any(page.lying for page in laid_out(name, WEEKS_A4).pages)


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
    pages = [page for page in laid_out(name, A4).pages if page.section == bookmark]
    assert len(pages) <= most


def test_a_session_over_pages_says_so() -> None:
    """The next page repeats the title, and the head of a block that was broken."""
    booklet = BOOKLETS["two circuits of eight"]
    laid = laid_out("two circuits of eight", A4)
    assert laid.long_sessions == ((booklet.sessions[0].key, 2),)
    pages = [p for p in laid.pages if p.section == booklet.sessions[0].bookmark]
    assert "Hinge and pull, continued" in words_on(pages[1])
    assert "Giant set (continued)" in words_on(pages[1])


def test_no_word_is_lost() -> None:
    """Everything that the coach typed is on the pages of the session, long or not."""
    for name in ("300-character cues", "rows taller than a page", "long warm-up", "14 exercises"):
        booklet = BOOKLETS[name]
        for setting in SETTINGS:
            pages = laid_out(name, setting).pages
            printed = " ".join(words_on(page) for page in pages).split()
            for block in booklet.sessions[0].blocks:
                for one in block.rows:
                    assert printed.count(one.cue.split()[-1]) >= one.cue.split().count(one.cue.split()[-1])
            assert not any("…" in word for word in printed)


def test_short_sessions_open_up() -> None:
    """The rows of a short session stand further apart than those of a full one, by at most 2.5 mm."""
    steps = []
    for count in range(2, 12):
        page, *more = laid_out_session(A4.of(lone(count, row("A1"))))
        if not more and STANDARD.figure in {text.size for text in texts_of(page)}:
            first, second = sorted({grid.y for grid in grids_of(page)})[:2]
            steps.append(second - first)
    assert steps == sorted(steps, reverse=True)
    assert 2 * MM < steps[0] - steps[-1] <= 2.5 * MM + 0.01


def test_notes_are_ruled_where_there_is_room() -> None:
    """Up to six lines, 9 mm apart."""
    page = next(p for p in lay_out_booklet(BOOKLET).pages if p.bookmark == "Week 1: Long legs, quiet trunk")
    lines = sorted(
        mark.y for _, mark in marks_of(page) if getattr(mark, "stroke", None) is Stroke.WRITING
    )
    assert 1 <= len(lines) <= 6
    assert all(abs(b - a - 9 * MM) < 0.01 for a, b in pairwise(lines))


NOTE = CoachNote("From your coach", "")


def with_note(words: int, booklet: Booklet = BOOKLET) -> Booklet:
    """Return a booklet whose coach wrote so many words."""
    return replace(booklet, how_to=replace(booklet.how_to, note=replace(NOTE, text="xylograph " * words)))


@pytest.mark.parametrize("words", [5, 20, 40, 60, 80, 100])
@pytest.mark.parametrize("setting", SETTINGS, ids=str)
def test_a_note_has_no_page_to_itself(setting: Setting, words: int) -> None:
    """Where the how-to page has no room for it, lines to write on or the progress page keep it company."""
    for booklet in (BOOKLET, EVERY["300-character cues"]):
        pages = lay_out_booklet(setting.of(with_note(words, booklet)))
        [page] = [page for page in pages.pages if any(text.text == NOTE.title for text in texts_of(page))]
        lines = [mark for _, mark in marks_of(page) if getattr(mark, "stroke", None) is Stroke.WRITING]
        others = [text for text in texts_of(page) if "xylograph" not in text.text]
        assert lines or len(others) > 12


def test_a_note_stands_with_progress_where_that_saves_a_page() -> None:
    """Cover, how to read, then progress with the note facing the session that begins on page 4."""
    one_panel = replace(PROGRESS, panels=PROGRESS.panels[:1])
    booklet = HALF_A4.of(replace(with_note(60), progress=one_panel))
    pages = lay_out_booklet(booklet).pages
    without = lay_out_booklet(replace(booklet, how_to=replace(booklet.how_to, note=None))).pages
    assert [page.section for page in pages] == [page.section for page in without]
    third = words_on(pages[2])
    assert third.index(PROGRESS.title) < third.index(NOTE.title) < third.index(one_panel.panels[0].title)


LOADED = row(
    "A1",
    load=Figure("90 kg", ("25 + 5 + 2.5 a side", "Trap bar, 25 kg", "72.5% of 122.5 kg", "the long way round")),
)


def lone(count: int, one: ExerciseRow = LOADED) -> Booklet:
    """Return a booklet of one session, with one exercise so many times."""
    return booklet_of(replace(BOOKLET.sessions[0], blocks=(Block("A", "Giant set", "", (one,) * count),)))


def under_load(booklet: Booklet) -> set[float]:
    """Return where the lines under the load of the first session begin, seen from the load."""
    texts = [text for page in laid_out_session(booklet) for text in texts_of(page)]
    loads = [text for text in texts if text.text == "90 kg"]
    beside = {text.y for text in loads}
    below = [text for text in texts if "the long way" in text.text and text.y not in beside]
    return {round(text.x - loads[0].x, 2) for text in below}


def laid_out_session(booklet: Booklet) -> list[Page]:
    """Return the pages of the first session."""
    return [page for page in lay_out_booklet(booklet).pages if page.section == booklet.sessions[0].bookmark]


@pytest.mark.parametrize("setting", [A4, HALF_A4, LARGE_A4], ids=str)
def test_what_a_load_is_made_of_stands_below_it(setting: Setting) -> None:
    """At the load's stop; further left only where that makes a session fit that did not."""
    assert under_load(setting.of(lone(1))) == {0.0}
    fit = [count for count in range(1, 12) if len(laid_out_session(A4.of(lone(count)))) == 1]
    assert max(under_load(A4.of(lone(fit[-1])))) < 0.0


def test_a_cool_down_that_begins_a_page_has_one_rule_above() -> None:
    """The rule of the page's head is its rule."""
    alone = 0
    for count, items in product(range(5, 8), (20, 40, 60)):
        cool_down = replace(COOL_DOWN, items=COOL_DOWN.items[:1] * items)
        booklet = A4.of(booklet_of(replace(lone(count).sessions[0], cool_down=cool_down)))
        last = laid_out_session(booklet)[-1]
        lines = sorted(mark.y for _, mark in marks_of(last) if getattr(mark, "to_y", None) == mark.y)
        assert all(b - a > 2 * MM for a, b in pairwise(lines))
        alone += not grids_of(last)
    assert alone
