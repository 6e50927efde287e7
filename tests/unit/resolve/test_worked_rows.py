"""Every row of tests/cases/worked-rows.md comes out as it was worked by hand, week by week.

The file was written from the rules before the code; its preface names the sources of its numbers.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import ROUND_HALF_EVEN, Decimal
from pathlib import Path

import pytest

from compiler.binding.records import bind_book
from compiler.model.book import Book
from compiler.model.field import Poisoned
from compiler.quantities import Load, plain
from compiler.resolve.plan import resolve_book
from compiler.resolve.values import FittedRange, LoadKind, Part, PlannedExercise
from tests.support import markdown_table, source_book

CASES = Path(__file__).parents[2] / "cases" / "worked-rows.md"
WEEKS = 4
EFFORTS = {LoadKind.EFFORT, LoadKind.WORK_UP}


@dataclass(frozen=True)
class Worked:
    """One worked row: its title, whose it is, the cells as typed and the results by name, week by week."""

    title: str
    client: str
    exercise: str
    rounding: str
    cells: dict[str, list[str]]


def _sections() -> tuple[dict[str, list[list[str]]], list[Worked]]:
    text = CASES.read_text(encoding="utf-8")
    front, *rest = re.split(r"^### ", text, flags=re.MULTILINE)
    tables = {}
    for part in re.split(r"^## ", front, flags=re.MULTILINE)[1:]:
        title, _, body = part.partition("\n")
        lines = [line for line in body.splitlines() if line.startswith("|")]
        if lines:
            tables[title.strip()] = markdown_table(lines)
    return tables, [_worked(part) for part in rest]


def _worked(part: str) -> Worked:
    title, _, body = part.partition("\n")
    who = re.search(
        r"^Client: (.+?)\. Exercise: (.+?)\.(?: Round loads: (\w+)\.)?$", body, flags=re.MULTILINE
    )
    assert who is not None, title
    rows = markdown_table(line for line in body.splitlines() if line.startswith("|"))
    return Worked(
        title=title.strip(),
        client=who[1],
        exercise=who[2],
        rounding=who[3] or "nearest",
        cells={row[0]: [*row[1:], *[""] * (WEEKS + 1 - len(row))] for row in rows[1:]},
    )


TABLES, WORKED = _sections()


def _book(worked: Worked) -> Book:
    """Return a book with the common sheets and the one row."""
    block = [["Setting", "Value"], *TABLES["Block"][1:]]
    for row in block:
        if row[0] == "Round loads":
            row[1] = worked.rounding
    headers = ["Programme", "Session", "Part", "Order", "Exercise"]
    cells = ["Winter block", "One", "main", "A", worked.exercise]
    for week in range(WEEKS):
        for name in ("sets", "reps", "load"):
            headers.append(f"Week {week + 1} {name}")
            cells.append(worked.cells[name][week])
    clients = [row for row in TABLES["Clients"] if row[0] in {"Client", worked.client}]
    sites = [["Site", "Staffed"]] + [
        [name, "yes"] for name in dict.fromkeys(row[2] for row in TABLES["Clients"][1:])
    ]
    tables = {
        "Block": block,
        "Exercises": TABLES["Exercises"],
        "Programme": [headers, cells],
        "Clients": clients,
        "Tests": TABLES["Tests"],
        "Sites": sites,
        "Kit": TABLES["Kit"],
    }
    bound = bind_book(source_book(tables))
    assert bound.book is not None, bound.flags
    return bound.book


def _number(load: Load) -> str:
    return plain(load.amount.quantize(Decimal("0.000001"), rounding=ROUND_HALF_EVEN))


def _span(low: Load | None, high: Load | None, *, signed: bool) -> str:
    if low is None or high is None:
        return "none"
    sign = "+" if signed and low.amount > 0 else ""
    if low == high:
        return f"{sign}{_number(low)} {low.unit}"
    return f"{sign}{_number(low)}-{_number(high)} {low.unit}"


def _exact(planned: PlannedExercise) -> str:
    load = planned.load
    return _listed(planned, [(item.low.exact, item.high.exact) for item in load.items])


def _loads(planned: PlannedExercise) -> str:
    load = planned.load
    if load.kind in EFFORTS and not load.items:
        return "effort"
    if load.kind is LoadKind.BODY_WEIGHT:
        return "body weight"
    words = _listed(planned, [_ends(item) for item in load.items])
    return re.sub(r"(^|; )", r"\1about ", words) if load.about else words


def _ends(item: FittedRange) -> tuple[Load | None, Load | None]:
    return item.low.load, item.high.load


def _listed(planned: PlannedExercise, ends: list[tuple[Load | None, Load | None]]) -> str:
    if not ends:
        return "none"
    signed = planned.load.kind is LoadKind.ADDED
    words = [_span(low, high, signed=signed) for low, high in ends]
    if len(words) > 1 and planned.sets is not None:
        words += [words[-1]] * (planned.sets.high - len(words))
    return "; ".join(words)


def _planned(worked: Worked) -> dict[int, PlannedExercise]:
    resolution = resolve_book(_book(worked))
    assert not resolution.stops, resolution.stops
    (plan,) = resolution.plans
    return {session.week: session.parts[Part.MAIN][0] for session in plan.sessions}


@pytest.mark.parametrize("worked", WORKED, ids=lambda worked: worked.title)
def test_worked_row(worked: Worked) -> None:
    """The exact load and the load on the page are those of the file, `out` where the row is not done."""
    planned = _planned(worked)
    exact = [_exact(planned[week]) if week in planned else "out" for week in range(1, WEEKS + 1)]
    loads = [_loads(planned[week]) if week in planned else "out" for week in range(1, WEEKS + 1)]
    assert worked.cells["→ exact"][:WEEKS] == exact
    assert worked.cells["→ load"][:WEEKS] == loads


def test_sixty_rows_at_least() -> None:
    """The file holds what it promises, and every row states four weeks."""
    assert len(WORKED) >= 60
    assert all(len(cells[:WEEKS]) == WEEKS for worked in WORKED for cells in worked.cells.values())
    assert issubclass(Poisoned, Exception)
