"""The Block sheet: settings of the whole block, one row each. Everything has a default."""

from __future__ import annotations

from compiler.schema.column import Column, SheetSpec
from compiler.schema.kinds import (
    DATE,
    DATES,
    LONG_TEXT,
    PERCENT,
    RAMP,
    SHORT_TEXT,
    WEEKS,
    WEIGHT,
    YES_NO,
    ZONES,
    choice,
    whole,
)
from compiler.schema.safety_sample import BEFORE, STOP_SESSION, STOP_SET

METHODS = (
    "Brzycki",
    "Epley",
    "Lombardi",
    "O'Conner",
    "Mayhew",
    "Wathan",
    "Lander",
    "handbook table",
)

BLOCK = SheetSpec(
    name="Block",
    help="One row a setting. Leave a value blank to use the default that the last column names.",
    settings=True,
    optional=True,
    columns=(
        Column("title", "Title", SHORT_TEXT, "Printed on every cover.", "Winter strength", default="Training block", width=34),
        Column("gym", "Gym", SHORT_TEXT, "Printed on the cover and at the foot of every page.", "Ottermere Leisure Centre", default=""),
        Column("coach", "Coach", SHORT_TEXT, "Printed on the cover.", "Maud Ferrier", default=""),
        Column("contact", "Contact line", SHORT_TEXT, "How a client reaches the coach; printed on the cover.", "Front desk, extension 4", default=""),
        Column("start_date", "Start date", DATE, "The first day of week 1. Ages and the age of tests count to this day. Without it no dates are printed.", "2026-12-07"),
        Column("weeks", "Weeks", whole(1, 12), "How many weeks the block has, 1 to 12.", "4", default="4"),
        Column("easier_weeks", "Easier weeks", WEEKS, "Weeks that are lighter on purpose; jumps into and out of them are not flagged.", "4"),
        Column("unit", "Unit", choice("kg", "lb"), "The unit of body weights without one, and of loads where a site has no kit.", "kg", default="kg"),
        Column("step", "Load step", WEIGHT, "Loads are rounded to this where a site has no kit. Blank: 2.5 kg or 5 lb.", "2.5 kg"),
        Column("paper", "Paper", choice("A4", "Letter"), "The printer's paper.", "A4", default="A4"),
        Column("page_order", "Page order", choice("by session", "by week"), "By session: all weeks of one session, then the next session.", "by session", default="by session"),
        Column("method", "Estimate 1RM by", choice(*METHODS), "How a set of several repetitions becomes a one-repetition maximum. A tested single is used as it is.", "Brzycki", default="Brzycki"),
        Column("working_max", "Working max", PERCENT, "Percentages in the programme are of this share of the 1RM.", "90%", default="100%"),
        Column("rounding", "Round loads", choice("nearest", "down", "up"), "How a load is fitted to the kit; a tie goes down. At 90% and above, and for a client with a limit, always down.", "nearest", default="nearest"),
        Column("test_good_days", "A test is good for (days)", whole(1, 3650), "An older test gives a warning.", "90", default="90"),
        Column("test_used_days", "A test is not used after (days)", whole(1, 3650), "An older test counts as none.", "180", default="180"),
        Column("missing_test", "When a test is missing", choice("leave a blank to fill in", "hold the booklet"), "What a client without a test gets for a percentage.", "leave a blank to fill in", default="leave a blank to fill in"),
        Column("session_minutes", "Session length (minutes)", whole(10, 300), "A session that takes longer is flagged. Blank: not checked.", "60"),
        Column("lowest_percent", "Lowest percentage", PERCENT, "A percentage under this is flagged.", "30%", default="30%"),
        Column("highest_percent", "Highest percentage", PERCENT, "A percentage over this is flagged.", "100%", default="100%"),
        Column("print_percent", "Print percentages", YES_NO, "Yes prints 77.5% of 122.5 kg after the load.", "no", default="no"),
        Column("lifters_to_bar", "Lifters to a bar", whole(1, 6), "How many share a bar when the kit is counted.", "1", default="1"),
        Column("ramp_sets", "Ramp sets", RAMP, "Lighter sets before the first working set of a bar lift that has Ramp = yes. No published source gives a ramp: it is the coach's choice.", "bar x 8, 50% x 5, 70% x 3, 85% x 1", default="bar x 8, 50% x 5, 70% x 3, 85% x 1"),
        Column("adult_age", "Adult age", whole(14, 25), "Younger clients need a guardian's consent.", "18", default="18"),
        Column("zones", "Heart-rate zones", ZONES, "Names of your own and their share of heart-rate reserve.", "easy 40-59%, steady 60-74%, hard 75-89%", default="easy 40-59%, steady 60-74%, hard 75-89%"),
        Column("closed_dates", "Closed dates", DATES, "Days the gym is closed. A session on one is flagged and printed without a date, never moved.", "2026-12-25, 2026-12-26, 2027-01-01"),
        Column("decimal_sign", "Decimal sign in print", choice("point", "comma"), "How 2.5 is printed.", "point", default="point"),
        Column("safety_before", "Safety: before you start", LONG_TEXT, "One sentence a line. The text is the coach's; the sample is flagged until it has been edited.", BEFORE, default=BEFORE, width=60),
        Column("safety_stop_set", "Safety: stop the set if", LONG_TEXT, "One sentence a line.", STOP_SET, default=STOP_SET),
        Column("safety_stop_session", "Safety: stop the session if", LONG_TEXT, "One sentence a line.", STOP_SESSION, default=STOP_SESSION),
    ),
)
