"""Names that point to another sheet."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from compiler.checks import Check
from compiler.checks.references import (
    check_client_programmes,
    check_client_sessions,
    check_client_sites,
    check_exercise_names,
    check_kit_sites,
    check_named_loads,
    check_restriction_names,
    check_test_clients,
    check_unused_exercises,
)

Finder = Callable[[Check, str], list[tuple[str, str]]]

LIBRARY = """
## Exercises
| Exercise | Implement |
| Back squat | barbell |
| Band row | band |
## Programme
| Programme | Session | Exercise | Week 1 sets | Week 1 reps | Week 1 load |
| Strength | Squat and press | back  SQUAT | 3 | 8 | 75% |
| Strength | Hinge and pull | Band row | 3 | 12 | light |
"""
ANA = "## Clients\n| Client | Programme |\n| Ana Ruiz | Strength |\n"

CASES: tuple[tuple[str, Check, str, list[tuple[str, str]]], ...] = (
    ("known however it is spelt", check_exercise_names, LIBRARY, []),
    (
        "programme",
        check_exercise_names,
        "## Programme\n| Programme | Session | Exercise | Week 1 sets |\n| S | A | Bakc squat | 3 x 8 |",
        [("Programme!C2", "unknown-exercise")],
    ),
    (
        "load from and instead",
        check_exercise_names,
        (
            "## Exercises\n| Exercise | Implement | Load from | Instead if restricted | Instead without kit |\n"
            "| Front squat | barbell | Back squat | Goblet squat | Step-up |"
        ),
        [
            ("Exercises!C2", "unknown-exercise"),
            ("Exercises!D2", "unknown-exercise"),
            ("Exercises!E2", "unknown-exercise"),
        ],
    ),
    (
        "a test of an unknown exercise; one without is a heart rate",
        check_exercise_names,
        LIBRARY + "## Tests\n| Client | Date | Exercise | Load | Unit | Reps | Result |\n"
        "| Ana Ruiz | 2026-11-16 | Dead lift | 100 | kg | 1 | |\n| Ana Ruiz | 2026-11-16 | | | | | 62 bpm |",
        [("Tests!C2", "unknown-exercise")],
    ),
    (
        "a test of an unknown client",
        check_test_clients,
        ANA + "## Tests\n| Client | Date | Exercise | Load | Unit | Reps |\n"
        "| Ana Ruis | 2026-11-16 | Back squat | 100 | kg | 1 |",
        [("Tests!A2", "unknown-client")],
    ),
    ("programme known", check_client_programmes, LIBRARY + ANA, []),
    (
        "programme unknown",
        check_client_programmes,
        LIBRARY + "## Clients\n| Client | Programme |\n| Ana Ruiz | Strenght |",
        [("Clients!B2", "unknown-programme")],
    ),
    (
        "a session of no programme",
        check_client_sessions,
        LIBRARY + "## Clients\n| Client | Programme | Sessions |\n| Ana | Strength | Hinge and pull, Legs |\n"
        "| Bo | Strength | rotate |",
        [("Clients!C2", "unknown-choice")],
    ),
    (
        "rotate among names",
        check_client_sessions,
        LIBRARY + "## Clients\n| Client | Programme | Sessions |\n| Ana | Strength | rotate, Hinge and pull |",
        [("Clients!C2", "unknown-choice")],
    ),
    (
        "a client and a row whose programmes could not be read",
        check_client_sessions,
        LIBRARY + "| {error #N/A} | Long row | Band row | 3 | 12 | light |\n"
        "## Clients\n| Client | Programme | Sessions |\n| Ana | {error #N/A} | Hinge and pull |",
        [],
    ),
    (
        "sites: one misspelt, one blank among several",
        check_client_sites,
        (
            "## Clients\n| Client | Programme | Site |\n| Ana | S | Gym |\n| Bo | S | Gmy |\n| Cy | S | |\n"
            "## Sites\n| Site | Staffed |\n| Gym | yes |\n| Home | no |"
        ),
        [("Clients!C3", "unknown-site"), ("Clients!C4", "unknown-site")],
    ),
    (
        "a single site needs no naming",
        check_client_sites,
        "## Clients\n| Client | Programme | Site |\n| Cy | S | |\n## Sites\n| Site | Staffed |\n| Gym | yes |",
        [],
    ),
    (
        "without Sites and Kit any word will do",
        check_client_sites,
        "## Clients\n| Client | Programme | Site |\n| Cy | S | Shed |",
        [],
    ),
    (
        "kit of an unknown site, told once",
        check_kit_sites,
        (
            "## Sites\n| Site | Staffed |\n| Gym | yes |\n## Kit\n| Site | Kind | Name | Sizes | Unit |\n"
            "| Gmy | rack | | | |\n| Gmy | bench | | | |"
        ),
        [("Kit!A2", "unknown-site")],
    ),
    (
        "restrictions",
        check_restriction_names,
        (
            "## Clients\n| Client | Programme | Restrictions |\n| Ana | S | left shoulder, knee |\n| Bo | S | none |\n"
            "## Restrictions\n| Restriction | Avoid tags |\n| Left shoulder | overhead |"
        ),
        [("Clients!C2", "unknown-restriction"), ("Clients!C3", "unknown-restriction")],
    ),
    (
        "bands of any site and zones are loads, other words are not",
        check_named_loads,
        (
            "## Programme\n| Programme | Session | Exercise | Week 1 sets | Week 1 reps | Week 1 load |\n"
            "| S | A | Row | 3 | 8 | yellow |\n| S | A | Row | 3 | 8 | purple |\n"
            "| S | A | Bike | 1 | 10 min | steady |\n"
            "## Kit\n| Site | Kind | Name | Sizes | Unit |\n| Gym | bands | | light = yellow, medium = red | |"
        ),
        [("Programme!F3", "unreadable-load")],
    ),
    (
        "a list of bands that could not be read keeps the check silent",
        check_named_loads,
        (
            "## Programme\n| Programme | Session | Exercise | Week 1 sets | Week 1 reps | Week 1 load |\n"
            "| S | A | Row | 3 | 8 | purple |\n"
            "## Kit\n| Site | Kind | Name | Sizes | Unit |\n| Gym | bands | | purple == | |"
        ),
        [],
    ),
    (
        "unused, counted once",
        check_unused_exercises,
        LIBRARY.replace("| Band row | band |", "| Band row | band |\n| Sled push | sled |\n| Box jump | body weight |"),
        [("Exercises", "unused-exercises")],
    ),
)


@pytest.mark.parametrize(("check", "text", "expected"), [c[1:] for c in CASES], ids=[c[0] for c in CASES])
def test_names(found: Finder, check: Check, text: str, expected: list[tuple[str, str]]) -> None:
    """A name that is not there is flagged at its cell; one that is there, however spelt, is not."""
    assert expected == found(check, text)
