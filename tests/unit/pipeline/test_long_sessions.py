"""The flag for sessions that take more pages than they should: told once a session, whoever does it."""

from __future__ import annotations

from pathlib import Path

import pytest

from compiler.documents.booklet import build_booklet
from compiler.flags.model import Flag
from compiler.pipeline.booklets import draw_booklet
from compiler.pipeline.check import check_source
from compiler.pipeline.long_sessions import LongSessions
from tests.fragments import case_book

SHARED = (Path(__file__).parents[2] / "cases" / "ottermere.md").read_text(encoding="utf-8")
CUE = "Set the feet, breathe in at the top, brace, and lower for as long as the page says before you drive up again."


def _book(rows: int, booklet: str, prints: str = "normal") -> str:
    lines = [
        f"| Strength | Hinge and pull | main | A{number} | Goblet squat | {CUE} | 3 | 8 | 20 kg |"
        for number in range(1, rows + 1)
    ]
    programme = "\n".join(lines)
    return f"""
## Block

| Setting | Value |
| --- | --- |
| Booklet | {booklet} |
| Weeks | 2 |

## Exercises

| Exercise | Implement |
| --- | --- |
| Goblet squat | dumbbell |

## Programme

| Programme | Session | Part | Order | Exercise | Cue | Week 1 sets | Week 1 reps | Week 1 load |
| --- | --- | --- | --- | --- | --- | --- | --- | --- |
{programme}

## Clients

| Client | Programme | Print |
| --- | --- | --- |
| Imogen Thackray | Strength | {prints} |
| Edwin Larkspur | Strength | {prints} |
"""


def _flags(text: str) -> tuple[Flag, ...]:
    checked = check_source(case_book(text, SHARED))
    long = LongSessions()
    assert checked.book is not None
    assert checked.plans
    for plan in checked.plans:
        booklet = build_booklet(checked.book, plan)
        long.add(plan, booklet.format, draw_booklet(booklet).long)
    return long.flags()


def test_a_long_session_is_told_once() -> None:
    """Two clients, two weeks, one flag, at the first cell that names the session."""
    [flag] = _flags(_book(16, "full page"))
    assert (flag.slug, str(flag.place)) == ("session-over-a-page", "Programme!B2")
    assert flag.message == (
        'Session "Hinge and pull" takes 2 pages, and one was meant: for 2 clients, in weeks 1-2.'
    )


@pytest.mark.parametrize(
    ("rows", "booklet", "prints", "told"),
    [
        (6, "full page", "normal", 0),
        (7, "half page", "normal", 0),
        (16, "half page", "normal", 1),
        (8, "full page", "large", 0),
        (20, "full page", "large", 1),
    ],
)
def test_what_is_long_depends_on_the_format(rows: int, booklet: str, prints: str, told: int) -> None:
    """Two facing half pages are as good as one page, and large print takes up to four (measures of the booklet)."""
    assert len(_flags(_book(rows, booklet, prints))) == told


def test_what_does_not_fit_on_a_weeks_sheet_is_told() -> None:
    """A short session stands on its sheet and nothing is said; a long one gets pages of its own, and a note."""
    assert _flags(_book(5, "weeks sheet")) == ()
    [flag] = _flags(_book(12, "weeks sheet"))
    assert (flag.slug, str(flag.place)) == ("weeks-sheet-too-full", "Programme!B2")
    assert "for 2 clients it has pages of its own, in weeks 1-2" in flag.message
