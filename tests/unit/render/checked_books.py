"""Workbooks with much that a copy could lose, and what a copy of one holds."""

from __future__ import annotations

import io
import re
import struct
import zipfile
import zlib
from collections.abc import Mapping
from typing import Any

import xlsxwriter

from compiler.cellref import CellRef
from compiler.flags.catalogue import flag
from compiler.flags.model import Flag, Remark

THREAD = "http://schemas.microsoft.com/office/spreadsheetml/2018/threadedcomments"
RELATIONS = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
X14 = "http://schemas.microsoft.com/office/spreadsheetml/2009/9/main"
DROP_DOWN = (
    f'<ext uri="{{CCE6A557-97BC-4b89-ADB6-D9C93CAAB3DF}}" xmlns:x14="{X14}"><x14:dataValidations'
    ' xmlns:xm="http://schemas.microsoft.com/office/excel/2006/main" count="1"><x14:dataValidation type="list">'
    "<x14:formula1><xm:f>Clients!$A$2:$A$4</xm:f></x14:formula1><xm:sqref>C2:C9</xm:sqref></x14:dataValidation>"
    "</x14:dataValidations></ext>"
)


def at(cell: str, slug: str = "unreadable-load", message: str = "It cannot be read.", **more: Any) -> Flag:
    """Return a flag at a cell, `Programme!B3`."""
    sheet, _, place = cell.rpartition("!")
    letters = place.rstrip("0123456789")
    column = sum((ord(letter) - 64) * 26**power for power, letter in enumerate(reversed(letters)))
    hint = more.pop("hint", "Write 60 kg.")
    return flag(Remark(slug, message, hint), CellRef(sheet, int(place[len(letters) :]), column), **more)


def rich_workbook() -> bytes:
    """Return a workbook with one of everything that a coach may have put in."""
    out = io.BytesIO()
    book = xlsxwriter.Workbook(out, {"in_memory": True})
    bold = book.add_format({"bold": True, "bg_color": "#99CCFF", "num_format": "0.0%"})
    programme, clients, hidden = (book.add_worksheet(name) for name in ("Programme", "Clients", "Maud's lists"))
    chart_sheet = book.add_chartsheet("Progress chart")
    programme.write_row("A1", ["Exercise", "Load", "Who"], bold)
    programme.write_rich_string("A2", "Front ", bold, "squat", " slow")
    programme.write_number("B2", 0.75, bold)
    programme.write_formula("B3", "=B2*2", bold, 1.5)
    programme.write_string("B4", "=1+1")
    programme.merge_range("A5:A7", "Row", bold)
    programme.write_comment("A1", "Maud: heaviest first", {"author": "Maud Ferrier"})
    programme.write_comment("B2", "Maud: ask Ana <first> & last", {"author": "Maud Ferrier"})
    programme.data_validation("C2:C9", {"validate": "list", "source": ["Ana", "Bo"]})
    programme.conditional_format("B2:B9", {"type": "cell", "criteria": ">", "value": 1, "format": bold})
    programme.conditional_format("D2:D9", {"type": "data_bar", "data_bar_2010": True})
    programme.add_sparkline("E2", {"range": "Programme!B2:B4"})
    programme.insert_image("G2", "dot.png", {"image_data": io.BytesIO(_dot())})
    programme.set_column("B:B", 40)
    programme.print_area("A1:C9")
    programme.repeat_rows(0)
    clients.write_column("A1", ["Client", "Ana", "Bo", "Cy"])
    clients.print_area("A1:A4")
    clients.add_table("C1:D3")
    clients.activate()
    hidden.write_row("A1", [1, 2, 3])
    hidden.hide()
    for chart in (book.add_chart({"type": "column"}), book.add_chart({"type": "line"})):
        chart.add_series({"values": "=Programme!$B$2:$B$3"})
        if chart_sheet.chart is None:
            chart_sheet.set_chart(chart)
        else:
            clients.insert_chart("F2", chart)
    book.define_name("Sites_list", "='Maud''s lists'!$A$1:$C$1")
    book.define_name("Clients!own", "=Clients!$A$1")
    book.set_custom_property("Block workbook version", "1")
    book.close()
    return patched(out.getvalue(), {"xl/worksheets/sheet1.xml": (b"</extLst>", DROP_DOWN.encode() + b"</extLst>")})


def _dot() -> bytes:
    """Return a picture of one black point."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    head = chunk(b"IHDR", struct.pack(">IIBBBBB", 1, 1, 8, 0, 0, 0, 0))
    return b"\x89PNG\r\n\x1a\n" + head + chunk(b"IDAT", zlib.compress(b"\0\0")) + chunk(b"IEND", b"")


def with_thread(workbook: bytes) -> bytes:
    """Return the rich workbook with a threaded conversation on Programme!B2, as programs of today store it."""
    words = "[Threaded comment]&#10;&#10;Your version allows you to read this threaded comment.&#10;Comment: 75 or 80?"
    thread = (
        f'<ThreadedComments xmlns="{THREAD}"><threadedComment ref="B2" dT="2026-11-25T10:00:00.00"'
        ' personId="{11111111-1111-1111-1111-111111111111}" id="{22222222-2222-2222-2222-222222222222}">'
        "<text>75 or 80?</text></threadedComment></ThreadedComments>"
    )
    relation = (
        b'<Relationship Id="rId77" Type="http://schemas.microsoft.com/office/2017/10/relationships/threadedComment"'
        b' Target="../threadedComments/threadedComment1.xml"/></Relationships>'
    )
    changed = patched(
        workbook,
        {
            "xl/comments1.xml": (b"Maud: ask Ana &lt;first&gt; &amp; last", words.encode()),
            "xl/worksheets/_rels/sheet1.xml.rels": (b"</Relationships>", relation),
        },
    )
    return repacked({**parts_of(changed), "xl/threadedComments/threadedComment1.xml": thread.encode()})


def parts_of(workbook: bytes) -> dict[str, bytes]:
    """Return the parts of a workbook, in order."""
    with zipfile.ZipFile(io.BytesIO(workbook)) as archive:
        assert archive.testzip() is None
        names = archive.namelist()
        assert len(names) == len({name.casefold() for name in names})
        return {name: archive.read(name) for name in names}


def repacked(parts: Mapping[str, bytes]) -> bytes:
    """Return parts as a workbook."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in parts.items():
            archive.writestr(name, data)
    return out.getvalue()


def patched(workbook: bytes, changes: Mapping[str, tuple[bytes, bytes]]) -> bytes:
    """Return a workbook in whose parts one text each was replaced by another."""
    parts = parts_of(workbook)
    for name, (old, new) in changes.items():
        assert old in parts[name]
        parts[name] = parts[name].replace(old, new)
    return repacked(parts)


def sheet_data(part: bytes) -> bytes:
    """Return the stored cells of a sheet's part, as bytes."""
    found = re.search(rb"<(?:\w+:)?sheetData\b.*</(?:\w+:)?sheetData>", part, re.DOTALL)
    return found.group() if found else b""


def notes(sheet: Any) -> dict[str, str]:
    """Return the comments of a sheet, by cell."""
    return {cell.coordinate: cell.comment.text for cell in _stored(sheet) if cell.comment}


def links(sheet: Any) -> dict[str, str]:
    """Return where the linked cells of a sheet jump to."""
    return {cell.coordinate: cell.hyperlink.location for cell in _stored(sheet) if cell.hyperlink}


def _stored(sheet: Any) -> list[Any]:
    """Return the cells that openpyxl keeps: to walk over all rows would take hours where the last one has a comment."""
    return [cell for _, cell in sorted(sheet._cells.items())]
