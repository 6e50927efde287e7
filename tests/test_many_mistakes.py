"""A large block with hundreds of slips: each is told once, at its own cell, and nothing else is told.

Five programmes, sixty clients, forty rows. The slips are those that typing and spreadsheets make; which cells get which
is drawn by a seed. The last programme is left alone, so that some of its clients come through.
"""

from __future__ import annotations

import random
from collections import Counter
from dataclasses import replace
from pathlib import Path

import pytest

from compiler.cellref import CellRef
from compiler.flags.model import Severity, sort_flags
from compiler.flags.text import flags_as_text
from compiler.pipeline.check import Checked, check_source
from compiler.schema.sheets import SHEET_ORDER
from compiler.source.cells import SourceBook
from compiler.source.grid import cell_from_text
from tests.fragments import case_book
from tests.support import source_book

SLIPS = 300
WIDTH = 100
LINES_A_FLAG = 12
SHARED = (Path(__file__).parent / "cases" / "ottermere.md").read_text(encoding="utf-8")
PROGRAMMES = ("Strength", "Power", "Foundation", "Juniors", "Masters")
LIFTS = ("Back squat", "Bench press", "Bench pull", "Deadlift")
GIVEN = ("Imogen", "Rufus", "Odette", "Callum", "Nell", "Priya", "Tobias", "Edwin", "Hattie", "Gus", "Saoirse", "Kit")
FAMILY = ("Thackray", "Pemberly", "Marchbanks", "Wraith", "Holloway")

SWAPPED = "two letters change places"
"""A slip in what stands there already."""

ANY = (
    ("{error #N/A}", "formula-error"),
    ("{formula =Old!B4}", "formula-not-calculated"),
    ("{struck 5}", "struck-out"),
    ("{truth TRUE}", "truth-value"),
)
IN_COLUMN: dict[str, dict[str, tuple[tuple[str, str], ...]]] = {
    "Programme": {
        "Exercise": (("Back squats", "unknown-exercise"), ("Snatch", "unknown-exercise")),
        "Part": (("finisher", "unknown-choice"),),
        "Rest": (("as needed", "unreadable-rest"), ("{number 0.0625 as h:mm}", "became-time")),
        "Tempo": (("slow", "unreadable-tempo"), ("{number 311}", "unreadable-tempo")),
        "sets": (("a few", "unreadable-reps"), *ANY),
        "reps": (
            ("lots", "unreadable-reps"),
            ("12,10", "ambiguous-number"),
            ("20 m", "metres-or-minutes"),
            ("{date 2026-08-05 as d-mmm}", "became-date"),
            *ANY,
        ),
        "load": (
            ("75", "bare-percentage"),
            ("{number 0.75}", "bare-percentage"),
            ("775%", "impossible-percentage"),
            ("2 x 16", "unit-missing"),
            ("62,50 kg", "ambiguous-number"),
            ("heavvy", "unreadable-load"),
            ("about 60 kg", "unreadable-load"),
            *ANY,
        ),
    },
    "Clients": {
        "Programme": (("Strenth", "unknown-programme"), ("Summer", "unknown-programme")),
        "Site": (("Gim", "unknown-site"),),
        "Training days": (("Tue Thr", "unknown-choice"),),
        "Body weight": (("about 72", "not-a-number"), *ANY),
        "Born": (("31 Feb 1990", "unreadable-date"), ("02/11/1990", "ambiguous-date")),
        "Highest effort": (("hard", "unreadable-load"),),
        "Restrictions": (("left sholder", "unknown-restriction"),),
        "Screened on": (("02/11/2026", "ambiguous-date"), ("last week", "unreadable-date")),
        "Screening": (("ask frist", "unknown-choice"), ("ask first", "ask-first")),
    },
    "Tests": {
        "Client": ((SWAPPED, "unknown-client"),),
        "Date": (("31/02/2026", "unreadable-date"), ("05/11/2026", "ambiguous-date")),
        "Exercise": ((SWAPPED, "unknown-exercise"),),
        "Load": (("8o", "not-a-number"), *ANY),
        "Reps": (("one", "not-a-number"), *ANY),
    },
}
"""What may be typed where, and what is told of it."""


def _people() -> list[str]:
    return [f"{given} {family}" for family in FAMILY for given in GIVEN]


