"""Runs of the program that are brought down: `python -m tests.faults FOLDER` prints what each left behind, as JSON.

FOLDER holds old.xlsx and new.xlsx. With `--every` a compile is killed and interrupted at each touch of the folder, not
at some of them: that takes some minutes.

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

REMOVALS = {"os.remove", "os.rmdir"}
TOUCHES = {"open", "os.rename", "os.mkdir", "os.truncate", *REMOVALS}
SOME = 14
"""How many points of a compile are tried, spread over it; it touches the folder some hundred times."""

LIMITS = (0, 10, 400, 4_000, 30_000, 60_000)
"""Sizes in bytes at which a file cannot grow any more, as on a full disk."""

NOBODY = 65534

Words = Callable[[Path], list[str]]
"""The words of a command for an output folder."""


def compiling(folder: Path) -> list[str]:
    """Return the words that compile the new workbook."""
    return ["compile", str(folder.parent / "new.xlsx"), "-o", str(folder)]


ONE_FILE: dict[str, Words] = {
    "printed": lambda folder: ["printed", str(folder)],
    "next": lambda folder: ["next", str(folder.parent / "new.xlsx"), "-o", str(folder / "file.xlsx"), "--force"],
    "check": lambda folder: ["check", str(folder.parent / "new.xlsx"), "--checked-copy", str(folder / "file.xlsx")],
    "new": lambda folder: ["new", str(folder / "file.xlsx"), "--force"],
}
"""Commands that write one file."""


def started(words: list[str], before: Callable[[], object]) -> int:
    """Start a command in a child, after something was done to it; return its process."""
    child = os.fork()
    if child == 0:
        code = Exit.BUG
        try:
            silence = os.open(os.devnull, os.O_WRONLY)
            os.dup2(silence, 2)
            before()
            code = Exit(main(words))
        finally:
            os._exit(code)
    return child


def ended(child: int) -> int:
    """Wait for a child; return its code, below zero if killed."""
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])


def run(words: list[str], before: Callable[[], object] = int) -> int:
    """Run a command in a child, after something was done to it; return its code."""
    return ended(started(words, before))


def stop_at(folder: Path, point: int, how: signal.Signals = signal.SIGKILL) -> Callable[[], None]:
    """Return what lets a child stop itself when it touches the folder for the so-many-th time.

    Ctrl-C waits for the next touch if this one is a removal: Python would stop before it, and leave what it removes to
    the next run.
    """
    touched, done = 0, False

    def hook(event: str, arguments: tuple[object, ...]) -> None:
        nonlocal touched, done
        if event in TOUCHES and str(arguments[0]).startswith(str(folder)):
            touched += 1
            if touched >= point and not done and not (how is signal.SIGINT and event in REMOVALS):
                done = True
                os.kill(os.getpid(), how)

    return lambda: sys.addaudithook(hook)


def count_touches(folder: Path, words: list[str]) -> int:
    """Return how often a whole run of a command touches the folder."""
    reading, writing = os.pipe()

    def hook(event: str, arguments: tuple[object, ...]) -> None:
        if event in TOUCHES and str(arguments[0]).startswith(str(folder)):
            os.write(writing, b".")

    run(words, lambda: sys.addaudithook(hook))
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


def fresh(folder: Path) -> None:
    """Make the folder hold the old set."""
    shutil.rmtree(folder, ignore_errors=True)
    shutil.copytree(folder.parent / "old", folder)


def tried(folder: Path, how: Callable[[], None]) -> dict[str, object]:
    """Return what a compile that is brought down leaves of the old folder, and what the next one makes of it."""
    fresh(folder)
    code = run(compiling(folder), how)
    after = state(folder)
    return {"code": code, "after": after, "again": run(compiling(folder)), "then": state(folder)}


def one_file(folder: Path, words: Words) -> dict[str, object]:
    """Return what becomes of the one file that a command writes over: killed at every touch, on a full disk."""
    listed = words(folder)
    file = folder / ("printed.json" if listed[0] == "printed" else "file.xlsx")

    def begun(how: Callable[[], object]) -> dict[str, object]:
        fresh(folder)
        file.write_bytes(b"{}")
        code = run(listed, how)
        after = left(folder, file)
        return {"code": code, "after": after, "again": run(listed), "then": left(folder, file)}

    whole = begun(int)
    touches = count_touches(folder, listed)
    return {
        "whole": whole,
        "killed": {point: begun(stop_at(folder, point)) for point in range(1, touches + 1)},
        "interrupted": {point: begun(stop_at(folder, point, signal.SIGINT)) for point in range(1, touches + 1)},
        "full": {0: begun(limited(0)), 3: begun(limited(3))},
    }


def left(folder: Path, file: Path) -> dict[str, object]:
    """Return what a command left: the one file's hash, whether all else is the old set, what of ours lies about."""
    found = state(folder)
    files = found["files"]
    assert isinstance(files, dict)
    others = {name: at for name, at in files.items() if name != file.name}
    return {
        "file": files.get(file.name),
        "rest": others == state(folder.parent / "old")["files"],
        "ours": found["ours"],
    }


def together(folder: Path) -> dict[str, object]:
    """Return how two compiles into one folder end, of the old and the new workbook, started at once."""
    fresh(folder)
    old = ["compile", str(folder.parent / "old.xlsx"), "-o", str(folder)]
    children = [started(words, int) for words in (compiling(folder), old)]
    return {"codes": [ended(child) for child in children], "after": state(folder)}


def all_runs(base: Path, *, every: bool = False) -> dict[str, object]:
    """Return all of it: the folders that may be left, stopped runs by the point, runs on a full disk by its size."""
    folder = base / "out"
    for name in ("old", "new"):
        main(["compile", str(base / f"{name}.xlsx"), "-o", str(base / name)])
    fresh(folder)
    touches = count_touches(folder, compiling(folder))
    step = 1 if every else max(1, touches // SOME)
    points = sorted({*range(1, touches, step), touches})
    return {
        "old": state(base / "old"),
        "new": state(base / "new"),
        "killed": {point: tried(folder, stop_at(folder, point)) for point in points},
        "interrupted": {at: tried(folder, stop_at(folder, at, signal.SIGINT)) for at in points[:: 1 if every else 2]},
        "full": {size: tried(folder, limited(size)) for size in LIMITS},
        "one file": {name: one_file(folder, words) for name, words in ONE_FILE.items()},
        "together": [together(folder) for _ in range(3)],
        "read-only": read_only(base) if os.geteuid() == 0 else None,
    }


def read_only(base: Path) -> dict[str, object]:
    """Return what becomes of a folder that somebody without rights to it compiles into."""
    folder = base / "out"
    fresh(folder)
    return {"code": run(compiling(folder), lambda: os.setuid(NOBODY)), "after": state(folder)}


if __name__ == "__main__":
    sys.stdout.write(json.dumps(all_runs(Path(sys.argv[1]), every="--every" in sys.argv)))
