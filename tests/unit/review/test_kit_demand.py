"""Kit demand: who wants what at once, and who could take the next size. Sums by hand; shares are common practice."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from compiler.flags.model import Flag
from compiler.model.book import Book
from compiler.resolve.plan import Resolution
from compiler.review.kit_demand import Demand, kit_demand, review_kit

Plans = Callable[[str], tuple[Book, Resolution]]

BOOK = """
## Block
| Setting | Value |
| Lifters to a bar | 2 |

## Exercises
| Exercise   | Implement   | Bar      | Needs       |
| Squat      | barbell     |          | rack        |
| Deadlift   | barbell     | Trap bar |             |
| Press      | dumbbells   |          | bench       |
| Row        | dumbbell    |          |             |
| Swing      | kettlebell  |          |             |
| Carry      | kettlebells |          |             |
| Pulldown   | cable       |          | Cable stack |
| Slam       | medicine ball |        | medicine ball |
| Shouldering | sandbag    |          |             |
| Chin-up    | body weight |          | pull-up bar |
| Step-up    | body weight |          | box         |
| Hang       | body weight |          | rack        |

## Sites
| Site |
| Gym  |
| Home |

## Kit
| Site | Kind        | Name        | Sizes      | Unit | How many |
| Gym  | bar         | 20 kg bar   | 20         | kg   | 2        |
| Gym  | bar         | 15 kg bar   | 15         | kg   | 2        |
| Gym  | bar         | Trap bar    | 25         | kg   | 1        |
| Gym  | plates      |             | 20, 10, 5, 2.5 | kg |        |
| Gym  | rack        | rack        |            |      | 2        |
| Gym  | bench       | bench       |            |      | 2        |
| Gym  | dumbbells   |             | 8-20 by 2  | kg   | 2        |
| Gym  | kettlebells |             | 12, 16, 20 | kg   | 3        |
| Gym  | stack       | Cable stack | 5-50 by 5  | kg   | 2        |
| Gym  | medicine ball |           | 4, 6       | kg   | 1        |
| Gym  | sandbags    |             | 20 x4, 30 x1, 40 | kg |      |
| Gym  | other       | pull-up bar |            |      | 2        |
| Gym  | other       | box         |            |      |          |
| Home | dumbbells   |             | 8-20 by 2  | kg   | 1        |

