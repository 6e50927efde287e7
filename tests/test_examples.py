"""The example workbooks say what they promise: one compiles without an error, the other shows its mistakes."""

from __future__ import annotations

from pathlib import Path

import pytest

import compiler
from compiler.demo.workbooks import WINTER_BLOCK, WITH_MISTAKES
from compiler.flags.model import Severity
from compiler.pipeline.check import Checked

EXAMPLES = Path(__file__).parents[1] / "examples"
INTENDED = Path(__file__).parent / "data" / "mistakes-intended.txt"
EXPECTED_NOTES = {"changed"}


@pytest.fixture(scope="module")
def winter() -> Checked:
    return compiler.check(EXAMPLES / f"{WINTER_BLOCK}.xlsx")


@pytest.fixture(scope="module")
def mistakes() -> Checked:
    return compiler.check(EXAMPLES / f"{WITH_MISTAKES}.xlsx")


def test_winter_block_has_no_flag_that_a_coach_would_not_expect(winter: Checked) -> None:
    """Only the notes that say which exercises were changed for whom."""
    assert {found.slug for found in winter.flags} == EXPECTED_NOTES
    assert all(found.severity is Severity.NOTE for found in winter.flags)


def test_winter_block_compiles_with_the_warnings_that_the_readme_names(tmp_path: Path) -> None:
    """Two sessions are longer than a page on purpose; every other session of a booklet of full pages has one."""
    compiled = compiler.compile_block(EXAMPLES / f"{WINTER_BLOCK}.xlsx", tmp_path / "out")
    warned = [found for found in compiled.flags if found.severity is Severity.WARNING]
    assert [(found.slug, found.found) for found in warned] == [
        ("session-over-a-page", "Squat and press"),
        ("session-over-a-page", "Power and carry"),
    ]
    readme = (EXAMPLES.parent / "README.md").read_text(encoding="utf-8")
    assert all(f"*{found.found}*" in readme for found in warned)


def test_winter_block_is_whole(winter: Checked) -> None:
    """At least 24 clients in three groups on two sites, two programmes, three sessions a week, four weeks."""
    assert winter.book is not None
    clients = winter.book.clients
    assert len(clients) >= 24
    assert len(winter.plans) == sum(1 for client in clients if client.print.value != "none")
    assert len({client.group.value for client in clients}) == 3
    assert len(winter.book.sites) == 2
    assert len({row.programme.value for row in winter.book.programme}) == 2
    assert winter.book.block.weeks.value == 4


def test_mistakes_are_flagged_each_at_its_cell(mistakes: Checked) -> None:
    """Exactly the flags that the data intend: cell and slug, none more, none less."""
    intended = [line.split() for line in INTENDED.read_text(encoding="utf-8").splitlines() if line.strip()]
    found = [[str(flag.place), flag.slug] for flag in mistakes.flags]
    assert sorted(intended) == sorted(map(list, {tuple(pair) for pair in found}))
    assert len({slug for _, slug in intended}) >= 20


def test_mistakes_stop_only_those_they_touch(mistakes: Checked) -> None:
    """Some clients still get a booklet, and everybody who does not is named by an error."""
    assert mistakes.book is not None
    planned = {plan.name for plan in mistakes.plans}
    assert len(planned) >= 3
    stopped = {client for flag in mistakes.flags for client in flag.touches if flag.severity is Severity.ERROR}
    everybody = {client.name.known for client in mistakes.book.clients if client.print.known != "none"}
    assert everybody - planned == stopped & everybody
