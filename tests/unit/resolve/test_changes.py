"""Which row of Changes holds: the narrower wins within a kind and across kinds that contradict each other."""

from __future__ import annotations

import pytest

from compiler.binding.records import bind_book
from compiler.checks import check_book
from compiler.resolve.plan import Resolution, resolve_book
from compiler.resolve.values import ClientPlan, Part, PlannedExercise
from tests.fragments import fragment_book

BOOK = """
## Block

| Setting      | Value      |
| ------------ | ---------- |
| Weeks        | 2          |
| Unit         | kg         |
| Round loads  | down       |
| Start date   | 2027-01-04 |

## Exercises

| Exercise     | Implement   | Tags  | Instead if restricted |
| ------------ | ----------- | ----- | --------------------- |
| Back squat   | barbell     | knees | Goblet squat          |
| Goblet squat | dumbbell    |       |                       |
| Front squat  | barbell     | knees |                       |
| Step-up      | body weight |       |                       |

## Programme

| Programme | Session | Order | Exercise   | Week 1 sets | Week 1 reps | Week 1 load |
| --------- | ------- | ----- | ---------- | ----------- | ----------- | ----------- |
| Strength  | Squat   | A     | Back squat | 3           | 8           | 60 kg       |

## Restrictions

| Restriction | Avoid tags |
| ----------- | ---------- |
| sore knee   | knees      |

## Clients

| Client   | Programme | Group | Restrictions   |
| -------- | --------- | ----- | -------------- |
| Ana Ruiz | Strength  | Late  | {restrictions} |
| Bo Dale  | Strength  | Late  |                |

## Changes

| Client | Session | Order | Exercise | Weeks | Do | With | Sets | Load | Why |
| ------ | ------- | ----- | -------- | ----- | -- | ---- | ---- | ---- | --- |
"""


def _resolved(*lines: str, restrictions: str = "") -> Resolution:
    bound = bind_book(fragment_book(BOOK.format(restrictions=restrictions) + "\n".join(lines)))
    assert bound.book is not None
    return resolve_book(bound.book)


def _done(plan: ClientPlan) -> list[str]:
    """Return each week's exercise with its load, `-` where nothing is done."""
    weeks = {session.week: session.parts[Part.MAIN] for session in plan.sessions}
    return [_told(weeks[week][0]) if weeks.get(week) else "-" for week in (1, 2)]


def _told(planned: PlannedExercise) -> str:
    load = planned.load.items[0].low.load if planned.load.items else planned.load.kind
    return f"{planned.exercise.name.value} {load}"


CASES = {
    "her own load wins over her group's leave out": (
        ["| Ana Ruiz | | | Back squat | | load | | | 50 kg |", "| Late | | | Back squat | | leave out |"],
        ["Back squat 50 kg"] * 2,
    ),
    "her own leave out wins over her group's load": (
        ["| Ana Ruiz | | | Back squat | | leave out |", "| Late | | | Back squat | | load | | | 50 kg |"],
        ["-", "-"],
    ),
    "her own swap wins over her group's load": (
        [
            "| Late | | | Back squat | | load | | | 50 kg |",
            "| Ana Ruiz | | | Back squat | | swap | Goblet squat | | 20 kg |",
        ],
        ["Goblet squat 20 kg"] * 2,
    ),
    "one week wins over all of them, in whatever kind": (
        ["| Ana Ruiz | Squat | A | Back squat | | load | | | 50 kg |", "| Ana Ruiz | | | Back squat | 2 | leave out |"],
        ["Back squat 50 kg", "-"],
    ),
    "a scale is of her own load": (
        ["| Ana Ruiz | | | Back squat | | load | | | 50 kg |", "| all | | | | 2 | scale | 80% |"],
        ["Back squat 50 kg", "Back squat 40 kg"],
    ),
    "a scale of every exercise is of what is swapped in": (
        [
            "| Ana Ruiz | | | | 2 | scale | 50% |",
            "| Late | | | Back squat | | swap | Goblet squat | | 20 kg |",
        ],
        ["Goblet squat 20 kg", "Goblet squat 10 kg"],
    ),
    "a session left out is out whatever a row says": (
        ["| Ana Ruiz | | | Back squat | | load | | | 50 kg |", "| all | Squat | | | 2 | leave out |"],
        ["Back squat 50 kg", "-"],
    ),
    "her programme's load wins over everybody's": (
        ["| all | | | Back squat | | load | | | 50 kg |", "| Strength | | | Back squat | | load | | | 40 kg |"],
        ["Back squat 40 kg"] * 2,
    ),
    "her group's load wins over her programme's": (
        ["| Strength | | | Back squat | | load | | | 50 kg |", "| Late | | | Back squat | | load | | | 40 kg |"],
        ["Back squat 40 kg"] * 2,
    ),
    "her own row wins over one that names her among others": (
        [
            "| Ana Ruiz, Bo Dale | | | Back squat | | load | | | 50 kg |",
            "| Ana Ruiz | | | Back squat | | load | | | 40 kg |",
        ],
        ["Back squat 40 kg"] * 2,
    ),
    "one that names her among others wins over her group's": (
        [
            "| Late | | | Back squat | | load | | | 50 kg |",
            "| Ana Ruiz, Bo Dale | | | Back squat | | load | | | 40 kg |",
        ],
        ["Back squat 40 kg"] * 2,
    ),
    "the same said twice is no contradiction": (
        ["| Ana Ruiz | | | Back squat | | load | | | 50 kg |"] * 2,
        ["Back squat 50 kg"] * 2,
    ),
}


