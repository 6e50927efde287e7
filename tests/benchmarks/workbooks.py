"""Block workbooks of any size, from a seed: four programmes of twelve sessions, clients in groups, their tests.

Exercises, kit and sites are those of the example; programmes, clients and tests are made here. Nobody is real.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import product
from random import Random

from compiler.cellref import CellRef
from compiler.demo.workbooks import demo_source
from compiler.render.template import render_template
from compiler.source.cells import CellType, SourceBook, SourceCell, SourceSheet

WEEKS = 4
SESSIONS = 3
GROUP = 8
"""So many clients train at one time."""

KEPT = ("Block", "Exercises", "Restrictions", "Sites", "Kit")

FIRST_NAMES = (
    "Abigail", "Barnaby", "Cordelia", "Dunstan", "Esmeralda", "Fergus", "Griselda", "Humphrey", "Iolanthe", "Jocelyn",
    "Kester", "Lavinia", "Mortimer", "Nerissa", "Osbert", "Perpetua", "Quentin", "Rosalind", "Septimus", "Theodora",
    "Ursula", "Valentine", "Winifred", "Xanthe", "Yorick", "Zuleika", "Ambrose", "Beatrix", "Crispin", "Delphine",
    "Everard", "Florian", "Gwendolen", "Hector", "Isadora", "Jasper", "Katharina", "Leopold", "Marigold", "Nathaniel",
    "Ophelia", "Phineas", "Roderick", "Sibylla", "Tarquin", "Verity", "Wilfred", "Zebedee",
)  # fmt: skip

LAST_NAMES = (
    "Ablethorpe", "Bickerstaff", "Cobbledick", "Dunderdale", "Eglantine", "Fanshawe", "Gathercole", "Higginbottom",
    "Inkpen", "Jellicoe", "Kittermaster", "Larkspur", "Mucklewhite", "Nettlefold", "Oldacre", "Pennyfeather",
    "Quillinan", "Rainbird", "Sheepshanks", "Tiplady", "Uppington", "Vavasour", "Whistlecraft", "Yarborough",
    "Applegarth", "Birtwhistle", "Clutterbuck", "Drinkwater", "Entwistle", "Featherstone", "Goodbody", "Hollingbery",
    "Ickeringill", "Jolliffe", "Kilvington", "Longstaff", "Micklethwait", "Nightingale", "Onslowe", "Popplewell",
    "Ramsbottom", "Snodgrass", "Thistlewood", "Underhay", "Venables", "Winterbourne", "Yelverton", "Zeal",
)  # fmt: skip

PROGRAMMES = ("Rivers", "Lakes", "Weirs", "Locks")

PAIRS = (
    (("Back squat", "77.5%", "5"), ("Front squat", "75%", "5"), ("Trap-bar deadlift", "77.5%", "5")),
    (("Bench press", "72.5%", "6"), ("Bench pull", "72.5%", "6"), ("Romanian deadlift", "70%", "8")),
)
"""Heads of a session: bar lifts by a percentage, one of each tuple a session."""

HELPERS = (
    ("Push-up", "body weight", "10"),
    ("Dumbbell lateral raise", "2 x 6 kg", "12"),
    ("Rear-foot-elevated split squat", "RPE 7", "8 each side"),
    ("Half-kneeling one-arm cable row", "RPE 7-8", "10 each side"),
    ("Walking lunge", "body weight", "12 steps"),
    ("Front plank", "", "40 s"),
    ("Dumbbell hammer curl", "2 x 10 kg", "10-12"),
    ("Straight-arm pulldown", "RPE 8", "12"),
    ("Kettlebell swing", "16 kg", "15"),
)

TESTED = {"Back squat": 110, "Trap-bar deadlift": 140, "Bench press": 75, "Bench pull": 70, "Romanian deadlift": 100}
"""The lifts that every client has tested, with a middling single in kilograms."""


def block_source(clients: int, seed: int = 1) -> SourceBook:
    """Return a workbook of so many clients; the same seed gives the same one."""
    random = Random(seed)  # noqa: S311 - invented data, no secret
    names = [" ".join(name) for name in product(FIRST_NAMES, LAST_NAMES)]
    random.shuffle(names)
    if clients > len(names):
        raise ValueError(f"there are {len(names)} names")
    own = (
        _sheet("Programme", _programme_rows()),
        _sheet("Clients", _client_rows(names[:clients], random)),
        _sheet("Tests", _test_rows(names[:clients], random)),
        _sheet("Changes", _change_rows(names[:clients])),
        _sheet("History", _history_rows(names[:clients], random)),
    )
    kept = tuple(sheet for sheet in demo_source().sheets if sheet.name in KEPT)
    return SourceBook("benchmark.xlsx", (*kept, *own))


def block_workbook(clients: int, seed: int = 1) -> bytes:
    """Return the same as a file."""
    return render_template(WEEKS, SESSIONS, fill=block_source(clients, seed))


def with_one_test_changed(source: SourceBook) -> SourceBook:
    """Return a workbook in which the newest test of the first client is 10 kg heavier."""
    sheets = {sheet.name: sheet for sheet in source.sheets}
    tests = sheets["Tests"]
    place = next((row, column) for (row, column), cell in tests.cells.items() if row == 2 and cell.value == "kg")
    load = tests.cells[place[0], place[1] - 1]
    heavier = replace(load, value=f"{float(str(load.value)) + 10:g}")
    sheets["Tests"] = replace(tests, cells={**tests.cells, (load.place.row, load.place.column): heavier})
    return replace(source, sheets=tuple(sheets.values()))


def _sheet(name: str, rows: Iterator[tuple[str, ...]]) -> SourceSheet:
    cells = {
        (number, column): SourceCell(CellRef(name, number, column), text, CellType.TEXT)
        for number, row in enumerate(rows, start=1)
        for column, text in enumerate(row, start=1)
        if text
    }
    return SourceSheet(name, cells)


def _programme_rows() -> Iterator[tuple[str, ...]]:
    weekly = tuple(f"Week {week} {what}" for week in range(1, WEEKS + 1) for what in ("sets", "reps", "load"))
    yield ("Programme", "Session", "Part", "Order", "Exercise", "Tempo", "Rest", *weekly)
    for number, programme in enumerate(PROGRAMMES):
        for session in range(SESSIONS):
            name = f"Session {'ABC'[session]}"
            yield (programme, name, "warm-up", "", "Easy rowing", "", "", "1", "5 min")
            heads = [heads[(session + number) % len(heads)] for heads in PAIRS]
            for order, (exercise, load, reps) in zip("AB", heads, strict=True):
                yield (programme, name, "main", order, exercise, "", "150 s", *_weeks("4", reps, load))
            for place in range(5):
                exercise, load, reps = HELPERS[(session * 3 + number + place) % len(HELPERS)]
                order = f"{'CCDDD'[place]}{(1, 2, 1, 2, 3)[place]}"
                rest = "0" if place in {0, 2, 3} else "90 s"
                tempo = "" if reps.endswith((" s", "steps")) else "3-0-1-0"
                yield (programme, name, "main", order, exercise, tempo, rest, *_weeks("3", reps, load))


def _change_rows(names: list[str]) -> Iterator[tuple[str, ...]]:
    """Every tenth client has an exercise lightened."""
    yield ("Client", "Session", "Order", "Exercise", "Weeks", "Do", "With", "Why")
    for name in names[::10]:
        yield (name, "", "", "Bench pull", "all", "scale", "90%", "Back from a cold")


def _history_rows(names: list[str], random: Random) -> Iterator[tuple[str, ...]]:
    """Every client has four weeks of one lift."""
    yield ("Client", "Date", "Week", "Session", "Exercise", "Set", "Load", "Unit", "Reps")
    for name in names:
        load = random.randrange(40, 100)
        for week in range(1, 5):
            yield (name, f"2026-11-{4 * week:02}", str(week), "Session A", "Bench pull", "1", str(load), "kg", "6")


def _weeks(sets: str, reps: str, load: str) -> tuple[str, ...]:
    step = "+2.5%" if load.endswith("%") else ""
    return (sets, reps, load, "", "", step, "", "", step, "2", "", load if step else "")


def _client_rows(names: list[str], random: Random) -> Iterator[tuple[str, ...]]:
    yield (
        "Client", "Programme", "Group", "Site", "Training days", "Body weight", "Born", "Resting HR", "Screened on",
        "Note from coach",
    )  # fmt: skip
    for number, name in enumerate(names):
        group = number // GROUP
        yield (
            name,
            PROGRAMMES[group % len(PROGRAMMES)],
            f"Crew {group + 1}",
            "Gym",
            "Mon Wed Fri",
            f"{random.randint(55, 100)} kg",
            str(random.randint(1960, 2002)),
            str(random.randint(45, 70)),
            "2026-11-02",
            random.choice(("", "", "Take your time over the first set.", "Your squat has come on well.")),
        )


def _test_rows(names: list[str], random: Random) -> Iterator[tuple[str, ...]]:
    yield ("Client", "Date", "Exercise", "Load", "Unit", "Reps", "RPE", "Source")
    for name in names:
        share = random.uniform(0.6, 1.4)
        for exercise, single in TESTED.items():
            reps = random.choice((1, 1, 3, 5))
            load = round(single * share * (1 - 0.03 * (reps - 1)) / 2.5) * 2.5
            yield (name, f"2026-11-{random.randint(10, 25)}", exercise, f"{load:g}", "kg", str(reps), "", "tested")
