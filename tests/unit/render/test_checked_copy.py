"""The checked copy of a workbook that has much to lose: what is added, and that nothing else is changed."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from compiler.flags.model import Flag, Severity
from compiler.flags.text import one_line
from compiler.render.checked_copy import render_checked_copy
from compiler.source.xlsx import read_workbook_bytes
from tests.unit.render.checked_books import (
    DROP_DOWN,
    at,
    links,
    notes,
    parts_of,
    patched,
    repacked,
    rich_workbook,
    sheet_data,
    with_thread,
)
from tests.workbook_content import open_workbook

pytestmark = pytest.mark.filterwarnings("ignore:.*extension is not supported:UserWarning")  # openpyxl drops them

FLAGS = (
    at("Programme!A1", "extra-column", "A note."),
    at("Programme!B2"),
    at("Programme!B2", "missing-test", "Ana has no test.", client="Ana", hint=None),
    at("Programme!A6", "merged-cells", "Merged."),
    at("Programme!Z90", "missing-load", "=HYPERLINK(1) & <b> _x0041_", hint="@x"),
    at("Clients!A2", "not-screened", "Not screened."),
    Flag("missing-sheet", Severity.ERROR, "The sheet is missing.", None, sheet="Exercises"),
    Flag("unused-exercises", Severity.NOTE, "Three are unused.", None, sheet="Maud's lists"),
)


@pytest.fixture(scope="module")
def original() -> bytes:
    return rich_workbook()


@pytest.fixture(scope="module")
def copy(original: bytes) -> bytes:
    return render_checked_copy(original, FLAGS)


def test_only_parts_with_something_of_ours_are_changed(original: bytes, copy: bytes) -> None:
    """Pictures, charts, tables, properties, texts and every other part keep their bytes."""
    before, after = parts_of(original), parts_of(copy)
    changed = {name for name, data in before.items() if after.get(name) != data}
    assert {
        "[Content_Types].xml",
        "docProps/app.xml",
        "xl/workbook.xml",
        "xl/_rels/workbook.xml.rels",
        "xl/styles.xml",
        "xl/comments1.xml",
        "xl/drawings/vmlDrawing1.vml",
        "xl/worksheets/sheet1.xml",
        "xl/worksheets/sheet2.xml",
        "xl/worksheets/_rels/sheet2.xml.rels",
    } == changed
    assert {"xl/worksheets/sheet4.xml", "xl/comments2.xml", "xl/drawings/vmlDrawing2.vml"} == set(after) - set(before)


def test_cells_keep_their_bytes(original: bytes, copy: bytes) -> None:
    """Values, formulas, stored results, formats and rich text of all cells are the same bytes."""
    before, after = parts_of(original), parts_of(copy)
    for number in (1, 2, 3):
        name = f"xl/worksheets/sheet{number}.xml"
        assert sheet_data(before[name]) == sheet_data(after[name]) != b""


def test_all_that_is_around_the_cells_is_still_there(original: bytes, copy: bytes) -> None:
    """Every element of a sheet but those that a mark changes stands there byte for byte."""
    after = parts_of(copy)["xl/worksheets/sheet1.xml"]
    for kept in (b"sparkline", b"dataValidations", DROP_DOWN.encode(), b"<drawing ", b"dataBar", b"mergeCells"):
        assert parts_of(original)["xl/worksheets/sheet1.xml"].count(kept) == after.count(kept) > 0
    before_sheets, after_sheets = (
        [sheet for sheet in read_workbook_bytes(data, "x").sheets if sheet.name != "Flags"] for data in (original, copy)
    )
    assert before_sheets == after_sheets


def test_another_library_sees_the_same_looks(original: bytes, copy: bytes) -> None:
    before, after = open_workbook(original, rich_text=True), open_workbook(copy, rich_text=True)
    assert ["Flags", *before.sheetnames] == after.sheetnames
    for sheet in before.worksheets:
        for row in sheet.iter_rows():
            for cell in row:
                assert _look(cell) == _look(after[sheet.title][cell.coordinate])


def _look(cell: Any) -> tuple[str, ...]:
    return tuple(map(repr, (cell.value, cell.number_format, cell.font, cell.fill, cell.border, cell.alignment)))


def test_comments_stand_on_flagged_cells_after_the_coachs_own(original: bytes, copy: bytes) -> None:
    """Two flags of a cell share a comment; a cell under a merge is marked where the merge shows its value."""
    before, after = open_workbook(original), open_workbook(copy)
    found = notes(after["Programme"])
    assert set(found) == {"A1", "B2", "A5", "Z90"}
    for cell, own in notes(before["Programme"]).items():
        assert found[cell].startswith(f"{own}\n\n[Flags on this cell]\n")
    assert found["B2"].endswith(
        "[Flags on this cell]\nERROR unreadable-load\nIt cannot be read.\nHint: Write 60 kg.\n"
        "WARNING missing-test\nAna has no test.\n[end of flags]"
    )
    assert set(notes(after["Clients"])) == {"A2"}
    assert notes(after["Maud's lists"]) == {}


def test_marks_are_laid_over_the_cells_by_severity(copy: bytes) -> None:
    """One conditional format a severity, in front of the coach's own; the cells of a merge as one."""
    sheet = open_workbook(copy)["Programme"]
    rules = sorted(
        (rule.priority, str(found.sqref), rule.dxf.border.left.style if rule.dxf and rule.dxf.border else None)
        for found in sheet.conditional_formatting
        for rule in found.rules
    )
    assert rules[:2] == [(1, "B2 Z90", "thin"), (2, "A1 A5", "dotted")]
    assert [priority for priority, *_ in rules] == list(range(1, len(rules) + 1))


