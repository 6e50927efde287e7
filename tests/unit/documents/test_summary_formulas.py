"""The formulas of the summary, worked out again by LibreOffice: each comes to the value stored beside it.

The stored values are what resolving computed with decimals; the formulas are their second statement, in the words of a
spreadsheet, and LibreOffice is the second calculator. What is expected by hand is named at each test.
"""

from __future__ import annotations

import re
from itertools import pairwise, product

import pytest

from compiler.binding.records import bind_book
from compiler.demo.workbooks import WINTER_BLOCK, WITH_MISTAKES, demo_source
from compiler.documents.neutral import Formula, Sheet
from compiler.pipeline.check import check_source
from compiler.quantities import Load
from compiler.render.sheets import render_sheets
from compiler.resolve.plan import resolve_book
from compiler.resolve.rounding import Rounding
from compiler.resolve.strength import Method
from tests.all_at_once import summarise
from tests.recalculation import SOFFICE, differences, formulas, recalculated, sheet_parts, with_parts
from tests.support import source_book

WITHIN = 1.01e-6
"""A millionth: of a seventh decimal that is just 5 resolving goes to the even, and ROUND goes away from zero."""

LIVE = {"Load", "Exact load", "Rep max", "Working max", "1RM", "Reps to failure"}

FUNCTIONS = {"INDEX", "MATCH", "COUNTIF", "IF", "ROUND", "INT", "MIN", "ROWS", "EXP"}
"""All in ECMA-376 part 1, 18.17.7, so in every program that reads the format."""

WEEKS = ("Week 1 sets", "Week 1 reps", "Week 1 load", "Week 2 load", "Week 3 load", "Week 4 load")
PROGRAMME = (
    ("Back squat", "3", "5", "75%", "+2.5%", "+5 kg", "95%"),
    ("Front squat", "3", "5", "70, 75, 80%", "62.5-67.5%", "+10 lb", "40% 1RM"),
    ("Dumbbell row", "3", "8", "90% of 8RM", "85% of 5RM", "100% of 1RM", "RPE 8"),
    ("Leg press", "3", "8", "50%", "90%", "33% 1RM", "RPE 7, then -10%"),
    ("Pull-up", "3", "5", "70%", "80%", "90%", "80% of 5RM"),
    ("Landmine press", "3", "6", "60%", "71%", "+1 kg", "RPE 7-8"),
    ("Sled push", "3", "6", "61%", "+2%", "43%", "30%"),
    ("Swing", "3", "10", "50%", "80%", "", "RPE 8"),
    ("Chin-up", "3", "5", "75%", "85% 1RM", "80% of 4RM", "RPE 8"),
    ("Body row", "3", "5", "60%", "+2.5%", "RPE 8", "50% of 6RM"),
)
TESTS = (
    ("Ada Thornby", "Back squat", "100", "kg", "1", "", "tested"),
    ("Ada Thornby", "Dumbbell row", "30", "kg", "8", "9", "tested"),
    ("Ada Thornby", "Leg press", "150", "kg", "10", "", "tested"),
    ("Ada Thornby", "Pull-up", "20", "kg", "3", "9.5", "tested"),
    ("Ada Thornby", "Landmine press", "40", "kg", "6", "8.5", "tested"),
    ("Ada Thornby", "Sled push", "90", "kg", "6", "", "tested"),
    ("Ada Thornby", "Swing", "30", "kg", "7", "8", "tested"),
    ("Bram Oakes", "Back squat", "225", "lb", "5", "8.5", "tested"),
    ("Bram Oakes", "Dumbbell row", "55", "lb", "5", "", "tested"),
    ("Bram Oakes", "Leg press", "380", "lb", "12", "", "log"),
    ("Bram Oakes", "Pull-up", "", "", "7", "", "tested"),
    ("Bram Oakes", "Landmine press", "70", "lb", "1", "9", "tested"),
    ("Bram Oakes", "Sled push", "111", "lb", "2", "", "tested"),
    ("Cleo Marsh", "Back squat", "61.5", "kg", "", "", "working max"),
    ("Cleo Marsh", "Dumbbell row", "18", "kg", "9", "", "tested"),
    ("Cleo Marsh", "Pull-up", "5", "kg", "4", "6", "tested"),
    ("Cleo Marsh", "Sled push", "50", "kg", "11", "", "tested"),
)


