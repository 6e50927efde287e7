"""A session over two half pages that face each other: the blocks are shared out evenly."""

from __future__ import annotations

from dataclasses import replace

import pytest

from compiler.layout.booklet import lay_out_booklet
from tests.unit.layout.flat import words_on
from tests.unit.layout.formats import HALF_A4
from tests.unit.layout.sample_booklet import BOOKLET, MAIN_LIFT


@pytest.mark.parametrize(("blocks", "shares"), [(5, [5]), (6, [3, 3]), (7, [3, 4]), (8, [4, 4])])
def test_two_pages_are_most_alike(blocks: int, shares: list[int]) -> None:
    """Equal blocks: half on each page; of an odd number the first page has fewer, as it has the session's title."""
    made = tuple(replace(MAIN_LIFT, letter="ABCDEFGH"[n], kind=f"Kind{n}") for n in range(blocks))
    session = replace(BOOKLET.sessions[0], blocks=made, warm_up=None, cool_down=None, note="")
    plan = replace(BOOKLET.cover.plan, weeks=("Week 1",), rows=())
    booklet = replace(BOOKLET, sessions=(session,), cover=replace(BOOKLET.cover, plan=plan))
    pages = lay_out_booklet(HALF_A4.of(booklet)).pages
    counted = [sum(word.startswith("Kind") for word in words_on(page).split()) for page in pages]
    assert [count for count in counted if count] == shares
