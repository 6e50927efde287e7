"""Cells that are printed, or that decide who may train, as they stand: whoever has one that failed gets no booklet.

No load is made from them, so nothing else would read them before the page is drawn.
"""

from __future__ import annotations

from compiler.model.records import Block, Client, Exercise, Site

OF_THE_BLOCK = (
    "title",
    "gym",
    "coach",
    "contact",
    "weeks",
    "unit",
    "easier_weeks",
    "paper",
    "booklet",
    "page_order",
    "print_percent",
    "decimal_sign",
    "adult_age",
    "safety_before",
    "safety_stop_set",
    "safety_stop_session",
)
OF_A_CLIENT = (
    "print_name",
    "group",
    "screened_on",
    "screening",
    "signed_off_by",
    "born",
    "guardian_consent",
    "print",
    "note",
)
OF_AN_EXERCISE = ("each_side", "spotter", "cue")
OF_A_SITE = ("emergency", "safety")


def require_printed(record: Block | Client | Exercise | Site) -> None:
    """Raise `Poisoned` for the first cell of a record that is printed and could not be read."""
    keys: tuple[str, ...]
    match record:
        case Block():
            keys = OF_THE_BLOCK
        case Client():
            keys = OF_A_CLIENT
        case Exercise():
            keys = OF_AN_EXERCISE
        case Site():
            keys = OF_A_SITE
    for key in keys:
        _ = getattr(record, key).value
