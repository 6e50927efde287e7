"""What is no workbook is refused with one flag, before anything is read from it."""

from __future__ import annotations

import io
import random
import zipfile
from collections.abc import Callable

import pytest

from compiler.source.container import MOST_PARTS, open_package
from compiler.source.unreadable import UnreadableWorkbook
from compiler.source.xlsx import read_workbook_bytes

OLE = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
ENTITY = '<?xml version="1.0"?><!DOCTYPE x [<!ENTITY a "aaaa">]><x>&a;</x>'


def refused(data: bytes) -> UnreadableWorkbook:
    with pytest.raises(UnreadableWorkbook) as caught:
        read_workbook_bytes(data, "block.xlsx")
    return caught.value


@pytest.mark.parametrize(
    ("data", "slug", "word"),
    [
        (b"", "damaged-workbook", "empty"),
        (bytes(512), "damaged-workbook", "zeros"),
        (b"Client,Load\r\n", "not-a-workbook", "a text file"),
        ("Client\tLoad".encode("utf-16"), "not-a-workbook", "a text file"),
        (b"\xef\xbb\xbf<html><table>", "not-a-workbook", "a web page"),
        (b"%PDF-1.7", "not-a-workbook", "PDF"),
        (b"\x89PNG\r\n\x00\x00", "not-a-workbook", "another kind"),
        (OLE + "EncryptedPackage".encode("utf-16-le"), "protected-workbook", "password"),
        (OLE + "Workbook".encode("utf-16-le"), "not-a-workbook", ".xls"),
        (OLE + "WordDocument".encode("utf-16-le"), "not-a-workbook", "word-processor"),
        (OLE, "not-a-workbook", "another kind"),
        (b"PK\x05\x06" + bytes(18), "damaged-workbook", "no parts"),
        (b"PK\x03\x04rubbish", "damaged-workbook", "end of it"),
    ],
)
def test_first_bytes_decide(data: bytes, slug: str, word: str) -> None:
    flag = refused(data).flag
    assert slug == flag.slug
    assert word in flag.message
    assert flag.hint


@pytest.mark.parametrize(
    ("part", "word"),
    [
        ("word/document.xml", "word-processor"),
        ("ppt/presentation.xml", "slides"),
        ("xl/workbook.bin", ".xlsb"),
    ],
)
def test_other_documents_are_named(raw: Callable[..., bytes], part: str, word: str) -> None:
    flag = refused(raw("", {part: "<x/>"})).flag
    assert (flag.slug, word in flag.message) == ("not-a-workbook", True)


def test_an_open_document_is_refused_with_the_way_out(raw: Callable[..., bytes]) -> None:
    flag = refused(raw("", {"mimetype": "application/vnd.oasis.opendocument.spreadsheet"})).flag
    assert flag.slug == "not-a-workbook"
    assert flag.hint == "Open it in a spreadsheet program and save it as .xlsx."


@pytest.mark.parametrize("part", ["xl/worksheets/sheet1.xml", "docProps/app.xml", "xl/drawings/drawing1.vml"])
def test_a_document_type_is_refused_in_any_part(raw: Callable[..., bytes], part: str) -> None:
    """A declared entity can be made to grow without end; no spreadsheet program declares one."""
    flag = refused(raw("", {part: ENTITY})).flag
    assert (flag.slug, "document type" in flag.message) == ("damaged-workbook", True)


def test_a_document_type_behind_a_long_comment_is_found(raw: Callable[..., bytes]) -> None:
    text = ENTITY.replace("?>", f"?><!--{'x' * 200_000}-->", 1)
    assert refused(raw("", {"docProps/app.xml": text})).flag.slug == "damaged-workbook"


def test_a_part_that_unpacks_to_far_more_is_refused_from_the_directory(raw: Callable[..., bytes]) -> None:
    found = refused(raw("", {"xl/media/a.bin": bytes(5_000_000)})).flag
    assert found.slug == "workbook-too-large"
    assert 'a part "xl/media/a.bin" that unpacks to more than 200 times its size' in found.message


