"""Next month's workbook against another reader: what the coach made stays, what is new stands where it is told."""

from __future__ import annotations

import zipfile
from io import BytesIO
from pathlib import Path

import pytest
from openpyxl import Workbook, load_workbook
from openpyxl.comments import Comment
from openpyxl.styles import PatternFill

from compiler.flags.model import Severity, has
from compiler.pipeline.check import check_source
from compiler.pipeline.next import NextMade, make_next
from compiler.render.template import render_template
from compiler.resolve.values import Part
from compiler.source.xlsx import read_workbook_bytes
from compiler.watch.edits import edits
from tests.recalculation import recalculated
from tests.unit.progress.months import source_of

PROGRAMME = "A | Back squat | 3 | 8 | own | | | 2"
LOG = "A | Back squat | | 60x8 @8 | 60x8 @8 |"
WORKING = "2026-12-20 | Back squat | 60 | kg | | | working weight"
CHANGES = "| Imogen Thackray | | | Back squat | 4 | scale | 95% | |"


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> tuple[bytes, NextMade]:
    """Return a block with things of the coach's own in it, and what `next` made of it."""
    book = load_workbook(BytesIO(render_template(4, 1, fill=source_of(PROGRAMME, LOG, WORKING, changes=CHANGES))))
    notes = book.create_sheet("My notes")
    notes["A1"], notes["A2"], notes["B2"] = "bring", "chalk", "=1+1"
    notes["A2"].fill = PatternFill("solid", fgColor="FFCC00")
    book["Tests"]["M1"], book["Tests"]["M2"] = "Mood", "cheerful"
    book["Tests"]["A2"].comment = Comment("strong day", "coach")
    file = tmp_path_factory.mktemp("next") / "block.xlsx"
    book.save(file)
    return file.read_bytes(), make_next(file)


def test_what_the_coach_made_stays(made: tuple[bytes, NextMade]) -> None:
    """Own sheets and columns, fills, comments, drop-downs and marks are there as before."""
    before, after = load_workbook(BytesIO(made[0])), load_workbook(BytesIO(made[1].content or b""))
    assert after.sheetnames == ["Progress", *before.sheetnames]
    assert after["My notes"]["A2"].fill.fgColor.rgb == before["My notes"]["A2"].fill.fgColor.rgb
    assert after["My notes"]["B2"].value == "=1+1"
    assert (after["Tests"]["M2"].value, after["Tests"]["A2"].comment.text) == ("cheerful", "strong day")
    for name in before.sheetnames:
        one, other = before[name], after[name]
        assert len(one.data_validations.dataValidation) == len(other.data_validations.dataValidation)
        assert len(one.conditional_formatting) == len(other.conditional_formatting)


def test_parts_that_are_not_changed_keep_their_bytes(made: tuple[bytes, NextMade]) -> None:
    """The programme, the exercises, comments and most other sheets are the same to the byte."""
    with zipfile.ZipFile(BytesIO(made[0])) as one, zipfile.ZipFile(BytesIO(made[1].content or b"")) as other:
        same = [name for name in one.namelist() if name in other.namelist() and one.read(name) == other.read(name)]
    assert "xl/comments/comment1.xml" in same
    kept = [name for name in same if name.startswith("xl/worksheets/sheet")]
    assert len(kept) == 7  # Exercises, Programme, Clients, Restrictions, Sites, Kit, My notes


def test_new_rows_stand_where_progress_says(made: tuple[bytes, NextMade]) -> None:
    """The row of Tests is named on the Progress sheet, in the format of the rows above it."""
    after = load_workbook(BytesIO(made[1].content or b""))
    progress, tests = after["Progress"], after["Tests"]
    heads = {cell.value: cell.column for cell in progress[3]}
    row = int(str(progress.cell(4, heads["Row"]).value).removeprefix("Tests row "))
    assert [tests.cell(row, column).value for column in range(1, 6)] == [
        "Imogen Thackray", "2027-01-18", "Back squat", "62.5", "kg",
    ]  # fmt: skip
    assert tests.cell(row, 1).number_format == tests.cell(row - 1, 1).number_format


def test_a_column_that_a_sheet_lacks_is_added(tmp_path: Path) -> None:
    """A coach who has taken Words in booklet out of Changes gets it back on the right."""
    changes = "| Imogen Thackray | | | Back squat | | load | | 60 kg |"
    log = "A | Back squat | 60x8 | - | - |"
    book = load_workbook(BytesIO(render_template(4, 1, fill=source_of(PROGRAMME, log, WORKING, changes=changes))))
    sheet = book["Changes"]
    heads = {cell.value: cell.column for cell in sheet[1]}
    sheet.delete_cols(heads["Words in booklet"])
    file = tmp_path / "block.xlsx"
    book.save(file)
    after = load_workbook(BytesIO(make_next(file).content or b""))["Changes"]
    heads = {cell.value: cell.column for cell in after[1]}
    assert "a little lighter after the break" in [cell.value for (cell,) in after.iter_rows(
        min_row=2, min_col=heads["Words in booklet"], max_col=heads["Words in booklet"]
    )]


