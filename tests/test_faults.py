"""Whatever brings a run down, the output folder holds one whole set, old or new, at the latest after the next run."""

from __future__ import annotations

import hashlib
import json
import os
import signal
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path
from time import monotonic, sleep
from typing import Any

import pytest

from compiler.cli import main
from compiler.exits import Exit
from compiler.pipeline.kept import KEYS
from compiler.render.template import render_template
from compiler.source.grid import book_from_grid

pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="children are forked")

ROOT = Path(__file__).parents[1]
OURS = {".programme-lock", ".programme-keys.json"}

OLD = """
## Exercises

| Exercise | Implement |
| --- | --- |
| Goblet squat | dumbbell |
| Push-up | body weight |

## Programme

| Programme | Session | Order | Exercise | Week 1 sets | Week 1 reps | Week 1 load |
| --- | --- | --- | --- | --- | --- | --- |
| One | Day one | A | Goblet squat | 3 | 8 | 16 kg |
| One | Day one | B | Push-up | 3 | 8 | |

## Clients

| Client | Programme | Screened on |
| --- | --- | --- |
| Imogen Thackray | One | 2026-11-02 |
| Rufus Pemberly | One | 2026-11-02 |
"""

NEW = OLD.replace("16 kg", "18 kg").replace("Rufus Pemberly", "Odette Marchbanks")
"""Another load, one client gone and one come: files are replaced, removed and added."""


@pytest.fixture(scope="module")
def runs() -> Iterator[dict[str, Any]]:
    """Run the program in many ways that bring it down."""
    with tempfile.TemporaryDirectory() as name:
        base = Path(name)
        base.chmod(0o755)  # so that somebody else may read the workbook
        for book, tables in (("old", OLD), ("new", NEW)):
            (base / f"{book}.xlsx").write_bytes(render_template(1, 1, fill=book_from_grid(tables)))
        done = subprocess.run(
            [sys.executable, "-m", "tests.faults", name], cwd=ROOT, capture_output=True, check=True, timeout=600
        )
        yield json.loads(done.stdout)


def whole(state: dict[str, Any]) -> bool:
    """Tell whether a folder verifies against its manifest and holds nothing half done."""
    return bool(state["whole"]) and not state["journal"] and set(state["ours"]) <= OURS


def test_the_folders_to_compare_with(runs: dict[str, Any]) -> None:
    """The old and the new set are whole, and differ in what is replaced, removed and added."""
    old, new = runs["old"], runs["new"]
    assert whole(old)
    assert whole(new)
    assert set(old["files"]) ^ set(new["files"]) == {"booklets/rufus-pemberly.pdf", "booklets/odette-marchbanks.pdf"}
    assert old["files"]["booklets/imogen-thackray.pdf"] != new["files"]["booklets/imogen-thackray.pdf"]


def test_killed_anywhere(runs: dict[str, Any]) -> None:
    """Until the journal is committed all is old; from then on every file is whole, and the next run ends it."""
    old, new = runs["old"]["files"], runs["new"]["files"]
    seen = set()
    for point, run in runs["killed"].items():
        after = run["after"]
        assert run["code"] == -signal.SIGKILL, point
        if not after["journal"]:
            assert after["whole"], point
            assert after["files"] in (old, new), point
        else:
            assert all(found in (old.get(name), new.get(name)) for name, found in after["files"].items()), point
        seen.add("journal" if after["journal"] else "old" if after["files"] == old else "new")
        assert run["again"] == Exit.OK, point
        assert whole(run["then"]), point
        assert run["then"]["files"] == new, point
    assert seen == {"old", "journal", "new"}


def test_interrupted_anywhere(runs: dict[str, Any]) -> None:
    """Ctrl-C leaves one whole set, the old or the new, and no temporary file; only once all is committed is it late."""
    old, new = runs["old"]["files"], runs["new"]["files"]
    ends = set()
    for point, run in runs["interrupted"].items():
        after = run["after"]
        assert whole(after), point
        assert after["files"] in (old, new), point
        ends.add((run["code"], after["files"] == new))
        assert run["then"]["files"] == new, point
    assert ends <= {(Exit.INTERRUPTED, False), (Exit.OK, True), (Exit.INTERRUPTED, True)}
    assert {(Exit.INTERRUPTED, False), (Exit.OK, True)} <= ends


