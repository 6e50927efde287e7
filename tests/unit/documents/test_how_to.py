"""The how-to page says what stands in the booklet, in the booklet's own words and numbers."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from compiler.demo.workbooks import demo_source
from compiler.documents.booklet import build_booklet
from compiler.documents.booklet_value import Booklet, ExerciseRow, Figure, Mark
from compiler.documents.how_to_words import tempo_sentence
from compiler.notation.values import Tempo
from compiler.pipeline.check import check_source
from tests.fragments import case_book


@pytest.fixture(scope="module")
def booklets() -> list[Booklet]:
    checked = check_source(demo_source())
    assert checked.book is not None
    return [build_booklet(checked.book, plan) for plan in checked.plans]


def rows(booklet: Booklet) -> list[ExerciseRow]:
    blocks = [booklet.how_to.sample, *(block for session in booklet.sessions for block in session.blocks)]
    return [row for block in blocks for row in block.rows]


def said(booklet: Booklet, head: str) -> str:
    return next(point.text for point in booklet.how_to.points if point.head == head)


def figures(booklet: Booklet) -> set[str]:
    return {row.load.text for row in rows(booklet) if isinstance(row.load, Figure)}


def test_the_dose_explained_is_of_the_sample_where_it_has_one(booklets: list[Booklet]) -> None:
    for booklet in booklets:
        told = said(booklet, "Sets × reps.").partition(" is ")[0]
        of_the_sample = [row.dose.text for row in booklet.how_to.sample.rows if "×" in row.dose.text]
        assert told in (of_the_sample or [row.dose.text for row in rows(booklet)])


def test_every_load_explained_stands_in_the_booklet(booklets: list[Booklet]) -> None:
    for booklet in booklets:
        text = said(booklet, "Your load.")
        for pattern in (r"^([\d.–]+ kg) is the whole", r"(2 × [\d.–]+ kg) is one", r"(bar \+ [\d.–]+ kg) is"):
            assert set(re.findall(pattern, text)) <= figures(booklet)
        plates = {note for row in rows(booklet) if isinstance(row.load, Figure) for note in row.load.notes}
        assert set(re.findall(r'"([\d .+]+ a side)"', text)) <= plates


def test_what_is_written_in_a_box_is_what_the_sample_asks_for(booklets: list[Booklet]) -> None:
    """A number that nobody chose is never shown: where the sample has no load, the words stand for it."""
    for booklet in booklets:
        written = re.findall(r"such as (.+?)\. Missed", said(booklet, "Your boxes."))
        for amount in (text.partition(" × ")[0] for text in written if " × " in text):
            assert amount == "your weight" or any(amount in figure for figure in figures(booklet))


def test_a_number_stands_only_where_the_sample_has_the_same(booklets: list[Booklet]) -> None:
    """Who reads "3 Changed" looks for a 3 in the sample block."""
    for booklet in booklets:
        rows_shown = booklet.how_to.sample.rows
        marks = {point.mark for point in booklet.how_to.points}
        assert (Mark.CHANGED in marks) == any(row.changed is not None for row in rows_shown)
        assert (Mark.RAMP in marks) == any(row.ramp != "" for row in rows_shown)
        assert (Mark.REPS_LEFT in marks) == any(row.log.reps_left for row in rows_shown)


@pytest.mark.parametrize(
    ("tempo", "words"),
    [
        (Tempo(3, 1, 1, 0), "three seconds lowering, one still, one lifting, none at the top"),
        (Tempo(3, 0, 1, 0, 3), "three seconds lowering, no pause, one lifting"),
        (Tempo(1, 0, None, 1), "one second lowering, no pause, lifting as fast as you can (X), one at the top"),
        (Tempo(None, 2, 1, 0), "lowering as fast as you can (X), two seconds still, one lifting, none at the top"),
        (Tempo(0, 0, 0, 0), "none lowering, no pause, none lifting, none at the top"),
        (Tempo(15, 0, 1, 0, 3), "15 seconds lowering, no pause, one lifting"),
    ],
)
def test_tempo_part_by_part(tempo: Tempo, words: str) -> None:
    """The order of the parts (lowering, pause, lifting, pause) is common practice, no source."""
    assert f"is {words}; the first is always the lowering." in tempo_sentence(tempo)


SHARED = (Path(__file__).parents[2] / "cases" / "ottermere.md").read_text(encoding="utf-8")
PEOPLE = """
## Exercises

| Exercise | Implement |
| --- | --- |
| Front plank | body weight |
| Push-up | body weight |

## Clients

| Client | Programme |
| --- | --- |
| Nell Hartigan | Home |
"""


@pytest.mark.parametrize(
    ("sets", "reps", "told"),
    [
        ("3", "30 s", "3 × 30 s is three sets of 30 s."),
        ("2-3", "8", "2–3 × 8 is two or three sets of eight."),
        ("2", "max", "2 × max is two sets of as many as you can."),
        ("3", "8-10", "3 × 8–10 is three sets of eight to ten."),
        ("3", "8+", "3 × 8+ is three sets of eight, and more if they are good."),
        ("1", "30 s", "First how many sets, then what is done in each."),
        ("3", "12, 10, 8", "12, 10, 8 is twelve in the first set, ten in the second."),
    ],
)
def test_doses_in_words(sets: str, reps: str, told: str) -> None:
    book = f"""
## Programme

| Programme | Session | Part | Order | Exercise | Week 1 sets | Week 1 reps | Week 1 load |
| --- | --- | --- | --- | --- | --- | --- | --- |
| Home | Floor | main | A | {"Front plank" if "s" in reps else "Push-up"} | {sets} | {reps} | |
"""
    checked = check_source(case_book(book + PEOPLE, SHARED))
    assert checked.book is not None
    [plan] = checked.plans
    assert told in said(build_booklet(checked.book, plan), "Sets × reps.").replace("\u00a0", " ")
