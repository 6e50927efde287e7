"""The checked copy of files as they come: other writers, hostile ones, odd encodings, macros, the demo."""

from __future__ import annotations

import io
from pathlib import Path
from typing import Any

import openpyxl
import pytest

from compiler.cellref import CellRef
from compiler.cli import main
from compiler.demo.workbooks import WITH_MISTAKES, demo_workbook
from compiler.exits import Exit
from compiler.flags.catalogue import flag
from compiler.flags.model import Flag, Remark
from compiler.pipeline.check import check_bytes
from compiler.render.checked_copy import render_checked_copy
from compiler.source.cells import SourceBook
from compiler.source.unreadable import UnreadableWorkbook
from compiler.source.xlsx import read_workbook_bytes
from tests.unit.render.checked_books import at, links, notes, parts_of, repacked, sheet_data
from tests.workbook_content import open_workbook

DATA = Path(__file__).parents[2] / "data"
MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
RELATIONS = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
PACKAGE = "http://schemas.openxmlformats.org/package/2006"
SHEET_TYPE = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml"


def readable() -> list[Path]:
    """Return the files of other writers and the hostile ones that can be read as workbooks at all."""
    found = []
    for path in sorted([*DATA.glob("hostile/*.xls?"), *DATA.glob("writers/*.xlsx")]):
        try:
            read_workbook_bytes(path.read_bytes(), path.name)
        except UnreadableWorkbook:
            continue
        found.append(path)
    return found


def flags_everywhere(book: SourceBook) -> tuple[Flag, ...]:
    """Return flags on stored cells, on cells that are not stored, and on the last ones of a sheet."""
    remark = Remark("unreadable-load", "=1+1 <b>cannot</b> be read.", "+1")
    edges = ((1, 30), (1_048_576, 1), (1_048_576, 16_384))
    places = [CellRef(sheet.name, *key) for sheet in book.sheets for key in (*list(sheet.cells)[:30], *edges)]
    return tuple(flag(remark, place) for place in places)


def opened(data: bytes) -> Any:
    """Return a workbook as openpyxl reads it, or the kind of error that stops it."""
    try:
        return openpyxl.load_workbook(io.BytesIO(data))
    except (TypeError, ValueError, KeyError, IndexError) as stopped:
        return type(stopped)


def own_sheets(data: bytes) -> list[Any]:
    return [sheet for sheet in read_workbook_bytes(data, "x").sheets if not sheet.name.startswith("Flags")]


@pytest.mark.filterwarnings("ignore::UserWarning")  # openpyxl remarks on what it drops
@pytest.mark.parametrize("path", readable(), ids=lambda path: path.stem)
def test_every_file_that_opens_has_a_copy_that_opens(path: Path) -> None:
    """Our reader finds the same cells; openpyxl opens the copies of all files that it opens, with all comments."""
    original = path.read_bytes()
    flags = flags_everywhere(read_workbook_bytes(original, path.name))
    copied = render_checked_copy(original, flags)
    assert own_sheets(copied) == own_sheets(original)
    before, after = opened(original), opened(copied)
    if isinstance(before, type) or not before.sheetnames:
        assert isinstance(after, type) or not after.sheetnames
        return
    assert after.sheetnames == ["Flags", *before.sheetnames]
    for sheet in before.worksheets:
        marked = after[sheet.title]
        places = [found.place for found in flags if found.place and found.sheet_name == sheet.title]
        covered = {cell for area in sheet.merged_cells.ranges for cell in area.cells}
        wanted = {place.a1 for place in places if (place.row, place.column) not in covered}
        assert wanted - set(notes(marked)) == set()
    assert render_checked_copy(render_checked_copy(copied, flags), flags) == render_checked_copy(copied, flags)


def test_macros_are_left_out_and_the_copy_says_so() -> None:
    original = (DATA / "hostile" / "24_macros.xlsm").read_bytes()
    assert any("vbaProject" in name for name in parts_of(original))
    parts = parts_of(render_checked_copy(original, ()))
    assert not any("vba" in name.casefold() for name in parts)
    assert b"macroEnabled" not in parts["[Content_Types].xml"]
    assert SHEET_TYPE.encode() in parts["[Content_Types].xml"]
    assert "macros of the workbook are not in this copy" in str(open_workbook(repacked(parts))["Flags"]["A5"].value)


