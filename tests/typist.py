"""Types into a workbook as a person does, in LibreOffice: run by a Python that has its bridge, never imported.

Usage: typist.py WORKBOOK PROFILE, with [[sheet, cell, text], ...] as JSON on standard input. Each text goes through the
program's own entry of a cell, which turns into numbers and dates what it takes for such; the workbook is saved again as
.xlsx under its own name. What LibreOffice then shows in each cell goes to standard output as JSON.
"""

from __future__ import annotations

import contextlib
import json
import subprocess
import sys
import time
from pathlib import Path
from typing import Any

import uno  # type: ignore[import-not-found]  # of LibreOffice's own Python

LONGEST_WAIT = 60  # seconds; the first start of a profile is slow on a busy machine


def prop(name: str, value: object) -> Any:
    """Return a named value as the bridge wants it."""
    made = uno.createUnoStruct("com.sun.star.beans.PropertyValue")
    made.Name, made.Value = name, value
    return made


def connected(pipe: str) -> Any:
    """Return the context of the office that listens on a pipe."""
    local = uno.getComponentContext()
    resolver = local.ServiceManager.createInstanceWithContext("com.sun.star.bridge.UnoUrlResolver", local)
    until = time.monotonic() + LONGEST_WAIT
    while True:
        try:
            return resolver.resolve(f"uno:pipe,name={pipe};urp;StarOffice.ComponentContext")
        except Exception:  # the bridge raises a type of its own that cannot be imported beforehand
            if time.monotonic() > until:
                raise
            time.sleep(0.2)


def typed(context: Any, workbook: Path, entries: list[list[str]]) -> list[str]:
    """Type the entries, save the workbook, return what stands in the cells."""
    services = context.ServiceManager
    desktop = services.createInstanceWithContext("com.sun.star.frame.Desktop", context)
    dispatcher = services.createInstanceWithContext("com.sun.star.frame.DispatchHelper", context)
    document = desktop.loadComponentFromURL(workbook.as_uri(), "_blank", 0, ())
    controller = document.getCurrentController()
    for sheet, cell, text in entries:
        controller.setActiveSheet(document.Sheets.getByName(sheet))
        frame = controller.getFrame()
        dispatcher.executeDispatch(frame, ".uno:GoToCell", "", 0, (prop("ToPoint", cell),))
        dispatcher.executeDispatch(frame, ".uno:EnterString", "", 0, (prop("StringName", text),))
    shown = [document.Sheets.getByName(sheet).getCellRangeByName(cell).String for sheet, cell, _ in entries]
    document.storeToURL(workbook.as_uri(), (prop("FilterName", "Calc MS Excel 2007 XML"),))
    document.dispose()
    with contextlib.suppress(Exception):  # it is gone before it can answer
        desktop.terminate()
    return shown


def main() -> None:
    """Start an office of our own, type, and end it."""
    workbook, profile = Path(sys.argv[1]), Path(sys.argv[2])
    pipe = f"typist-{profile.parent.name}"
    command = ["soffice", f"-env:UserInstallation={profile.as_uri()}", "--headless", "--norestore"]
    office = subprocess.Popen([*command, f"--accept=pipe,name={pipe};urp;"], stdout=subprocess.DEVNULL)
    try:
        json.dump(typed(connected(pipe), workbook, json.load(sys.stdin)), sys.stdout)
        office.wait(LONGEST_WAIT)
    finally:
        if office.poll() is None:
            office.terminate()


if __name__ == "__main__":
    main()