def test_the_body_alone_is_written_as_a_blank(tmp_path: Path) -> None:
    """80% of 87.5 kg is the client's 70 kg: History and Tests take no load of nought, blank is the body alone."""
    programme, tested = "A | Weighted dip | 3 | 5 | 80% | | | 2", "2026-12-20 | Weighted dip | 17.5 | kg | 1 | | tested"
    for log, rows in (("ok | ok | ok", 1), ("ok | ok | BW x 5 @9", 2)):
        file = tmp_path / "block.xlsx"
        file.write_bytes(render_template(4, 1, fill=source_of(programme, f"A | Weighted dip | {log} |", tested)))
        checked = check_source(read_workbook_bytes(make_next(file).content or b"", "next.xlsx"))
        assert checked.book is not None
        assert not has(Severity.ERROR, checked.flags)
        assert [row.load.blank for row in checked.book.history] == [True] * 3
        assert len(checked.book.tests) == rows


def test_dates_changes_and_log(made: tuple[bytes, NextMade]) -> None:
    """The start moves on, the change for week 4 is gone, the log is empty and History has it."""
    checked = check_source(read_workbook_bytes(made[1].content or b"", "next.xlsx"))
    assert checked.book is not None
    assert str(checked.book.block.start_date.content) == "2027-02-01"
    assert (checked.book.changes, checked.book.log) == ((), ())
    assert [(row.week.content, str(row.set.text)) for row in checked.book.history] == [(2, "1-3"), (3, "1-3")]
    assert not has(Severity.ERROR, checked.flags)


def test_a_second_month_replaces_the_progress_sheet(made: tuple[bytes, NextMade], tmp_path: Path) -> None:
    """There is one Progress sheet, the new one."""
    file = tmp_path / "next.xlsx"
    file.write_bytes(made[1].content or b"")
    again = load_workbook(BytesIO(make_next(file).content or b""))
    assert again.sheetnames.count("Progress") == 1
    assert "No log" in str(again["Progress"]["H4"].value)


def test_sheets_that_are_missing_are_added(tmp_path: Path) -> None:
    """A bare workbook without Tests and History gets them, and reads back."""
    book = Workbook()
    book.remove(book.active)
    for sheet in source_of(PROGRAMME, "A | Back squat | 60x8 | | |").sheets:
        if sheet.name not in {"Tests", "Changes", "History"}:
            target = book.create_sheet(sheet.name)
            for (row, column), cell in sheet.cells.items():
                target.cell(row, column).value = str(cell.value)
    file = tmp_path / "bare.xlsx"
    book.save(file)
    made = make_next(file)
    checked = check_source(read_workbook_bytes(made.content or b"", "next.xlsx"))
    assert checked.book is not None
    assert [(test.source.content, str(test.load.text)) for test in checked.book.tests] == [("working weight", "60")]
    assert len(checked.book.history) == 1


def test_a_spreadsheet_program_opens_it_and_saves_the_same(made: tuple[bytes, NextMade], tmp_path: Path) -> None:
    """LibreOffice, a second program: what it saves checks as what `next` wrote, and the Progress sheet reads alike."""
    written = made[1].content or b""
    saved = recalculated({"next": written}, tmp_path)["next"]
    one, other = (check_source(read_workbook_bytes(data, "next.xlsx")) for data in (written, saved))
    assert one.book is not None
    assert other.book is not None
    assert edits(one.book, other.book) == ()
    assert [flag.slug for flag in one.flags] == [flag.slug for flag in other.flags]
    progress = [load_workbook(BytesIO(data))["Progress"].values for data in (written, saved)]
    assert [row[:11] for row in progress[0]] == [row[:11] for row in progress[1]]


def test_deleting_the_row_refuses_the_proposal(made: tuple[bytes, NextMade]) -> None:
    """Without the row that Progress names the client lifts what was lifted before: 60 kg, not 62.5."""
    book = load_workbook(BytesIO(made[1].content or b""))
    heads = {cell.value: cell.column for cell in book["Progress"][3]}
    row = int(str(book["Progress"].cell(4, heads["Row"]).value).removeprefix("Tests row "))
    assert planned_load_of(book) == "62.5 kg"
    book["Tests"].delete_rows(row)
    assert planned_load_of(book) == "60 kg"


def planned_load_of(book: Workbook) -> str:
    """Return what the first client lifts first."""
    stream = BytesIO()
    book.save(stream)
    (plan,) = check_source(read_workbook_bytes(stream.getvalue(), "next.xlsx")).plans
    return str(plan.sessions[0].parts[Part.MAIN][0].load.items[0].low.load)
