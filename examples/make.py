"""Makes the pictures of the README from the example: `python examples/make.py`.

The example workbooks and the field reference beside this file are generated, too, by `pytest --update-expected
tests/test_generated.py`. Needs the test extra (pypdfium2).
"""

from __future__ import annotations

from pathlib import Path

import pypdfium2

from compiler.demo.workbooks import demo_source
from compiler.documents.booklet import build_booklet
from compiler.layout.booklet import lay_out_booklet
from compiler.pipeline.check import check_source
from compiler.render.booklet import render_booklet

PICTURES = Path(__file__).parent / "pictures"
CLIENT = "Imogen Thackray"
DOTS_PER_INCH = 100
PAGES = {"cover": 0, "how-to": 1, "session": 2, "safety": -1}


def main() -> None:
    """Draw one page of each kind of the example client's booklet."""
    checked = check_source(demo_source())
    if checked.book is None:
        raise SystemExit("the example has lost a sheet")
    plan = next(plan for plan in checked.plans if plan.name == CLIENT)
    document = pypdfium2.PdfDocument(render_booklet(lay_out_booklet(build_booklet(checked.book, plan))))
    PICTURES.mkdir(exist_ok=True)
    for name, number in PAGES.items():
        page = document[number % len(document)]
        page.render(scale=DOTS_PER_INCH / 72, grayscale=True).to_pil().quantize(16).save(
            PICTURES / f"{name}.png", optimize=True
        )


if __name__ == "__main__":
    main()
