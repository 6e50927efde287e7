"""Runs of the program that are brought down: `python -m tests.faults FOLDER` prints what each left behind, as JSON.

A process of its own, without threads, so that it may fork: every run is a child that has everything loaded. Where it
touches the output folder is found by an audit hook of the child; the program knows nothing of it.
"""

from __future__ import annotations

import hashlib
import json
import os
import resource
import shutil
import signal
import sys
from collections.abc import Callable
from pathlib import Path

from compiler.cli import main
from compiler.exits import Exit
from compiler.files import read_manifest

TOUCHES = {"open", "os.rename", "os.remove", "os.mkdir", "os.rmdir", "os.truncate"}
KILLS = 24
"""So many points of a run are tried, spread over it; a run touches the folder some two hundred times."""

LIMITS = (0, 10, 400, 4_000, 30_000, 60_000)
"""Sizes in bytes at which a file cannot grow any more, as on a full disk."""

NOBODY = 65534


def run(folder: Path, before: Callable[[], None]) -> int:
    """Compile the new workbook in a child, after something was done to it; return its code, below zero if killed."""
    child = os.fork()
    if child == 0:
        code = Exit.BUG
        try:
            silence = os.open(os.devnull, os.O_WRONLY)
            os.dup2(silence, 2)
            before()
            code = Exit(main(["compile", str(folder.parent / "new.xlsx"), "-o", str(folder)]))
        finally:
            os._exit(code)
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])


def kill_at(folder: Path, point: int) -> Callable[[], None]:
    """Return what lets a child kill itself when it touches the folder for the so-many-th time."""
    touched = 0

    def hook(event: str, arguments: tuple[object, ...]) -> None:
        nonlocal touched
        if event in TOUCHES and str(arguments[0]).startswith(str(folder)):
            touched += 1
            if touched == point:
                os.kill(os.getpid(), signal.SIGKILL)

    return lambda: sys.addaudithook(hook)


def count_touches(folder: Path) -> int:
    """Return how often a whole run touches the folder."""
    reading, writing = os.pipe()

    def hook(event: str, arguments: tuple[object, ...]) -> None:
        if event in TOUCHES and str(arguments[0]).startswith(str(folder)):
            os.write(writing, b".")

    run(folder, lambda: sys.addaudithook(hook))
    os.close(writing)
    count = 0
    while seen := os.read(reading, 65536):
        count += len(seen)
    os.close(reading)
    return count


def limited(size: int) -> Callable[[], None]:
    """Return what lets no file of a child grow beyond a size."""
    return lambda: resource.setrlimit(resource.RLIMIT_FSIZE, (size, resource.RLIM_INFINITY))


def state(folder: Path) -> dict[str, object]:
    """Return the files of a folder with their hashes, whether they are those of its manifest, and what waits there."""
    found = {
        path.relative_to(folder).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in sorted(folder.rglob("*"))
        if path.is_file() and not path.relative_to(folder).parts[0].startswith(".")
    }
    return {
        "files": found,
        "whole": {name: at for name, at in found.items() if name != "manifest.json"} == read_manifest(folder),
        "journal": (folder / ".programme-staging" / "journal.json").exists(),
        "ours": sorted(path.name for path in folder.iterdir() if path.name.startswith(".")),
    }


def tried(folder: Path, how: Callable[[], None]) -> dict[str, object]:
    """Return what a run that is brought down leaves of the old folder, and what the next one makes of it."""
    shutil.rmtree(folder, ignore_errors=True)
    shutil.copytree(folder.parent / "old", folder)
    code = run(folder, how)
    after = state(folder)
    return {"code": code, "after": after, "again": run(folder, lambda: None), "then": state(folder)}


def all_runs(base: Path) -> dict[str, object]:
    """Return all of it: the folders that may be left, killed runs by the point, runs on a full disk by its size."""
    folder = base / "out"
    for name in ("old", "new"):
        main(["compile", str(base / f"{name}.xlsx"), "-o", str(base / name)])
    shutil.copytree(base / "old", folder)
    touches = count_touches(folder)
    points = sorted({1 + touches * number // KILLS for number in range(KILLS)} | {touches})
    return {
        "old": state(base / "old"),
        "new": state(base / "new"),
        "killed": {point: tried(folder, kill_at(folder, point)) for point in points},
        "full": {size: tried(folder, limited(size)) for size in LIMITS},
        "read-only": read_only(base) if os.geteuid() == 0 else None,
    }


def read_only(base: Path) -> dict[str, object]:
    """Return what becomes of a folder that somebody without rights to it compiles into."""
    folder = base / "out"
    shutil.rmtree(folder)
    shutil.copytree(base / "old", folder)
    return {"code": run(folder, lambda: os.setuid(NOBODY)), "after": state(folder)}


if __name__ == "__main__":
    sys.stdout.write(json.dumps(all_runs(Path(sys.argv[1]))))
