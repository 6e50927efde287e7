"""Files that are made and not yet written: names and contents that do not fill the memory, however many they are."""

from __future__ import annotations

import tempfile
from collections.abc import Iterator, MutableMapping
from contextlib import contextmanager
from pathlib import Path
from types import TracebackType
from typing import IO, Self

from compiler.files_disk import told

IN_MEMORY = 8 * 2**20
"""From so many bytes on they lie on the disk, in a file without a name: it is gone with the run, however that ends."""

PIECE = 2**20
"""So many bytes of a file are read at once."""

_ON_DISK = Path("the folder for temporary files")
"""What a message calls it: where that is, is not even known where no folder can be written."""


class WaitingFiles(MutableMapping[str, bytes]):
    """Names and contents, in the order in which they came. To be closed, as a `with` statement does.

    Taking and giving contents raises `CannotWrite` where there is no room for temporary files.
    """

    def __init__(self) -> None:
        self._file = tempfile.SpooledTemporaryFile(max_size=IN_MEMORY)  # noqa: SIM115 - closed by __exit__
        self._places: dict[str, tuple[int, int]] = {}

    def __enter__(self) -> Self:
        """Begin the block."""
        return self

    def __exit__(
        self, kind: type[BaseException] | None, raised: BaseException | None, traceback: TracebackType | None
    ) -> None:
        """Let go of all contents."""
        self._file.close()

    def __setitem__(self, name: str, content: bytes) -> None:
        """Take a file; one of this name that came before is forgotten."""
        with told(_ON_DISK):
            start = self._file.seek(0, 2)
            self._file.write(content)
        self._places[name] = start, len(content)

    @contextmanager
    def writing(self, name: str) -> Iterator[IO[bytes]]:
        """Take a file bit by bit, as it is written to what is given; nothing else is taken or given meanwhile."""
        with told(_ON_DISK):
            start = self._file.seek(0, 2)
            yield self._file
            self._places[name] = start, self._file.tell() - start

    @contextmanager
    def aside(self) -> Iterator[IO[bytes]]:
        """Give room for what is needed to make a file, an empty one without a name, until the block ends."""
        with told(_ON_DISK), tempfile.SpooledTemporaryFile(max_size=IN_MEMORY) as room:
            yield room

    def __getitem__(self, name: str) -> bytes:
        """Return what a file holds."""
        return b"".join(self.pieces(name))

    def pieces(self, name: str) -> Iterator[bytes]:
        """Yield what a file holds, piece by piece."""
        start, length = self._places[name]
        for at in range(start, start + length, PIECE):
            with told(_ON_DISK):
                self._file.seek(at)
                piece = self._file.read(min(PIECE, start + length - at))
            yield piece

    def __delitem__(self, name: str) -> None:
        """Forget a file."""
        del self._places[name]

    def __iter__(self) -> Iterator[str]:
        """Yield the names."""
        return iter(self._places)

    def __len__(self) -> int:
        """Return how many files there are."""
        return len(self._places)