@pytest.mark.parametrize(("lines", "expected"), CASES.values(), ids=CASES.keys())
def test_the_narrower_wins(lines: list[str], expected: list[str]) -> None:
    """Who comes before weeks, weeks before rows; what does not contradict stands together."""
    ana = _resolved(*lines).plans[0]
    assert expected == _done(ana)


def test_keep_with_a_load() -> None:
    """A load on a `keep` row is the client's own load, as on a `load` row."""
    ana = _resolved("| Ana Ruiz | | | Back squat | | keep | | 2 | 40 kg | agreed |", restrictions="sore knee").plans[0]
    assert _done(ana) == ["Back squat 40 kg"] * 2


def test_a_load_is_not_carried_to_a_substitute() -> None:
    """A weight typed for the exercise that a restriction rules out is never that of its substitute."""
    found = _resolved("| Ana Ruiz | | | Back squat | | load | | | 50 kg |", restrictions="sore knee")
    assert _done(found.plans[0]) == ["Goblet squat blank"] * 2
    assert {(str(flag.place), flag.slug) for flag in found.flags} >= {("Changes!I3", "swap-needs-load")}


def test_keep_for_what_a_swap_puts_there() -> None:
    """A swap to an exercise that is ruled out needs a `keep` that names that exercise."""
    swap = "| Ana Ruiz | | | Back squat | | swap | Front squat | | 40 kg |"
    keep = "| Ana Ruiz | | | Front squat | | keep | | | | agreed |"
    assert [p.client.name.value for p in _resolved(swap, restrictions="sore knee").plans] == ["Bo Dale"]
    assert _done(_resolved(swap, keep, restrictions="sore knee").plans[0]) == ["Front squat 40 kg"] * 2


@pytest.mark.parametrize(
    ("first", "second"),
    [
        ("| Ana Ruiz | | | Back squat | | load | | | 50 kg |", "| Ana Ruiz | | | Back squat | | load | | | 90 kg |"),
        ("| Ana Ruiz | | | Back squat | | load | | | 50 kg |", "| Ana Ruiz | | | Back squat | | leave out |"),
        ("| Ana Ruiz | | | Back squat | | load | | | 50 kg |", "| Ana Ruiz | | A | | | scale | 80% | | 40 kg |"),
        ("| Ana Ruiz | | | | | train at | Shed |", "| Ana Ruiz | | | | | train at | Club |"),
    ],
)
def test_two_rows_equally_narrow(first: str, second: str) -> None:
    """Nothing tells which of them was meant: an error at the lower one's Do, for that client alone."""
    found = _resolved(first, second)
    flags = {(flag.slug, str(flag.place), str(flag.related[0]), flag.touches) for flag in found.flags}
    assert flags == {("cells-disagree", "Changes!F4", "Changes!F3", ("Ana Ruiz",))}
    assert [plan.client.name.value for plan in found.plans] == ["Bo Dale"]


