"""Sheets and headers: found exactly, folded or by alias; told where they are missing, twice, or a slip away."""

from __future__ import annotations

import pytest

from compiler.binding.headers import bind_headers, find_sheet
from compiler.folding import header_key
from compiler.schema.column import SheetSpec
from compiler.schema.sheets import CHANGES, CLIENTS, PROGRAMME, SHEETS
from tests.support import source_book, source_sheet

FULL = ["Programme", "Session", "Part", "Order", "Exercise"]


def columns_of(*headers: str) -> dict[tuple[str, int], int]:
    """Return the columns found on a Programme sheet with these headers."""
    table, flags = bind_headers(source_sheet("Programme", [headers]), PROGRAMME)
    assert table is not None, flags
    return table.columns


@pytest.mark.parametrize(
    ("typed", "found"),
    [
        ("Week 1 sets", ("sets", 1)),
        ("  week 1   SETS ", ("sets", 1)),
        ("Week 1\nsets", ("sets", 1)),
        ("Week 1 sets:", ("sets", 1)),
        ("Week 1", ("sets", 1)),
        ("Week 12 reps", ("reps", 12)),
        ("week-2 load", ("load", 2)),
        ("TEMPO", ("tempo", 0)),
        ("Week 3 tempo", ("tempo", 3)),
    ],
)
def test_headers_bent(typed: str, found: tuple[str, int]) -> None:
    """Case, spaces, line breaks, punctuation and aliases do not matter."""
    headers = [*FULL, *(["Week 1 sets"] if found != ("sets", 1) else []), typed]
    assert columns_of(*headers)[found] == len(headers)


def test_order_of_columns_does_not_matter() -> None:
    """A column is where its header is."""
    columns = columns_of("Week 1 sets", *reversed(FULL))
    assert columns["sets", 1] == 1
    assert columns["programme", 0] == 6


@pytest.mark.parametrize("spec", SHEETS, ids=lambda spec: spec.name)
def test_no_header_means_two_columns(spec: SheetSpec) -> None:
    """Headers and aliases differ even folded, in every week."""
    names = [name for column in spec.columns for name in (column.header, *column.aliases)]
    weekly = [name for column in spec.weekly for name in (column.header, *column.aliases)]
    names += [name.format(week=week) for name in weekly for week in (1, 12)]
    assert len({header_key(name) for name in names}) == len(names)


@pytest.mark.parametrize("above", [0, 1, 5, 9])
def test_header_row_in_the_first_ten(above: int) -> None:
    """The row with most headers is the header row, wherever it stands in the first ten."""
    rows = [["Spring at Ottermere", "Programme"] if number == 0 else [] for number in range(above)]
    table, _ = bind_headers(source_sheet("Programme", [*rows, [*FULL, "Week 1 sets"]]), PROGRAMME)
    assert table is not None
    assert table.header_row == above + 1


def test_header_row_below_the_first_ten() -> None:
    """Further down nothing is looked for."""
    table, flags = bind_headers(source_sheet("Programme", [[]] * 10 + [[*FULL, "Week 1 sets"]]), PROGRAMME)
    assert table is None
    assert [(flag.slug, flag.place) for flag in flags] == [("missing-column", None)]


@pytest.mark.parametrize(
    ("headers", "told"),
    [
        (["Client"], [("Clients!A1", "missing-column")]),
        (["Client", "Programe"], [("Clients!B1", "missing-column")]),
        (["Client", "Programme", "Client"], [("Clients!C1", "duplicate-column")]),
        (["Client", "Programme", "Restrictons"], [("Clients!C1", "missing-column")]),
        (["Client", "Programme", "Boat", "Seat"], [("Clients!C1", "extra-column")]),
        (
            ["Client", "Programme", "Boat", "Restrictons"],
            [("Clients!C1", "extra-column"), ("Clients!D1", "missing-column")],
        ),
    ],
)
def test_headers_told(headers: list[str], told: list[tuple[str, str]]) -> None:
    """Each slip once, at the header itself where there is one; columns of the coach's own in one note."""
    _, flags = bind_headers(source_sheet("Clients", [headers, ["Imogen Thackray", "Strength"]]), CLIENTS)
    assert sorted((str(flag.place), flag.slug) for flag in flags) == told


def test_weeks_differ_on_purpose() -> None:
    """Week 2 load beside Week 1 load is no slip, and Week 13 is a column of the coach's own."""
    table, flags = bind_headers(
        source_sheet("Programme", [[*FULL, "Week 1 sets", "Week 1 load", "Week 2 load", "Week 13 load"]]), PROGRAMME
    )
    assert table is not None
    assert [(str(flag.place), flag.slug) for flag in flags] == [("Programme!I1", "extra-column")]


@pytest.mark.parametrize(
    ("names", "found", "told"),
    [
        (["Clients"], "Clients", 0),
        ([" CLIENTS "], " CLIENTS ", 0),
        (["clients", "Clients"], "Clients", 0),
        (["clients", "CLIENTS"], None, 1),
        (["People"], None, 1),
    ],
)
def test_sheets_found(names: list[str], found: str | None, told: int) -> None:
    """Exactly named first, else folded; two that fold alike, or none, are told once."""
    sheet, flags = find_sheet(source_book({name: [["Client"]] for name in names}), CLIENTS)
    assert (sheet.name if sheet else None) == found
    assert [flag.slug for flag in flags] == ["missing-sheet"] * told


def test_optional_sheet_may_be_missing() -> None:
    """A workbook without Changes has no changes, and nothing is told."""
    assert find_sheet(source_book({"Clients": [["Client"]]}), CHANGES) == (None, [])