## Programme
|Programme|Session|Part|Order|Exercise|Done as|Week 1 sets|Week 1 reps|Week 1 load|Week 2 sets|Week 2 load|
"""

CLIENTS = "\n## Clients\n| Client | Programme | Group | Site | Restrictions | Highest effort | Training days |\n"
SIX = ("Ana", "Ben", "Cora", "Dov", "Effie", "Finn")


def book(*rows: str, people: int = 6, also: str = "") -> str:
    clients = "".join(f"| {name} | S | Tuesday | Gym | | | |\n" for name in SIX[:people])
    return BOOK + "".join(f"| S | A | {row} |\n" for row in rows) + CLIENTS + clients + also


def demands(planned: Plans, text: str) -> tuple[Demand, ...]:
    read, resolution = planned(text)
    return kit_demand(read, resolution.plans)


def short_of(planned: Plans, text: str) -> tuple[Flag, ...]:
    return tuple(review_kit(planned(text)[0], demands(planned, text)))


def told(planned: Plans, text: str) -> dict[str, tuple[str, str | None]]:
    """Return by item what is wanted at once and what is owned, in words."""
    return {
        demand.item.name: (
            demand.item.amount(demand.wanted),
            None if demand.owned is None else demand.item.amount(demand.owned),
        )
        for demand in demands(planned, text)
    }


CASES: tuple[tuple[str, str, dict[str, tuple[str, str | None]]], ...] = (
    (
        "bars and racks: two lifters to a bar",
        book("| A | Squat | | 3 | 5 | 60 kg"),
        {"20 kg bar": ("3 × 20 kg bar", "2 × 20 kg bar"), "rack": ("3 × rack", "2 × rack")},
    ),
    (
        "a load that is not known yet wants the first bar of the site",
        book("| A | Squat | | 3 | 5 | RPE 7"),
        {"20 kg bar": ("3 × 20 kg bar", "2 × 20 kg bar"), "rack": ("3 × rack", "2 × rack")},
    ),
    (
        "a light load wants the lighter bar",
        book("| A | Squat | | 3 | 5 | 17.5 kg", people=2),
        {"15 kg bar": ("1 × 15 kg bar", "2 × 15 kg bar"), "rack": ("1 × rack", "2 × rack")},
    ),
    (
        "a superset: half of the group on each, rounded up",
        book("| B1 | Press | | 3 | 8 | 14 kg", "| B2 | Chin-up | | 3 | 5 | ", people=5),
        {
            "dumbbells": ("3 pairs of 14 kg dumbbells", "2 pairs of 14 kg dumbbells"),
            "bench": ("3 × bench", "2 × bench"),
            "pull-up bar": ("3 × pull-up bar", "2 × pull-up bar"),
        },
    ),
    (
        "a circuit: people over stations",
        book(
            "| C1 | Swing | circuit | 3 | 8 | 16 kg",
            "| C2 | Chin-up | | 3 | 5 | ",
            "| C3 | Step-up | | 3 | 8 | ",
            "| C4 | Slam | | 3 | 8 | 4 kg",
        ),
        {
            "kettlebells": ("2 × 16 kg kettlebells", "3 × 16 kg kettlebells"),
            "pull-up bar": ("2 × pull-up bar", "2 × pull-up bar"),
            "box": ("2 × box", None),
            "medicine ball": ("2 × 4 kg medicine balls", "1 × 4 kg medicine ball"),
        },
    ),
    (
        "a kettlebell in each hand, and a third of the group",
        book(
            "| D1 | Carry | | 2 | 20 metres | 16 kg",
            "| D2 | Step-up | | 2 | 8 | ",
            "| D3 | Chin-up | | 2 | 5 | ",
        ),
        {
            "kettlebells": ("4 × 16 kg kettlebells", "3 × 16 kg kettlebells"),
            "box": ("2 × box", None),
            "pull-up bar": ("2 × pull-up bar", "2 × pull-up bar"),
        },
    ),
    (
        "one dumbbell is half a pair",
        book("| A | Row | | 3 | 8 | 14 kg", people=3),
        {"dumbbells": ("3 single 14 kg dumbbells", "2 pairs of 14 kg dumbbells")},
    ),
    (
        "one sandbag each, counted one by one",
        book("| A | Shouldering | | 3 | 5 | 30 kg", people=3),
        {"sandbags": ("3 × 30 kg sandbags", "1 × 30 kg sandbag")},
    ),
    (
        "the same bench in both halves of a superset",
        book("| B1 | Press | | 3 | 8 | RPE 7", "| B2 | Press | | 3 | 8 | RPE 7", people=3),
        {"bench": ("3 × bench", "2 × bench")},
    ),
    (
        "one person in a rack to squat and to hang",
        book("| B1 | Squat | | 3 | 5 | 60 kg", "| B2 | Hang | | 3 | 20 s | ", people=1),
        {"20 kg bar": ("1 × 20 kg bar", "2 × 20 kg bar"), "rack": ("1 × rack", "2 × rack")},
    ),
    (
        "a pair and one of the same size: two are at the pair, the third at the one",
        book("| B1 | Press | | 3 | 8 | 14 kg", "| B2 | Row | | 3 | 8 | 14 kg", people=3),
        {
            "dumbbells": ("5 single 14 kg dumbbells", "2 pairs of 14 kg dumbbells"),
            "bench": ("2 × bench", "2 × bench"),
        },
    ),
    (
        "a stack",
        book("| A | Pulldown | | 3 | 8 | RPE 7", people=3),
        {"Cable stack": ("3 × Cable stack", "2 × Cable stack")},
    ),
    (
        "warm-up lines are in no order",
        book("warm-up | | Chin-up | | | 5 | ", "warm-up | | Step-up | | | 8 | ", "warm-up | | Slam | | | 8 | "),
        {"pull-up bar": ("2 × pull-up bar", "2 × pull-up bar"), "box": ("2 × box", None)},
    ),
    (
        "the most over the weeks",
        book("| A | Squat | | 3 | 5 | 17.5 kg | | 60 kg", people=5),
        {
            "15 kg bar": ("3 × 15 kg bar", "2 × 15 kg bar"),
            "rack": ("3 × rack", "2 × rack"),
            "20 kg bar": ("3 × 20 kg bar", "2 × 20 kg bar"),
        },
    ),
)


@pytest.mark.parametrize(("text", "expected"), [case[1:] for case in CASES], ids=[case[0] for case in CASES])
def test_what_is_wanted_at_once(text: str, expected: dict[str, tuple[str, str | None]], planned: Plans) -> None:
    """Each item is wanted by those who are at it at the same time."""
    assert told(planned, text) == expected


def test_sizes_set_by_set(planned: Plans) -> None:
    """Of a list everybody is at the same entry: each size is wanted by all in its turn."""
    found = demands(planned, book("| A | Swing | | 3 | 8 | 12, 16, 20 kg", people=2))
    assert [(str(d.item.size), d.wanted) for d in found] == [("12", 2), ("16", 2), ("20", 2)]


@pytest.mark.parametrize(
    "also",
    [
        "| Gus | S | Tuesday | Home | | | |\n",
        "| Gus | S | | Gym | | | |\n",
        "| Gus | S | Thursday | Gym | | | |\n",
        "| Gus | S | Tuesday | Gym | | | Fri |\n",
    ],
    ids=["at another site", "in no group", "in another group", "on another day"],
)
def test_only_those_there_at_the_time_count(also: str, planned: Plans) -> None:
    """Kit is shared by those of one group, at one site, on one day."""
    found = demands(planned, book("| A | Press | | 3 | 8 | 14 kg", people=2, also=also))
    assert max(d.wanted for d in found if d.item.name == "dumbbells" and d.site == "Gym") == 4


def test_short_of_one_size(planned: Plans) -> None:
    """One flag a group, session and item names who could take the next size: the nearest exact loads first.

    Three want 14 kg and there are two pairs. Cora's exact load of 14.9 kg is nearest to the next size; who
    has a limit is not sent up.
    """
    changes = (
        "\n## Changes\n| Client | Do | Exercise | Load |\n| Ana | load | Press | 14 kg |\n"
        "| Ben | load | Press | 13.6 kg |\n| Cora | load | Press | 14.9 kg |\n"
    )
    text = book("| A | Press | | 3 | 8 | 14 kg", people=3) + changes
    short = [flag for flag in short_of(planned, text) if "dumbbells" in flag.message]
    assert [(str(flag.place), flag.slug, flag.message, flag.hint) for flag in short] == [
        (
            "Programme!E2",
            "kit-short",
            (
                "Tuesday, A, week 1: Press takes 3 pairs of 14 kg dumbbells at once,"
                " and Gym has 2 pairs of 14 kg dumbbells."
            ),
            (
                "Cora could take 16 kg; or let part of the group do the exercises in another order,"
                " or correct the Kit sheet."
            ),
        )
    ]
    limited = text.replace("| Cora | S | Tuesday | Gym | | | |", "| Cora | S | Tuesday | Gym | | RPE 9 | |")
    hints = [flag.hint for flag in short_of(planned, limited) if "dumbbells" in flag.message]
    assert [str(hint).split(";")[0] for hint in hints] == ["Ben could take 12 kg"]


def test_a_size_that_is_short_itself_takes_nobody(planned: Plans) -> None:
    """Where the next sizes are all in use, nobody is named."""
    loads = {"Ana": 14, "Ben": 14, "Cora": 14, "Dov": 12, "Effie": 12, "Finn": 16}
    changes = "\n## Changes\n| Client | Do | Exercise | Load |\n" + "".join(
        f"| {name} | load | Press | {load} kg |\n" for name, load in loads.items()
    )
    flags = short_of(planned, book("| A | Press | | 3 | 8 | 14 kg") + changes)
    hints = [flag.hint for flag in flags if "dumbbells" in flag.message]
    assert hints == ["Let part of the group do the exercises in another order, or correct the Kit sheet."]


def test_nobody_is_offered_two_sizes(planned: Plans) -> None:
    """Four want 14 kg and there are two pairs, so that two have to move.

    Ben's 14.1 kg lies 1.9 kg below 16 kg and 2.1 kg above 12 kg: he is sent up. The others have a limit and may only go
    down, 2.9 kg from 14.9 kg. Ben is nearer to 12 kg than they are, and has moved already.
    """
    changes = "".join(f"| {name} | load | Press | 14.9 kg |\n" for name in ("Ana", "Cora", "Dov"))
    text = book("| A | Press | | 3 | 8 | 14.1 kg", people=4)
    text += f"\n## Changes\n| Client | Do | Exercise | Load |\n{changes}"
    for name in ("Ana", "Cora", "Dov"):
        text = text.replace(f"| {name} | S | Tuesday | Gym | | | |", f"| {name} | S | Tuesday | Gym | | RPE 9 | |")
    hints = [str(flag.hint).split(";")[0] for flag in short_of(planned, text) if "dumbbells" in flag.message]
    assert hints == ["Ben could take 16 kg, Ana 12 kg"]


def test_nobody_is_offered_a_size_twice(planned: Plans) -> None:
    """Who has the same size in both halves of a superset is named once."""
    text = book("| B1 | Press | | 3 | 8 | 14.5 kg", "| B2 | Press | | 3 | 8 | 14.5 kg", people=4)
    hints = [str(flag.hint).split(";")[0] for flag in short_of(planned, text) if "dumbbells" in flag.message]
    names = [part.removesuffix(" could take 16 kg").removesuffix(" 16 kg") for part in hints[0].split(", ")]
    assert len(names) == len(set(names)), hints