def tables(method: Method, rounding: Rounding, unit: str) -> dict[str, list[list[str]]]:
    """Return a block with every kind of load that starts from a test, for three clients; the third has no kit list."""
    kit = [
        *(["bar", "Long bar", "20", "kg"], ["bar", "Short bar", "7.5", "kg"], ["collars", "", "0.5", "kg"]),
        ["plates", "", "20 x2, 10, 5 x2, 2.5, 1.25", "kg"],
        *(["dumbbells", "", "5-60 by 5", "lb"], ["kettlebells", "", "16", "kg"]),
        ["stack", "Leg press", "20-140 by 7.5", "kg"],
    ]
    return {
        "Block": [
            *(["Setting", "Value"], ["Start date", "2026-12-07"], ["Weeks", "4"], ["Unit", unit]),
            *(["Estimate 1RM by", method], ["Round loads", rounding], ["Working max", "92.5%"]),
        ],
        "Exercises": [
            ["Exercise", "Implement", "Load from", "Ratio", "Body-weight share"],
            *(["Back squat", "barbell"], ["Front squat", "barbell", "Back squat", "83%"]),
            *(["Dumbbell row", "dumbbells"], ["Leg press", "machine"], ["Landmine press", "landmine"]),
            ["Pull-up", "body weight plus load", "", "", "95%"],
            *(["Sled push", "sled"], ["Swing", "kettlebell"], ["Body row", "barbell", "Pull-up", "60%"]),
            ["Chin-up", "body weight plus load", "Sled push", "95%", "90%"],
        ],
        "Programme": [
            ["Programme", "Session", "Part", "Order", "Exercise", *WEEKS],
            *(["Strength", "One", "main", order, *row] for order, row in zip("ABCDEFGHIJ", PROGRAMME, strict=True)),
        ],
        "Clients": [
            ["Client", "Programme", "Site", "Body weight", "Working max"],
            ["Ada Thornby", "Strength", "Gym", "64 kg"],
            ["Bram Oakes", "Strength", "Gym", "187 lb", "95%"],
            ["Cleo Marsh", "Strength", "Home", "58.3 kg"],
        ],
        "Tests": [
            ["Client", "Date", "Exercise", "Load", "Unit", "Reps", "RPE", "Source"],
            *([client, "2026-11-16", *rest] for client, *rest in TESTS),
        ],
        "Changes": [
            ["Client", "Session", "Order", "Exercise", "Weeks", "Do", "With", "Why"],
            ["Ada Thornby", "", "", "Back squat", "3-4", "scale", "90%"],
            ["Cleo Marsh", "", "", "Pull-up", "2", "scale", "85%"],
        ],
        "Sites": [["Site", "Staffed"], ["Gym", "yes"], ["Home", "yes"]],
        "Kit": [["Site", "Kind", "Name", "Sizes", "Unit"], *(["Gym", *row] for row in kit)],
    }


def summary_of(method: Method, rounding: Rounding, unit: str) -> tuple[Sheet, ...]:
    bound = bind_book(source_book(tables(method, rounding, unit)))
    assert bound.book is not None, bound.flags
    resolved = resolve_book(bound.book)
    assert not resolved.stops
    return summarise(bound.book, resolved.plans, resolved.flags, ())


def demo_summary(name: str) -> tuple[Sheet, ...]:
    checked = check_source(demo_source(name))
    assert checked.book is not None
    return summarise(checked.book, checked.plans, checked.flags, ())


@pytest.fixture(scope="module")
def summaries() -> dict[str, tuple[Sheet, ...]]:
    """Return the summaries of both examples and of the block above by every method, with each rounding and unit."""
    ways = zip(Method, [*product(Rounding, ("kg", "lb"))] * 2, strict=False)
    made = {method.name: summary_of(method, rounding, unit) for method, (rounding, unit) in ways}
    return {**made, WINTER_BLOCK: demo_summary(WINTER_BLOCK), WITH_MISTAKES: demo_summary(WITH_MISTAKES)}


@pytest.fixture(scope="module")
def books(summaries: dict[str, tuple[Sheet, ...]]) -> dict[str, bytes]:
    return {name: render_sheets(sheets) for name, sheets in summaries.items()}


