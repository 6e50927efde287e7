"""The Exercises sheet: the coach's library."""

from __future__ import annotations

from dataclasses import replace

from compiler.schema.column import Column, SheetSpec
from compiler.schema.implements import IMPLEMENT
from compiler.schema.kinds import CUE, NAME, NAMES, PERCENT, YES_NO, choice

EXERCISE_NAME = replace(NAME, names_of="Exercises")

EXERCISES = SheetSpec(
    name="Exercises",
    help="One row an exercise. Programme rows, tests and changes call it by this name.",
    columns=(
        Column(
            "name",
            "Exercise",
            NAME,
            "The name as it is printed.",
            "Trap-bar deadlift",
            required=True,
            width=34,
        ),
        Column(
            "implement",
            "Implement",
            choice(*IMPLEMENT),
            "What is loaded. Blank: body weight. Dumbbell and kettlebell loads are per hand everywhere.",
            "barbell",
            default="body weight",
            width=18,
        ),
        Column(
            "bar",
            "Bar",
            NAME,
            "The bar's name on the Kit sheet. Blank: the first bar that is not too heavy.",
            "Trap bar",
            optional=True,
        ),
        Column(
            "needs",
            "Needs",
            NAMES,
            "Other kit it cannot be done without, by its name on the Kit sheet.",
            "rack, bench",
            optional=True,
            width=16,
        ),
        Column(
            "load_from",
            "Load from",
            EXERCISE_NAME,
            "The exercise whose test this one is loaded from, when it has none of its own.",
            "Back squat",
            optional=True,
            width=20,
        ),
        Column(
            "ratio", "Ratio", PERCENT, "The share of that test. Blank: 100%.", "85%", optional=True, width=9
        ),
        Column(
            "share",
            "Body-weight share",
            PERCENT,
            "For body weight plus load: how much of the body is lifted. Blank: 100%.",
            "100%",
            optional=True,
            width=12,
        ),
        Column(
            "each_side",
            "Each side",
            YES_NO,
            "Yes: the repetitions are for each side.",
            "yes",
            optional=True,
            width=9,
        ),
        Column(
            "area",
            "Area",
            choice("upper", "lower", "trunk", "whole"),
            "The part of the body.",
            "lower",
            optional=True,
            width=9,
        ),
        Column(
            "works",
            "Works",
            NAMES,
            "Muscles that count a full set.",
            "quadriceps, glutes",
            optional=True,
            width=20,
        ),
        Column(
            "also_works",
            "Also works",
            NAMES,
            "Muscles that count half a set.",
            "hamstrings",
            optional=True,
            width=20,
        ),
        Column(
            "tags",
            "Tags",
            NAMES,
            "Words of your own that restrictions avoid.",
            "overhead, spinal load",
            optional=True,
            width=20,
        ),
        Column(
            "spotter",
            "Spotter",
            choice("none", "one", "two", "safety pins", "not spotted"),
            "Printed beside the exercise. Local rules come first.",
            "one",
            optional=True,
            width=12,
        ),
        Column(
            "instead_restricted",
            "Instead if restricted",
            EXERCISE_NAME,
            "What to do where a restriction rules this one out.",
            "Half-kneeling landmine press",
            optional=True,
            width=24,
        ),
        Column(
            "instead_kit",
            "Instead without kit",
            EXERCISE_NAME,
            "What to do where the site does not have the kit.",
            "Push-up",
            optional=True,
            width=24,
        ),
        Column(
            "cue",
            "Cue",
            CUE,
            "One thing to think about; printed under the exercise.",
            "Push the floor away.",
            optional=True,
            width=40,
        ),
        Column(
            "note",
            "Note to coach",
            CUE,
            "Never printed.",
            "Video on the shared drive",
            optional=True,
            width=24,
        ),
    ),
)
