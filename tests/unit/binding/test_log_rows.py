"""A log entry workbook beside the block workbook: read, placed under its own name, or told why not."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from compiler.binding.log_rows import bind_log
from compiler.schema.sheets.log import BLOCK_START
from compiler.source.cells import SourceBook
from compiler.source.grid import book_from_grid

START = date(2027, 1, 4)
LOG = """
## Log

| Client          | Session | Order | Exercise   | Week 1 | Mine  |
| --------------- | ------- | ----- | ---------- | ------ | ----- |
| Imogen Thackray | Press   | A     | Back squat | {cell} | chalk |
"""


def log(cell: str = "60x8", made_for: str = "") -> SourceBook:
    book = book_from_grid(LOG.format(cell=cell), "january.xlsx")
    return replace(book, properties={BLOCK_START: made_for} if made_for else {})


def told(source: SourceBook, start: date | None = START) -> tuple[int, list[tuple[str | None, str]]]:
    """Return how many rows were read, and sheet and slug of every flag."""
    rows, flags = bind_log(source, 4, start)
    return len(rows), [(flag.sheet_name, flag.slug) for flag in flags]


def test_the_log_of_this_block_is_read() -> None:
    """Columns beside it (the targets that `compile` wrote) are not told of."""
    assert told(log()) == (1, [])
    assert told(log(made_for="2027-01-04")) == (1, [])


def test_the_log_of_another_block_is_not_read() -> None:
    """Last month's file by mistake would write last month's weights into this one."""
    rows, flags = bind_log(log(made_for="2026-11-30"), 4, START)
    assert (rows, [flag.slug for flag in flags]) == ((), ["log-matches-nothing"])
    assert "starts on 2026-11-30; this one starts on 2027-01-04" in flags[0].message


def test_a_block_without_a_start_takes_any_log() -> None:
    """There is nothing to compare with."""
    assert told(log(made_for="2026-11-30"), None) == (1, [])


def test_a_workbook_without_a_log() -> None:
    """It is told with the file's own name."""
    assert told(book_from_grid("## Notes\n\n| A |\n| --- |\n| b |", "january.xlsx")) == (
        0,
        [("january.xlsx", "missing-sheet")],
    )


def test_two_tabs_that_could_be_the_log() -> None:
    """They are told once, as two, and not as a sheet that is missing, too."""
    text = LOG.format(cell="60x8").replace("## Log", "## LOG") + LOG.format(cell="60x8").replace("## Log", "## log")
    rows, flags = bind_log(book_from_grid(text, "january.xlsx"), 4, START)
    assert (rows, [flag.message for flag in flags]) == ((), ['Two sheets could be "Log": "LOG" and "log".'])


def test_a_log_without_its_headers() -> None:
    """Nothing is read of a table that cannot be told apart."""
    bent = LOG.format(cell="60x8").replace("Client ", "Who    ").replace("Session", "What   ")
    rows, slugs = told(book_from_grid(bent, "january.xlsx"))
    assert rows == 0
    assert "missing-column" in {slug for _, slug in slugs}


def test_a_slip_stands_at_the_cell_of_that_file() -> None:
    """Its sheet has the file's name before it, so that it is not looked for in the block workbook."""
    assert told(log("60x")) == (1, [("january.xlsx: Log", "unreadable-reps")])
