"""The Sites and Kit sheets: where people train and what is there."""

from __future__ import annotations

from compiler.schema.column import Column, SheetSpec
from compiler.schema.implements import KIT_KIND
from compiler.schema.kinds import LONG_TEXT, NAME, SIZES_OR_BANDS, UNIT, YES_NO, choice, whole
from compiler.schema.sheets.clients import SITE_NAME

KIND = choice(*KIT_KIND)

SITES = SheetSpec(
    name="Sites",
    help="One row a place to train.",
    optional=True,
    columns=(
        Column("name", "Site", NAME, "The name that Clients and Kit use.", "Gym", required=True, width=16),
        Column(
            "staffed",
            "Staffed",
            YES_NO,
            "No: a spotted lift here is an error. Blank: yes.",
            "yes",
            default="yes",
            width=9,
        ),
        Column(
            "emergency",
            "Emergency lines",
            LONG_TEXT,
            "Printed on the safety page, one line each.",
            "Front desk: extension 1",
            optional=True,
            width=44,
        ),
        Column(
            "safety",
            "Safety text",
            LONG_TEXT,
            "Printed on the safety page of this site, one line each.",
            "The defibrillator hangs beside the lockers.",
            optional=True,
            width=44,
        ),
    ),
)

KIT = SheetSpec(
    name="Kit",
    help="What each site owns. A site without kit: loads are rounded to the Block's step.",
    optional=True,
    columns=(
        Column("site", "Site", SITE_NAME, "A name of the Sites sheet.", "Gym", required=True, width=16),
        Column("kind", "Kind", KIND, "What it is.", "plates", required=True, width=14),
        Column("name", "Name", NAME, "The name that exercises use.", "Trap bar", width=20),
        Column(
            "sizes",
            "Sizes",
            SIZES_OR_BANDS,
            "Weights of one. Plates and dumbbells are counted in pairs: 25 x4 is four pairs, eight plates."
            " Bands: light = yellow.",
            "25 x4, 20 x2, 15, 10",
            width=34,
            prompt="Plates and dumbbells are counted in pairs: 25 x4 is four pairs, so eight plates of 25."
            " Four plates are 25 x2. Without x: as many as anybody needs.",
        ),
        Column("unit", "Unit", UNIT, "Blank: the Block's.", "kg", width=7),
        Column(
            "how_many", "How many", whole(1, 500), "Blank: enough for everybody.", "4", optional=True, width=9
        ),
    ),
)
