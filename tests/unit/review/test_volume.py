"""Volume. Worked sums: tests/data/reference/weekly_volume.csv, whose sources are in SOURCES.md beside it."""

from __future__ import annotations

import csv
from collections.abc import Callable
from decimal import Decimal
from pathlib import Path

import pytest

from compiler.flags.model import Flag
from compiler.model.book import Book
from compiler.quantities import Load, Unit
from compiler.resolve.plan import Resolution
from compiler.review import Review
from compiler.review.volume import WeekVolume, volumes_of, weekly_volume
from compiler.review.volume_jump import review_volume

Plans = Callable[[str], tuple[Book, Resolution]]

REFERENCE = Path(__file__).parents[2] / "data" / "reference" / "weekly_volume.csv"

BOOK = """
## Exercises
| Exercise | Implement             | Each side | Works              | Also works |
| Squat    | barbell               |           | quadriceps, glutes | trunk      |
| Press    | dumbbells             |           | chest              | triceps    |
| Row      | dumbbell              | yes       | upper back         | biceps     |
| Pull-up  | body weight plus load |           | Upper Back         |            |
| Landmine | landmine              |           | shoulders          |            |
| Push-up  | body weight           |           | chest              | triceps    |

## Clients
| Client | Programme | First week |
| Ana    | S         |            |

## Programme
|Programme|Session|Part|Order|Exercise|Done as|Ramp|Week 1 sets|Week 1 reps|Week 1 load|Week 2 sets|{second}
"""


def book(*rows: str, block: str = "") -> str:
    settings = f"## Block\n| Setting | Value |\n| Weeks | 2 |\n| Load step | 1 kg |\n{block}\n"
    return settings + BOOK.format(second="Week 2 reps|Week 2 load|") + "".join(f"| S | A | {row} |\n" for row in rows)


def first_week(planned: Plans, text: str) -> WeekVolume:
    return weekly_volume(planned(text)[1].plans[0], Unit.KG)[0]


def reference(key: str) -> Decimal:
    with REFERENCE.open(encoding="utf-8", newline="") as lines:
        return next(Decimal(row["value_min"]) for row in csv.DictReader(lines) if row["key"] == key)


@pytest.mark.parametrize(
    ("key", "row"),
    [
        ("volume_load_constant_3x8x65", "| A | Squat | | | 3 | 8 | 65 kg"),
        ("volume_load_varying_10x55_8x65_6x75", "| A | Squat | | | 3 | 10, 8, 6 | 55, 65, 75 kg"),
        ("volume_load_per_side_3x10_per_side_x_12kg", "| A | Row | | | 3 | 10 | 12 kg"),
    ],
)
def test_worked_sums(key: str, row: str, planned: Plans) -> None:
    """The published sums come out; of repetitions for each side both sides count."""
    assert first_week(planned, book(row)).load == Load(reference(key), Unit.KG)


CASES: tuple[tuple[str, str, str | None], ...] = (
    ("both hands of a pair", "| A | Press | | | 3 | 10 | 20 kg", "1200"),
    ("the middle of ranges: 2.5 sets of 9 with 62.5 kg", "| A | Squat | | | 2-3 | 8-10 | 60-65 kg", "1406.25"),
    ("only what is added to the body", "| A | Pull-up | | | 3 | 5 | BW + 10 kg", "150"),
    ("help takes nothing away", "| A | Pull-up | | | 3 | 5 | BW - 20 kg", "0"),
    ("the body alone is no load", "| A | Push-up | | | 3 | 10 | ", "0"),
    ("plates of a landmine", "| A | Landmine | | | 3 | 10 | 20 kg", "600"),
    ("all parts of a cluster", "| A | Squat | | | 3 | 2+2+2 | 60 kg", "1080"),
    ("the floor of 8+", "| A | Squat | | | 2 | 8+ | 60 kg", "960"),
    ("a longer list of sets than of loads", "| A | Squat | | | 3 | 5 | 60, 70 kg", "1000"),
    ("rounds by the clock", "| A | Squat | every 2 min x 5 | | | 3 | 60 kg", "900"),
    ("an effort has no load beforehand", "| A | Squat | | | 3 | 5 | RPE 8", None),
    ("as many as possible has no count beforehand", "| A | Squat | | | 3 | AMRAP | 60 kg", None),
    ("as many rounds as possible neither", "| A | Squat | AMRAP 8 min | | 1 | 5 | 60 kg", None),
    ("a hold with a weight has no repetitions", "| A | Squat | | | 3 | 30 s | 60 kg", None),
)


@pytest.mark.parametrize(("row", "expected"), [case[1:] for case in CASES], ids=[case[0] for case in CASES])
def test_volume_load_of_a_line(row: str, expected: str | None, planned: Plans) -> None:
    """Sets x repetitions x load, or no number where one of them is not known."""
    line = first_week(planned, book(row)).lines[0]
    assert line.load == (None if expected is None else Load(Decimal(expected), Unit.KG))


def test_loads_of_another_unit_are_turned_into_the_blocks(planned: Plans) -> None:
    """100 lb are 45.359237 kg (NIST SP 811); without kit they round to a step of 1 kg first."""
    assert first_week(planned, book("| A | Squat | | | 1 | 10 | 100 lb")).load == Load(Decimal(450), Unit.KG)


