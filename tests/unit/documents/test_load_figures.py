"""What stands where the load is, for every kind of load: the words of the booklet, from the cell to the figure."""

from __future__ import annotations

import pytest

from compiler.binding.records import bind_book
from compiler.documents.booklet_value import BlankLoad, Figure
from compiler.documents.figures import Figures
from compiler.documents.load_words import load_figure
from compiler.resolve.plan import resolve_book
from compiler.resolve.values import Part, PlannedExercise
from tests.fragments import fragment_book

BOOK = """
## Block
| Setting        | Value                            |
| Weeks          | 2                                |
| Start date     | 2027-01-04                       |

## Exercises
| Exercise       | Implement             |
| Back squat     | barbell               |
| Goblet squat   | dumbbell              |
| Row            | dumbbells             |
| Landmine press | landmine              |
| Pull-up        | body weight plus load |
| Push-up        | body weight           |
| Pull-apart     | band                  |
| Bike           | cardio                |

## Clients
| Client | Programme | Resting HR | Max HR |
| Ana    | S         | 60         | 180    |

## Tests
| Client | Date       | Exercise   | Load | Unit | Reps |
| Ana    | 2026-11-16 | Back squat | 100  | kg   | 1    |

## Kit
| Site | Kind         | Name      | Sizes                               | Unit |
| Gym  | bar          | Bar       | 20                                  | kg   |
| Gym  | plates       |           | 20 x6, 10 x6, 5 x6, 2.5 x6, 1.25 x6 | kg   |
| Gym  | dumbbells    |           | 2-40 by 2                           | kg   |
| Gym  | bands        |           | light, medium                       |      |

## Programme
| Programme | Session | Order | Exercise   | Week 1 sets | Week 1 reps | Week 1 load | Week 2 load |
| S         | A       | A     | {row} |
"""


def planned(row: str, week: int = 1) -> PlannedExercise:
    bound = bind_book(fragment_book(BOOK.replace("{row}", row)))
    assert bound.book is not None, bound.flags
    resolution = resolve_book(bound.book)
    assert resolution.plans, [flag.message for flag in (*bound.flags, *resolution.flags)]
    return next(s for s in resolution.plans[0].sessions if s.week == week).parts[Part.MAIN][0]


def shown(one: PlannedExercise) -> Figure | BlankLoad | None:
    return load_figure(one, Figures(), percents=False, usual_bar="Bar, 20 kg")


@pytest.mark.parametrize(
    ("row", "figure"),
    [
        ("Back squat | 3 | 5 | 60 kg", Figure("60 kg", ("20 a side",))),
        ("Back squat | 3 | 5 | 60-65 kg", Figure("60–65 kg", ("20 a side to 20 + 2.5 a side",))),
        ("Back squat | 3 | 5 | 20 kg", Figure("20 kg", ("the bar alone",))),
        ("Back squat | 3 | 5 | 75%, stop at RPE 8", Figure("75 kg", ("20 + 5 + 2.5 a side", "stop at RPE 8"))),
        ("Row | 3 | 8 | 12 kg", Figure("2 × 12 kg")),
        ("Goblet squat | 3 | 8 | 12 kg", Figure("12 kg")),
        ("Goblet squat | 3 | 8 | 60 kg", Figure("40 kg", ("the heaviest here",))),
        ("Landmine press | 3 | 8 | 10 kg", Figure("bar + 10 kg")),
        ("Pull-up | 3 | 5 | BW + 10 kg", Figure("Body weight + 10 kg")),
        ("Pull-up | 3 | 5 | BW - 20 kg", Figure("Body weight − 20 kg", ("help from a band or machine",))),
        ("Pull-up | 3 | 5 | body weight", Figure("Body weight")),
        ("Push-up | 3 | 12 | body weight", Figure("Body weight")),
        ("Pull-apart | 3 | 15 | light", Figure("Light band")),
        ("Back squat | 3 | 5 | work up", Figure("Work up", ("each set heavier until it feels right",))),
        ("Back squat | 3 | 5 | work up to RPE 8", Figure("Work up", ("each set heavier until it is RPE 8",))),
        ("Back squat | 3 | 5 | by feel", Figure("By feel")),
        ("Back squat | 3 | 5 | own", BlankLoad("kg", ("your last working weight",))),
        ("Row | 3 | 8 | own", BlankLoad("kg each hand", ("your last working weight",))),
        ("Back squat | 3 | 5 | own + 2.5 kg", BlankLoad("kg", ("your last working weight + 2.5 kg",))),
        ("Back squat | 3 | 5 | own -10%", BlankLoad("kg", ("your last working weight − 10%",))),
        ("Goblet squat | 3 | 8 | RPE 8, then -10%", Figure("RPE 8", ("first set", "leave 2 in reserve"))),
        ("Bike | 1 | 20 min | 120-140 bpm", Figure("120–140", ("beats a minute",))),
    ],
)
def test_a_load_and_its_small_words(row: str, figure: Figure | BlankLoad) -> None:
    """The figure is what the client loads; what it needs beside it stands in small words."""
    assert shown(planned(row)) == figure