def test_strict_files_get_a_strict_copy() -> None:
    """Our parts and relationships are in the namespaces of the file; another reader would not find them otherwise."""
    original = (DATA / "hostile" / "16_strict_ooxml.xlsx").read_bytes()
    flags = flags_everywhere(read_workbook_bytes(original, "x"))
    parts = parts_of(render_checked_copy(original, flags))
    new = [name for name in parts if name not in parts_of(original) and name.endswith((".xml", ".rels"))]
    assert len(new) >= 3
    for name in (*new, "xl/_rels/workbook.xml.rels"):
        assert MAIN.encode() not in parts[name]
        assert RELATIONS.encode() not in parts[name]


def bare(sheet: bytes, **more: bytes) -> bytes:
    """Return a workbook of the fewest parts: no styles, no texts, no properties, no content types."""
    relation = f'Type="{RELATIONS}/worksheet" Target="worksheets/Sheet1.xml"'
    return repacked(
        {
            "_rels/.rels": (
                f'<Relationships xmlns="{PACKAGE}/relationships"><Relationship Id="a"'
                f' Type="{RELATIONS}/officeDocument" Target="/xl/workbook.xml"/></Relationships>'
            ).encode(),
            "xl/workbook.xml": (
                f'<x:workbook xmlns:x="{MAIN}" xmlns:rel="{RELATIONS}"><x:sheets>'
                '<x:sheet name="Tests" sheetId="7" rel:id="rId1"/></x:sheets></x:workbook>'
            ).encode(),
            "xl/_rels/workbook.xml.rels": (
                f'<p:Relationships xmlns:p="{PACKAGE}/relationships"><p:Relationship Id="rId1" {relation}/>'
                "</p:Relationships>"
            ).encode(),
            "xl/worksheets/Sheet1.xml": sheet,
            **more,
        }
    )


PREFIXED = (
    f'<x:worksheet xmlns:x="{MAIN}"><x:sheetData><x:row r="1"><x:c r="A1" t="inlineStr"><x:is><x:t>Ana</x:t></x:is>'
    '</x:c><x:c r="B1"><x:v>60</x:v></x:c></x:row></x:sheetData><x:conditionalFormatting sqref="B1"><x:cfRule'
    ' type="expression" priority="1"><x:formula>B1&gt;9</x:formula></x:cfRule></x:conditionalFormatting></x:worksheet>'
)
WIDE = f"<?xml version='1.0' encoding='UTF-16'?>{PREFIXED.replace('Ana', 'Zoë')}"


@pytest.mark.parametrize("sheet", [PREFIXED.encode(), WIDE.encode("utf-16")], ids=["prefixed", "utf-16"])
def test_the_barest_workbook_with_prefixes(sheet: bytes) -> None:
    """Missing styles and content types are made, and ours stand in the file's own prefix."""
    original = bare(sheet)
    copied = render_checked_copy(original, (at("Tests!B1"), at("Tests!D4", "missing-test", hint=None)))
    assert own_sheets(copied) == own_sheets(original)
    book = open_workbook(copied)
    assert book.sheetnames == ["Flags", "Tests"]
    assert set(notes(book["Tests"])) == {"B1", "D4"}
    assert links(book["Flags"])["C8"] == "'Tests'!B1"
    assert not book["Tests"]["A1"].font.b
    rules = [
        (rule.priority, str(found.sqref)) for found in book["Tests"].conditional_formatting for rule in found.rules
    ]
    assert sorted(rules) == [(1, "B1"), (2, "D4"), (3, "B1")]
    assert render_checked_copy(copied, (at("Tests!B1"), at("Tests!D4", "missing-test", hint=None))) == copied