def test_sets_by_muscle(planned: Plans) -> None:
    """Works counts whole, Also works half, names however they are spelt; warm-ups do not count."""
    rows = ("| A | Squat | | | 3 | 5 | 60 kg", "| B | Row | | | 2 | 8 | 20 kg", "| C | Pull-up | | | 3 | 5 | BW + 5 kg")
    week = first_week(planned, book(*rows, "warm-up | | Push-up | | | 2 | 10 | "))
    assert week.sets == (
        ("quadriceps", Decimal(3)),
        ("glutes", Decimal(3)),
        ("trunk", Decimal("1.5")),
        ("upper back", Decimal(5)),
        ("biceps", Decimal(1)),
    )


JUMPS: tuple[tuple[str, str, list[str]], ...] = (
    ("half as much again", book("| A | Squat | | | 4 | 5 | 60 kg | 6"), ["Programme!K2"]),
    ("exactly what the Block allows", book("| A | Squat | | | 5 | 5 | 60 kg | 7"), []),
    (
        "the Block's own number",
        book("| A | Squat | | | 5 | 5 | 60 kg | 7", block="| Weekly jump in volume load that is flagged | 20% |"),
        ["Programme!K2"],
    ),
    ("into an easier week", book("| A | Squat | | | 4 | 5 | 60 kg | 6", block="| Easier weeks | 2 |"), []),
    ("out of an easier week", book("| A | Squat | | | 4 | 5 | 60 kg | 6", block="| Easier weeks | 1 |"), []),
    (
        "an easier week that could not be read may be the one before",
        book("| A | Squat | | | 4 | 5 | 60 kg | 6", block="| Easier weeks | soon |"),
        [],
    ),
    (
        "a number that could not be read allows anything",
        book("| A | Squat | | | 4 | 5 | 60 kg | 6", block="| Weekly jump in volume load that is flagged | lots |"),
        [],
    ),
    ("a fall", book("| A | Squat | | | 6 | 5 | 60 kg | 3"), []),
    (
        "a line that has a number in one week only is left out of both",
        book("| A | Squat | | | 4 | 5 | 60 kg", "| B | Press | | | 3 | 10 | RPE 7 | | | 30 kg"),
        [],
    ),
    (
        "a line that is new",
        book("| A | Squat | | | 4 | 5 | 60 kg", "| B | Press | | | | | | 3 | 10 | 30 kg"),
        ["Programme!K3"],
    ),
    (
        "too little is known",
        book(
            "| A | Squat | | | 2 | 5 | 60 kg | 4", "| B | Press | | | 3 | 10 | RPE 7", "| C | Row | | | 3 | 10 | RPE 7"
        ),
        [],
    ),
)


def _jumps(book: Book, resolution: Resolution) -> tuple[Flag, ...]:
    return review_volume(book, resolution.plans).flags


@pytest.mark.parametrize(("text", "expected"), [case[1:] for case in JUMPS], ids=[case[0] for case in JUMPS])
def test_jumps(text: str, expected: list[str], reviewed: Callable[[Review, str], tuple[Flag, ...]]) -> None:
    """A jump is told at the sets of the line that rises most."""
    flags = reviewed(_jumps, text)
    assert [(str(flag.place), flag.slug) for flag in flags] == [(place, "volume-jump") for place in expected]


def test_told_once_a_programme_and_week(reviewed: Callable[[Review, str], tuple[Flag, ...]]) -> None:
    """One flag speaks for all, with the client for whom the jump is largest."""
    text = book("| A | Squat | | | 4 | 5 | 60 kg | 6") + "\n## Changes\n| Client | Weeks | Do | Exercise | Load |\n"
    text = text.replace("| Ana    | S         |", "| Ana    | S         |            |\n| Ben    | S         |")
    flags = reviewed(_jumps, text + "| Ben | 1 | load | Squat | 50 kg |\n")
    assert [(flag.client, flag.message) for flag in flags] == [
        (
            None,
            (
                "Week 2 is 80% more volume load than week 1 for Ben (1000 to 1800 kg)"
                " and over the Block's 40% for 1 more; most of it is Squat."
            ),
        )
    ]


def test_volumes_are_kept_for_the_summary(planned: Plans) -> None:
    """Each client has the sums of their own weeks, also where one row is done with different loads."""
    text = book("| A | Squat | | | 4 | 5 | 60 kg | 6") + "\n## Changes\n| Client | Weeks | Do | Exercise | Load |\n"
    text = text.replace("| Ana    | S         |", "| Ana    | S         |            |\n| Ben    | S         |")
    made, resolution = planned(text + "| Ben | 1 | load | Squat | 50 kg |\n")
    kept = review_volume(made, resolution.plans).volumes
    loads = {plan.name: [week.load.amount for week in kept[plan.client.row.row]] for plan in resolution.plans}
    assert loads == {"Ana": [1200, 1800], "Ben": [1000, 1800]}
    assert kept == volumes_of(resolution.plans, Unit.KG)
