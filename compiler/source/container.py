"""What is checked before anything is read: that the file is a workbook, whole, unlocked and of a reasonable size.

Bytes in, a `Package` of parts out, or `UnreadableWorkbook`. The first bytes decide, never the ending of the name.
Every part has been unpacked once against its checksum when this stage is done, and no XML part of it declares a
document type, so that nobody downstream can be made to expand entities.
"""

from __future__ import annotations

import lzma
import struct
import zipfile
import zlib
from io import BytesIO
from xml.parsers import expat

from compiler.frozen import frozen
from compiler.source.unreadable import UnreadableWorkbook, damaged, unreadable

LARGEST_UNPACKED = 200_000_000  # bytes, all parts together
LARGEST_RATIO = 200  # unpacked to packed, of parts over a megabyte; real sheets stay under 30
MEGABYTE = 1_000_000
MOST_PARTS = 1_000
PACKED_AS = (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED)
"""Others unpack without a bound, whatever the directory says of their size."""

_CHUNK = 1 << 16
_ZIP = b"PK\x03\x04"
_OLE = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
_SAVE_AS = "Open it in a spreadsheet program and save it as .xlsx."
_OPEN_DOCUMENT = b"application/vnd.oasis.opendocument."
BROKEN_ZIP = (
    zipfile.BadZipFile, zlib.error, lzma.LZMAError, struct.error, KeyError, OSError, ValueError,
    IndexError, TypeError, EOFError, NotImplementedError, RuntimeError, UnicodeDecodeError,
)  # fmt: skip
"""What Python's zip module was seen to raise at damaged files."""


@frozen
class Package:
    """The parts of a workbook, by their names in lower case without a leading slash."""

    name: str
    _archive: zipfile.ZipFile
    _members: dict[str, zipfile.ZipInfo]

    def __contains__(self, part: str) -> bool:
        return _key(part) in self._members

    def read(self, part: str) -> bytes:
        """Return a part unpacked; where it is missing the workbook is damaged."""
        info = self._members.get(_key(part))
        if info is None:
            raise damaged(self.name, f'its part "{part}" is missing')
        return self._archive.read(info)

    def parts(self) -> tuple[str, ...]:
        """Return the names of all parts."""
        return tuple(self._members)


def _key(part: str) -> str:
    return part.lstrip("/").casefold()


def open_package(data: bytes, name: str) -> Package:
    """Return the package in these bytes; raises `UnreadableWorkbook` for anything else."""
    if not data.startswith(_ZIP):
        raise _no_zip(data, name)
    try:
        archive = zipfile.ZipFile(BytesIO(data))
        members = archive.infolist()
    except BROKEN_ZIP as broken:
        raise damaged(name, "the end of it is missing or unreadable") from broken
    _check_directory(members, name)
    for info in members:
        _check_member(archive, info, name)
    package = Package(name, archive, {_key(info.filename): info for info in members})
    _check_other_document(package)
    return package


def _check_directory(members: list[zipfile.ZipInfo], name: str) -> None:
    """Judge by the directory alone, before anything is unpacked."""
    if any(info.flag_bits & 1 for info in members):
        raise _protected(name)
    strange = next((info.filename for info in members if info.compress_type not in PACKED_AS), None)
    if strange is not None:
        raise damaged(name, f'its part "{strange}" is packed in a way that no spreadsheet program uses')
    too_much = _too_much(members)
    if too_much:
        raise unreadable(
            "workbook-too-large",
            f'"{name}" {too_much}.',
            "Copy the sheets into a new workbook, values only, and save that.",
        )
    keys = [_key(info.filename) for info in members]
    if len(set(keys)) != len(keys):
        raise damaged(name, "it has the same part twice")


def _too_much(members: list[zipfile.ZipInfo]) -> str:
    """Return which limit is passed and by what, as the end of a sentence; empty where none is."""
    if len(members) > MOST_PARTS:
        return f"has {len(members):,} parts; at most {MOST_PARTS:,} are read"
    unpacked = sum(info.file_size for info in members)
    if unpacked > LARGEST_UNPACKED:
        return f"unpacks to {unpacked // MEGABYTE:,} MB; at most {LARGEST_UNPACKED // MEGABYTE} MB are read"
    for info in members:
        if info.file_size > MEGABYTE and info.file_size > LARGEST_RATIO * max(1, info.compress_size):
            times = f"{LARGEST_RATIO} times its size, as no sheet does"
            return f'has a part "{info.filename}" that unpacks to more than {times}'
    return ""


