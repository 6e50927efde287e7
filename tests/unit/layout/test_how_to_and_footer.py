"""The numbers that join the sample to what explains it, and the words at the foot of a page."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

import pytest

from compiler.documents.booklet_value import Figure, Mark
from compiler.layout.booklet import lay_out_booklet
from compiler.layout.page import Circle, Page
from tests.unit.layout.flat import marks_of, texts_of, words_on
from tests.unit.layout.formats import A4, HALF_A4, LARGE_A4, Setting
from tests.unit.layout.sample_booklet import BOOKLET


def numbers_in_circles(page: Page) -> list[str]:
    """Return the figures that stand in circles, in the order of the page."""
    circles = [mark for _, mark in marks_of(page) if isinstance(mark, Circle)]
    return [
        text.text
        for text in texts_of(page)
        if text.text.isdigit()
        and any(abs(text.y - c.y) < c.radius and -c.radius < text.x - c.x < c.radius for c in circles)
    ]


@pytest.mark.parametrize("setting", [A4, HALF_A4, LARGE_A4], ids=str)
def test_every_number_of_the_sample_is_explained(setting: Setting) -> None:
    """From 1 on without a gap: once beside what it explains, and once on the sample (some are on it twice)."""
    pages = lay_out_booklet(setting.of(BOOKLET))
    found = Counter(n for page in pages.pages[1:4] for n in numbers_in_circles(page))
    explained = len({point.mark for point in BOOKLET.how_to.points if point.mark})
    assert set(found) == {str(number) for number in range(1, explained + 1)}
    assert all(times >= 2 for times in found.values())


def test_the_number_of_a_load_that_fills_its_line_stands_before_it() -> None:
    """At the left edge it would be taken for that of the sets."""
    block = BOOKLET.how_to.sample
    first, *others = block.rows
    long = replace(first, load=Figure("60 kg", ("20 a side",)), spotter="spotter")
    how_to = replace(BOOKLET.how_to, sample=replace(block, rows=(long, *others)))
    page = lay_out_booklet(replace(BOOKLET, how_to=how_to)).pages[1]
    load = next(text for text in texts_of(page) if text.text == "60 kg")
    dose = next(text for text in texts_of(page) if text.y == load.y and text.x < load.x)
    number = [*dict.fromkeys(point.mark for point in how_to.points if point.mark)].index(Mark.LOAD) + 1
    circles = [mark for _, mark in marks_of(page) if isinstance(mark, Circle)]
    numbered = [text for text in texts_of(page) if text.text == str(number)]
    on_the_line = [c for c in circles for text in numbered if abs(c.x - text.x) < c.radius and abs(c.y - load.y) < 8]
    assert any(dose.x < circle.x < load.x for circle in on_the_line)


@pytest.mark.parametrize(
    ("words", "shown"),
    [
        (("Ana", "January 2027", "Ottermere"), ("Ana", "January 2027", "Ottermere")),
        (("W" * 30, "January 2027", "Ottermere " * 20), ("W" * 30, "January 2027")),
        (("W" * 200, "January 2027", "Ottermere"), ("W" * 20,)),
    ],
    ids=["all", "the last is too long", "the first is too long"],
)
def test_what_does_not_fit_at_the_foot_is_left_out(words: tuple[str, ...], shown: tuple[str, ...]) -> None:
    """Whole words or none, but for the name, which is cut with an ellipsis: a page must say whose it is."""
    page = lay_out_booklet(replace(BOOKLET, footer=words)).pages[2]
    foot = max(text.y for text in texts_of(page))
    texts = [text.text for text in texts_of(page) if text.y == foot][:-1]
    assert len(texts) == len(shown)
    assert all(text.startswith(start) for text, start in zip(texts, shown, strict=True))
    assert ("…" in words_on(page)) == (texts[0] != words[0])
