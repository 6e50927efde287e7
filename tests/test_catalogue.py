"""The catalogue of flags is whole: every slug has a page, every page a slug, and examples show their slip."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

import compiler.flags
from compiler.binding.records import bind_book
from compiler.checks import ALL_CHECKS
from compiler.flags.catalogue import CATALOGUE
from compiler.flags.explain import explain
from compiler.flags.model import Flag
from compiler.schema.column import weekly_header
from compiler.schema.sheets import SHEETS
from compiler.source.grid import book_from_grid
from tests.fragments import fragment_book

PAGES = Path(compiler.flags.__file__).parent / "pages"
SECTIONS = ("What it is", "Why it matters", "Example", "How to fix")

ABOUT_THE_FILE = {
    "not-a-workbook",
    "protected-workbook",
    "damaged-workbook",
    "workbook-too-large",
    "newer-workbook",
    "macros-ignored",
}
ABOUT_PRINTING = {
    "cannot-print-name",
    "unprintable-character",
    "session-over-a-page",
    "weeks-sheet-too-full",
    "file-names-collide",
}
NEED_PLANS = {
    "reps-far-beyond-percentage",
    "reps-beyond-percentage",
    "session-too-long",
    "volume-jump",
    "two-bars-at-once",
    "test-required",
    "tests-disagree",
    "over-client-limit",
    "restricted-exercise",
    "spotter-alone",
    "choose-sessions",
    "missing-test",
    "stale-test",
    "test-in-pounds",
    "test-after-start",
    "test-jump",
    "many-rep-test",
    "missing-body-weight",
    "missing-heart-rate",
    "swap-needs-load",
    "closed-date",
    "no-working-weight",
    "changed",
    "not-loadable",
    "below-lightest-bar",
    "pair-total",
    "coarse-rounding",
    "weight-rounded",
    "kit-too-light",
    "kit-short",
    "no-kit-list",
    "log-matches-nothing",
    "log-off-target",
}
"""Flags that no table by itself can show: they need a file, a page, or the plans of clients."""


AS_TOLD = {"missing-sheet", "missing-column"}
"""Examples that lack what other examples may leave out."""


def page_of(slug: str) -> str:
    return (PAGES / f"{slug}.md").read_text(encoding="utf-8")


def sections_of(page: str) -> dict[str, str]:
    parts = re.split(r"^## (.+)$", page, flags=re.MULTILINE)
    return dict(zip(parts[1::2], map(str.strip, parts[2::2]), strict=True))


def test_a_page_for_every_slug_and_none_else() -> None:
    """Pages and catalogue name the same flags."""
    assert set(CATALOGUE) == {path.stem for path in PAGES.iterdir()}


@pytest.mark.parametrize("slug", CATALOGUE)
def test_shape_of_a_page(slug: str) -> None:
    """A page has its title, and each section once, filled, in order; the example is a table."""
    page = page_of(slug)
    sections = sections_of(page)
    assert page.startswith(f"# {CATALOGUE[slug].title}\n\n## What it is\n")
    assert tuple(sections) == SECTIONS
    assert all(sections.values())
    assert re.search(r"^\| -{3}", sections["Example"], re.MULTILINE)
    assert page.endswith("\n")
    assert not page.endswith("\n\n")


@pytest.mark.parametrize("slug", CATALOGUE)
def test_explain_prints_the_page(slug: str) -> None:
    """What `explain` gives is the page under its slug and severity, without the braces of stored cells."""
    explained = explain(slug)
    assert explained.startswith(f"{slug} ({CATALOGUE[slug].severity})\n\n# {CATALOGUE[slug].title}\n")
    assert not set(explained) & {"{", "}"}
    assert sections_of(explained)["How to fix"] == sections_of(page_of(slug))["How to fix"]


def example_of(slug: str) -> str:
    return sections_of(page_of(slug))["Example"].replace("### ", "## ")


@pytest.mark.parametrize("slug", sorted(set(CATALOGUE) - {"missing-sheet", "missing-column", "extra-column"}))
def test_examples_use_real_headers(slug: str) -> None:
    """The tables of an example have sheets and columns, or settings, that there are."""
    specs = {spec.name: spec for spec in SHEETS}
    for sheet in book_from_grid(example_of(slug)).sheets:
        spec = specs[sheet.name]
        first = {str(cell.value) for (row, _), cell in sheet.cells.items() if row == 1}
        settings = {str(cell.value) for (row, column), cell in sheet.cells.items() if row > 1 and column == 1}
        known = {column.header for column in spec.columns}
        weekly = {weekly_header(column, week) for column in spec.weekly for week in range(1, 13)}
        assert (settings if spec.settings else first) <= known | weekly


@pytest.mark.parametrize("slug", sorted(set(CATALOGUE) - ABOUT_THE_FILE - ABOUT_PRINTING - NEED_PLANS))
def test_examples_show_their_slip(slug: str) -> None:
    """The example of a page gives the flag that the page explains."""
    text = example_of(slug)
    bound = bind_book(book_from_grid(text) if slug in AS_TOLD else fragment_book(text))
    flags: list[Flag] = list(bound.flags)
    if bound.book is not None:
        flags += [flag for check in ALL_CHECKS for flag in check(bound.book)]
    assert slug in {flag.slug for flag in flags}
