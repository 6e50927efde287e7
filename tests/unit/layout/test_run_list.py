"""The pages of the run list: whatever is on it, its words stand in the live area, apart from each other."""

from __future__ import annotations

import pytest

from compiler.documents.booklet_value import Format, Paper
from compiler.documents.run_list import RunHeads, RunList, RunRow
from compiler.layout.page import Pages, Text
from compiler.layout.run_list import lay_out_run_list
from tests.unit.layout.flat import texts_of
from tests.unit.layout.formats import Setting
from tests.unit.layout.rules import no_two_texts_overlap, text_stays_in_the_live_area

SHORT = RunRow("Imogen Thackray", "", "1", "5", "3", "", "Tuesday early", "Gym")
LONG = RunRow(
    name="Wilhelmina Oakenshaw-Pell-Featherstonehaugh",
    label="Blue 17",
    first="1007",
    pages="24",
    sheets="12",
    stack="folded",
    group="Tuesday evening and every second Saturday",
    site="Lower Ottermere boathouse, upstairs",
)
TOTAL = RunRow("80 booklets", "", "", "1160", "600", "", "", "")


def laid_out(rows: tuple[RunRow, ...], paper: Paper) -> Pages:
    return lay_out_run_list(
        RunList(
            language="en-GB",
            paper=paper,
            title="Run list",
            about="Ottermere Leisure Centre, winter strength",
            author="Maud Ferrier",
            how_title="How to print",
            how=("Print on both sides, flipped on the long edge.",),
            heads=RunHeads(),
            rows=rows,
            total=TOTAL,
            footer=("Ottermere Leisure Centre", "December 2026"),
        )
    )


def named(pages: Pages, text: str) -> list[Text]:
    """Return the texts that begin with some words, in the order of the pages."""
    return [found for page in pages.pages for found in texts_of(page) if found.text.startswith(text)]


@pytest.mark.parametrize("paper", Paper)
@pytest.mark.parametrize("rows", [(SHORT,), (LONG,), (SHORT, LONG) * 40], ids=["short", "long", "eighty"])
def test_its_words_stand_in_the_live_area_and_apart(rows: tuple[RunRow, ...], paper: Paper) -> None:
    """Columns are as wide as what stands in them; long words go on below, and no row is lost between the pages."""
    pages = laid_out(rows, paper)
    setting = Setting(Format.FULL_PAGE, paper)
    text_stays_in_the_live_area(pages, setting)
    no_two_texts_overlap(pages, setting)
    assert len(named(pages, "Imogen")) == rows.count(SHORT)
    assert len(named(pages, "Wilhelmina")) == rows.count(LONG)


def test_the_name_takes_what_is_left() -> None:
    """The other columns end at the right edge of the live area, so that a short list is as wide as a long one."""
    pages = laid_out((SHORT,), Paper.A4)
    (site,) = named(pages, "Gym")
    sheet = Setting(Format.FULL_PAGE, Paper.A4).sheet_of(pages.pages[0])
    assert site.x > sheet.live * 0.8
