"""Three months in a row on the example, with a simulated room: nothing is flagged that a coach would not expect."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from compiler.demo.workbooks import demo_workbook
from compiler.documents.log_entry import build_log_entry
from compiler.pipeline.check import Checked, check_source
from compiler.pipeline.next import NextMade, make_next
from compiler.render.log_entry import render_log_entry
from compiler.source.xlsx import read_workbook, read_workbook_bytes
from tests.simulated_room import MISSED_TWO, NO_LOG, train

EXPECTED = {"changed", "stale-test"}
"""Substitutes are told every month; a test of November that nobody repeated is old in March."""

STARTS = (date(2026, 12, 7), date(2027, 1, 4), date(2027, 2, 1), date(2027, 3, 1))
SEED = 20261207


@dataclass(frozen=True)
class Months:
    """Four blocks and the three steps between them. Not shown where a test fails: it would fill books."""

    blocks: list[Checked] = field(repr=False)
    steps: list[NextMade] = field(repr=False)
    folder: Path


@pytest.fixture(scope="module")
def months(tmp_path_factory: pytest.TempPathFactory) -> Months:
    """Return what is known of four blocks, and the three steps between them."""
    folder = tmp_path_factory.mktemp("months")
    workbook = folder / "block-0.xlsx"
    workbook.write_bytes(demo_workbook())
    blocks, steps = [check_source(read_workbook(workbook))], []
    for number in range(3):
        checked = blocks[-1]
        if checked.book is None:
            pytest.fail("a block has no book")
        log = folder / f"log-{number}.xlsx"
        entry = render_log_entry(build_log_entry(checked.book, checked.plans))
        log.write_bytes(train(entry, checked.plans, SEED + number))
        made = make_next(workbook, [log])
        if made.content is None:
            pytest.fail("no next block")
        workbook = folder / f"block-{number + 1}.xlsx"
        workbook.write_bytes(made.content)
        steps.append(made)
        blocks.append(check_source(read_workbook_bytes(made.content, workbook.name)))
    return Months(blocks, steps, folder)


def test_nobody_is_lost_and_nothing_odd_is_flagged(months: Months) -> None:
    """Every block makes a plan for everybody, and its flags are those that a coach expects."""
    blocks, steps = months.blocks, months.steps
    counts = {len(block.plans) for block in blocks}
    flagged = {flag.slug for block in blocks for flag in block.flags}
    told = {flag.slug for step in steps for flag in step.flags}
    assert len(counts) == 1
    assert flagged <= EXPECTED
    assert told <= EXPECTED


def test_the_calendar_moves_on(months: Months) -> None:
    """Each block starts on the same weekday, four weeks later; the late joiner of the first starts with the others."""
    blocks = months.blocks
    starts = [block.book.block.start_date.content for block in blocks if block.book]
    late = [c.name.content for b in blocks[1:] if b.book for c in b.book.clients if c.first_week.content]
    assert starts == list(STARTS)
    assert late == []


def test_the_log_becomes_history(months: Months) -> None:
    """The log is empty in every new block, and History only grows."""
    blocks, steps = months.blocks, months.steps
    logs = [len(block.book.log) for block in blocks if block.book]
    sizes = [len(block.book.history) for block in blocks if block.book]
    added = len(steps[0].month.history) if steps[0].month else 0
    assert logs == [0] * 4
    assert sizes == sorted(sizes)
    assert sizes[1] - sizes[0] == added


def test_no_rise_is_over_the_cap(months: Months) -> None:
    """What is written never goes up by more than the Block's 5%; there are rises and there are falls."""
    steps = months.steps
    shares = [
        proposal.new.to(proposal.old.unit).amount / proposal.old.amount
        for step in steps
        for proposal in (step.month.proposals if step.month else ())
        if proposal.written and proposal.old and proposal.new
    ]
    assert max(shares) <= Decimal("1.05")
    assert max(shares) > 1 > min(shares)


def test_who_has_no_log_keeps_every_load(months: Months) -> None:
    """No log, no change; it is said."""
    steps = months.steps
    told = [NO_LOG in dict(step.month.without) for step in steps if step.month]
    proposed = [p.client for step in steps if step.month for p in step.month.proposals if p.client == NO_LOG]
    assert told == [True] * 3
    assert proposed == []


def test_two_missed_weeks_make_a_lighter_block(months: Months) -> None:
    """Who missed two weeks has every weight at 90% in the next block, by rows that can be deleted, and not for ever."""
    blocks, steps = months.blocks, months.steps
    first = steps[0].month
    rows = [
        change
        for proposal in (first.proposals if first else ())
        if proposal.client == MISSED_TWO
        for change in proposal.changes
    ]
    done = {(change.do, change.with_) for change in rows}
    assert done == {("scale", "90%")}
    scaled = [
        one.load.scaled is not None
        for plan in blocks[1].plans
        if plan.name == MISSED_TWO
        for session in plan.sessions
        for part in session.parts.values()
        for one in part
        if one.load.kind == "weight" and one.load.items
    ]
    assert all(scaled)


def test_the_same_input_gives_the_same_workbook(months: Months) -> None:
    """A log given twice changes nothing, and neither does a second run; the old workbook is as it was."""
    steps, folder = months.steps, months.folder
    workbook, log = folder / "block-0.xlsx", folder / "log-0.xlsx"
    again = make_next(workbook, [log, log])
    same = again.content == steps[0].content
    untouched = workbook.read_bytes() == demo_workbook()
    assert same
    assert untouched


def test_the_log_of_another_block_is_not_read(months: Months) -> None:
    """The log of December says nothing about January."""
    folder = months.folder
    made = make_next(folder / "block-1.xlsx", [folder / "log-0.xlsx"])
    flagged = [flag.slug for flag in made.flags if flag.slug not in EXPECTED]
    proposals = len(made.month.proposals) if made.month else None
    assert flagged == ["log-matches-nothing"]
    assert proposals == 0