def test_many_middling_parts_are_refused_with_the_limit(raw: Callable[..., bytes]) -> None:
    """No part is suspicious; all together are more than is read."""
    chunk = random.Random(1).randbytes(6_000) * 167  # noqa: S311 - no secret; unpacks to a hundredfold
    found = refused(raw("", {f"xl/media/{number}": chunk for number in range(201)})).flag
    assert found.slug == "workbook-too-large"
    assert "unpacks to 201 MB; at most 200 MB are read" in found.message


@pytest.mark.parametrize("method", [zipfile.ZIP_BZIP2, zipfile.ZIP_LZMA])
def test_other_ways_of_packing_are_refused_before_they_unpack(raw: Callable[..., bytes], method: int) -> None:
    """Python unpacks these without a bound, whatever size the directory states."""
    data = io.BytesIO(raw(""))
    with zipfile.ZipFile(data, "a", method) as archive:
        archive.writestr("xl/media/a.bin", bytes(900_000))
    assert "packed in a way" in refused(data.getvalue()).flag.message


def test_a_directory_that_understates_a_part_is_damage(raw: Callable[..., bytes]) -> None:
    """The part is read as far as its stated size, and its checksum is not that of its beginning."""
    data = bytearray(raw("", {"xl/media/a.bin": bytes(999_999)}))
    size = (999_999).to_bytes(4, "little")
    assert data.count(size) == 2  # before the part, and in the directory
    assert refused(bytes(data.replace(size, (1_000).to_bytes(4, "little")))).flag.slug == "damaged-workbook"


def test_too_many_parts_are_refused(raw: Callable[..., bytes]) -> None:
    extra = {f"xl/media/{number}": "x" for number in range(MOST_PARTS)}
    found = refused(raw("", extra)).flag
    assert found.slug == "workbook-too-large"
    assert "parts; at most 1,000 are read" in found.message


def test_a_broken_checksum_is_damage(raw: Callable[..., bytes]) -> None:
    data = bytearray(raw('<row r="1"><c r="A1"><v>1</v></c></row>'))
    with zipfile.ZipFile(io.BytesIO(bytes(data))) as archive:
        info = archive.getinfo("xl/worksheets/sheet1.xml")
    data[info.header_offset + 14 : info.header_offset + 18] = b"\x00\x01\x02\x03"
    directory = data.index(b"PK\x01\x02", info.header_offset)
    while data[directory + 46 : directory + 46 + len(info.filename)] != info.filename.encode():
        directory = data.index(b"PK\x01\x02", directory + 4)
    data[directory + 16 : directory + 20] = b"\x00\x01\x02\x03"
    assert refused(bytes(data)).flag.slug == "damaged-workbook"


def test_a_damaged_stream_is_damage(raw: Callable[..., bytes]) -> None:
    data = bytearray(raw('<row r="1"><c r="A1"><v>1</v></c></row>'))
    start = data.index(b"sheet1.xml") + 12
    data[start : start + 20] = bytes(20)
    assert refused(bytes(data)).flag.slug == "damaged-workbook"


@pytest.mark.parametrize(
    "part", ["xl/worksheets/sheet1.xml", "xl/styles.xml", "xl/workbook.xml", "xl/_rels/workbook.xml.rels"]
)
def test_a_missing_part_is_damage_and_never_an_empty_workbook(raw: Callable[..., bytes], part: str) -> None:
    assert refused(raw("", {part: None})).flag.slug == "damaged-workbook"


@pytest.mark.parametrize("part", ["xl/worksheets/sheet1.xml", "xl/styles.xml", "xl/workbook.xml"])
def test_a_part_that_is_no_xml_is_damage(raw: Callable[..., bytes], part: str) -> None:
    assert refused(raw("", {part: "<worksheet><unclosed"})).flag.slug == "damaged-workbook"


def test_a_password_on_the_zip_is_said() -> None:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as archive:
        archive.writestr("xl/workbook.xml", "x")
    data = bytearray(out.getvalue())
    data[data.index(b"PK\x01\x02") + 8] |= 1
    assert refused(bytes(data)).flag.slug == "protected-workbook"


def test_parts_are_found_whatever_their_case(raw: Callable[..., bytes]) -> None:
    package = open_package(raw("", {"XL/Media/Note.TXT": "hello"}), "block.xlsx")
    assert package.read("/xl/media/note.txt") == b"hello"