def test_the_flags_sheet_lists_all_worst_first_and_jumps(copy: bytes) -> None:
    sheet = open_workbook(copy)["Flags"]
    assert [(sheet.cell(row, 1).value, sheet.cell(row, 2).value) for row in (2, 3, 4)] == [
        ("Errors", 3),
        ("Warnings", 2),
        ("Notes", 3),
    ]
    rows = [tuple(cell.value for cell in row) for row in sheet.iter_rows(min_row=8)]
    assert [(row[0], row[6], row[2]) for row in rows] == [
        ("error", "unreadable-load", "B2"),
        ("error", "missing-load", "Z90"),
        ("error", "missing-sheet", None),
        ("warning", "missing-test", "B2"),
        ("warning", "not-screened", "A2"),
        ("note", "extra-column", "A1"),
        ("note", "merged-cells", "A6"),
        ("note", "unused-exercises", None),
    ]
    jumps = links(sheet)
    assert (jumps["C8"], jumps["B12"], jumps["B15"]) == ("'Programme'!B2", "'Clients'!A2", "'Maud''s lists'!A1")
    assert "B10" not in jumps
    assert (sheet.freeze_panes, sheet.auto_filter.ref) == ("A8", "A7:G15")


def test_texts_stay_texts(copy: bytes) -> None:
    """No cell of the Flags sheet is a formula, and what looks like markup or an escape is read back as it was."""
    book = read_workbook_bytes(copy, "x")
    (flags,) = (sheet for sheet in book.sheets if sheet.name == "Flags")
    assert [cell for cell in flags.cells.values() if cell.formula is not None] == []
    assert flags.cells[9, 5].value == one_line(FLAGS[4].message)
    assert flags.cells[9, 6].value == "@x"
    assert b"<f>" not in parts_of(copy)["xl/worksheets/sheet4.xml"]


def test_what_counts_sheets_by_order_is_moved(copy: bytes) -> None:
    """Names of a sheet, the list in the properties; the workbook opens on the Flags sheet, and on it alone."""
    book = open_workbook(copy)
    assert book.active.title == "Flags"
    assert [sheet.title for sheet in book.worksheets if sheet.sheet_view.tabSelected] == ["Flags"]
    assert book["Programme"].print_area == "'Programme'!$A$1:$C$9"
    assert (book["Programme"].print_title_rows, book["Clients"].print_title_rows) == ("$1:$1", None)
    assert list(book["Clients"].defined_names) == ["own"]
    assert book.defined_names["Sites_list"].attr_text == "'Maud''s lists'!$A$1:$C$1"
    assert book["Flags"].print_title_rows == "$7:$7"
    assert [sheet.title for sheet in book.worksheets if sheet.sheet_state == "hidden"] == ["Maud's lists"]
    properties = parts_of(copy)["docProps/app.xml"]
    assert b"<vt:lpstr>Flags</vt:lpstr><vt:lpstr>Programme</vt:lpstr>" in properties
    assert b"<vt:lpstr>Worksheets</vt:lpstr></vt:variant><vt:variant><vt:i4>4</vt:i4>" in properties