def test_a_sheet_in_no_prefix_keeps_its_cells() -> None:
    sheet = PREFIXED.replace("x:", "").replace(":x=", "=").encode()
    copied = parts_of(render_checked_copy(bare(sheet), (at("Tests!A1"),)))
    assert sheet_data(copied["xl/worksheets/Sheet1.xml"]) == sheet_data(sheet) != b""


def test_comments_that_are_no_sound_xml_are_left_alone() -> None:
    """Then the cell is marked and listed, and has no comment."""
    copied = parts_of(
        render_checked_copy(
            bare(
                PREFIXED.encode(),
                **{
                    "xl/worksheets/_rels/Sheet1.xml.rels": (
                        f'<Relationships xmlns="{PACKAGE}/relationships"><Relationship Id="rId1"'
                        f' Type="{RELATIONS}/comments" Target="../comments1.xml"/></Relationships>'
                    ).encode(),
                    "xl/comments1.xml": b"<comments><authors>",
                },
            ),
            (at("Tests!B1"),),
        )
    )
    assert copied["xl/comments1.xml"] == b"<comments><authors>"
    assert b"programme flags" in copied["xl/worksheets/Sheet1.xml"]


def test_the_earlier_flags_sheet_takes_its_parts_with_it() -> None:
    """A program that saved the copy may have given the Flags sheet parts of its own."""
    parts = parts_of(render_checked_copy(bare(PREFIXED.encode()), (at("Tests!B1"),)))
    parts["xl/worksheets/_rels/sheet2.xml.rels"] = (
        f'<Relationships xmlns="{PACKAGE}/relationships"><Relationship Id="rId1"'
        f' Type="{RELATIONS}/printerSettings" Target="../printerSettings/printerSettings1.bin"/></Relationships>'
    ).encode()
    parts["xl/printerSettings/printerSettings1.bin"] = b"paper"
    assert "xl/worksheets/sheet2.xml" in parts
    again = parts_of(render_checked_copy(repacked(parts), (at("Tests!B1"),)))
    assert [name for name in again if "printerSettings" in name or "_rels/sheet2" in name] == []


def test_many_flags_on_one_sheet_and_one_cell() -> None:
    """Two thousand marked cells have boxes with numbers of their own; a crowded comment says how many more."""
    spread = tuple(at(f"Tests!C{row}") for row in range(1, 2001))
    crowd = tuple(at("Tests!A1", message=f"Number {number}.") for number in range(20))
    copied = render_checked_copy(bare(PREFIXED.encode()), (*spread, *crowd))
    found = notes(open_workbook(copied)["Tests"])
    assert (len(found), "12 more on the Flags sheet." in found["A1"]) == (2001, True)
    drawing = parts_of(copied)["xl/drawings/vmlDrawing1.vml"].decode()
    numbers = [part.split('"')[0] for part in drawing.split('id="_x0000_s')[1:]]
    assert len(set(numbers)) == 2001
    assert 'data="1,2"' in drawing
    assert render_checked_copy(copied, (*spread, *crowd)) == copied


def test_the_copy_of_the_demo_is_the_same_programme() -> None:
    """A checked copy compiles to equal plans and equal flags, and a copy of it is the same file."""
    original = demo_workbook(WITH_MISTAKES)
    checked = check_bytes(original, "block.xlsx")
    copied = render_checked_copy(original, checked.flags)
    again = check_bytes(copied, "block.xlsx")
    assert len(checked.flags) > 40
    assert (again.plans, again.flags) == (checked.plans, checked.flags)
    assert render_checked_copy(copied, again.flags) == copied


def test_check_writes_it_where_asked_and_never_over_the_workbook(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "block.xlsx"
    path.write_bytes(demo_workbook(WITH_MISTAKES))
    copy = tmp_path / "checked.xlsx"
    assert main(["check", str(path), "--checked-copy", str(copy)]) == Exit.WORKBOOK_ERRORS
    assert open_workbook(copy.read_bytes()).sheetnames[0] == "Flags"
    before = path.read_bytes()
    assert main(["check", str(path), "--checked-copy", str(path)]) == Exit.USAGE
    assert path.read_bytes() == before
    assert "give it another name" in capsys.readouterr().err