def test_a_heart_rate_is_worked_out_of_the_reserve() -> None:
    """Karvonen et al. 1957: the resting rate and a share of what is between it and the maximum.

    60 + 0.6 × (180 − 60) = 132 and 60 + 0.7 × 120 = 144.
    """
    assert shown(planned("Bike | 1 | 20 min | 60-70% HRR")) == Figure("132–144", ("beats a minute",))


def test_a_later_step_on_a_weight_of_the_client_s_own_starts_from_its_week() -> None:
    """Week 2 of `own` with a step is told from what was written on paper in week 1."""
    one = planned("Back squat | 3 | 5 | own | +2.5 kg", week=2)
    assert shown(one) == BlankLoad("kg", ("your week 1 weight + 2.5 kg",))


def test_a_step_in_points_of_an_unknown_maximum_has_no_number() -> None:
    """Without a test, 2.5 points of the maximum are not 2.5% of the weight that an effort gave."""
    up = planned("Row | 3 | 5 | 75% or RPE 7 | +2.5%", week=2)
    assert shown(up) == BlankLoad("kg each hand", ("more than your week 1 weight",))
    down = planned("Row | 3 | 5 | 75% or RPE 7 | same - 5%", week=2)
    assert shown(down) == BlankLoad("kg each hand", ("less than your week 1 weight",))


@pytest.mark.parametrize(
    ("cells", "changes", "share"),
    [
        ("75% | +10 kg", "", "75% of 100 kg + 10 kg"),
        ("75% | +22 lb", "", "75% of 100 kg + 10 kg"),
        ("75% | +2.5%", "| Ana | | | | | scale | 80% |", "77.5% of 100 kg, then 80% of that"),
        ("75% | +10 kg", "| Ana | | | | | scale | 80% |", "75% of 100 kg + 10 kg, then 80% of that"),
    ],
)
def test_the_sum_beside_a_load_comes_to_it(cells: str, changes: str, share: str) -> None:
    """75 + 10 = 85; four fifths of 77.5 are 62 and of 85 are 68: "75% of 100 kg" alone would be another weight."""
    book = BOOK.replace("{row}", f"Back squat | 3 | 5 | {cells}")
    book += f"## Changes\n| Client | Session | Order | Exercise | Weeks | Do | With |\n{changes}" if changes else ""
    bound = bind_book(fragment_book(book)).book
    assert bound is not None
    plan = resolve_book(bound).plans[0]
    (one,) = next(s for s in plan.sessions if s.week == 2).parts[Part.MAIN]
    figure = load_figure(one, Figures(), percents=True, usual_bar="Bar, 20 kg")
    assert isinstance(figure, Figure)
    assert share in figure.notes


def test_the_share_of_a_lift_with_the_body_says_so() -> None:
    """60 kg of body and 20 added are 80: 75% of that is the body alone, and 85% is 8 kg more, 7.5 by the step."""
    book = BOOK.replace("| Client | Programme | Resting HR | Max HR |", "| Client | Programme | Body weight | Max HR |")
    book = book.replace("| Ana    | S         | 60         | 180    |", "| Ana | S | 60 kg | 180 |")
    book = book.replace("Back squat | 100  | kg", "Pull-up | 20 | kg")
    bound = bind_book(fragment_book(book.replace("{row}", "Pull-up | 3 | 5 | 85%"))).book
    assert bound is not None
    (one,) = resolve_book(bound).plans[0].sessions[0].parts[Part.MAIN]
    figure = load_figure(one, Figures(), percents=True, usual_bar=None)
    assert figure == Figure("Body weight + 7.5 kg", ("85% of 80 kg, body included",))
