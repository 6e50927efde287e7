"""What must be true of every page of every booklet, as assertions that any test can make."""

from __future__ import annotations

from compiler.documents.booklet_value import Format
from compiler.layout.measures import MM
from compiler.layout.page import Box, Grid, Pages, Text
from tests.unit.layout.flat import Area, grids_of, marks_of, small_letters, texts_of, words_on
from tests.unit.layout.formats import Setting

HAIR = 0.8


def text_stays_in_the_live_area(pages: Pages, setting: Setting) -> None:
    """Printers lose 4 to 6 mm at the edges (printer manuals); the margins keep 8 mm and more, and the binding side."""
    for page in pages.pages:
        sheet = setting.sheet_of(page)
        for text in texts_of(page):
            area = small_letters(text)
            assert area.left >= -HAIR, (page.number, text)
            assert area.right <= sheet.live + HAIR, (page.number, text)
            assert area.top >= sheet.top, (page.number, text)
            assert area.bottom <= sheet.height - sheet.bottom, (page.number, text)


def nothing_stands_on_the_footer(pages: Pages, setting: Setting) -> None:
    """Content ends above the footer, which is the last text of every page but the cover."""
    for page in pages.pages[1:]:
        sheet = setting.sheet_of(page)
        low = [mark for _, mark in marks_of(page) if mark.y > sheet.foot + HAIR]
        texts = [mark for mark in low if isinstance(mark, Text)]
        assert all(mark.y == sheet.height - sheet.bottom - 0.6 * MM for mark in texts)
        for _, mark in marks_of(page):
            if isinstance(mark, Box | Grid):
                assert mark.y + mark.height <= sheet.foot + HAIR, (page.number, mark)


def no_two_texts_overlap(pages: Pages, setting: Setting) -> None:
    """Keep the bands of small letters of two texts apart."""
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


def no_text_crosses_a_wall(pages: Pages, setting: Setting) -> None:
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


def boxes_can_be_written_in(pages: Pages, setting: Setting) -> None:
    """Boxes are at least 9.5 mm high and 9 mm wide (clerks' rule of forms: three lines and five characters an inch).

    On a weeks sheet they hold no caption and are 9 mm high.
    """
    for page in pages.pages:
        for grid in grids_of(page):
            assert grid.height >= (9 if page.lying else 9.5) * MM - 0.01, (page.number, grid)
            assert grid.width >= 9 * MM - 0.01, (page.number, grid)
            assert grid.count >= 1


def boxes_do_not_overlap(pages: Pages, setting: Setting) -> None:
    """Two rows of boxes never share room."""
    for page in pages.pages:
        areas = [Area(g.x, g.y, g.x + g.count * g.width, g.y + g.height) for g in grids_of(page)]
        for i, area in enumerate(areas):
            assert not any(area.meets(other, 0.5) for other in areas[i + 1 :]), page.number


def type_never_falls_below_its_floor(pages: Pages, setting: Setting) -> None:
    """Captions 8 pt (forms standards); in large print nothing under 16 pt (Clear Print guidelines of the RNIB)."""
    floor = 16 if setting.format is Format.LARGE_PRINT else 8
    for page in pages.pages:
        assert min((text.size for text in texts_of(page)), default=floor) >= floor


def pages_are_numbered(pages: Pages, setting: Setting) -> None:
    """Every page but the cover says its number and how many there are."""
    total = len(pages.pages)
    assert [page.number for page in pages.pages] == list(range(1, total + 1))
    for page in pages.pages[1:]:
        assert f"{page.number} of {total}" in words_on(page)


RULES = (
    text_stays_in_the_live_area,
    nothing_stands_on_the_footer,
    no_two_texts_overlap,
    no_text_crosses_a_wall,
    boxes_can_be_written_in,
    boxes_do_not_overlap,
    type_never_falls_below_its_floor,
    pages_are_numbered,
)
"""All of them."""
