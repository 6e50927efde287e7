"""What a save changed, named as a coach would name it."""

from __future__ import annotations

import pytest

from compiler.binding.records import bind_book
from compiler.model.book import Book
from compiler.source.grid import book_from_grid
from compiler.watch.edits import edits
from compiler.watch.words import told_of_edits

WEEKS = " | ".join(f"Week {week} {what}" for week in (1, 2) for what in ("sets", "reps", "load"))

BOOK = f"""
## Block

| Setting | Value |
| --- | --- |
| Weeks | 2 |
| Gym | Ottermere Leisure Centre |

## Exercises

| Exercise | Implement | Cue |
| --- | --- | --- |
| Back squat | barbell | Brace first. |
| Bench press | barbell | |
| Press-up | body weight | |

## Programme

| Programme | Session | Part | Order | Exercise | {WEEKS} |
| --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- |
| Novice | Legs | main | A | Back squat | 3 | 5 | 75% | 3 | 5 | 80% |
| Novice | Push | main | A | Press-up | 3 | 8 | | 3 | 10 | |
| Novice | Push | main | B1 | Bench press | 3 | 5 | 70% | 3 | 5 | 75% |

## Clients

| Client | Programme | Group | Body weight |
| --- | --- | --- | --- |
| Imogen Thackray | Novice | Early | 64 kg |
| Rufus Pemberly | Novice | Late | 80 kg |

## Tests

| Client | Date | Exercise | Load | Unit | Reps |
| --- | --- | --- | --- | --- | --- |
| Imogen Thackray | 2026-11-02 | Back squat | 80 | kg | 1 |
| Rufus Pemberly | 2026-11-02 | Back squat | 100 | kg | 1 |
"""


def book(text: str) -> Book:
    bound = bind_book(book_from_grid(text))
    assert bound.book is not None
    return bound.book


def told(after: str) -> list[str]:
    return [edit.what for edit in edits(book(BOOK), book(after))]


@pytest.mark.parametrize(
    ("old", "new", "expected"),
    [
        pytest.param("", "", [], id="nothing"),
        pytest.param("| 5 | 75% |\n\n", "| 5 | 77.5% |\n\n", ["Week 2 load of B1"], id="a load"),
        pytest.param("| 5 | 80% |", "| 5 | 85% |", ["Week 2 load of A in Legs"], id="of an order that is twice"),
        pytest.param(
            "| 3 | 5 | 75% |\n\n",
            "| 3 x 6 @ 70% | | |\n\n",
            ["Week 2 sets of B1"],
            id="a prescription typed whole",
        ),
        pytest.param("64 kg", "65 kg", ["Body weight of Imogen Thackray (Clients)"], id="a client"),
        pytest.param("| 80 | kg", "| 85 | kg", ["Load of Imogen Thackray, Back squat, 2026-11-02 (Tests)"], id="test"),
        pytest.param("| Weeks | 2 |", "| Weeks | 1 |", ["Weeks (Block)"], id="a setting"),
        pytest.param(
            "| Novice | Push | main | A |",
            "| Novice | Push | main | W | Back squat | 1 | 5 | 50% | 1 | 5 | 50% |\n| Novice | Push | main | A |",
            ["W added"],
            id="a row put in above others",
        ),
        pytest.param(
            "| Rufus Pemberly | Novice | Late | 80 kg |\n", "", ["Rufus Pemberly removed (Clients)"], id="a client left"
        ),
        pytest.param(
            "| Rufus Pemberly | Novice | Late |",
            "| Rufus Pemberley | Novice | Late |",
            ["Client of Rufus Pemberly (Clients)"],
            id="a client renamed",
        ),
        pytest.param("| B1 |", "| C |", ["Order of B1"], id="another order"),
        pytest.param(
            "| Imogen Thackray | Novice | Early | 64 kg |\n| Rufus Pemberly | Novice | Late | 80 kg |\n",
            "| Rufus Pemberly | Novice | Late | 80 kg |\n| Imogen Thackray | Novice | Early | 64 kg |\n",
            ["rows in another order (Clients)"],
            id="sorted",
        ),
        pytest.param("Brace first.", "Brace, then down.", ["Cue of Back squat (Exercises)"], id="a cue"),
        pytest.param("| Programme | Session |", "| programme | SESSION |", [], id="a header written another way"),
    ],
)
def test_what_was_changed(old: str, new: str, expected: list[str]) -> None:
    """The cell by its header and its row's own name; rows above or below do not matter."""
    assert old in BOOK
    assert told(BOOK.replace(old, new, 1)) == expected


def test_equal_rows_stay_equal() -> None:
    """Of two rows about the same, the one that was edited is told, and one more of them is one row more."""
    row = "| Rufus Pemberly | 2026-11-02 | Back squat | 100 | kg | 1 |\n"
    twice = BOOK.replace(row, row + row)
    assert [edit.what for edit in edits(book(twice), book(twice.replace(row, row + row, 1)))] == [
        "Rufus Pemberly, Back squat, 2026-11-02 added (Tests)"
    ]
    assert [edit.what for edit in edits(book(twice), book(twice.replace(row, row.replace("100", "90"), 1)))] == [
        "Load of Rufus Pemberly, Back squat, 2026-11-02 (Tests)"
    ]


@pytest.mark.parametrize(
    ("changes", "expected"),
    [
        pytest.param([], "", id="none"),
        pytest.param([("64 kg", "65 kg")], "Body weight of Imogen Thackray (Clients)", id="one"),
        pytest.param([("80%", "85%"), ("70%", "72%")], "Week 2 load of A in Legs and Week 1 load of B1", id="two"),
        pytest.param(
            [("80%", "85%"), ("70%", "72%"), ("64 kg", "65 kg"), ("80 kg", "81 kg")],
            "Week 2 load of A in Legs, Week 1 load of B1 and 2 more cells",
            id="several",
        ),
        pytest.param(
            [("80%", "85%"), ("70%", "72%"), ("64 kg", "65 kg"), ("| Rufus Pemberly | Novice | Late | 80 kg |\n", "")],
            "Week 2 load of A in Legs, Week 1 load of B1 and 2 more changes",
            id="cells and a row",
        ),
    ],
)
def test_one_line(changes: list[tuple[str, str]], expected: str) -> None:
    """The first few are named, the others counted."""
    after = BOOK
    for old, new in changes:
        after = after.replace(old, new, 1)
    assert told_of_edits(edits(book(BOOK), book(after))) == expected
