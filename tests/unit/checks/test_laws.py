"""What holds for every book, however odd its cells."""

from __future__ import annotations

import re
from collections.abc import Callable

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from compiler.checks import ALL_CHECKS, bad_rows, check_book
from compiler.flags.catalogue import CATALOGUE
from compiler.model.book import Book
from compiler.schema.column import SheetSpec, weekly_header
from compiler.schema.sheets import SHEETS

ODD = (
    *(
        "",
        "",
        "-",
        "all",
        "A",
        "A1",
        "A2",
        "C3",
        "Row",
        "row",
        "rows",
        "Ana",
        "Bo, Ana",
        "S",
        "Gym",
        "note only",
        "rotate",
        "{error #N/A}",
    ),
    *(
        "3",
        "2-3",
        "3 x 8 @ 75%",
        "8",
        "12, 10, 8",
        "30 s",
        "3RM",
        "AMRAP",
        "75%",
        "70, 75%",
        "+2.5 kg",
        "+2.5%",
        "same",
    ),
    *("60 kg", "own", "purple", "60-70% HRR", "circuit", "EMOM 10 min", "90", "3-1-1-0", "yes", "no", "swap", "scale"),
    *(
        "keep",
        "leave out",
        "train at",
        "load",
        "80%",
        "2026-11-02",
        "2012",
        "ask first",
        "25, 20",
        "light = red",
        "1-4",
        "9",
    ),
)


PYTHON = re.compile(r"\bNone\b(?! of the)|\bTrue\b|\bFalse\b|Decimal\(|Field\(")
"""What a value that was not understood, or not put into words, would leave in a message."""


def _headers(spec: SheetSpec) -> list[str]:
    weekly = [weekly_header(column, week) for week in (1, 2, 3) for column in spec.weekly]
    return [column.header for column in spec.columns] + weekly


@st.composite
def books(draw: st.DrawFn) -> str:
    """Return the tables of a book whose every cell is one of some odd texts, or the setting's own example."""
    made = []
    for spec in SHEETS:
        if spec.settings:
            values = [draw(st.sampled_from((*ODD, column.example.split("\n")[0]))) for column in spec.columns]
            rows = [f"| {c.header} | {value} |" for c, value in zip(spec.columns, values, strict=True)]
            made += [f"## {spec.name}", "| Setting | Value |", *rows]
            continue
        headers = _headers(spec)
        made += [f"## {spec.name}", f"| {' | '.join(headers)} |"]
        for _ in range(draw(st.integers(0, 4))):
            cells = draw(st.lists(st.sampled_from(ODD), min_size=len(headers), max_size=len(headers)))
            made.append(f"| {' | '.join(cells)} |")
    return "\n".join(made)


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(text=books())
def test_odd_books_give_flags_and_no_exception(book_of: Callable[[str], Book], text: str) -> None:
    """Every check ends, says the same twice, knows its slugs and speaks no Python; whom an error stops is a client."""
    book = book_of(text)
    flags = check_book(book)
    assert flags == check_book(book)
    assert {flag.slug for flag in flags} <= set(CATALOGUE)
    assert [flag for flag in flags if PYTHON.search(f"{flag.message} {flag.hint or ''}")] == []
    names = {client.name.known for client in book.clients}
    assert {name for flag in flags for name in flag.touches} <= names
    assert all(row.row > 1 for row in bad_rows(flags))


def test_every_check_is_listed_once() -> None:
    """No check runs twice."""
    assert len(ALL_CHECKS) == len(set(ALL_CHECKS))
