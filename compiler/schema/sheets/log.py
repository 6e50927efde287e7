"""The Log and History sheets: what was done this month, and in the months before.

A session has a row of its own, with Exercise left blank: `ok` there stands for every exercise of the session whose
own cell is blank, and only there a date is read. A day that is not typed is the planned one.
"""

from __future__ import annotations

from compiler.notation.weeks import LAST_WEEK
from compiler.schema.column import Column, SheetSpec
from compiler.schema.kinds import DATE, LOG, NAME, REPS, RPE, SETS, TESTED_WEIGHT, UNIT, whole
from compiler.schema.sheets.clients import CLIENT_NAME
from compiler.schema.sheets.exercises import EXERCISE_NAME

BLOCK_START = "Log of the block that starts on"
"""The document property by which a log entry workbook is known to be of a block."""

LOG_SHEET = SheetSpec(
    name="Log",
    help="What was done, one row a client and exercise. One entry stands for every set; a list gives set by set."
    " `programme next` reads it and empties it.",
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
        Column(
            "session",
            "Session",
            NAME,
            "The session, as the Programme sheet names it. The second time in one week has (2) after it.",
            "Hinge and pull",
            required=True,
            width=18,
        ),
        Column("order", "Order", NAME, "As in the booklet.", "A", optional=True, width=7),
        Column(
            "exercise",
            "Exercise",
            EXERCISE_NAME,
            "What the client did, as in the booklet. Blank: the row of the session itself.",
            "Trap-bar deadlift",
            width=30,
        ),
    ),
    weekly=(
        Column(
            "done",
            "Week {week}",
            LOG,
            "ok: as planned. -: not done. 95x5 for every set, 95x5, 95x5, 90x4 set by set; @8 after a set is its RPE."
            " 12, 12, 10 for repetitions, 45 s for a time. Blank: not known. In the session's own row ok, ok @8 or -.",
            "95x5, 95x5, 90x4",
            width=20,
        ),
        Column(
            "date",
            "Week {week} date",
            DATE,
            "In the session's own row: the day, where it was not the planned one.",
            "2026-12-09",
            optional=True,
            width=12,
        ),
    ),
)

HISTORY = SheetSpec(
    name="History",
    help="What was done in the months before, one row for sets that were alike."
    " `programme next` writes it from the Log.",
    optional=True,
    columns=(
        Column("client", "Client", CLIENT_NAME, "The client.", "Imogen Thackray", required=True, width=24),
        Column("date", "Date", DATE, "The day of the session.", "2026-12-08", width=12),
        Column("week", "Week", whole(1, LAST_WEEK), "The week of its block.", "1", optional=True, width=7),
        Column("session", "Session", NAME, "The session.", "Hinge and pull", width=18),
        Column("order", "Order", NAME, "The order in the session.", "A", optional=True, width=7),
        Column("exercise", "Exercise", NAME, "What was done.", "Trap-bar deadlift", required=True, width=30),
        Column("set", "Set", SETS, "Which set, or the first and last alike.", "1-3", optional=True, width=6),
        Column(
            "load",
            "Load",
            TESTED_WEIGHT,
            "The weight, per hand; what was added to body weight, negative for help.",
            "95",
            width=9,
        ),
        Column("unit", "Unit", UNIT, "Blank: the Block's.", "kg", width=7),
        Column("reps", "Reps", REPS, "Repetitions, a time or a distance.", "5", width=9),
        Column("rpe", "RPE", RPE, "How hard the set was, where it was written down.", "8", optional=True, width=7),
    ),
)
