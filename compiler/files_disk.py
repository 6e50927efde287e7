"""Single steps on the disk, and the one exception they end in: a sentence that a coach can act on."""

from __future__ import annotations

import errno
import hashlib
import json
import os
import re
import shutil
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager, suppress
from pathlib import Path, PurePosixPath
from typing import Protocol, runtime_checkable

OWN_PREFIX = ".programme-"
"""What our lock and our staging folder begin with; no file of a set may."""

_FULL = {errno.ENOSPC, errno.EDQUOT}
_REFUSED = {errno.EACCES, errno.EPERM, errno.EBUSY, errno.ETXTBSY}
_IN_THE_WAY = {errno.ENOTDIR, errno.EEXIST, errno.EISDIR}
_TOO_LONG = {errno.ENAMETOOLONG}


class CannotWrite(Exception):  # noqa: N818 - the name says what happened, as a coach would
    """The output cannot be written. `message` is a sentence for a coach."""

    def __init__(self, message: str) -> None:
        super().__init__(message)
        self.message = message


@contextmanager
def told(path: Path) -> Iterator[None]:
    """Turn what the system says about a path into `CannotWrite`."""
    try:
        yield
    except OSError as error:
        raise CannotWrite(_sentence(path, error)) from error


def _sentence(path: Path, error: OSError) -> str:
    if error.errno in _FULL:
        return f"The disk is full: {path} could not be written."
    if error.errno == errno.EROFS:
        return f"{path} is on a disk that can only be read."
    if error.errno in _REFUSED:
        return f"{path} may not be written: it is read-only, or open in another program."
    if error.errno in _IN_THE_WAY:
        return f"{path} could not be written: a file stands where a folder is needed."
    if error.errno in _TOO_LONG:
        return f"{path} could not be written: the name is too long for this disk."
    return f"{path} could not be written: {error.strerror or error}."


def is_safe(name: str) -> bool:
    """Tell whether a name stays inside the folder on every system: relative, no `..`, no drive, not ours."""
    if not name or set(name) & set('\\:*?"<>|') or any(ord(character) < ord(" ") for character in name):
        return False
    path = PurePosixPath(name)
    return (
        not path.is_absolute()
        and path.as_posix() == name
        and ".." not in path.parts
        and name != "."
        and not any(part.startswith(OWN_PREFIX) or part != part.rstrip(". ") for part in path.parts)
    )


@runtime_checkable
class InPieces(Protocol):
    """What gives the contents of files piece by piece, so that a large one is never whole in memory."""

    def pieces(self, name: str) -> Iterator[bytes]:
        """Yield what a file holds."""


def pieces_of(files: Mapping[str, bytes], name: str) -> Iterable[bytes]:
    """Return what a file of some holds, piece by piece where they can give it so."""
    return files.pieces(name) if isinstance(files, InPieces) else (files[name],)


def digest(content: bytes) -> str:
    """Return the SHA-256 of bytes, in hexadecimal."""
    return digest_in_pieces((content,))


def digest_in_pieces(content: Iterable[bytes]) -> str:
    """Return the SHA-256 of bytes that follow each other, in hexadecimal."""
    found = hashlib.sha256()
    for piece in content:
        found.update(piece)
    return found.hexdigest()


def digest_of(path: Path) -> str | None:
    """Return the SHA-256 of a file, None where nothing stands, and a word for what is no file."""
    with told(path):
        if path.is_file():
            with path.open("rb") as file:
                return hashlib.file_digest(file, "sha256").hexdigest()
        return "not a file" if os.path.lexists(path) else None


def write_durably(path: Path, content: bytes) -> None:
    """Write a file and wait until the disk has it."""
    write_pieces_durably(path, (content,))


def write_pieces_durably(path: Path, content: Iterable[bytes]) -> None:
    """Write a file of bytes that follow each other and wait until the disk has it."""
    with told(path), path.open("wb") as file:
        file.writelines(content)
        file.flush()
        os.fsync(file.fileno())


def settle(folder: Path) -> None:
    """Wait until the disk has the names in a folder. Windows has no such call, and keeps them by itself."""
    if os.name == "nt":
        return
    with told(folder):
        descriptor = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(descriptor)
        finally:
            os.close(descriptor)


def make_folder(folder: Path) -> None:
    """Make a folder and those above it, where they are missing."""
    with told(folder):
        folder.mkdir(parents=True, exist_ok=True)


def move(source: Path, target: Path) -> None:
    """Put a file in the place of another, or of none, in one step."""
    with told(target):
        source.replace(target)


def remove(path: Path) -> None:
    """Remove a file if it is there."""
    with told(path):
        path.unlink(missing_ok=True)


def remove_folder(folder: Path) -> None:
    """Remove a folder of our own with everything in it, if it is there."""
    with told(folder):
        if folder.exists():
            shutil.rmtree(folder)


def check_replaceable(path: Path) -> None:
    """Open a file for writing, changing nothing: Windows refuses while another program holds it."""
    with told(path):
        if path.is_file():
            path.open("r+b").close()


def check_writable(folder: Path) -> None:
    """Make sure that files can be written to a folder, or that it can be made. Raises `CannotWrite`.

    Leaves nothing behind. Racy on purpose: it only saves the coach from waiting for work that cannot be kept.
    """
    above = folder
    while not os.path.lexists(above) and above != above.parent:
        above = above.parent
    with told(above):
        if not above.is_dir():
            raise CannotWrite(f"{above} is a file; a folder is needed there.")
        probe = above / f"{OWN_PREFIX}probe"  # one name for all runs: what a killed one leaves, the next one takes away
        try:
            probe.touch()
        finally:
            probe.unlink(missing_ok=True)


def read_json(path: Path) -> object:
    """Return what a JSON file holds, None where there is none or it cannot be read as JSON."""
    with told(path):
        if not path.is_file():
            return None
        content = path.read_bytes()
    try:
        return json.loads(content)
    except ValueError:
        return None


def to_json(value: object) -> bytes:
    """Return a value as JSON that people can read and that is the same every time."""
    return (json.dumps(value, ensure_ascii=False, indent=2, sort_keys=True) + "\n").encode()


def write_file(path: Path, content: bytes) -> None:
    """Write one file whole or not at all: made beside its place and moved there. Raises `CannotWrite`.

    What a run that was killed left beside it is taken away.
    """
    make_folder(path.parent)
    _remove_leftovers(path)
    made = path.with_name(f"{OWN_PREFIX}{os.getpid()}-{path.name}")
    try:
        write_durably(made, content)
        check_replaceable(path)
        move(made, path)
    finally:
        remove(made)


def _remove_leftovers(path: Path) -> None:
    """Remove the unfinished files of this place whose process is gone."""
    unfinished = re.compile(rf"{re.escape(OWN_PREFIX)}(\d+)-{re.escape(path.name)}")
    with suppress(OSError):  # they are in nobody's way
        for beside in path.parent.iterdir():
            found = unfinished.fullmatch(beside.name)
            if found and not _runs(int(found[1])):
                beside.unlink()


def _runs(process: int) -> bool:
    """Tell whether a process runs. Windows is not asked: there nobody can remove a file that a process has open."""
    if os.name == "nt":
        return False
    try:
        os.kill(process, 0)
    except ProcessLookupError:
        return False
    except (OSError, OverflowError):
        return True
    return True
