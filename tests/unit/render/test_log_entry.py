"""The log entry workbook: rows in booklet order, made for typing, kept when it has been typed in."""

from __future__ import annotations

from io import BytesIO
from pathlib import Path

from openpyxl import load_workbook

from compiler.binding.log_rows import bind_log
from compiler.documents.log_entry import LogEntry, build_log_entry
from compiler.files import write_set
from compiler.pipeline.check import check_source
from compiler.render.log_entry import render_log_entry
from compiler.source.xlsx import read_workbook_bytes
from tests.unit.progress.months import source_of

PROGRAMME = "A | Back squat | 3 | 8 | 60 kg | | +5 kg | -\nB | Weighted dip | 2 | 8-10 | body weight | | | 2"


def entry() -> LogEntry:
    checked = check_source(source_of(PROGRAMME, ""))
    if checked.book is None:
        raise AssertionError(checked.flags)
    return build_log_entry(checked.book, checked.plans)


def test_rows_and_targets() -> None:
    """The session first, then its exercises in order; a week without an exercise has no target."""
    assert [(row.order, row.exercise, row.targets) for row in entry().rows] == [
        ("", "", ("session as planned",) * 4),
        ("A", "Back squat", ("3 × 8 @ 60 kg", "3 × 8 @ 60 kg", "3 × 8 @ 65 kg", None)),
        ("B", "Weighted dip", ("2 × 8–10 @ BW",) * 4),
    ]


def test_it_is_made_for_typing() -> None:
    """Names and heads stay in sight, nothing is protected or offered, entries are text, heads say the shorthand."""
    sheet = load_workbook(BytesIO(render_log_entry(entry())))["Log"]
    heads = {cell.value: cell for cell in sheet[1]}
    assert sheet.freeze_panes == "E2"
    assert not sheet.protection.sheet
    assert sheet.data_validations.dataValidation == []
    assert sheet.cell(3, heads["Week 1"].column).number_format == "@"
    assert "95x5" in heads["Week 1"].comment.text
    assert sheet.page_setup.orientation == "landscape"
    assert sheet.print_title_rows == "$1:$1"


def test_what_is_typed_is_read_back() -> None:
    """Typed by another program, it binds without a flag; the targets are no columns of the coach's own."""
    book = load_workbook(BytesIO(render_log_entry(entry())))
    book["Log"]["F3"] = "60x8, 60x8, 60x7 @9"
    out = BytesIO()
    book.save(out)
    rows, flags = bind_log(read_workbook_bytes(out.getvalue(), "log-entry.xlsx"), 4, entry().start)
    assert flags == ()
    assert [row.weeks[0].done.text for row in rows] == ["", "60x8, 60x8, 60x7 @9", ""]
    assert rows[1].weeks[0].done.place.sheet == "log-entry.xlsx: Log"


def test_a_log_that_is_being_typed_is_kept(tmp_path: Path) -> None:
    """Compiling again neither replaces nor removes it; the new one stands beside it where it differs."""
    name = "coach/log-entry.xlsx"
    write_set(tmp_path, {name: render_log_entry(entry())})
    (tmp_path / name).write_bytes(b"typed by Maud")
    same = write_set(tmp_path, {name: render_log_entry(entry())})
    other = write_set(tmp_path, {name: render_log_entry(LogEntry("another", None, 4, "A4", ()))})
    assert (tmp_path / name).read_bytes() == b"typed by Maud"
    assert (same.removed, other.removed) == ((), ())
    assert [beside.kept for beside in other.beside] == [name]


def test_the_same_plans_give_the_same_bytes() -> None:
    """No clock is read."""
    assert render_log_entry(entry()) == render_log_entry(entry())


def test_a_session_twice_in_a_week_has_rows_for_either_time() -> None:
    """The day of each stands beside it, and what was planned then."""
    checked = check_source(source_of("A | Back squat | 3 | 8 | 60 kg | 65 kg | | 2", "", rotating="Mon Thu"))
    assert checked.book is not None
    rows = build_log_entry(checked.book, checked.plans).rows
    assert [(row.session, row.order, row.targets[0]) for row in rows] == [
        ("Press", "", "4 January"),
        ("Press", "A", "3 × 8 @ 60 kg"),
        ("Press (2)", "", "7 January"),
        ("Press (2)", "A", "3 × 8 @ 65 kg"),
    ]
