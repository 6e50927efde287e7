"""The Tests sheet: what was lifted, held or counted, and when."""

from __future__ import annotations

from compiler.schema.column import Column, SheetSpec
from compiler.schema.kinds import DATE, RESULT, RPE, TESTED_WEIGHT, UNIT, WEIGHT, choice, whole
from compiler.schema.sheets.clients import CLIENT_NAME
from compiler.schema.sheets.exercises import EXERCISE_NAME

SOURCES = ("tested", "log", "estimate", "working max", "working weight")

TESTS = SheetSpec(
    name="Tests",
    help="One row a test. The best of the latest day counts. Dumbbell loads are per hand.",
    optional=True,
    columns=(
        Column(
            "client",
            "Client",
            CLIENT_NAME,
            "A name of the Clients sheet.",
            "Imogen Thackray",
            required=True,
            width=24,
        ),
        Column("date", "Date", DATE, "The day of the test.", "2026-11-16", required=True, width=12),
        Column(
            "exercise",
            "Exercise",
            EXERCISE_NAME,
            "A name of the Exercises sheet. Blank: a heart rate.",
            "Trap-bar deadlift",
            width=30,
        ),
        Column(
            "load",
            "Load",
            TESTED_WEIGHT,
            "The weight lifted, per hand; a bare number takes the unit of the next column. Help is negative: -20.",
            "100",
            width=9,
        ),
        Column("unit", "Unit", UNIT, "Blank: the Block's.", "kg", width=7),
        Column("reps", "Reps", whole(1, 100, "rep", "reps"), "Blank: 1.", "5", width=7),
        Column("rpe", "RPE", RPE, "How hard it was; blank: nothing left.", "9", optional=True, width=7),
        Column("result", "Result", RESULT, "For tests that are not lifts.", "45 s", optional=True, width=10),
        Column(
            "body_weight",
            "Body weight",
            WEIGHT,
            "Body weight that day, for body weight plus load.",
            "71 kg",
            optional=True,
            width=11,
        ),
        Column(
            "source",
            "Source",
            choice(*SOURCES),
            "Blank: tested. `working weight` is what `own` starts from.",
            "tested",
            optional=True,
            default="tested",
            width=14,
        ),
    ),
)
