"""Makes the pictures of the README from the example: `python examples/make.py`.

The example workbooks and the field reference beside this file are generated, too, by `pytest --update-expected
tests/test_generated.py`. Needs the test extra (pypdfium2).
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pypdfium2

from compiler.cellref import CellRef
from compiler.demo.workbooks import demo_source
from compiler.documents.booklet import build_booklet
from compiler.documents.room_sheet import build_room_sheets
from compiler.layout.booklet import lay_out_booklet
from compiler.layout.room_sheet import lay_out_room_sheets
from compiler.pipeline.check import Checked, check_source
from compiler.pipeline.desk import EVERYBODY, Desk
from compiler.render.booklet import render_booklet
from compiler.source.cells import CellType, SourceBook, SourceCell

PICTURES = Path(__file__).parent / "pictures"
CLIENT, LARGE_PRINT_CLIENT, WEEKS_SHEET_CLIENT = "Imogen Thackray", "Mabel Stannard", "Gus Holloway"
DOTS_PER_INCH = 90
PAGES = {"cover": 0, "how-to": 1, "session": 2, "progress": -2, "safety": -1}


def main() -> None:
    """Draw one page of each kind."""
    checked = check_source(demo_source())
    halves = check_source(with_setting("Booklet", "half page"))
    weeks = check_source(with_setting("Booklet", "weeks sheet"))
    PICTURES.mkdir(exist_ok=True)
    booklet = booklet_of(checked, CLIENT)
    for name, number in PAGES.items():
        draw(booklet, number, name)
    draw(booklet_of(checked, LARGE_PRINT_CLIENT), 3, "large-print")
    sheets = booklet_of(weeks, WEEKS_SHEET_CLIENT)
    draw(sheets, first_lying(sheets), "weeks-sheet")
    draw(desk_of(halves, "print-run-imposed.pdf"), 3, "sheet-to-fold")
    draw(desk_of(checked, "run-list.pdf"), 0, "run-list")
    if checked.book is not None:
        draw(render_booklet(lay_out_room_sheets(build_room_sheets(checked.book, checked.plans, ()))), 0, "room-sheet")


def with_setting(name: str, value: str) -> SourceBook:
    """Return the example with one more setting at the end of its Block sheet."""
    source = demo_source()
    block = next(sheet for sheet in source.sheets if sheet.name == "Block")
    row = 1 + max(row for row, _ in block.cells)
    added = {
        (row, column): SourceCell(CellRef(block.name, row, column), text, CellType.TEXT)
        for column, text in enumerate((name, value), start=1)
    }
    longer = replace(block, cells=block.cells | added)
    return replace(source, sheets=tuple(longer if sheet is block else sheet for sheet in source.sheets))


def desk_of(checked: Checked, file: str) -> bytes:
    """Return a file that the front desk gets."""
    if checked.book is None:
        raise SystemExit("the example has lost a sheet")
    desk = Desk(checked.book, EVERYBODY, {})
    for plan in checked.plans:
        booklet = build_booklet(checked.book, plan, desk.look(plan))
        desk.add(plan, booklet, plan.name, render_booklet(lay_out_booklet(booklet)))
    return desk.files()[f"desk/{file}"]


def booklet_of(checked: Checked, client: str) -> bytes:
    """Return the booklet of one client of the example."""
    if checked.book is None:
        raise SystemExit("the example has lost a sheet")
    plan = next(plan for plan in checked.plans if plan.name == client)
    return render_booklet(lay_out_booklet(build_booklet(checked.book, plan)))


def first_lying(document: bytes) -> int:
    """Return the number of the first page that is wider than high."""
    pages = pypdfium2.PdfDocument(document)
    return next(number for number, page in enumerate(pages) if page.get_width() > page.get_height())


def draw(document: bytes, number: int, name: str) -> None:
    """Draw one page; a number below zero counts from the end."""
    pages = pypdfium2.PdfDocument(document)
    page = pages[number % len(pages)]
    image = page.render(scale=DOTS_PER_INCH / 72, grayscale=True).to_pil()
    image.quantize(16).save(PICTURES / f"{name}.png", optimize=True)


if __name__ == "__main__":
    main()
