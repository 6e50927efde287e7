"""Which sessions a client does in a week, on which days, and with the loads of which week."""

from __future__ import annotations

import pytest

from compiler.binding.records import bind_book
from compiler.resolve.plan import resolve_book
from compiler.resolve.values import Part
from tests.fragments import fragment_book

BOOK = """
## Block
| Setting      | Value      |
| Weeks        | 4          |
| Start date   | 2027-01-04 |
| Easier weeks | {easier}   |
| Closed dates | 2027-01-13 |

## Exercises
| Exercise     | Implement |
| Goblet squat | dumbbell  |
| Row          | dumbbell  |

## Clients
| Client | Programme | Sessions   | Training days | First week |
| Ana    | S         | {sessions} | {days}        | {first}    |

## Kit
| Site | Kind      | Name | Sizes     | Unit |
| Gym  | dumbbells |      | 2-40 by 2 | kg   |

## Programme
| Programme | Session | Order | Exercise | Week 1 sets | Week 1 reps | Week 1 load | Week 2 load | Week 3 load | Week 4 load |
| S | Legs | A | Goblet squat | 3 | 8 | 10 kg | 12 kg | 14 kg | 8 kg |
| S | Back | A | Row          | 3 | 8 | 20 kg | 22 kg | 24 kg | 18 kg |
"""  # noqa: E501 - a week a column


def dealt(
    sessions: str = "rotate", days: str = "Mon Wed Fri", easier: str = "4", first: str = "1"
) -> dict[int, list[str]]:
    """Return week -> session and load of each."""
    text = BOOK
    for name, value in (("sessions", sessions), ("days", days), ("easier", easier), ("first", first)):
        text = text.replace(f"{{{name}}}", value)
    book = bind_book(fragment_book(text)).book
    assert book is not None
    (plan,) = resolve_book(book).plans
    weeks: dict[int, list[str]] = {}
    for session in plan.sessions:
        (planned,) = session.parts[Part.MAIN]
        weeks.setdefault(session.week, []).append(f"{session.name} {planned.load.items[0].low.load}")
    return weeks


def test_in_rotation_loads_follow_each_session_s_own_count() -> None:
    """The second time of a session is its week 2, whatever the calendar says; the last heavy week's loads then stay.

    An easier week takes its own loads, and no session is passed over because of it.
    """
    assert dealt() == {
        1: ["Legs 10 kg", "Back 20 kg", "Legs 12 kg"],
        2: ["Back 22 kg", "Legs 14 kg", "Back 24 kg"],
        3: ["Legs 14 kg", "Back 24 kg", "Legs 14 kg"],
        4: ["Back 18 kg", "Legs 8 kg", "Back 18 kg"],
    }


def test_an_easier_week_in_the_middle_does_not_count() -> None:
    """Easier in week 2: the loads go on in week 3 where they were left in week 1."""
    assert dealt(easier="2", days="Mon Wed") == {
        1: ["Legs 10 kg", "Back 20 kg"],
        2: ["Legs 12 kg", "Back 22 kg"],
        3: ["Legs 14 kg", "Back 24 kg"],
        4: ["Legs 8 kg", "Back 18 kg"],
    }


@pytest.mark.parametrize(
    ("more", "weeks"),
    [
        ({"days": "Mon Wed"}, {week: ["Legs", "Back"] for week in (1, 2, 3, 4)}),
        ({"days": ""}, {week: ["Legs", "Back"] for week in (1, 2, 3, 4)}),
        ({"sessions": "Back"}, {week: ["Back"] for week in (1, 2, 3, 4)}),
        ({"sessions": "", "first": "3"}, {week: ["Legs", "Back"] for week in (3, 4)}),
    ],
    ids=["rotate over two days", "rotate without days", "one named", "from week 3"],
)
def test_who_does_what_when(more: dict[str, str], weeks: dict[int, list[str]]) -> None:
    """All sessions of the programme, those named, or in turn; not before the first week."""
    found = dealt(**{"days": "Mon Wed Fri", **more})
    assert {week: [name.split()[0] for name in names] for week, names in found.items()} == weeks
