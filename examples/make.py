"""Makes the pictures of the README from the example: `python examples/make.py`.

The example workbooks and the field reference beside this file are generated, too, by `pytest --update-expected
tests/test_generated.py`. Needs the test extra (pypdfium2).
"""

from __future__ import annotations

from pathlib import Path

import pypdfium2

from compiler.demo.workbooks import demo_source
from compiler.documents.booklet import build_booklet
from compiler.documents.room_sheet import build_room_sheets
from compiler.layout.booklet import lay_out_booklet
from compiler.layout.room_sheet import lay_out_room_sheets
from compiler.pipeline.check import Checked, check_source
from compiler.render.booklet import render_booklet

PICTURES = Path(__file__).parent / "pictures"
CLIENT, LARGE_PRINT_CLIENT = "Imogen Thackray", "Mabel Stannard"
DOTS_PER_INCH = 90
PAGES = {"cover": 0, "how-to": 1, "session": 2, "progress": -2, "safety": -1}


def main() -> None:
    """Draw one page of each kind."""
    checked = check_source(demo_source())
    PICTURES.mkdir(exist_ok=True)
    booklet = booklet_of(checked, CLIENT)
    for name, number in PAGES.items():
        draw(booklet, number, name)
    draw(booklet_of(checked, LARGE_PRINT_CLIENT), 3, "large-print")
    if checked.book is not None:
        draw(render_booklet(lay_out_room_sheets(build_room_sheets(checked.book, checked.plans, ()))), 0, "room-sheet")


def booklet_of(checked: Checked, client: str) -> bytes:
    """Return the booklet of one client of the example."""
    if checked.book is None:
        raise SystemExit("the example has lost a sheet")
    plan = next(plan for plan in checked.plans if plan.name == client)
    return render_booklet(lay_out_booklet(build_booklet(checked.book, plan)))


def draw(document: bytes, number: int, name: str) -> None:
    """Draw one page; a number below zero counts from the end."""
    pages = pypdfium2.PdfDocument(document)
    page = pages[number % len(pages)]
    image = page.render(scale=DOTS_PER_INCH / 72, grayscale=True).to_pil()
    image.quantize(16).save(PICTURES / f"{name}.png", optimize=True)


if __name__ == "__main__":
    main()