def _tables() -> dict[str, list[list[str]]]:
    weeks = [f"Week {week} {what}" for week in range(1, 5) for what in ("sets", "reps", "load")]
    programme = [["Programme", "Session", "Part", "Order", "Exercise", "Tempo", "Rest", *weeks]]
    for name in PROGRAMMES:
        for session in ("One", "Two"):
            for letter, lift in zip("ABCD", LIFTS, strict=True):
                dose = ["3", "5", "60%", "", "", "62.5%", "", "", "65%", "2", "", ""]
                programme.append([name, session, "main", letter, lift, "2-0-1-0", "2 min", *dose])
    head = "Client|Programme|Site|Training days|Body weight|Born|Highest effort|Restrictions|Screened on|Screening"
    clients = [head.split("|")]
    tests = [["Client", "Date", "Exercise", "Load", "Unit", "Reps"]]
    for number, client in enumerate(_people()):
        own = PROGRAMMES[number // len(GIVEN)]
        row = "Gym|Tue Thu|72 kg|1990|RPE 9|left shoulder|2026-12-01|clear"
        clients.append([client, own, *row.split("|")])
        tests += [[client, "2026-12-08", lift, str(60 + number), "kg", "1"] for lift in LIFTS]
    return {
        "Exercises": [["Exercise", "Implement", "Tags"], *([lift, "barbell", "leg"] for lift in LIFTS)],
        "Programme": programme,
        "Clients": clients,
        "Tests": tests,
        "Restrictions": [["Restriction", "Avoid tags"], ["left shoulder", "note only"]],
    }


def _places(tables: dict[str, list[list[str]]]) -> dict[CellRef, tuple[tuple[str, str], ...]]:
    """Return every cell that may have a slip, with those it may have; the last programme's are left out."""
    places = {}
    for sheet, columns in IN_COLUMN.items():
        header, *rows = tables[sheet]
        for number, row in enumerate(rows, start=2):
            if sheet == "Programme" and row[0] == PROGRAMMES[-1]:
                continue
            for column, title in enumerate(header, start=1):
                slips = columns.get(title) or columns.get(title.rpartition(" ")[2], ())
                if slips:
                    places[CellRef(sheet, number, column)] = slips
    return places


@pytest.fixture(scope="module")
def clean() -> SourceBook:
    book = source_book(_tables())
    shared = case_book("", SHARED)
    return replace(book, sheets=(*book.sheets, *shared.sheets))


@pytest.fixture(scope="module")
def slips(clean: SourceBook) -> dict[CellRef, tuple[str, str]]:
    """Which cell gets what, and the flag that tells it."""
    chance = random.Random(20270104)  # noqa: S311  a draw that comes out alike every time
    places = _places(_tables())
    chosen = chance.sample(sorted(places), SLIPS)
    drawn = {place: chance.choice(places[place]) for place in chosen}
    return {place: (_typed(text, clean, place), slug) for place, (text, slug) in drawn.items()}


def _typed(text: str, book: SourceBook, place: CellRef) -> str:
    if text != SWAPPED:
        return text
    sheet = next(sheet for sheet in book.sheets if sheet.name == place.sheet)
    there = str(sheet.cells[place.row, place.column].value)
    return there[0] + there[2] + there[1] + there[3:]


@pytest.fixture(scope="module")
def checked(clean: SourceBook, slips: dict[CellRef, tuple[str, str]]) -> Checked:
    sheets = []
    for sheet in clean.sheets:
        cells = dict(sheet.cells)
        for place, (text, _) in slips.items():
            if place.sheet == sheet.name:
                cells[place.row, place.column] = cell_from_text(text, place)
        sheets.append(replace(sheet, cells=cells))
    return check_source(replace(clean, sheets=tuple(sheets)))


def test_nothing_is_told_of_the_block_without_slips(clean: SourceBook) -> None:
    """What the slips are put into has nothing to flag, and a booklet for everybody."""
    without = check_source(clean)
    assert without.flags == ()
    assert len(without.plans) == len(_people())


def test_one_slip_one_flag(checked: Checked, slips: dict[CellRef, tuple[str, str]]) -> None:
    """Every slip has its flag at its cell, and no other cell has one."""
    told = Counter((flag.place, flag.slug) for flag in checked.flags)
    assert told == Counter((place, slug) for place, (_, slug) in slips.items())
    assert len(checked.flags) == SLIPS


def test_whoever_is_held_is_named_by_an_error(checked: Checked) -> None:
    """Some booklets stand, and nobody without one goes unnamed."""
    planned = {plan.name for plan in checked.plans}
    stopped = {name for flag in checked.flags if flag.severity is Severity.ERROR for name in flag.touches}
    assert planned
    assert set(_people()) - planned == stopped


def test_the_text_is_in_order_and_bounded(checked: Checked) -> None:
    """The flags stand by sheet, row and column; a flag takes a few lines of the width asked for."""
    assert checked.flags == sort_flags(reversed(checked.flags), SHEET_ORDER)
    places = [(SHEET_ORDER[f.place.sheet], f.place.row, f.place.column) for f in checked.flags if f.place]
    assert places == sorted(places)
    lines = flags_as_text(checked.flags, SHEET_ORDER, WIDTH, colour=False).splitlines()
    assert len(lines) <= LINES_A_FLAG * SLIPS
    assert max(map(len, lines)) <= WIDTH
