"""A set of files, a folder and its manifest -> what goes where. Reads the disk and changes nothing.

Ours is only what the manifest lists and what still has its hash. Everything else belongs to the coach: it is
neither replaced nor removed, and the new file goes beside it.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator, Mapping
from itertools import count
from pathlib import Path, PurePosixPath

from compiler.files_disk import CannotWrite, digest_of, is_safe, read_json
from compiler.frozen import frozen

MANIFEST = "manifest.json"
PRINTED = "printed.json"
_HASH = re.compile("[0-9a-f]{64}")


@frozen
class Beside:
    """A file of the coach's that was kept, and where the new one stands instead."""

    kept: str
    new: str


@frozen
class Decision:
    """What becomes of every file. Names are relative, with `/`.

    `places` gives each file of the set the name that it gets. `to_write` and `unchanged` are names of the
    set. `removals` and `left` are names of the earlier manifest that are no longer made: ours, and the
    coach's by now. `manifest` is what will be listed when all is done.
    """

    places: dict[str, str]
    to_write: tuple[str, ...]
    unchanged: tuple[str, ...]
    beside: tuple[Beside, ...]
    removals: tuple[str, ...]
    left: tuple[str, ...]
    manifest: dict[str, str]


def read_manifest(folder: Path) -> dict[str, str]:
    """Return what the folder's manifest lists: file names and their hashes. Empty where there is none.

    Raises `CannotWrite` where a `manifest.json` stands that this program did not write.
    """
    place = folder / MANIFEST
    found = read_json(place)
    if found is None and digest_of(place) is None:
        return {}
    listed = as_listing(found)
    if listed is None:
        raise CannotWrite(f"{place} is not a list of files that this tool wrote; move it or choose another folder.")
    return listed


def as_listing(value: object) -> dict[str, str] | None:
    """Return a mapping of safe names to hashes, or None where the value is no such thing."""
    if not isinstance(value, dict):
        return None
    for name, found in value.items():
        named = isinstance(name, str) and may_be_written(name)
        if not (named and isinstance(found, str) and _HASH.fullmatch(found)):
            return None
    return dict(value)


def may_be_written(name: str) -> bool:
    """Tell whether a file of a set may have a name: inside the folder, not one of ours beside the set."""
    return is_safe(name) and one_name(name) not in {MANIFEST, PRINTED}


def one_name(name: str) -> str:
    """Return what two names share that some file systems take for one."""
    return unicodedata.normalize("NFC", name.casefold())


def decide(folder: Path, wanted: Mapping[str, str], listed: Mapping[str, str]) -> Decision:
    """Return what becomes of the files: `wanted` are names of the set with the hashes of their content.

    Asked again half-way through, it gives the same answer for what is done and for what is not.
    """
    places: dict[str, str] = {}
    to_write: list[str] = []
    unchanged: list[str] = []
    beside: list[Beside] = []
    for name, content in wanted.items():
        place, write = _place(folder, name, content, wanted, listed)
        places[name] = place
        (to_write if write else unchanged).append(name)
        if place != name:
            beside.append(Beside(name, place))
    made = {one_name(place) for place in places.values()}
    wanted_names = {one_name(name) for name in wanted}
    removals: list[str] = []
    left: list[str] = []
    manifest = {places[name]: content for name, content in wanted.items()}
    for name, content in listed.items():
        found = None if one_name(name) in made else digest_of(folder / name)
        if found is None:
            continue
        if found == content:
            removals.append(name)
            continue
        manifest[name] = content
        if one_name(name) not in wanted_names:
            left.append(name)
    return Decision(
        places=places,
        to_write=tuple(to_write),
        unchanged=tuple(unchanged),
        beside=tuple(beside),
        removals=tuple(removals),
        left=tuple(left),
        manifest=manifest,
    )


def _place(
    folder: Path, name: str, content: str, wanted: Mapping[str, str], listed: Mapping[str, str]
) -> tuple[str, bool]:
    """Return where a file goes, and whether it must be written there.

    The first place that is free, holds the very content, or holds what we wrote and nobody has touched. A
    file of ours that the coach has changed stands for the new one while the new one is what the coach
    started from.
    """
    for place in _candidates(name, wanted):
        found, ours = digest_of(folder / place), listed.get(place)
        if found is None or (found == ours and found != content):
            break
        if content in (found, ours):
            return place, False
    return place, True


def _candidates(name: str, wanted: Mapping[str, str]) -> Iterator[str]:
    """Yield a name and the names beside it: `log-entry (new).xlsx`, `log-entry (new 2).xlsx` and so on."""
    yield name
    path = PurePosixPath(name)
    for number in count(1):
        word = "new" if number == 1 else f"new {number}"
        beside = path.with_name(f"{path.stem} ({word}){path.suffix}").as_posix()
        if beside not in wanted:
            yield beside
