"""Benchmarks of drawing: a page, a booklet, a print run, memory."""

from __future__ import annotations

import tempfile
from collections.abc import Iterator
from functools import partial
from io import BytesIO
from pathlib import Path
from time import perf_counter

import pikepdf

from compiler.documents.booklet import build_booklet
from compiler.documents.booklet_value import Booklet
from compiler.layout.booklet import lay_out_booklet
from compiler.layout.page import Pages
from compiler.pipeline.check import check_source
from compiler.render.booklet import render_booklet
from compiler.render.print_run import PrintRun, RunBooklet
from tests.benchmarks.measures import Row, in_turn, resident, seconds
from tests.benchmarks.office import equal_sheet, office, print_to_pdf
from tests.benchmarks.plain_canvas import draw_plainly
from tests.benchmarks.workbooks import block_source

WEIGHTS = 3
"""Weights of the typeface: a file embeds one font of each."""

OFFICE_CALLS = 10
"""So many files LibreOffice turns in one call, at best."""


def booklet_values(clients: int) -> list[Booklet]:
    """Return the booklets of a workbook of so many clients, as values."""
    checked = check_source(block_source(clients))
    if checked.book is None:
        raise RuntimeError("the benchmark's workbook has lost a sheet")
    return [build_booklet(checked.book, plan) for plan in checked.plans]


def page_rows(clients: int, rounds: int) -> Iterator[Row]:
    """Compare one page with the same drawing on a plain canvas."""
    pages = list(map(lay_out_booklet, booklet_values(clients)))
    ours, plain = in_turn(
        [partial(_each, render_booklet, pages), partial(_each, draw_plainly, pages)], rounds
    )
    count = sum(len(booklet.pages) for booklet in pages)
    yield Row(
        "page",
        "one page, tags and all, against a plain canvas without tags",
        ours / plain,
        0.3,
        detail=f"{count / ours:.0f} pages a second of processor",
    )


def _each(draw: object, pages: list[Pages]) -> float:
    if not callable(draw):
        raise TypeError
    return seconds(lambda: [draw(booklet) for booklet in pages])


def office_rows(rounds: int) -> Iterator[Row]:
    """Compare a booklet with LibreOffice printing an equal sheet, a file a call and ten a call."""
    program = office()
    if program is None:
        return
    booklets = booklet_values(OFFICE_CALLS)
    sheet = equal_sheet(lay_out_booklet(booklets[0]))
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        files = [folder / f"sheet-{number}.xlsx" for number in range(OFFICE_CALLS)]
        for file in files:
            file.write_bytes(sheet)
        print_to_pdf(program, files[:1], folder)  # makes the profile, which is not counted
        ours, single, ten = in_turn(
            [
                partial(seconds, lambda: [render_booklet(lay_out_booklet(b)) for b in booklets], perf_counter),
                partial(seconds, partial(print_to_pdf, program, files[:1], folder), perf_counter),
                partial(seconds, partial(print_to_pdf, program, files, folder), perf_counter),
            ],
            rounds,
        )
    what = "one booklet against LibreOffice printing an equal sheet, times faster"
    each = ours / len(booklets)
    yield Row("office", f"{what}, a file a call", single / each, 80, at_least=True)
    yield Row("office", f"{what}, {OFFICE_CALLS} a call", ten / OFFICE_CALLS / each, 40, at_least=True)


def print_run_rows(clients: int, rounds: int) -> Iterator[Row]:
    """Compare the print run with the booklets it is made of: time, size, fonts."""
    pages = list(map(lay_out_booklet, booklet_values(clients)))
    files = list(map(render_booklet, pages))
    run = [RunBooklet(f"Client {number}", file) for number, file in enumerate(files)]
    made: list[bytes] = []
    ours, each = in_turn(
        [
            partial(seconds, lambda: made.append(_together(run))),
            partial(_each, render_booklet, pages),
        ],
        rounds,
    )
    size = len(made[0]) / sum(map(len, files))
    with pikepdf.open(BytesIO(made[0])) as pdf:
        fonts = sum(isinstance(item, pikepdf.Dictionary) and "/FontFile2" in item for item in pdf.objects)
    yield Row("print-run", f"print run of {clients} against its booklets: time", ours / each, 1.5)
    yield Row("print-run", "the same: size", size, 0.4, detail=f"{len(made[0]) / 2**20:.1f} MB")
    yield Row("print-run", "the same: fonts embedded, for each weight of the typeface", fonts / WEIGHTS, 1)


def _together(booklets: list[RunBooklet]) -> bytes:
    run = PrintRun("Print run")
    for booklet in booklets:
        run.add(booklet)
    return run.finish()


def memory_rows(many: int) -> Iterator[Row]:
    """Compare the memory held after many booklets with that after a tenth of them, in one process."""
    values = booklet_values(min(many, 50))
    early = 0.0
    for number in range(1, many + 1):
        render_booklet(lay_out_booklet(values[number % len(values)]))
        if number == many // 10:
            early = resident()
    late = resident()
    what = f"memory at booklet {many} against booklet {many // 10}"
    yield Row("memory", what, late / early, 1.05, detail=f"{late:.0f} MB")
