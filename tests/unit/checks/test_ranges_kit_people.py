"""Numbers out of range, settings, kit, screening and consent."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from compiler.checks import Check
from compiler.checks.kit import check_kit_names, check_kit_sizes
from compiler.checks.people import check_minors, check_screened, check_screening_answers, check_start_date
from compiler.checks.ranges import (
    check_client_numbers,
    check_percentages,
    check_safety_text,
    check_settings,
    check_test_units,
)
from compiler.model.book import Book

Expected = list[tuple[str, str]]
Finder = Callable[[Check, str], Expected]

START = "## Block\n| Setting | Value |\n| Start date | 2026-12-07 |\n"
LOADS = (
    "## Programme\n"
    "| Programme | Session | Exercise | Week 1 sets | Week 1 reps | Week 1 load | Week 2 load | Week 3 load |\n"
)


def clients(header: str, *lines: str) -> str:
    return f"## Clients\n| Client | Programme | {header} |\n" + "".join(f"| {line} |\n" for line in lines)


BAR = "## Exercises\n| Exercise | Implement | Bar | Needs | Instead without kit |\n"
USES = "## Programme\n| Programme | Session | Exercise | Week 1 sets |\n| S | A | Deadlift | 3 x 8 @ 75% |\n"
KIT = "## Kit\n| Site | Kind | Name | Sizes | Unit |\n| Gym | bar | Trap bar | 25 | kg |\n| Gym | rack | | | |\n"
AT_GYM = clients("Site", "Ana | S | Gym")

CASES: tuple[tuple[str, Check, str, Expected], ...] = (
    (
        "outside the default range",
        check_percentages,
        LOADS + "| S | A | Squat | 3 | 8 | 25% | 75% | 105% |\n",
        [("Programme!F2", "unusual-percentage"), ("Programme!H2", "unusual-percentage")],
    ),
    (
        "inside the Block's own range",
        check_percentages,
        "## Block\n| Setting | Value |\n| Highest percentage | 105% |\n"
        + LOADS
        + "| S | A | Squat | 3 | 8 | 105% | | |\n",
        [],
    ),
    (
        "reached by a step",
        check_percentages,
        LOADS + "| S | A | Squat | 3 | 8 | 95% | +5% | +2.5% |\n",
        [("Programme!H2", "unusual-percentage")],
    ),
    (
        "a step past what can be meant",
        check_percentages,
        LOADS + "| S | A | Squat | 3 | 8 | 100% | +15% | |\n",
        [("Programme!G2", "impossible-percentage")],
    ),
    (
        "told once, where it is typed",
        check_percentages,
        LOADS + "| S | A | Squat | 3 | 8 | 101-103% | | |\n",
        [("Programme!F2", "unusual-percentage")],
    ),
    (
        "lowest above highest",
        check_settings,
        "## Block\n| Setting | Value |\n| Lowest percentage | 80% |\n| Highest percentage | 60% |\n",
        [("Block!B3", "cells-disagree")],
    ),
    (
        "used for fewer days than good",
        check_settings,
        "## Block\n| Setting | Value |\n| A test is not used after (days) | 60 |\n",
        [("Block!B2", "cells-disagree")],
    ),
    (
        "an easier week past the block",
        check_settings,
        "## Block\n| Setting | Value |\n| Weeks | 3 |\n| Easier weeks | 4 |\n",
        [("Block!B3", "cells-disagree")],
    ),
    ("defaults agree", check_settings, "", []),
    ("sample safety text", check_safety_text, "", [("Block", "sample-safety-text")]),
    (
        "one list still the sample",
        check_safety_text,
        (
            "## Block\n| Setting | Value |\n| Safety: before you start | Ask Maud. |\n"
            "| Safety: stop the set if | It hurts. |\n"
            "| Safety: stop the session if | |\n"
        ),
        [("Block!B4", "sample-safety-text")],
    ),
    (
        "joins after the end",
        check_client_numbers,
        clients("First week", "Ana | S | 5", "Bo | S | 4"),
        [("Clients!C2", "cells-disagree")],
    ),
    (
        "resting rate above the highest",
        check_client_numbers,
        clients("Resting HR | Max HR", "Ana | S | 120 | 110", "Bo | S | 60 | 180"),
        [("Clients!D2", "cells-disagree")],
    ),
    (
        "two units",
        check_test_units,
        (
            "## Tests\n| Client | Date | Exercise | Load | Unit | Reps |\n"
            "| Ana | 2026-11-16 | Squat | 100 lb | kg | 1 |\n"
            "| Ana | 2026-11-16 | Squat | 100 kg | kg | 1 |\n"
        ),
        [("Tests!E2", "cells-disagree")],
    ),
    (
        "a bar that is there",
        check_kit_names,
        BAR + "| Deadlift | barbell | trap  bar | rack | |\n" + USES + KIT + AT_GYM,
        [],
    ),
    (
        "a bar and a need that are nowhere",
        check_kit_names,
        BAR + "| Deadlift | barbell | Trap-bar | cage | |\n" + USES + KIT + AT_GYM,
        [("Exercises!C2", "kit-missing"), ("Exercises!D2", "kit-missing")],
    ),
    (
        "something to do instead",
        check_kit_names,
        BAR + "| Deadlift | barbell | Safety bar | | Row |\n" + USES + KIT + AT_GYM,
        [],
    ),
    (
        "somebody trains where nothing is listed",
        check_kit_names,
        BAR
        + "| Deadlift | barbell | Safety bar | | |\n"
        + USES
        + KIT
        + clients("Site", "Ana | S | Gym", "Bo | S | Home"),
        [],
    ),
    (
        "an exercise of no row",
        check_kit_names,
        BAR + "| Squat | barbell | Safety bar | | |\n" + USES + KIT + AT_GYM,
        [],
    ),
    (
        "a row that could not be read may be the bar",
        check_kit_names,
        BAR
        + "| Deadlift | barbell | Safety bar | | |\n"
        + USES
        + KIT
        + "| Gym | bra | Safety bar | 25 | kg |\n"
        + AT_GYM,
        [],
    ),
    ("no Kit sheet", check_kit_names, BAR + "| Deadlift | barbell | Safety bar | | |\n" + USES + AT_GYM, []),
    (
        "sizes of another kind",
        check_kit_sizes,
        (
            "## Kit\n| Site | Kind | Name | Sizes | Unit |\n| Gym | plates | | light = yellow | |\n"
            "| Gym | bands | | 10, 20 | kg |\n"
        ),
        [("Kit!D2", "not-a-number"), ("Kit!D3", "unknown-choice")],
    ),
    (
        "ask first",
        check_screening_answers,
        clients(
            "Screening | Signed off by",
            "Ana | S | ask first |",
            "Bo | S | ask first | Dr A. Quill",
            "Cy | S | cleared |",
        ),
        [("Clients!C2", "ask-first")],
    ),
    (
        "minors on the start date",
        check_minors,
        START
        + clients(
            "Born | Guardian consent",
            "Eighteen that day | S | 2008-12-07 |",
            "Eighteen the day after | S | 2008-12-08 |",
            "Of a year the younger age | S | 2008 |",
            "With consent | S | 2010 | 2026-11-20",
        ),
        [("Clients!D3", "minor-without-consent"), ("Clients!D4", "minor-without-consent")],
    ),
    (
        "an own start date counts",
        check_minors,
        START + clients("Born | Guardian consent | Start date", "Ana | S | 2008-12-08 | | 2026-12-14"),
        [],
    ),
    ("no date, no age", check_minors, clients("Born | Guardian consent", "Ana | S | 2015 |"), []),
    (
        "born after the start",
        check_minors,
        START + clients("Born", "Ana | S | 2027-01-05"),
        [("Clients!C2", "unreadable-date")],
    ),
    (
        "some are not screened",
        check_screened,
        clients("Screened on | Print", "Ana | S | |", "Bo | S | 2026-11-02 |", "Cy | S | | none"),
        [("Clients!C2", "not-screened")],
    ),
    (
        "nobody is screened, told once",
        check_screened,
        clients("Level", "Ana | S |", "Bo | S |"),
        [("Clients", "not-screened")],
    ),
)


@pytest.mark.parametrize(("check", "text", "expected"), [c[1:] for c in CASES], ids=[c[0] for c in CASES])
def test_findings(found: Finder, check: Check, text: str, expected: Expected) -> None:
    """Each slip is flagged at its cell; what only looks like one is not."""
    assert expected == found(check, text)


@pytest.mark.parametrize(
    ("check", "text"),
    [
        (check_screening_answers, clients("Screening", "Ana | S | ask first")),
        (check_minors, START + clients("Born", "Ana | S | 2012")),
        (check_client_numbers, clients("First week", "Ana | S | 9")),
    ],
)
def test_who_is_stopped(book_of: Callable[[str], Book], check: Check, text: str) -> None:
    """An error about a client stops the client."""
    (flag,) = check(book_of(text))
    assert flag.touches == ("Ana",)


def test_a_client_whose_name_could_not_be_read(book_of: Callable[[str], Book]) -> None:
    """The message does without the name."""
    (flag,) = check_client_numbers(book_of(clients("First week", "{error #N/A} | S | 5")))
    assert flag.message == "This client joins in week 5, and the block has 4."


TESTED = "## Tests\n| Client | Date | Exercise | Load |\n| Ana | 2026-11-16 | Squat | 90 |\n"


@pytest.mark.parametrize(
    ("text", "unseen"),
    [
        (clients("Born", "Ana | S | 2010"), ["who is a minor"]),
        (clients("Born", "Ana | S |") + TESTED, ["how old the tests are"]),
        (clients("Born", "Ana | S | 2010") + TESTED, ["who is a minor and how old the tests are"]),
        (clients("Born", "Ana | S |"), []),
        (clients("Born | Start date", "Ana | S | 2010 | 2026-12-07") + TESTED, []),
        (START + clients("Born", "Ana | S | 2010") + TESTED, []),
    ],
)
def test_what_waits_for_a_start_date(text: str, unseen: list[str], book_of: Callable[[str], Book]) -> None:
    """Ages count to the first day; without one, the flag names what was not looked at."""
    said = [f"There is no start date, so it was not checked {words}." for words in unseen]
    assert [flag.message for flag in check_start_date(book_of(text))] == said


SAFETY = ("Safety: before you start", "Safety: stop the set if", "Safety: stop the session if")


@pytest.mark.parametrize(
    ("own", "said"),
    [(0, "The safety text is"), (1, "Two of the 3 safety texts are"), (2, "One of the 3 safety texts is"), (3, "")],
)
def test_how_much_of_the_safety_text_is_the_sample(own: int, said: str, book_of: Callable[[str], Book]) -> None:
    """Each of the three texts is the gym's to write; the flag counts those that nobody has."""
    text = "## Block\n| Setting | Value |\n" + "".join(f"| {name} | Ask Maud. |\n" for name in SAFETY[:own])
    told = [flag.message for flag in check_safety_text(book_of(text))]
    assert told == ([f"{said} still the sample; every booklet prints it."] if said else [])