@pytest.mark.parametrize("command", ["printed", "next", "check", "new"])
def test_commands_that_write_one_file(runs: dict[str, Any], command: str) -> None:
    """Stopped at any touch, or on a full disk, the file is the old or the new one; the next run leaves only that."""
    found = runs["one file"][command]
    new, old = found["whole"]["after"]["file"], hashlib.sha256(b"{}").hexdigest()
    assert found["whole"]["code"] == Exit.OK
    assert new not in (old, None)
    assert found["killed"]
    stopped = {"killed": (-signal.SIGKILL,), "interrupted": (Exit.INTERRUPTED, Exit.OK), "full": (Exit.CANNOT_WRITE,)}
    for how, codes in stopped.items():
        for point, run in found[how].items():
            assert run["code"] in codes, (how, point)
            assert run["after"]["file"] in (old, new), (how, point)
            assert run["code"] != Exit.OK or run["after"]["file"] == new, (how, point)
            assert run["after"]["rest"], (how, point)
            assert how == "killed" or set(run["after"]["ours"]) <= OURS, (how, point)
            assert run["again"] == Exit.OK, (how, point)
            assert run["then"]["file"] == new, (how, point)
            assert run["then"]["rest"], (how, point)
            assert set(run["then"]["ours"]) <= OURS, (how, point)


def test_two_compiles_into_one_folder_at_once(runs: dict[str, Any]) -> None:
    """Both end well, and the folder is the whole set of one of them: the booklets of who left are gone."""
    for run in runs["together"]:
        assert run["codes"] == [Exit.OK, Exit.OK]
        assert whole(run["after"])
        assert run["after"]["files"] in (runs["old"]["files"], runs["new"]["files"])


def test_a_full_disk(runs: dict[str, Any]) -> None:
    """Code 4 and the old set, nothing left behind; with room again the next run writes the new one."""
    for size, run in runs["full"].items():
        assert run["code"] == Exit.CANNOT_WRITE, size
        assert run["after"]["files"] == runs["old"]["files"], size
        assert whole(run["after"]), size
        assert run["then"]["files"] == runs["new"]["files"], size


def test_a_folder_that_may_not_be_written(runs: dict[str, Any]) -> None:
    """Code 4, and nothing is touched."""
    if runs["read-only"] is None:
        pytest.skip("only root can become somebody without rights")
    assert runs["read-only"]["code"] == Exit.CANNOT_WRITE
    assert runs["read-only"]["after"]["files"] == runs["old"]["files"]


# ---------------------------------------------------------------- nothing leaves the machine

NO_SOCKETS = """
import sys
def hook(event, arguments):
    if event == "socket.__new__" and getattr(arguments[1], "name", "") != "AF_UNIX":
        raise RuntimeError(f"a socket: {arguments}")
    if event in {"socket.getaddrinfo", "socket.connect", "socket.bind", "urllib.Request", "http.client.connect"}:
        raise RuntimeError(event)
sys.addaudithook(hook)
from compiler.cli import main
code = main(sys.argv[1:])
sys.exit(f"loaded: {web}" if (web := {"ssl", "http.client", "urllib.request"} & set(sys.modules)) else code)
"""


def test_no_socket_is_opened(tmp_path: Path) -> None:
    """Check, compile and explain open no internet socket and load nothing for it; the hook is shown to see one."""
    book = tmp_path / "block.xlsx"
    book.write_bytes(render_template(1, 1, fill=book_from_grid(OLD)))
    for words in (["check", book], ["compile", book, "-o", tmp_path / "out"], ["explain", "missing-test"]):
        code, said = hooked(NO_SOCKETS, *map(str, words))
        assert code == Exit.OK, said
    seen = NO_SOCKETS.replace("from compiler", "import socket; socket.socket()\nfrom compiler")
    assert hooked(seen)[0] == 1


