"""Makes the pictures of the block workbook as a coach sees it: `python examples/template_pictures.py`.

Opens the example in LibreOffice on a screen of its own and keeps what stands there. Needs what Debian calls
libreoffice-calc, xvfb, xdotool, openbox and imagemagick, and fonts-crosextra-carlito for the letters.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from compiler.demo.workbooks import demo_workbook
from compiler.schema.sheets import NOT_READ, SHEETS

PICTURES = Path(__file__).parent / "pictures"
SHOWN = {
    "template-start": (NOT_READ[0], ()),
    "template-programme": ("Programme", ("Right",) * 15 + ("Down",) * 5),
    "template-clients": ("Clients", ()),
}
"""A sheet for each picture, and the keys to a cell of it: on Programme to a load of week 2, so that loads are seen."""
SCREEN = ":87"
SIZE = (1500, 940)
LONGEST_WAIT = 120  # seconds
DRAWN = 4  # seconds until a sheet that has been turned to stands still
COLOURS = 32

QUIET_PROFILE = """<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry">
<item oor:path="/org.openoffice.Office.Common/Misc"><prop oor:name="ShowTipOfTheDay" oor:op="fuse">
<value>false</value></prop></item>
<item oor:path="/org.openoffice.Setup/Product"><prop oor:name="ooSetupLastVersion" oor:op="fuse">
<value>99.9</value></prop></item>
</oor:items>
"""
"""What keeps windows of the day and of a new release from standing before the sheet."""


def main(workbook: Path | None = None, pictures: Path = PICTURES) -> None:
    """Draw a picture of each of the sheets; `workbook`: of this one in place of the example."""
    with tempfile.TemporaryDirectory() as scratch, screen():
        folder = Path(scratch)
        if workbook is None:
            workbook = folder / "block.xlsx"
            workbook.write_bytes(demo_workbook())
        with opened(workbook, folder / "profile") as window:
            at = 0
            for name, (sheet, keys) in SHOWN.items():
                place = (NOT_READ[0], *(spec.name for spec in SHEETS)).index(sheet)
                for _ in range(place - at):
                    said("xdotool", "key", "--window", window, "ctrl+Next")
                at = place
                for key in keys:
                    said("xdotool", "key", "--window", window, key)
                time.sleep(DRAWN)
                take(pictures / f"{name}.png")


def said(*command: str) -> str:
    """Run a command on the screen and return what it says."""
    where = {**os.environ, "DISPLAY": SCREEN}
    return subprocess.run(command, check=False, capture_output=True, text=True, env=where).stdout.strip()


@contextmanager
def screen() -> Iterator[None]:
    """Have a screen, and somebody who minds the windows on it."""
    width, height = SIZE
    server = subprocess.Popen(["Xvfb", SCREEN, "-screen", "0", f"{width}x{height}x24"], stderr=subprocess.DEVNULL)
    time.sleep(1)
    windows = subprocess.Popen(["openbox"], env={**os.environ, "DISPLAY": SCREEN}, stderr=subprocess.DEVNULL)
    try:
        yield
    finally:
        for process in (windows, server):
            process.terminate()
            process.wait()


@contextmanager
def opened(workbook: Path, profile: Path) -> Iterator[str]:
    """Open a workbook over the whole screen; yield its window."""
    (profile / "user").mkdir(parents=True)
    (profile / "user" / "registrymodifications.xcu").write_text(QUIET_PROFILE, encoding="utf-8")
    command = ["soffice", f"-env:UserInstallation={profile.as_uri()}", "--norestore", "--nologo", "--calc"]
    office = subprocess.Popen([*command, str(workbook)], env={**os.environ, "DISPLAY": SCREEN})
    try:
        until = time.monotonic() + LONGEST_WAIT
        while not (found := said("xdotool", "search", "--name", workbook.name).split()):
            if time.monotonic() > until:
                raise SystemExit("LibreOffice did not open the workbook")
            time.sleep(1)
        said("xdotool", "windowsize", found[-1], *map(str, SIZE))
        said("xdotool", "windowmove", found[-1], "0", "0")
        said("xdotool", "windowactivate", "--sync", found[-1])
        time.sleep(DRAWN)
        yield found[-1]
    finally:
        said("xdotool", "key", "ctrl+q")
        try:
            office.wait(timeout=20)
        except subprocess.TimeoutExpired:
            office.terminate()
            office.wait()


def take(file: Path) -> None:
    """Keep what stands on the screen."""
    said("import", "-window", "root", "-colors", str(COLOURS), "-depth", "8", f"png8:{file}")


if __name__ == "__main__":
    main(*map(Path, sys.argv[1:]))
