"""Random edits of the example workbook: no exception whatever is typed where, and no load that no cell states."""

from __future__ import annotations

import traceback
from collections.abc import Collection, Iterator
from dataclasses import replace
from decimal import Decimal
from random import Random

from compiler.cellref import CellRef
from compiler.demo.workbooks import demo_source
from compiler.folding import name_key
from compiler.pipeline.check import Checked, check_source
from compiler.resolve.values import ClientPlan, PlannedExercise
from compiler.source.cells import CellType, SourceBook, SourceCell

EDITS_A_BOOK = 5
"""So many cells are edited at once: a slip seldom comes alone, and the book is read once for all."""

CLIENTS = (2, 8, 12, 15, 18, 21, 25)
"""Rows of the clients that are kept: of each programme, of each site, restricted, junior, at home."""

TEXTS = (
    "75", "75%", "0.75", "@ 8", "8-10", "3 x 8 @ 75%", "same", "+2.5 kg", "-5 kg", "+2.5%", "-", "–", "own", "BW",
    "BW + 10 kg", "body weight", "135 lb", "60, 65, 70 kg", "2 x 16 kg", "RPE 8", "2 RIR", "AMRAP", "5RM",
    "90% of 8RM", "work up", "1e9", "9" * 40, "-0", "½", "1,5", "1.234,5", "८", "10²", "60 kg 70 kg",
    "100 kg or RPE 7", "#REF!", "=A1", "all", "rotate", "Mon Tue Wed Thu Fri Sat Sun", "1-4", "0", "5-1", "yes",
    "no", "none", "leave out", "swap", "scale", "80%", "2026-02-30", "07/08/26", "1899-12-31", "31.12.9999", "kg",
    "stone", "<b>x", "\\", "\u202e", "\ufffd", "🏋", "x" * 300, "Back squat", "back squta", "Imogen Thackray",
    "Strength", "Gym", "Home", "A1", "Z99", ";", ",",
)  # fmt: skip

NUMBERS = ("0", "1", "-1", "0.75", "75", "110", "1000000", "0.000001", "46244", "46244.5", "-46244", "1E+15")
FORMATS = ("General", "0%", "yyyy-mm-dd", "d-mmm", "[h]:mm", '0.0" kg"', "@")


def problems(edits: int, seed: int) -> list[str]:
    """Return what went wrong in so many random edits: exceptions, and loads that no cell states."""
    random = Random(seed)  # noqa: S311 - edits need no secret
    start = small_block()
    found: list[str] = []
    for number in range(0, edits, EDITS_A_BOOK):
        edited = start
        told = []
        for _ in range(min(EDITS_A_BOOK, edits - number)):
            edited, what = with_an_edit(edited, random)
            told.append(what)
        try:
            checked = check_source(edited)
            wrong = [f"{what}: {load}" for load in unstated(edited, checked) for what in ["; ".join(told)]]
        except Exception:  # noqa: BLE001 - whatever comes is the finding
            wrong = [f"{'; '.join(told)}:\n{traceback.format_exc()}"]
        found += wrong
    return found


def small_block() -> SourceBook:
    """Return the example with a client of each sort."""
    source, sheets = demo_source(), []
    for sheet in source.sheets:
        kept = sheet.cells
        if sheet.name == "Clients":
            kept = {place: cell for place, cell in kept.items() if place[0] == 1 or place[0] in CLIENTS}
        sheets.append(replace(sheet, cells=kept))
    return replace(source, sheets=tuple(sheets))


def with_an_edit(source: SourceBook, random: Random, among: Collection[str] = ()) -> tuple[SourceBook, str]:
    """Return a workbook with one cell edited, and the edit in words; `among` names sheets where not all will do."""
    chosen = random.choice([n for n, sheet in enumerate(source.sheets) if not among or sheet.name in among])
    sheet = source.sheets[chosen]
    row, column = random.choice(sorted(sheet.cells))
    if random.random() < 0.1:
        row, column = row + random.randint(0, 2), column + random.randint(0, 2)
    cell = _typed(CellRef(sheet.name, row, column), sheet.cells, random)
    cells = {place: old for place, old in sheet.cells.items() if place != (row, column)}
    if cell is not None:
        cells[row, column] = cell
    sheets = list(source.sheets)
    sheets[chosen] = replace(sheet, cells=cells)
    shown = "nothing" if cell is None else f"{cell.type} {str(cell.value)[:40]!r} {cell.number_format}"
    return replace(source, sheets=tuple(sheets)), f"{sheet.name} row {row} column {column} = {shown}"


def _typed(place: CellRef, cells: dict[tuple[int, int], SourceCell], random: Random) -> SourceCell | None:
    """Return what is typed: an odd text or number, what stands elsewhere on the sheet, a bent text, or nothing."""
    match random.randrange(8):
        case 0:
            return None
        case 1:
            return replace(random.choice(list(cells.values())), place=place)
        case 2:
            return SourceCell(place, Decimal(random.choice(NUMBERS)), CellType.NUMBER, random.choice(FORMATS))
        case 3:
            return SourceCell(place, Decimal(random.choice(NUMBERS)), CellType.DATE, "yyyy-mm-dd")
        case 4:
            odd = (
                SourceCell(place, "#N/A", CellType.ERROR),
                SourceCell(place, True, CellType.TRUTH),  # noqa: FBT003 - a cell holds it
                SourceCell(place, None, CellType.UNCALCULATED, formula="=A1"),
            )
            return random.choice(odd)
        case 5:
            return SourceCell(place, _bent(str(random.choice(list(cells.values())).value), random), CellType.TEXT)
        case _:
            return SourceCell(place, random.choice(TEXTS), CellType.TEXT)


def _bent(text: str, random: Random) -> str:
    at = random.randrange(len(text) + 1)
    return random.choice((text[:at] + text[at + 1 :], f"{text[:at]}9{text[at:]}", f"{text[:at]} {text[at:]}", text * 2))


# ---------------------------------------------------------------- no load that no cell states


def unstated(source: SourceBook, checked: Checked) -> Iterator[str]:
    """Yield the loads whose trace leads to an empty cell, or to the test of another client or exercise."""
    sheets = {sheet.name: sheet.cells for sheet in source.sheets}
    for plan in checked.plans:
        for session in plan.sessions:
            for done in (done for part in session.parts.values() for done in part):
                if any(end.load for item in done.load.items for end in (item.low, item.high)):
                    for what in _missing(sheets, plan, done):
                        yield f"{plan.name}, {session.name}, {done.exercise.name.value}: {what}"


def _missing(
    sheets: dict[str, dict[tuple[int, int], SourceCell]], plan: ClientPlan, done: PlannedExercise
) -> Iterator[str]:
    def text_at(place: CellRef) -> str:
        cell = sheets.get(place.sheet, {}).get((place.row, place.column))
        return "" if cell is None or cell.value is None else str(cell.value)

    load = done.load
    if load.source is None or not text_at(load.source):
        yield f"its load is stated in no cell ({load.source})"
    if load.maximum is not None:
        test = load.maximum.test
        if not text_at(test):
            yield f"its test is stated in no cell ({test})"
        row = {name_key(str(cell.value)) for at, cell in sheets[test.sheet].items() if at[0] == test.row}
        if name_key(plan.name) not in row:
            yield f"its test is of another client ({test})"
        if name_key(load.maximum.lent_by or done.exercise.name.needed) not in row:
            yield f"its test is of another exercise ({test})"
