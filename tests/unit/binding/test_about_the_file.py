"""What is told of the workbook itself: its format, macros, dates, and sheets of the coach's own."""

from __future__ import annotations

from dataclasses import replace

import pytest

from compiler.binding.records import bind_book
from compiler.schema.sheets import FORMAT_VERSION, VERSION_PROPERTY
from compiler.source.cells import SourceBook, SourceSheet
from tests.fragments import fragment_book

PLAIN = fragment_book("## Clients\n| Client | Programme |\n| Imogen Thackray | S |\n")


def told_of(source: SourceBook) -> list[tuple[str, str]]:
    return [(flag.slug, flag.severity) for flag in bind_book(source).flags]


@pytest.mark.parametrize("version", ["", "1", str(FORMAT_VERSION), "one", "²", "-1"])
def test_formats_that_are_read(version: str) -> None:
    """The format of this release, older ones, and what is no number."""
    source = replace(PLAIN, properties={VERSION_PROPERTY: version})
    assert bind_book(source).book is not None


def test_newer_workbook_is_refused() -> None:
    """A newer format may mean something else by the same cells: nothing is read, and only that is told."""
    source = replace(PLAIN, properties={VERSION_PROPERTY: str(FORMAT_VERSION + 1)})
    bound = bind_book(source)
    assert bound.book is None
    assert [(flag.slug, flag.severity, flag.place) for flag in bound.flags] == [("newer-workbook", "error", None)]


def test_macros_and_the_other_date_system_are_noted() -> None:
    """Both are read, and told."""
    assert told_of(replace(PLAIN, has_macros=True)) == [("macros-ignored", "note")]
    assert told_of(replace(PLAIN, date_1904=True)) == [("other-date-system", "note")]


@pytest.mark.parametrize(
    ("sheet", "told"),
    [
        ("Regatta plans", [("extra-column", "note")]),
        ("Start here", []),
        ("Progress", []),
        ("Chnages", [("missing-sheet", "error")]),
        ("Testing ideas", [("extra-column", "note")]),
    ],
)
def test_other_sheets(sheet: str, told: list[tuple[str, str]]) -> None:
    """Sheets of the coach's own are noted; one that is a slip away from ours is an error."""
    own = replace(PLAIN.sheets[0], name=sheet, cells={})
    assert told_of(replace(PLAIN, sheets=(*PLAIN.sheets, own))) == told


@pytest.mark.parametrize("name", ["Changes", "Log", "Restrictions"])
def test_a_sheet_that_may_be_absent_may_be_empty(name: str) -> None:
    """A sheet cleared of its headers, too, says as much as none: nothing of it is missing."""
    others = tuple(sheet for sheet in PLAIN.sheets if sheet.name != name)
    bound = bind_book(replace(PLAIN, sheets=(*others, SourceSheet(name, {}))))
    assert bound.flags == ()
    assert bound.book is not None


def test_of_two_sheets_like_a_missing_one_the_nearer_is_offered() -> None:
    """The hint offers one sheet; the other is named among the coach's own, so that each is told of once."""
    (clients,) = (sheet for sheet in PLAIN.sheets if sheet.name == "Clients")
    others = tuple(sheet for sheet in PLAIN.sheets if sheet is not clients)
    flags = bind_book(
        replace(PLAIN, sheets=(*others, replace(clients, name="Client list"), SourceSheet("Clienst", {})))
    ).flags
    (own,) = (flag for flag in flags if flag.slug == "extra-column")
    assert own.message == 'Sheets of your own were left alone: "Client list".'
    (missing,) = (flag for flag in flags if flag.slug == "missing-sheet")
    assert missing.hint == 'If the sheet "Clienst" is meant, rename it "Clients".'
