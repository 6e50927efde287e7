"""A set of files -> the output folder, whole or not at all.

Everything is made in a staging folder inside the target and handed to the disk. Then a journal is committed
by one `os.replace`: from there on the new set counts, and whoever finds the journal finishes it. Files are
put in their places one by one, what is no longer made is removed, the manifest follows, the journal goes
last. A lock keeps two runs apart. What the manifest does not list, or what no longer has its hash there, is
the coach's.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path

from filelock import FileLock, Timeout

from compiler.files_decision import (
    MANIFEST,
    Beside,
    Decision,
    as_listing,
    decide,
    may_be_written,
    one_name,
    read_manifest,
)
from compiler.files_disk import (
    OWN_PREFIX,
    CannotWrite,
    check_replaceable,
    check_writable,
    digest_in_pieces,
    make_folder,
    move,
    pieces_of,
    read_json,
    remove,
    remove_folder,
    settle,
    to_json,
    told,
    write_durably,
    write_pieces_durably,
)
from compiler.frozen import frozen

__all__ = [
    "Beside",
    "CannotWrite",
    "Written",
    "check_writable",
    "finish_interrupted",
    "read_manifest",
    "write_set",
]

PATIENCE_SECONDS = 10.0
"""How long a run waits for another one that is writing to the same folder."""

_LOCK = f"{OWN_PREFIX}lock"
_STAGING = f"{OWN_PREFIX}staging"
_JOURNAL = "journal.json"
_UNFINISHED = "unfinished.json"


@frozen
class Written:
    """What was done with a set of files. Names are relative to the folder, with `/`.

    `places` gives every file of the set the name under which it stands now. `beside`: the coach has changed
    the file, it was kept, and the new one stands beside it. `left`: no longer made, but changed by the coach,
    so kept.
    """

    folder: Path
    places: dict[str, str]
    written: tuple[str, ...]
    unchanged: tuple[str, ...]
    removed: tuple[str, ...]
    beside: tuple[Beside, ...]
    left: tuple[str, ...]


def write_set(folder: Path, files: Mapping[str, bytes], *, patience: float = PATIENCE_SECONDS) -> Written:
    """Make the folder hold these files and no others of ours; `files` are names with `/` and contents.

    A journal of an earlier run is finished first. Raises `CannotWrite`: before the journal is committed
    nothing has changed, after it the next call finishes. Raises ValueError for names that could leave the
    folder or meet in it.
    """
    _check_names(files)
    with _locked(folder, patience):
        _finish(folder)
        wanted = {name: digest_in_pieces(pieces_of(files, name)) for name in files}
        listed = read_manifest(folder)
        decision = decide(folder, wanted, listed)
        if decision.to_write or decision.removals or decision.manifest != listed:
            _carry_out(folder, files, wanted, decision)
    return Written(
        folder=folder,
        places=decision.places,
        written=decision.to_write,
        unchanged=decision.unchanged,
        removed=decision.removals,
        beside=decision.beside,
        left=decision.left,
    )


def _carry_out(folder: Path, files: Mapping[str, bytes], wanted: Mapping[str, str], decision: Decision) -> None:
    """Commit the set and put it in its place. Ctrl-C stops it before the commit; later it comes too late."""
    try:
        _commit(folder, files, wanted, decision)
        _finish(folder)
    except KeyboardInterrupt:
        if not _finish(folder):
            raise


def finish_interrupted(folder: Path, *, patience: float = PATIENCE_SECONDS) -> bool:
    """Finish what an earlier run committed and could not end. Tell whether there was anything to finish.

    Raises `CannotWrite`.
    """
    if not (folder / _STAGING / _JOURNAL).is_file():
        return False
    with _locked(folder, patience):
        return _finish(folder)


def _check_names(files: Mapping[str, bytes]) -> None:
    for name in files:
        if not may_be_written(name):
            raise ValueError(f"not a name for a file of the output: {name!r}")
    if len({one_name(name) for name in files}) < len(files):
        raise ValueError("two files of the output have names that some disks take for one")


@contextmanager
def _locked(folder: Path, patience: float) -> Iterator[None]:
    check_writable(folder)
    make_folder(folder)
    lock = FileLock(folder / _LOCK, timeout=patience)
    with told(folder):
        try:
            lock.acquire()
        except Timeout as error:
            raise CannotWrite(f"Another run is writing to {folder} and has not finished.") from error
    try:
        yield
    finally:
        lock.release()


def _commit(folder: Path, files: Mapping[str, bytes], wanted: Mapping[str, str], decision: Decision) -> None:
    """Stage what is to be written and commit the journal; on any failure leave the folder as it was."""
    staging = folder / _STAGING
    remove_folder(staging)
    try:
        make_folder(staging)
        staged = {}
        for number, name in enumerate(decision.to_write):
            staged[name] = str(number)
            write_pieces_durably(staging / staged[name], pieces_of(files, name))
        write_durably(staging / _UNFINISHED, to_json({"wanted": wanted, "staged": staged}))
        settle(staging)
        for name in decision.to_write:
            _check_parents(folder, decision.places[name])
            check_replaceable(folder / decision.places[name])
        for name in (*decision.removals, MANIFEST):
            check_replaceable(folder / name)
        move(staging / _UNFINISHED, staging / _JOURNAL)
    except BaseException:
        remove_folder(staging)
        raise
    settle(staging)


def _check_parents(folder: Path, name: str) -> None:
    for parent in (folder / name).parents:
        if parent == folder:
            return
        if parent.exists() and not parent.is_dir():
            raise CannotWrite(f"{parent} is a file; a folder is needed there.")


def _finish(folder: Path) -> bool:
    """Bring a committed journal to its end, however far it has come. Tell whether there was one."""
    staging = folder / _STAGING
    journal = _read_journal(staging)
    if journal is None:
        remove_folder(staging)
        return False
    wanted, staged = journal
    decision = decide(folder, wanted, read_manifest(folder))
    for name in decision.to_write:
        source = staging / staged.get(name, name)
        # What is not staged was in its place already and has been taken away since: the coach's doing.
        if name in staged and source.is_file():
            target = folder / decision.places[name]
            make_folder(target.parent)
            move(source, target)
    for name in decision.removals:
        remove(folder / name)
    for parent in {(folder / name).parent for name in (*decision.places.values(), *decision.removals)}:
        if parent.is_dir():
            settle(parent)
    write_durably(staging / MANIFEST, to_json(decision.manifest))
    move(staging / MANIFEST, folder / MANIFEST)
    settle(folder)
    remove(staging / _JOURNAL)
    remove_folder(staging)
    return True


def _read_journal(staging: Path) -> tuple[dict[str, str], dict[str, str]] | None:
    """Return the names with hashes, and where their contents are staged; None where nothing was committed.

    A journal that cannot be read was not written by this release; without it everything stays where it is.
    """
    found = read_json(staging / _JOURNAL)
    if not isinstance(found, dict):
        return None
    wanted, staged = as_listing(found.get("wanted")), found.get("staged")
    if wanted is None or not isinstance(staged, dict):
        return None
    if not all(isinstance(number, str) and number.isdecimal() for number in staged.values()):
        return None
    return wanted, staged