def hooked(code: str, *words: str) -> tuple[int, str]:
    """Run some code with the words of a command; return how it ended and what it said."""
    done = subprocess.run([sys.executable, "-c", code, *words], cwd=ROOT, capture_output=True, check=False)
    return done.returncode, done.stderr.decode()


# ---------------------------------------------------------------- Ctrl-C

INTERRUPTED = """
import os, signal, sys
from compiler.pipeline import kept
noted, note = [], kept.Kept.note
def hook(self, made_from, key, drawn):
    note(self, made_from, key, drawn)
    noted.append(key)
    if len(noted) == 2:
        os.killpg(0, signal.SIGINT)
kept.Kept.note = hook
from compiler.cli import main
if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
"""


@pytest.mark.parametrize("jobs", ["1", "2"])
def test_an_interrupted_run_leaves_the_old_set_and_no_process(tmp_path: Path, jobs: str) -> None:
    """Ctrl-C reaches the whole group of processes: code 130, one sentence, nothing changed, nobody left."""
    code, said, before, after = stopped_while_drawing(tmp_path, INTERRUPTED, jobs)
    assert code == Exit.INTERRUPTED, said
    assert said.strip() == "Interrupted; no file was left half written."
    assert before == after


def test_a_worker_that_is_killed_ends_the_run(tmp_path: Path) -> None:
    """Code 4, one sentence that names the way out, nothing changed, nobody left."""
    code, said, before, after = stopped_while_drawing(tmp_path, WORKER_KILLED, "2")
    assert code == Exit.CANNOT_WRITE, said
    assert "stopped from outside, and nothing was changed" in said
    assert "--jobs 1" in said
    assert before == after


def stopped_while_drawing(folder: Path, script: str, jobs: str) -> tuple[int, str, dict[str, bytes], dict[str, bytes]]:
    """Compile over an older set with a script that stops it; return code, words, the folder before and after."""
    out, file = folder / "out", folder / "stopped.py"
    file.write_text(script, encoding="utf-8")
    for name, tables in (("old", OLD), ("new", NEW)):
        (folder / f"{name}.xlsx").write_bytes(render_template(1, 1, fill=book_from_grid(tables)))
    assert main(["compile", str(folder / "old.xlsx"), "-o", str(out)]) == Exit.OK
    (out / KEYS).unlink()  # else no workers would be woken for two booklets
    before = contents(out)
    started = subprocess.Popen(
        [sys.executable, file, "compile", str(folder / "new.xlsx"), "-o", str(out), "--jobs", jobs],
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        stderr=subprocess.PIPE,
        start_new_session=True,
    )
    said = started.communicate(timeout=60)[1].decode()
    assert gone(started.pid)
    return started.returncode, said, before, contents(out)


def contents(folder: Path) -> dict[str, bytes]:
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def gone(group: int, patience: float = 10.0) -> bool:
    """Tell whether a group of processes ends; the one that keeps Python's books of semaphores is the last to go."""
    until = monotonic() + patience
    while monotonic() < until:
        try:
            os.killpg(group, 0)
        except ProcessLookupError:
            return True
        sleep(0.05)
    return False


WORKER_KILLED = INTERRUPTED.replace(
    "os.killpg(0, signal.SIGINT)", "[child.kill() for child in multiprocessing.active_children()]"
).replace("import os,", "import multiprocessing, os,")
KILLED = INTERRUPTED.replace("os.killpg(0, signal.SIGINT)", "os.kill(os.getpid(), signal.SIGKILL)")


def test_workers_end_with_a_killed_parent(tmp_path: Path) -> None:
    """However the parent ends, nobody is left behind."""
    book, script = tmp_path / "block.xlsx", tmp_path / "killed.py"
    script.write_text(KILLED, encoding="utf-8")
    book.write_bytes(render_template(1, 1, fill=book_from_grid(OLD)))
    words = ["compile", str(book), "-o", str(tmp_path / "out"), "--jobs", "2"]
    started = subprocess.Popen(
        [sys.executable, script, *words], env={**os.environ, "PYTHONPATH": str(ROOT)}, start_new_session=True
    )
    assert started.wait(timeout=60) == -signal.SIGKILL
    assert gone(started.pid)
