"""The Programme sheet: one row an exercise of a session, three cells a week."""

from __future__ import annotations

from dataclasses import replace

from compiler.schema.column import Column, SheetSpec
from compiler.schema.kinds import CUE, DONE_AS, LOAD, NAME, RAMP_OR_NO, REPS, REST, SETS, TEMPO, choice
from compiler.schema.sheets.exercises import EXERCISE_NAME

PARTS = ("warm-up", "main", "conditioning", "cool-down")

PROGRAMME = SheetSpec(
    name="Programme",
    help="One row an exercise of a session. A blank week cell means: as the week before."
    " A dash in the sets means: not this week.",
    columns=(
        Column(
            "programme",
            "Programme",
            NAME,
            "Whose sessions these are; Clients names it.",
            "Strength",
            required=True,
            width=14,
        ),
        Column(
            "session",
            "Session",
            NAME,
            "The session's name; `all` is every session of the programme, for a shared warm-up.",
            "Hinge and pull",
            required=True,
            width=18,
        ),
        Column("part", "Part", choice(*PARTS), "Blank: main.", "main", default="main", width=12),
        Column(
            "order",
            "Order",
            NAME,
            "A, or A1 and A2 for exercises done in turn. Warm-up rows may leave it blank.",
            "B1",
            aliases=("Ord",),
            width=7,
        ),
        Column(
            "exercise",
            "Exercise",
            EXERCISE_NAME,
            "A name of the Exercises sheet.",
            "Trap-bar deadlift",
            required=True,
            width=30,
        ),
        Column(
            "done_as",
            "Done as",
            DONE_AS,
            "On a group's first row: how the group is done, if not set by set.",
            "circuit",
            optional=True,
            width=14,
        ),
        Column(
            "tempo",
            "Tempo",
            TEMPO,
            "Lowering, pause, lifting, pause, in seconds; X is as fast as possible. The first is always the lowering.",
            "3-1-1-0",
            optional=True,
            width=9,
        ),
        Column(
            "rest",
            "Rest",
            REST,
            "After each set; on a group, after the round. Seconds, or 1:30, or 2 min.",
            "90 s",
            optional=True,
            width=9,
        ),
        Column(
            "ramp",
            "Ramp",
            RAMP_OR_NO,
            "Lighter sets first: yes (the Block's), no, or your own list.",
            "yes",
            optional=True,
            width=9,
        ),
        Column(
            "cue",
            "Cue",
            CUE,
            "Printed in place of the exercise's own cue.",
            "Pause at the knee.",
            optional=True,
            width=28,
        ),
    ),
    weekly=(
        Column(
            "sets",
            "Week {week} sets",
            SETS,
            "How many sets, or the whole prescription: 3 x 8 @ 75%. A dash: not this week.",
            "3",
            aliases=("Week {week}",),
            width=9,
        ),
        Column(
            "reps",
            "Week {week} reps",
            REPS,
            "8, 8-10, 12, 10, 8, 30 s, 400 m, 8 each side, AMRAP.",
            "8-10",
            optional=True,
            width=14,
        ),
        Column(
            "load",
            "Week {week} load",
            LOAD,
            "75%, 60 kg, RPE 8, own, +2.5 kg, body weight.",
            "75%",
            optional=True,
            width=12,
        ),
        Column(
            "rest",
            "Week {week} rest",
            REST,
            "Where this week's rest differs.",
            "2 min",
            optional=True,
            width=9,
        ),
        Column(
            "tempo",
            "Week {week} tempo",
            TEMPO,
            "Where this week's tempo differs.",
            "3-1-1-0",
            optional=True,
            width=9,
        ),
    ),
)

PROGRAMME_NAME = replace(NAME, names_of="Programme")
