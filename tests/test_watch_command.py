"""`programme watch` as a process of its own, while real programs save the workbook."""

from __future__ import annotations

import os
import queue
import shutil
import signal
import subprocess
import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from io import BytesIO
from pathlib import Path

import pytest
from openpyxl import load_workbook

from compiler.cli import main
from compiler.exits import Exit
from compiler.files import read_manifest
from compiler.files_disk import digest
from tests.test_cli import SMALL, workbook

PATIENCE = 60
"""Seconds for one line on a busy machine; a watch that works needs one or two."""

SOFFICE = shutil.which("soffice")

MACRO = """
import sys, time, uno
from com.sun.star.beans import PropertyValue
from com.sun.star.connection import NoConnectException

def prop(name, value):
    one = PropertyValue()
    one.Name, one.Value = name, value
    return one

context = uno.getComponentContext()
resolver = context.ServiceManager.createInstanceWithContext("com.sun.star.bridge.UnoUrlResolver", context)
for _ in range(600):
    try:
        office = resolver.resolve(f"uno:pipe,name={sys.argv[2]};urp;StarOffice.ComponentContext")
        break
    except NoConnectException:
        time.sleep(0.1)
desktop = office.ServiceManager.createInstanceWithContext("com.sun.star.frame.Desktop", office)
book = desktop.loadComponentFromURL(sys.argv[1], "_blank", 0, (prop("Hidden", True),))
cell = book.Sheets.getByName("Programme").getCellRangeByName(sys.argv[3])
for number in range(1, 11):
    cell.String = str(number)
    book.store()
book.close(True)
desktop.terminate()
"""


class Child:
    """A watch in a process of its own, and the lines that it says."""

    def __init__(self, path: Path, out: Path) -> None:
        """Start it."""
        self.process = subprocess.Popen(
            [sys.executable, "-m", "compiler", "watch", str(path), "-o", str(out), "--jobs", "1"],
            stderr=subprocess.PIPE,
            text=True,
            encoding="utf-8",
        )
        self.lines: queue.Queue[str] = queue.Queue()
        self.ear = threading.Thread(target=self._listen, daemon=True)
        self.ear.start()

    def _listen(self) -> None:
        assert self.process.stderr is not None
        with self.process.stderr as said:
            for line in said:
                self.lines.put(line.rstrip("\n"))

    def end(self) -> None:
        """End it, however far it is, and wait for its last line."""
        self.process.kill()
        self.process.wait()
        self.ear.join(PATIENCE)

    def until(self, words: str) -> str:
        """Return the next line with these words in it."""
        heard: list[str] = []
        while not heard or words not in heard[-1]:
            try:
                heard.append(self.lines.get(timeout=PATIENCE))
            except queue.Empty:
                pytest.fail(f"waited for {words!r} and heard {heard}")
        return heard[-1]


@contextmanager
def watching(path: Path, out: Path) -> Iterator[Child]:
    """Give a watch that has begun; afterwards it is ended from the keyboard, and ends well."""
    child = Child(path, out)
    try:
        child.until("Watching block.xlsx")
        yield child
        child.process.send_signal(signal.SIGINT)
        child.until("Stopped watching")
        assert child.process.wait(PATIENCE) == Exit.OK
    finally:
        child.end()


def edited(data: bytes, sets: str) -> bytes:
    """Return the small workbook with other sets, as another program saves it."""
    book = load_workbook(BytesIO(data))
    page = book["Programme"]
    column = next(cell.column for cell in page[1] if cell.value == "Week 1 sets")
    page.cell(2, column).value = sets
    stream = BytesIO()
    book.save(stream)
    return stream.getvalue()


def verified(out: Path) -> bool:
    """Tell whether every file of a folder is what its manifest says."""
    listed = read_manifest(out)
    return bool(listed) and all(digest((out / name).read_bytes()) == found for name, found in listed.items())


def test_saves_of_many_kinds(tmp_path: Path) -> None:
    """Written in place, put in its place, torn and mended, deleted and put back; markers of open files mean nothing."""
    two = SMALL.rstrip() + "\n| Rufus Pemberly | One | 2026-11-02 |\n"
    path, out = workbook(tmp_path, two), tmp_path / "out"
    first = path.read_bytes()
    with watching(path, out) as child:
        (tmp_path / ".~lock.block.xlsx#").write_text("open")
        (tmp_path / "~$block.xlsx").write_text("open")
        path.write_bytes(edited(first, "4"))
        assert child.until("Week 1 sets") == "Week 1 sets of A: 2 booklets changed"
        assert verified(out)
        beside = tmp_path / "saved.tmp"
        beside.write_bytes(edited(first, "5"))
        beside.replace(path)
        assert child.until("Week 1 sets") == "Week 1 sets of A: 2 booklets changed"
        path.write_bytes(edited(first, "5"))
        assert child.until("Saved") == "Saved, nothing changed"
        path.write_bytes(edited(first, "6")[:3000])
        child.until("damaged-workbook")
        assert verified(out)
        path.write_bytes(edited(first, "many"))
        child.until("unreadable")
        assert child.until("Flags new").startswith("Flags new: 1 error")
        path.unlink()
        child.until("is not there any more")
        path.write_bytes(edited(first, "5"))
        assert child.until("Week 1 sets") == "Week 1 sets of A: 2 booklets new"
        assert child.until("Flags gone").startswith("Flags gone: 1 error")
        assert verified(out)


def test_ten_quick_saves_of_a_spreadsheet_program(tmp_path: Path) -> None:
    """LibreOffice saves ten times as fast as it can: the last save stands at the end, and never a broken one."""
    assert SOFFICE is not None
    path, out = workbook(tmp_path), tmp_path / "out"
    script = tmp_path / "ten_saves.py"
    script.write_text(MACRO)
    page = load_workbook(path)["Programme"]
    place = f"{next(cell.column_letter for cell in page[1] if cell.value == 'Week 1 sets')}2"
    pipe = f"watch{os.getpid()}"
    with watching(path, out) as child:
        profile = f"-env:UserInstallation={(tmp_path / 'profile').as_uri()}"
        office = subprocess.Popen([SOFFICE, profile, "--headless", "--norestore", f"--accept=pipe,name={pipe};urp;"])
        try:
            python = shutil.which("python3", path="/usr/bin") or "python3"  # the one that has LibreOffice's bridge
            subprocess.run([python, str(script), path.as_uri(), pipe, place], check=True, timeout=PATIENCE)
            office.wait(PATIENCE)
        finally:
            office.kill()
            office.wait()
        told = [child.until("Week 1 sets of A: ")]
        fresh = tmp_path / "fresh"
        assert main(["compile", str(path), "-o", str(fresh)]) == Exit.OK
        booklet = "booklets/imogen-thackray.pdf"
        while read_manifest(out)[booklet] != read_manifest(fresh)[booklet]:
            told.append(child.until("Week 1 sets of A: "))
            assert verified(out)
        assert len(told) <= 10
    assert load_workbook(path)["Programme"][place].value == "10"
    assert verified(out)


def test_a_name_that_is_not_there(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A name that was mistyped ends at once, as with every command."""
    assert main(["watch", str(tmp_path / "blok.xlsx")]) == Exit.UNREADABLE
    assert "There is no file" in capsys.readouterr().err


def test_a_client_that_is_not_there(tmp_path: Path) -> None:
    """So does a client that the workbook has not."""
    assert main(["watch", str(workbook(tmp_path)), "--client", "Nobody"]) == Exit.USAGE
