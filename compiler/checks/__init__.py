"""What is wrong with a Book by itself, before any client's plan: one function a finding, all in ALL_CHECKS.

A check takes the Book and yields flags. Cells that failed have been flagged; a check stays silent about them.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable

from compiler.checks.bad_rows import bad_rows, spoilt_rows
from compiler.checks.bars import check_bars_in_groups
from compiler.checks.change_matches import check_changes_match, check_keeps
from compiler.checks.changes import (
    check_change_cells,
    check_change_doses,
    check_change_names,
    check_change_people,
    check_keep_reasons,
)
from compiler.checks.cycles import check_instead_circles, check_load_from_circles
from compiler.checks.groups import (
    check_done_as,
    check_empty_sessions,
    check_members,
    check_order,
    check_overlaps,
    check_rests,
)
from compiler.checks.hands import check_hands
from compiler.checks.kit import check_kit_names, check_kit_sizes
from compiler.checks.people import check_minors, check_screened, check_screening_answers, check_start_date
from compiler.checks.printing import check_printable_names, check_printable_texts
from compiler.checks.ranges import (
    check_client_numbers,
    check_percentages,
    check_safety_text,
    check_settings,
    check_test_units,
)
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
from compiler.checks.restrictions import check_empty_restrictions, check_restriction_tags
from compiler.checks.structure import (
    check_dashes,
    check_first_weeks,
    check_lists,
    check_rows_at_all,
    check_steps,
    check_tempo_and_hold,
)
from compiler.checks.tests import check_help, check_singles, check_test_days
from compiler.checks.uniqueness import (
    check_duplicate_clients,
    check_duplicate_exercises,
    check_duplicate_names,
    check_near_duplicates,
)
from compiler.flags.model import Flag
from compiler.model.book import Book

Check = Callable[[Book], Iterable[Flag]]

ALL_CHECKS: tuple[Check, ...] = (
    check_rows_at_all,
    check_settings,
    check_start_date,
    check_safety_text,
    check_exercise_names,
    check_duplicate_exercises,
    check_load_from_circles,
    check_instead_circles,
    check_kit_names,
    check_unused_exercises,
    check_first_weeks,
    check_dashes,
    check_steps,
    check_lists,
    check_tempo_and_hold,
    check_hands,
    check_percentages,
    check_named_loads,
    check_overlaps,
    check_order,
    check_members,
    check_rests,
    check_bars_in_groups,
    check_done_as,
    check_empty_sessions,
    check_duplicate_clients,
    check_client_programmes,
    check_client_sessions,
    check_client_sites,
    check_restriction_names,
    check_client_numbers,
    check_screening_answers,
    check_minors,
    check_screened,
    check_test_clients,
    check_test_units,
    check_test_days,
    check_help,
    check_singles,
    check_empty_restrictions,
    check_restriction_tags,
    check_duplicate_names,
    check_change_people,
    check_change_names,
    check_change_cells,
    check_change_doses,
    check_keep_reasons,
    check_changes_match,
    check_keeps,
    check_kit_sites,
    check_kit_sizes,
    check_near_duplicates,
    check_printable_names,
    check_printable_texts,
)
"""Every check, in the order of the sheets it speaks of."""

__all__ = ["ALL_CHECKS", "Check", "bad_rows", "check_book", "spoilt_rows"]


def check_book(book: Book) -> tuple[Flag, ...]:
    """Return what every check finds."""
    return tuple(flag for check in ALL_CHECKS for flag in check(book))