def _check_member(archive: zipfile.ZipFile, info: zipfile.ZipInfo, name: str) -> None:
    """Unpack a part once: its checksum is compared at its end, and an XML part may declare no document type."""
    prolog = _Prolog() if info.filename.casefold().endswith((".xml", ".rels", ".vml")) else None
    try:
        with archive.open(info) as part:
            while chunk := part.read(_CHUNK):
                if prolog:
                    prolog.feed(chunk)
    except BROKEN_ZIP as broken:
        raise damaged(name, f'its part "{info.filename}" cannot be unpacked') from broken
    if prolog and prolog.document_type:
        raise unreadable(
            "damaged-workbook",
            f'"{name}" has a document type declaration in "{info.filename}", which no spreadsheet program writes.',
            "Do not trust the file. Ask for it again from whoever sent it, or copy the cells into a new workbook.",
        )


class _Prolog:
    """Watches the start of an XML part, up to its first element, for a document type declaration."""

    __slots__ = ("_parser", "document_type")

    def __init__(self) -> None:
        self.document_type = False
        parser = expat.ParserCreate()
        parser.StartDoctypeDeclHandler = self._doctype
        parser.StartElementHandler = self._element
        self._parser: expat.XMLParserType | None = parser

    def feed(self, chunk: bytes) -> None:
        """Take the next bytes; nothing happens after the first element, or after bytes that are not XML."""
        if self._parser is None:
            return
        parser, self._parser = self._parser, None
        try:
            parser.Parse(chunk)
        except (expat.ExpatError, _Seen, ValueError, LookupError):
            return
        self._parser = parser

    def _doctype(self, *_: object) -> None:
        self.document_type = True
        raise _Seen

    def _element(self, *_: object) -> None:
        raise _Seen


class _Seen(Exception):  # noqa: N818 - it only ends the parsing
    """The prolog is over."""


def _protected(name: str) -> UnreadableWorkbook:
    return unreadable(
        "protected-workbook",
        f'"{name}" is protected by a password.',
        "Open it in a spreadsheet program, remove the password, and save it.",
    )


def _no_zip(data: bytes, name: str) -> UnreadableWorkbook:
    """Return why bytes that are not a zip are not a workbook."""
    if not data.strip(b"\x00"):
        what = "is empty" if not data else "holds nothing but zeros; perhaps it was not downloaded to the end"
        return unreadable("damaged-workbook", f'"{name}" {what}.', "Download or save it again.")
    if data.startswith(_OLE):
        return _ole(data, name)
    if data.startswith(b"PK"):
        return damaged(name, "it has no parts")
    what = _first_bytes(data)
    return unreadable("not-a-workbook", f'"{name}" is {what}, not a workbook.', _SAVE_AS)


def _first_bytes(data: bytes) -> str:
    head = data[:4096].removeprefix(b"\xef\xbb\xbf").lstrip()
    if head.startswith(b"%PDF"):
        return "a PDF document"
    if head.startswith(b"<"):
        return "a web page or other marked-up text"
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        return "a text file"
    return "a file of another kind" if b"\x00" in head else "a text file"


def _ole(data: bytes, name: str) -> UnreadableWorkbook:
    """Tell an encrypted workbook from an old one; the names of streams are in UTF-16."""
    if "EncryptedPackage".encode("utf-16-le") in data:
        return _protected(name)
    if "Workbook".encode("utf-16-le") in data or "Book".encode("utf-16-le") in data:
        return unreadable("not-a-workbook", f'"{name}" is a workbook of the old .xls kind.', _SAVE_AS)
    what = "a word-processor document" if "WordDocument".encode("utf-16-le") in data else "a file of another kind"
    return unreadable("not-a-workbook", f'"{name}" is {what}, not a workbook.', _SAVE_AS)


def _check_other_document(package: Package) -> None:
    """Refuse zips that are documents of another kind, and say which kind."""
    name = package.name
    if "mimetype" in package and package.read("mimetype").startswith(_OPEN_DOCUMENT):
        sheet = b"spreadsheet" in package.read("mimetype")
        what = "an OpenDocument spreadsheet (.ods)" if sheet else "an OpenDocument file, not a workbook"
        raise unreadable("not-a-workbook", f'"{name}" is {what}.', _SAVE_AS)
    for folder, what in (("word/", "a word-processor document"), ("ppt/", "a set of slides")):
        if any(part.startswith(folder) for part in package.parts()):
            raise unreadable("not-a-workbook", f'"{name}" is {what}, not a workbook.', _SAVE_AS)
    if "xl/workbook.bin" in package:
        raise unreadable("not-a-workbook", f'"{name}" is a workbook of the binary .xlsb kind.', _SAVE_AS)