def test_rows_that_never_meet() -> None:
    """Rows for other weeks do not contradict each other."""
    found = _resolved(
        "| Ana Ruiz | | | Back squat | 1 | load | | | 50 kg |", "| Ana Ruiz | | | Back squat | 2 | load | | | 90 kg |"
    )
    assert found.flags == ()
    assert _done(found.plans[0]) == ["Back squat 50 kg", "Back squat 90 kg"]


@pytest.mark.parametrize(("restrictions", "expected"), [("", {"change-matches-nothing"}), ("sore knee", set())])
def test_keep_that_keeps_nothing(restrictions: str, expected: set[str]) -> None:
    """A `keep` for somebody whom nothing restricts is told at its Do."""
    text = BOOK.format(restrictions=restrictions) + "| Ana Ruiz | | | Back squat | | keep | | | | agreed |"
    book = bind_book(fragment_book(text)).book
    assert book is not None
    found = [flag for flag in check_book(book) if flag.slug == "change-matches-nothing"]
    assert {flag.slug for flag in found} == expected
    assert all(str(flag.place) == "Changes!F3" for flag in found)


@pytest.mark.parametrize(
    ("load", "flags"), [("70%", set()), ("40 kg", {"swap-needs-load"}), ("RPE 7", set()), ("body weight", set())]
)
def test_a_swap_to_body_weight(load: str, flags: set[str]) -> None:
    """Body weight takes no percentage: it is printed as body weight, and flagged where a typed weight is lost."""
    text = BOOK.format(restrictions="").replace("| 60 kg       |", f"| {load} |")
    book = bind_book(fragment_book(text + "| Ana Ruiz | | | Back squat | | swap | Step-up |")).book
    assert book is not None
    found = resolve_book(book)
    assert {flag.slug for flag in found.flags if flag.client == "Ana Ruiz"} == flags
    assert _done(found.plans[0]) == [f"Step-up {'effort' if load == 'RPE 7' else 'body weight'}"] * 2


@pytest.mark.parametrize(
    ("load", "exercise", "told"),
    [
        ("RPE 8", "Back squat", ["Back squat has no weight that could be scaled to 80% for Ana Ruiz."]),
        ("RPE 8", "", []),
        ("60 kg", "Back squat", []),
    ],
    ids=["an effort", "every exercise", "a weight"],
)
def test_what_has_no_weight_cannot_be_scaled(load: str, exercise: str, told: list[str]) -> None:
    """A row that names the exercise would be passed over in silence; one for every exercise scales the weights."""
    book = bind_book(
        fragment_book(
            BOOK.format(restrictions="").replace("| 60 kg       |", f"| {load} |")
            + f"| Ana Ruiz | | | {exercise} | | scale | 80% |"
        )
    ).book
    assert book is not None
    found = [flag for flag in resolve_book(book).flags if flag.slug == "change-matches-nothing"]
    assert [flag.message for flag in found][:1] == told


def test_a_scaled_suggestion_beside_an_effort_is_tagged() -> None:
    """Six at RPE 8 are eight to failure, 80% by the handbook's table; four fifths are 64 kg, down to 62.5."""
    text = BOOK.format(restrictions="").replace("| 60 kg       |", "| RPE 8 |").replace("| 8           |", "| 6 |")
    tests = """
## Tests

| Client   | Exercise   | Date       | Load | Reps |
| -------- | ---------- | ---------- | ---- | ---- |
| Ana Ruiz | Back squat | 2026-12-08 | 100  | 1    |
"""
    book = bind_book(fragment_book(text + "| Ana Ruiz | | | | 2 | scale | 80% |\n" + tests)).book
    assert book is not None
    plan = resolve_book(book).plans[0]
    first, second = (session.parts[Part.MAIN][0] for session in plan.sessions)
    suggested = [one.load.items[0].high.load for one in (first, second)]
    assert [str(load) for load in suggested] == ["80 kg", "62.5 kg"]
    assert [one.changed is not None for one in (first, second)] == [False, True]
