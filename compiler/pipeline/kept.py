"""What the last run left in the folder, by the keys of what it was made from: what is unchanged is not made again.

A key stands for everything that decides the bytes of a file: the booklet's value, or what that was made from, or the
workbook; and the program with its fonts and libraries. The keys lie in a file of our own beside the manifest, with the
hash of what each led to, so that a key is believed only where that very file stands. It holds hashes, counts and
the numbers of weeks and sessions, nothing of anybody.
"""

from __future__ import annotations

import hashlib
import platform
import zlib
from collections.abc import Iterable, Mapping
from contextlib import suppress
from dataclasses import dataclass, field
from functools import cache, lru_cache
from importlib.metadata import PackageNotFoundError, version
from importlib.resources import files
from importlib.resources.abc import Traversable
from pathlib import Path

from compiler.fallback import in_use
from compiler.files import CannotWrite, read_manifest
from compiler.files_disk import OWN_PREFIX, digest, digest_of, move, read_json, remove, to_json, write_durably
from compiler.frozen import frozen

KEYS = f"{OWN_PREFIX}keys.json"
_UNFINISHED = f"{OWN_PREFIX}keys.new"
_FORM = 3
_LIBRARIES = ("fonttools", "lark", "pandas", "pikepdf", "rapidfuzz", "reportlab", "xlsxwriter")

Long = tuple[tuple[str, int], ...]
"""Sessions of a booklet that take more pages than meant: their key in the booklet, and how many pages."""


@frozen
class Drawn:
    """A booklet as a file, and what was seen while its pages were laid out."""

    content: bytes
    long: Long


@frozen
class Stretches:
    """What a file of many stretches was made from: the key of each, with how many pages it has, in their order.

    `shared` is the key of what they have in common, `digest` the hash of the file: where that is another one, it is not
    the file that was made.
    """

    shared: str = ""
    parts: tuple[tuple[str, int], ...] = ()
    digest: str = ""


@dataclass(slots=True)
class Kept:
    """The keys of the last run and of this one.

    By the key of a booklet's value the hash of its file; by that of what the value was made from the key of the value;
    by name the stretches of files that have some; by the key of a run the hash of its manifest.
    """

    folder: Path
    last: dict[str, tuple[str, Long]] = field(default_factory=dict)
    values: dict[str, str] = field(default_factory=dict)
    files: dict[str, Stretches] = field(default_factory=dict)
    whole: dict[str, str] = field(default_factory=dict)
    now: dict[str, tuple[str, Long]] = field(default_factory=dict)
    values_now: dict[str, str] = field(default_factory=dict)
    files_now: dict[str, Stretches] = field(default_factory=dict)

    def booklet(self, key: str, name: str) -> Drawn | None:
        """Return a booklet of the last run, if it was made from the same and stands as it was written."""
        found = self.last.get(key)
        path = self.folder / name
        if found is None or not path.is_file():
            return None
        content = path.read_bytes()
        return Drawn(content, found[1]) if digest(content) == found[0] else None

    def note(self, made_from: str, key: str, drawn: Drawn) -> None:
        """Take note of what this run has made, or kept, by the key of its value, and by what that was made from."""
        self.values_now[made_from] = key
        self.now[key] = digest(drawn.content), drawn.long

    def as_left(self, run: str) -> bool:
        """Tell whether the folder stands, file by file, as a run of this key left it."""
        listed = read_manifest(self.folder)
        if not listed or self.whole.get(run) != _digest_of(listed):
            return False
        return all(digest_of(self.folder / name) == found for name, found in listed.items())

    def save(self, run: str, places: Mapping[str, str]) -> None:
        """Keep the keys of this run for the next. They only save time: if they cannot be written, nothing is lost.

        `places` says where each file stands: of one that stands beside a file of the coach's nothing is kept.
        """
        listed = read_manifest(self.folder)
        files = {name: made for name, made in self.files_now.items() if places.get(name) == name}
        kept = {
            "form": _FORM,
            "booklets": self.now,
            "values": self.values_now,
            "files": {name: [made.shared, made.parts, listed[name]] for name, made in files.items()},
            "whole": {run: _digest_of(listed)},
        }
        with suppress(CannotWrite):
            # under one name always: what a run that was killed here leaves, the next one puts in its place
            try:
                write_durably(self.folder / _UNFINISHED, to_json(kept))
                move(self.folder / _UNFINISHED, self.folder / KEYS)
            finally:
                remove(self.folder / _UNFINISHED)


def read_kept(folder: Path) -> Kept:
    """Return the keys that lie in a folder; none where the file is missing or not as this release writes it."""
    found = read_json(folder / KEYS)
    if not isinstance(found, dict) or found.get("form") != _FORM:
        return Kept(folder)
    try:
        last = {str(key): (str(content), _counted(long)) for key, (content, long) in found["booklets"].items()}
        values = {str(key): str(value) for key, value in found["values"].items()}
        parts = {
            str(name): Stretches(str(shared), _counted(made_from), str(content))
            for name, (shared, made_from, content) in found["files"].items()
        }
        whole = {str(key): str(listed) for key, listed in found["whole"].items()}
    except (KeyError, TypeError, ValueError, AttributeError):
        return Kept(folder)
    return Kept(folder, last, values, parts, whole)


def _counted(found: Iterable[Iterable[object]]) -> tuple[tuple[str, int], ...]:
    return tuple((str(key), int(str(pages))) for key, pages in found)


def key_of(value: object, lock: str = "") -> str:
    """Return the key of a value that is drawn, or of what it is made from: by which program and fonts, and its lock."""
    return _hash([_program(), _further_fonts(), repr(value).encode(), lock.encode()])


@lru_cache(maxsize=1)
def password_key(password: str) -> str:
    """Return what stands for a password in keys, dear to guess from.

    scrypt (RFC 7914), with the costs that its author gives for logins: a twentieth of a second.
    """
    return hashlib.scrypt(password.encode(), salt=b"programme", n=2**14, r=8, p=1).hex() if password else ""


def run_key(workbook: bytes, name: str, *settings: object) -> str:
    """Return the key of a whole run: the workbook, what messages call it, and whatever else was asked for."""
    return _hash([_program(), _further_fonts(), name.encode(), repr(settings).encode(), workbook])


def _further_fonts() -> bytes:
    return " ".join(font.digest for font in in_use()).encode()


def _digest_of(listed: dict[str, str]) -> str:
    return digest(to_json(listed))


def _hash(parts: Iterable[bytes]) -> str:
    whole = hashlib.sha256()
    for part in parts:
        whole.update(f"{len(part)}\n".encode())
        whole.update(part)
    return whole.hexdigest()


@cache
def _program() -> bytes:
    """Return what stands for the whole program and its libraries."""
    return _hash([*_libraries(), *_sources(files("compiler"))]).encode()


def _libraries() -> list[bytes]:
    found = [platform.python_version(), zlib.ZLIB_RUNTIME_VERSION]
    for name in _LIBRARIES:
        with suppress(PackageNotFoundError):
            found.append(f"{name} {version(name)}")
    return [line.encode() for line in found]


def _sources(folder: Traversable) -> list[bytes]:
    """Return the names and contents of all files under a folder of the package, in a fixed order."""
    found: list[bytes] = []
    for entry in sorted(folder.iterdir(), key=lambda entry: entry.name):
        if entry.is_dir() and entry.name != "__pycache__":
            found += _sources(entry)
        elif entry.is_file():
            found += [entry.name.encode(), entry.read_bytes()]
    return found
