"""Names twice, names near, circles, restrictions."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from compiler.checks import Check, bad_rows, check_book
from compiler.checks.cycles import check_instead_circles, check_load_from_circles
from compiler.checks.restrictions import check_empty_restrictions, check_restriction_tags
from compiler.checks.uniqueness import (
    check_duplicate_clients,
    check_duplicate_exercises,
    check_duplicate_names,
    check_near_duplicates,
    near_pairs,
)
from compiler.model.book import Book

Expected = list[tuple[str, str]]
Finder = Callable[[Check, str], Expected]
BookOf = Callable[[str], Book]


def exercises(*lines: str, header: str = "Exercise") -> str:
    return f"## Exercises\n| {header} |\n" + "".join(f"| {line} |\n" for line in lines)


def clients(*lines: str, header: str = "Client | Programme") -> str:
    return f"## Clients\n| {header} |\n" + "".join(f"| {line} |\n" for line in lines)


RESTRICTED = clients("Ana | S | shoulder", header="Client | Programme | Restrictions")
RESTRICTIONS = "## Restrictions\n| Restriction | Avoid tags | Highest effort | Heart-rate targets | Raise loads |\n"

CASES: tuple[tuple[str, Check, str, Expected], ...] = (
    (
        "client twice, spelt in two ways",
        check_duplicate_clients,
        clients("Ana Ruiz | S", "Bo Dale | S", "ana  ruiz | S"),
        [("Clients!A4", "duplicate-client")],
    ),
    ("exercise twice", check_duplicate_exercises, exercises("Row", "row"), [("Exercises!A3", "duplicate-exercise")]),
    (
        "restriction and site twice",
        check_duplicate_names,
        RESTRICTIONS + "| knee | impact |\n| Knee | squat |\n## Sites\n| Site |\n| Gym |\n| gym |\n",
        [("Restrictions!A3", "duplicate-name"), ("Sites!A3", "duplicate-name")],
    ),
    (
        "exercises a letter apart",
        check_near_duplicates,
        exercises("Goblet squat", "Goblet squats"),
        [("Exercises!A3", "near-duplicate")],
    ),
    (
        "a session misspelt in one row",
        check_near_duplicates,
        (
            "## Programme\n| Programme | Session | Exercise | Week 1 sets |\n"
            "| S | Hinge and pull | Row | 3 x 8 |\n| S | Hinge and pul | Row | 3 x 8 |"
        ),
        [("Programme!B3", "near-duplicate")],
    ),
    (
        "digits and letters that label",
        check_near_duplicates,
        exercises("Press 1", "Press 2", "Row 10 kg", "Row 11 kg", "Complex A", "Complex B", "Y raise", "T raise"),
        [],
    ),
    (
        "a circle of two",
        check_load_from_circles,
        exercises("Squat | Front squat", "Front squat | Squat", "Row | Squat", header="Exercise | Load from"),
        [("Exercises!B2", "circular-load-from")],
    ),
    (
        "loaded from itself",
        check_load_from_circles,
        exercises("Squat | squat", header="Exercise | Load from"),
        [("Exercises!B2", "circular-load-from")],
    ),
    (
        "a chain is no circle",
        check_load_from_circles,
        exercises("Squat |", "Front squat | Squat", "Goblet squat | Front squat", header="Exercise | Load from"),
        [],
    ),
    (
        "instead in a circle",
        check_instead_circles,
        exercises(
            "Press | Dip |",
            "Dip | Press-up |",
            "Press-up | Press |",
            header="Exercise | Instead if restricted | Instead without kit",
        ),
        [("Exercises!B2", "circular-instead")],
    ),
    (
        "one way for a shoulder and back without kit is no circle",
        check_instead_circles,
        exercises(
            "Press | Press-up |",
            "Press-up | | Press",
            header="Exercise | Instead if restricted | Instead without kit",
        ),
        [],
    ),
    (
        "rules nothing out",
        check_empty_restrictions,
        RESTRICTIONS
        + "| knee | | | | yes |\n| back | note only | | | |\n| heart | | RPE 6 | | |\n| pills | | | no | |\n",
        [("Restrictions!B2", "empty-restriction")],
    ),
    (
        "a limit that could not be read",
        check_empty_restrictions,
        RESTRICTIONS + "| knee | | hard | | |\n",
        [],
    ),
    (
        "a tag that no exercise has",
        check_restriction_tags,
        RESTRICTED
        + RESTRICTIONS
        + "| shoulder | overhed, note only | | | |\n"
        + exercises("Press | overhead", header="Exercise | Tags"),
        [("Restrictions!B2", "unmatched-tag")],
    ),
    (
        "a restriction that is a note only",
        check_restriction_tags,
        RESTRICTED
        + RESTRICTIONS
        + "| shoulder | note only | | | |\n"
        + exercises("Press | overhead", header="Exercise | Tags"),
        [],
    ),
    (
        "a restriction that nobody has",
        check_restriction_tags,
        RESTRICTIONS + "| shoulder | overhed | | | |\n" + exercises("Press | overhead", header="Exercise | Tags"),
        [],
    ),
)


@pytest.mark.parametrize(("check", "text", "expected"), [c[1:] for c in CASES], ids=[c[0] for c in CASES])
def test_names(found: Finder, check: Check, text: str, expected: Expected) -> None:
    """Every slip is flagged at its cell, and what is meant so is not."""
    assert expected == found(check, text)


@pytest.mark.parametrize(
    ("one", "other", "near"),
    [
        ("back squat", "bakc squat", True),  # two letters exchanged
        ("push-up", "push up", True),
        ("step-up", "step-ups", True),
        ("hip abduction", "hip adduction", False),  # two exercises
        ("pull-up", "push-up", False),
        ("week 1", "week 2", False),
        ("block 10", "block 1", False),
        ("session a", "session b", False),
    ],
)
def test_near_pairs(one: str, other: str, near: bool) -> None:
    """One slip of typing makes two names near; a digit, a label or a word of the trade does not."""
    assert [(one, other)] * near == list(near_pairs([one, other]))


def test_near_pairs_of_many() -> None:
    """Pairs are found among many names, each once, in the order of the sheet."""
    names = [f"exercise number {chr(97 + i % 26)}{chr(97 + i // 26)} of many" for i in range(400)]
    assert [pair for pair in near_pairs(["goblet squat", *names, "goblet squats"]) if "goblet squat" in pair] == [
        ("goblet squat", "goblet squats")
    ]


def test_duplicate_client_stops_both_spellings(book_of: BookOf) -> None:
    """Nobody knows whose test is whose, so both are stopped."""
    (flag,) = check_duplicate_clients(book_of(clients("Ana Ruiz | S", "ANA RUIZ | S")))
    assert flag.touches == ("Ana Ruiz", "ANA RUIZ")


def test_empty_restriction_stops_who_has_it(book_of: BookOf) -> None:
    """Who has a restriction that says nothing gets no booklet."""
    (flag,) = check_empty_restrictions(book_of(RESTRICTED + RESTRICTIONS + "| Shoulder | | | | |\n"))
    assert flag.touches == ("Ana",)


def test_rows_wrong_together(book_of: BookOf) -> None:
    """Of a circle and of two exercises of one name every row is bad."""
    book = book_of(exercises("A | B", "B | A", "C |", "C |", "D |", header="Exercise | Load from"))
    assert sorted(row.row for row in bad_rows(check_book(book)) if row.sheet == "Exercises") == [2, 3, 4, 5]