def falsified(data: bytes) -> tuple[bytes, str]:
    """Return a workbook with one more half kilogram stored beside one formula, and the cell where it stands."""
    for name, text in sheet_parts(data).items():
        found = re.search(r'<c r="(F\d+)"[^>]*><f>[^<]*</f><v>([^<]*)</v>', text)
        if found is not None:
            start, end = found.span(2)
            wrong = f"{text[:start]}{float(found[2]) + 0.5}{text[end:]}"
            return with_parts(data, {name: wrong.encode()}), found[1]
    raise AssertionError("no formula to falsify")


@pytest.mark.skipif(SOFFICE is None, reason="LibreOffice (soffice) is not installed")
def test_every_formula_comes_to_its_stored_value(
    books: dict[str, bytes], tmp_path_factory: pytest.TempPathFactory
) -> None:
    """Both examples and every method; and the comparison finds the one value that is wrong."""
    again = recalculated(books, tmp_path_factory.mktemp("again"))
    found = {name: differences(data, again[name], WITHIN) for name, data in books.items()}
    assert found == {name: {} for name in books}
    wrong, cell = falsified(books[WINTER_BLOCK])
    assert list(differences(wrong, again[WINTER_BLOCK], WITHIN)) == [("Loads", cell)]


def test_every_kind_of_formula_is_there(summaries: dict[str, tuple[Sheet, ...]]) -> None:
    """All six columns are live, no other, and what has a load from a test has its way there."""
    loads = summaries["BRZYCKI"][2]
    texts = [heading.text for heading in loads.headings]
    live = {texts[place] for row in loads.rows for place, cell in enumerate(row) if isinstance(cell, Formula)}
    assert live == LIVE
    for row in loads.rows:
        known = dict(zip(texts, row, strict=True))
        if known["Percentage"] is not None and known["Load"] is not None:
            assert isinstance(known["Load"], Formula), known
            assert isinstance(known["Exact load"], Formula), known


def test_old_programs_know_the_functions(books: dict[str, bytes]) -> None:
    """Nothing that came after 2007, and no formula that is an array."""
    for data in books.values():
        for cells in formulas(data).values():
            assert set(re.findall(r"([A-Z]+)\(", "".join(cells.values()))) <= FUNCTIONS


def test_names_point_at_sorted_lists(summaries: dict[str, tuple[Sheet, ...]]) -> None:
    """Each list of weights rises; between n weights are n - 1 marks, and a tie lies on its mark."""
    for sheets in summaries.values():
        kit = sheets[-1]
        lists = {
            named.name: [row[named.column] for row in kit.rows[named.rows.start : named.rows.stop]]
            for named in kit.names
        }
        for name, cells in lists.items():
            if not name.startswith("Weights_") or name.endswith("_half"):
                continue
            amounts = [cell.amount for cell in cells if isinstance(cell, Load)]
            assert amounts == sorted(set(amounts))
            assert len(amounts) == len(cells)
            marks = [cell.amount for cell in lists.get(f"{name}_half", []) if isinstance(cell, Load)]
            assert [2 * mark for mark in marks] == [a + b for a, b in pairwise(amounts)]


def test_a_tie_goes_down_in_the_formula_too() -> None:
    """20 kg times nine by Brzycki, 90 % and 81 %: 20 / 0.7776 x 0.729 = 18.75 kg, between 17.5 and 20 exactly."""
    block = tables(Method.BRZYCKI, Rounding.NEAREST, "kg")
    block["Block"][-1] = ["Working max", "90%"]
    row = ["Strength", "One", "main", "A", "Sled push", "3", "6", "81%", "", "", ""]
    block["Programme"] = [block["Programme"][0], row]
    block["Tests"] = [block["Tests"][0], ["Ada Thornby", "2026-11-16", "Sled push", "20", "kg", "9"]]
    bound = bind_book(source_book(block))
    assert bound.book is not None
    loads = summarise(bound.book, resolve_book(bound.book).plans, (), ())[2]
    exact, load = loads.column("Exact load")[0], loads.column("Load")[0]
    assert (str(exact), str(load)) == ("18.75 kg", "17.5 kg")
    formula = loads.rows[0][5]
    assert isinstance(formula, Formula)
    assert formula.text == "=ROUND(-INT(-ROUND({Exact load}/Block_step-0.5,9))*Block_step,6)"
