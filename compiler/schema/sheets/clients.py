"""The Clients sheet: one row a client."""

from __future__ import annotations

from dataclasses import replace

from compiler.schema.column import Column, SheetSpec
from compiler.schema.kinds import (
    CUE,
    DATE,
    EFFORT_LIMIT,
    HEART_RATE,
    NAME,
    NAMES,
    PERCENT,
    WEEKDAYS,
    WEIGHT,
    YEAR_OR_DATE,
    choice,
    whole,
)
from compiler.schema.sheets.programme import PROGRAMME_NAME

CLIENT_NAME = replace(NAME, names_of="Clients")
SITE_NAME = replace(NAME, names_of="Sites")
RESTRICTION_NAMES = replace(NAMES, names_of="Restrictions")

CLIENTS = SheetSpec(
    name="Clients",
    help="One row a client.",
    columns=(
        Column("name", "Client", NAME, "The name that other sheets use.", "Imogen Thackray", required=True, width=24),
        Column("print_name", "Print name", NAME, "Printed in place of the name, for a name that the font cannot print.", "Imogen T.", optional=True, width=18),
        Column("programme", "Programme", PROGRAMME_NAME, "A name of the Programme sheet.", "Strength", required=True, width=14),
        Column("level", "Level", NAME, "A word of your own; Changes may name it.", "new", optional=True, width=10),
        Column("group", "Group", NAME, "People who train at the same time.", "Tuesday early", optional=True, width=16),
        Column("site", "Site", SITE_NAME, "Where the client trains; a name of the Sites sheet.", "Gym", optional=True, width=12),
        Column("sessions", "Sessions", NAMES, "Which sessions, or `rotate`; blank: all.", "Hinge and pull, Squat and press", optional=True, width=18),
        Column("training_days", "Training days", WEEKDAYS, "Blank: no weekday is printed.", "Mon Wed Fri", optional=True, width=14),
        Column("first_week", "First week", whole(1, 12), "Joins the group in this week.", "2", optional=True, width=9),
        Column("start_date", "Start date", DATE, "A calendar of the client's own, from week 1.", "2026-12-14", optional=True, width=12),
        Column("body_weight", "Body weight", WEIGHT, "For loads that count the body.", "72 kg", optional=True, width=11),
        Column("born", "Born", YEAR_OR_DATE, "A year or a date; of a year the younger age is taken.", "1984", optional=True, width=11),
        Column("resting_hr", "Resting HR", HEART_RATE, "Beats a minute.", "62", optional=True, width=9),
        Column("max_hr", "Max HR", HEART_RATE, "Measured, not estimated.", "184", optional=True, width=9),
        Column("highest_hr", "Highest HR", HEART_RATE, "Set by a clinician; no target may be above it.", "140", optional=True, width=9),
        Column("working_max", "Working max", PERCENT, "This client's share of the 1RM, in place of the Block's.", "90%", optional=True, width=9),
        Column("highest_effort", "Highest effort", EFFORT_LIMIT, "No prescription may ask for more.", "RPE 7", optional=True, width=11),
        Column("restrictions", "Restrictions", RESTRICTION_NAMES, "Names of the Restrictions sheet, with commas between.", "left shoulder", optional=True, width=20),
        Column("screened_on", "Screened on", DATE, "The day of the last health screening.", "2026-11-02", optional=True, width=12),
        Column("screening", "Screening", choice("clear", "ask first", "cleared"), "`ask first` holds the booklet until somebody has signed.", "clear", optional=True, width=10),
        Column("signed_off_by", "Signed off by", NAME, "Who cleared the client.", "Dr A. Quill", optional=True, width=16),
        Column("guardian_consent", "Guardian consent", DATE, "For minors: the day a guardian agreed.", "2026-11-20", optional=True, width=12),
        Column("print", "Print", choice("normal", "large", "none"), "None: no booklet.", "normal", optional=True, default="normal", width=9),
        Column("note", "Note from coach", CUE, "Printed on the how-to page of this client.", "The last week is a light one on purpose.", optional=True, width=40),
    ),
)
