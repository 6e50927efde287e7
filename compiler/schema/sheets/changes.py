"""The Restrictions and Changes sheets: what is different for somebody, and why."""

from __future__ import annotations

from compiler.schema.column import Column, SheetSpec
from compiler.schema.kinds import (
    CUE,
    DATE,
    EFFORT_LIMIT,
    LOAD,
    NAME,
    NAMES,
    REPS,
    SETS,
    SHORT_TEXT,
    WEEKS,
    YES_NO,
    choice,
)

DOINGS = ("swap", "leave out", "scale", "load", "keep", "train at")

RESTRICTIONS = SheetSpec(
    name="Restrictions",
    help="One row a restriction. The tool clears nobody and changes nothing by itself:"
    " it flags, holds and prints what the coach decided.",
    optional=True,
    columns=(
        Column(
            "name",
            "Restriction",
            NAME,
            "The name that Clients uses.",
            "left shoulder",
            required=True,
            width=24,
        ),
        Column(
            "avoid_tags",
            "Avoid tags",
            NAMES,
            "Tags of exercises that are ruled out; `note only` where nothing is.",
            "overhead",
            width=22,
        ),
        Column(
            "highest_effort",
            "Highest effort",
            EFFORT_LIMIT,
            "No prescription may ask for more.",
            "RPE 7",
            optional=True,
        ),
        Column(
            "heart_rate_targets",
            "Heart-rate targets",
            YES_NO,
            "No: talk-test words are printed in place of targets.",
            "no",
            optional=True,
        ),
        Column(
            "raise_loads",
            "Raise loads",
            YES_NO,
            "No: next month's loads are not raised.",
            "no",
            optional=True,
        ),
        Column(
            "words",
            "Words in booklet",
            SHORT_TEXT,
            "Printed beside a changed exercise. Blank: changed by your coach.",
            "easier on the shoulder",
            optional=True,
            width=30,
        ),
        Column("review_by", "Review by", DATE, "When to look again.", "2027-01-15", optional=True, width=12),
    ),
)

CHANGES = SheetSpec(
    name="Changes",
    help="Exceptions. Where two rows fit, the narrower wins.",
    optional=True,
    columns=(
        Column(
            "who",
            "Client",
            NAMES,
            "A client, several, a group, a level, a programme, or `all`.",
            "Imogen Thackray",
            required=True,
            width=24,
        ),
        Column("session", "Session", NAME, "Blank: every session.", "Hinge and pull", width=18),
        Column("order", "Order", NAME, "Blank: every order.", "D2", width=7),
        Column("exercise", "Exercise", NAME, "Blank: every exercise.", "Overhead press", width=24),
        Column("weeks", "Weeks", WEEKS, "Blank: all weeks.", "2-4", width=9),
        Column(
            "do",
            "Do",
            choice(*DOINGS),
            "What changes. `leave out` with neither session nor exercise: away.",
            "swap",
            required=True,
            width=11,
        ),
        Column(
            "with_",
            "With",
            NAME,
            "The exercise, the percentage (for scale) or the site (for train at).",
            "Half-kneeling landmine press",
            width=26,
        ),
        Column("sets", "Sets", SETS, "Sets in place of the programme's.", "2", optional=True, width=7),
        Column(
            "reps", "Reps", REPS, "Repetitions in place of the programme's.", "10", optional=True, width=9
        ),
        Column("load", "Load", LOAD, "Load in place of the programme's.", "20 kg", optional=True, width=11),
        Column(
            "words",
            "Words in booklet",
            SHORT_TEXT,
            "Printed beside the exercise. Blank: changed by your coach.",
            "kinder to the shoulder",
            optional=True,
            width=30,
        ),
        Column(
            "why",
            "Why",
            CUE,
            "Private; needed for `keep`.",
            "Physiotherapist agreed on 2 November",
            optional=True,
            width=34,
        ),
    ),
)
