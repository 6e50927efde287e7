"""Session time. What a repetition, a change-over and a breath take is common practice, no source; sums by hand."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from compiler.flags.model import Flag
from compiler.model.book import Book
from compiler.resolve.plan import Resolution
from compiler.review import Review
from compiler.review.session_time import SessionTime, review_session_time, session_minutes, session_time

BOOK = """
## Block
| Setting | Value |
| Session length (minutes) | {minutes} |

## Exercises
| Exercise | Implement   | Each side |
| Press    | dumbbells   |           |
| Lunge    | body weight | yes       |
| Carry    | dumbbells   |           |
| Rower    | cardio      |           |

## Clients
| Client | Programme |
| Ana    | S         |
| Ben    | S         |

## Programme
| Programme | Session | Part | Order | Exercise | Done as | Tempo | Rest | Week 1 sets | Week 1 reps | Week 1 load |
"""


def book(*rows: str, minutes: str = "") -> str:
    return BOOK.format(minutes=minutes) + "".join(f"| S | A | {row} |\n" for row in rows)


CASES: tuple[tuple[str, str, int, tuple[str, ...]], ...] = (
    # three sets of 8 repetitions of 3 s, two rests of 60 s between them
    ("sets and rests", book("| A | Press | | | 60 s | 3 | 8 | RPE 7"), 3 * 24 + 2 * 60, ()),
    ("the longer end of a range", book("| A | Press | | | 60-90 s | 2-3 | 8-10 | RPE 7"), 3 * 30 + 2 * 90, ()),
    ("tempo: 3-1-1-0 is five seconds", book("| A | Press | | 3-1-1-0 | 0 | 1 | 8 | RPE 7"), 40, ()),
    ("tempo: X is one second", book("| A | Press | | 20X1 | 0 | 1 | 10 | RPE 7"), 40, ()),
    ("both sides by the exercise", book("| A | Lunge | | | 0 | 2 | 10 | "), 2 * 60, ()),
    ("both sides by the cell, once", book("| A | Lunge | | | 0 | 2 | 10 each side | "), 2 * 60, ()),
    ("a change-over where no rest is typed", book("| A | Press | | | | 2 | 10 | RPE 7"), 2 * 30 + 20, ()),
    (
        "a superset: change-over inside, rest after the round",
        book("| A1 | Press | | | 15 s | 2 | 10 | RPE 7", "| A2 | Lunge | | | 60 s | 2 | 5 | "),
        2 * (30 + 15 + 30) + 60,
        (),
    ),
    (
        "unequal sets: the last of one alone",
        book("| A1 | Press | | | 0 | 3 | 10 | RPE 7", "| A2 | Lunge | | | 60 s | 2 | 5 | "),
        3 * 30 + 2 * 30 + 2 * 60,
        (),
    ),
    ("set by set", book("| A | Press | | | 60 s | 3 | 12, 10, 8 | RPE 7"), 90 + 120, ()),
    ("holds", book("| A | Lunge | | | 30 s | 2 | 40 s | "), 2 * 80 + 30, ()),
    (
        "breaths and steps",
        book("| A | Carry | | | 0 | 1 | 10 steps | 8 kg", "| B | Carry | | | 0 | 1 | 5 breaths |8 kg"),
        45,
        (),
    ),
    ("a walk of 40 m at one metre a second", book("| A | Carry | | | 0 | 1 | 40 metres | 8 kg"), 40, ()),
    ("metres on a machine are not counted", book("| A | Rower | | | 60 s | 1 | 500 m | "), 0, ("Rower",)),
    ("as many as possible is not counted", book("| A | Press | | | 60 s | 3 | AMRAP | RPE 7"), 2 * 60, ("Press",)),
    ("clusters: ten seconds between the parts", book("| A | Press | | | 0 | 1 | 2+2+2 | RPE 7"), 18 + 20, ()),
    ("EMOM by the clock", book("| A | Press | EMOM 8 min | | | 8 | 5 | RPE 7"), 480, ()),
    ("every two minutes, five times", book("| A | Press | every 2 min x 5 | | | 5 | 5 | RPE 7"), 600, ()),
    (
        "rounds by the clock",
        book("| A1 | Press | AMRAP 12 min | | | | 5 | RPE 7", "| A2 | Rower | | | | | 200 m | "),
        720,
        (),
    ),
    (
        "a drop set goes on twice",
        book("| A | Press | drop last set 20% x 2 | | 60 s | 2 | 10 | RPE 7"),
        2 * 30 + 60 + 2 * 30,
        (),
    ),
    ("a rest-pause", book("| A | Press | rest-pause | | 60 s | 2 | 10 | RPE 7"), 2 * 30 + 60 + 15, ()),
)


@pytest.mark.parametrize(
    ("text", "seconds", "uncounted"), [case[1:] for case in CASES], ids=[case[0] for case in CASES]
)
def test_how_long_a_session_takes(
    text: str, seconds: int, uncounted: tuple[str, ...], planned: Callable[[str], tuple[Book, Resolution]]
) -> None:
    """The time is the sum of work, rests and change-overs; the rest after the very last set is nobody's."""
    session = planned(text)[1].plans[0].sessions[0]
    assert session_time(session) == SessionTime(seconds, uncounted)
    assert session_minutes(session) == -(-seconds // 60)


LONG = "| A | Press | | | 3 min | 5 | 10 | RPE 7"  # 5 x 30 s and 4 x 180 s: 14 min 30 s


@pytest.mark.parametrize(("minutes", "told"), [("", 0), ("14", 1), ("15", 0)])
def test_told_once_for_all_clients(
    minutes: str, told: int, reviewed: Callable[[Review, str], tuple[Flag, ...]]
) -> None:
    """One flag a session, with the longest and how many more; none where the Block says nothing."""
    flags = reviewed(review_session_time, book(LONG, minutes=minutes))
    assert [(str(flag.place), flag.slug, flag.client) for flag in flags] == [
        ("Programme!B2", "session-too-long", None)
    ] * told
    assert all("15 minutes for Ana and 1 more" in flag.message for flag in flags)


@pytest.mark.parametrize(
    ("weeks", "others"),
    [("1", ""), ("2", " Too long in week 2 as well."), ("4", " Too long in weeks 2, 3, 4 as well.")],
)
def test_the_other_weeks_are_named(
    weeks: str, others: str, reviewed: Callable[[Review, str], tuple[Flag, ...]]
) -> None:
    """The longest week is told with its minutes, and which others are too long as well."""
    text = book(LONG, minutes="14").replace("| Session length", f"| Weeks | {weeks} |\n| Session length")
    said = f"A of week 1 takes about 15 minutes for Ana and 1 more; the Block says 14.{others}"
    assert [flag.message for flag in reviewed(review_session_time, text)] == [said]
