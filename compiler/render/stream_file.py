"""Deflated streams that wait to become part of a PDF, in a file from which qpdf reads them as it writes them.

qpdf holds every stream that it is given in memory until it writes; those of a file that it has opened it leaves there.
So the streams are put into a file which is itself a PDF without pages (ISO 32000-1, 7.5: objects, where each begins,
trailer), and what they become part of is made of that.
"""

from __future__ import annotations

from array import array
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from io import SEEK_SET, RawIOBase
from typing import IO, Any

import pikepdf

_HEADER = b"%PDF-1.3\n"
_CATALOG, _PAGES = b"<</Type/Catalog/Pages 2 0 R>>", b"<</Type/Pages/Kids[]/Count 0>>"


class StreamFile:
    """Streams, each known by its number; `opened` gives the PDF that holds them, when all are there.

    `file` is empty, is written to and read from, and stays open as long as that PDF is used.
    """

    def __init__(self, file: IO[bytes]) -> None:
        self._file = file
        self._source = _Source(file)
        self._starts = array("Q")
        self._end = file.write(_HEADER)
        self._add(_CATALOG)
        self._add(_PAGES)

    def add(self, deflated: bytes) -> int:
        """Take a stream; return its number. Raises OSError where there is no room."""
        return self._add(b"<</Filter/FlateDecode/Length %d>>\nstream\n%b\nendstream" % (len(deflated), deflated))

    @contextmanager
    def opened(self) -> Iterator[pikepdf.Pdf]:
        """Give the PDF of all streams, to which pages can be added. Raises OSError where the file cannot be read."""
        count = len(self._starts) + 1
        self._file.write(b"xref\n0 %d\n0000000000 65535 f \n" % count)
        for start in self._starts:
            self._file.write(b"%010d 00000 n \n" % start)
        self._file.write(b"trailer <</Size %d/Root 1 0 R>>\nstartxref\n%d\n%%%%EOF\n" % (count, self._end))
        self._file.flush()  # or the first search for a place would, and may fail
        try:
            with pikepdf.open(
                self._source,  # type: ignore[arg-type]  # its stubs ask for a file that was opened; it only reads
                access_mode=pikepdf.AccessMode.stream,  # not mapped: what is read of a mapped file counts as held
            ) as made:
                yield made
        finally:
            if self._source.wrong is not None:
                raise self._source.wrong

    def _add(self, content: bytes) -> int:
        self._starts.append(self._end)
        number = len(self._starts)
        self._end += self._file.write(b"%d 0 obj\n%b\nendobj\n" % (number, content))
        return number


class _Source(RawIOBase):
    """Gives qpdf what it reads and puts off what goes wrong: of that qpdf would make a damaged stream, and go on."""

    def __init__(self, file: IO[bytes]) -> None:
        self._file = file
        self.wrong: BaseException | None = None

    def readable(self) -> bool:
        """Tell that it can be read."""
        return True

    def seekable(self) -> bool:
        """Tell that it can be read anywhere."""
        return True

    def tell(self) -> int:
        """Return where it stands."""
        return self._patiently(self._file.tell)

    def seek(self, offset: int, whence: int = SEEK_SET) -> int:
        """Go somewhere."""
        return self._patiently(lambda: self._file.seek(offset, whence))

    def readinto(self, into: Any) -> int:
        """Read some bytes, and tell how many."""

        def read() -> int:
            found = self._file.read(len(into))
            into[: len(found)] = found
            return len(found)

        return self._patiently(read)

    def _patiently(self, ask: Callable[[], int]) -> int:
        """Return what the file answers; nothing any more once that has failed."""
        try:
            return ask() if self.wrong is None else 0
        except BaseException as wrong:  # noqa: BLE001 - raised by `opened`
            self.wrong = wrong
            return 0