def test_two_builds_are_alike_and_marks_do_not_pile_up(original: bytes, copy: bytes) -> None:
    """A copy of the copy is the same file; with the flags gone, their marks are gone and the coach's words stay."""
    assert render_checked_copy(original, FLAGS) == copy
    assert render_checked_copy(copy, FLAGS) == copy
    clean = render_checked_copy(copy, ())
    assert render_checked_copy(original, ()) != copy
    before, after = open_workbook(original), open_workbook(clean)
    assert after.sheetnames == ["Flags", *before.sheetnames]
    assert [notes(sheet) for sheet in after.worksheets] == [{}, *(notes(sheet) for sheet in before.worksheets)]
    assert b"programme flags" not in b"".join(parts_of(clean).values())
    assert "xl/comments2.xml" not in parts_of(clean)
    assert after["Flags"]["A8"].value == "Nothing was flagged."


def test_a_copy_saved_by_another_program_is_cleaned_too(copy: bytes, tmp_path: Path) -> None:
    """Another library writes comments, marks and sheets in its own way; none of ours stays behind or comes twice."""
    book = open_workbook(copy)
    book.save(tmp_path / "saved.xlsx")
    again = open_workbook(render_checked_copy((tmp_path / "saved.xlsx").read_bytes(), FLAGS))
    assert again.sheetnames == ["Flags", "Programme", "Clients", "Maud's lists", "Progress chart"]
    assert notes(again["Programme"]) == notes(open_workbook(copy)["Programme"])
    signs = [
        str(found.sqref)
        for found in again["Programme"].conditional_formatting
        for rule in found.rules
        if "programme flags" in str(rule.formula)
    ]
    assert sorted(signs) == ["A1 A5", "B2 Z90"]


def test_what_the_coach_wrote_into_a_comment_of_ours_stays(copy: bytes) -> None:
    """Only the words between our two lines are ours."""
    typed = patched(copy, {"xl/comments2.xml": (b"[end of flags]", b"[end of flags] Maud: it is the old form")})
    again = notes(open_workbook(render_checked_copy(typed, ()))["Clients"])
    assert again == {"A2": " Maud: it is the old form"}


def test_threaded_conversations_stay(original: bytes) -> None:
    """The conversation keeps its bytes; the copy of it that older programs read gets our words behind it."""
    thread = with_thread(original)
    copied = render_checked_copy(thread, FLAGS)
    name = "xl/threadedComments/threadedComment1.xml"
    assert parts_of(copied)[name] == parts_of(thread)[name]
    text = notes(open_workbook(copied)["Programme"])["B2"]
    assert text.startswith("[Threaded comment]\n\nYour version allows")
    assert "Comment: 75 or 80?\n\n[Flags on this cell]" in text
    assert parts_of(copied)["xl/worksheets/_rels/sheet1.xml.rels"].count(b"threadedComment1.xml") == 1


def test_a_sheet_of_the_coachs_called_flags_is_not_replaced() -> None:
    """Ours is known by its words; the coach's keeps its name, and ours takes another, also the second time."""
    original = patched(rich_workbook(), {"xl/workbook.xml": (b'name="Maud\'s lists"', b'name="Flags"')})
    copied = render_checked_copy(original, FLAGS)
    assert open_workbook(copied).sheetnames == ["Flags 2", "Programme", "Clients", "Flags", "Progress chart"]
    assert render_checked_copy(copied, FLAGS) == copied


def test_comments_without_boxes_get_them(original: bytes) -> None:
    """Some writers store no boxes for comments; then every comment of a flagged sheet has one in the copy."""
    parts = parts_of(original)
    parts.pop("xl/drawings/vmlDrawing1.vml")
    sheet = parts["xl/worksheets/sheet1.xml"]
    at_drawing = sheet.index(b"<legacyDrawing")
    parts["xl/worksheets/sheet1.xml"] = sheet[:at_drawing] + sheet[sheet.index(b"/>", at_drawing) + 2 :]
    copied = parts_of(render_checked_copy(repacked(parts), FLAGS))
    drawing = next(data for name, data in copied.items() if name == "xl/drawings/vmlDrawing1.vml")
    assert drawing.count(b"<x:Row>") == 4
