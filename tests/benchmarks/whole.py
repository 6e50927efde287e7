"""Benchmarks of whole runs: compile, compile again, start-up, and ten times as many clients."""

from __future__ import annotations

import gc
import shutil
import tempfile
from collections.abc import Iterator
from functools import partial
from pathlib import Path
from statistics import median
from time import perf_counter

from compiler.demo.workbooks import demo_workbook
from compiler.documents.booklet_value import Booklet
from compiler.layout.booklet import lay_out_booklet
from compiler.pipeline.booklets import draw_booklet
from compiler.pipeline.workers import Workers, in_order
from compiler.render.template import render_template
from tests.benchmarks.drawing import booklet_values
from tests.benchmarks.measures import Row, Spent, in_turn, run, seconds
from tests.benchmarks.plain_canvas import draw_plainly
from tests.benchmarks.workbooks import SESSIONS, WEEKS, block_source, block_workbook, with_one_test_changed

_FINDINGS = (0, 1)
"""Codes of a run that made what could be made."""


def compile_rows(clients: int, rounds: int) -> Iterator[Row]:
    """Compare the whole compile with only drawing its booklets on a plain canvas: on the clock, and by one process."""
    pages = list(map(lay_out_booklet, booklet_values(clients)))
    with tempfile.TemporaryDirectory() as name:
        book = _written(Path(name) / "block.xlsx", block_workbook(clients))
        drawn = partial(seconds, lambda: [draw_plainly(booklet) for booklet in pages])
        whole, wall, plain, plain_wall = in_turn(
            [
                lambda: _compiled(book, Path(tempfile.mkdtemp(dir=name))).cpu,
                lambda: _compiled(book, Path(tempfile.mkdtemp(dir=name)), jobs=None).wall,
                drawn,
                partial(drawn, perf_counter),
            ],
            rounds,
        )
    what = f"{clients} clients x 12 sessions, whole compile, against only drawing the booklets on a plain canvas"
    yield Row("compile", f"{what}: on the clock, all cores", wall / plain_wall, 0.9, detail=f"{wall:.1f} s")
    yield Row("compile", "the same: processor time of one process", whole / plain, 0.9, detail=f"{whole:.1f} s")


def worker_rows(clients: int, rounds: int) -> Iterator[Row]:
    """Compare the drawing stage by two workers with one process.

    A compile starts its workers before it checks, so that they have loaded the program when the drawing begins.
    """
    booklets = booklet_values(clients)
    two, cold, one = in_turn(
        [
            partial(_drawn, booklets, 2, awake=True),
            partial(_drawn, booklets, 2, awake=False),
            partial(_drawn, booklets, 1, awake=True),
        ],
        rounds,
    )
    what = f"drawing {clients} booklets, 2 workers that have started against 1"
    yield Row("workers", what, two / one, 0.7, detail=f"{one:.1f} s by one")
    yield Row("workers", "the same, the start of the workers included", cold / one, None)


def _drawn(booklets: list[Booklet], jobs: int, *, awake: bool) -> float:
    """Return the seconds on the clock that the drawing takes."""
    gc.collect()
    with Workers(jobs) as workers:
        if awake:
            workers.wake()
            for drawn in [workers.later(draw_booklet, booklets[0]) for _ in range(jobs)]:
                drawn()
        begin = perf_counter()
        workers.wake()
        for _ in in_order(draw_booklet, booklets, workers):
            pass
        return perf_counter() - begin


def again_rows(clients: int, rounds: int) -> Iterator[Row]:
    """Compare the same compile again, unchanged and with one test changed, with the first.

    On the clock, as a coach runs it, and by the processor time of one process.
    """
    source = block_source(clients)
    taken: list[tuple[float, ...]] = []
    drawn = 0
    with tempfile.TemporaryDirectory() as name:
        first = _written(Path(name) / "block.xlsx", render_template(WEEKS, SESSIONS, fill=source))
        content, other = first.read_bytes(), render_template(WEEKS, SESSIONS, fill=with_one_test_changed(source))
        for _ in range(rounds):
            spent: list[Spent] = []
            for jobs in (None, 1):
                out = Path(tempfile.mkdtemp(dir=name))
                _written(first, content)
                spent += [_compiled(first, out, jobs), _compiled(first, out, jobs)]
                before = _booklets(out)
                _written(first, other)
                spent.append(_compiled(first, out, jobs))
                drawn = sum(before[file] != at for file, at in _booklets(out).items())
                shutil.rmtree(out)
            taken.append((*(run.wall for run in spent[:3]), *(run.cpu for run in spent[3:])))
    wall, again_wall, changed_wall, cpu, again, changed = (median(times) for times in zip(*taken, strict=True))
    what, one = f"{clients} clients again", "by processor time of one process"
    yield Row("again", f"{what} with nothing changed, against the first: on the clock", again_wall / wall, 0.2)
    yield Row("again", f"the same: {one}", again / cpu, 0.2)
    what += " with one client's test changed"
    yield Row("changed", f"{what}: on the clock", changed_wall / wall, 0.5, detail=f"{changed_wall:.1f} s")
    yield Row("changed", f"the same: {one}", changed / cpu, 0.5, detail=f"{changed:.1f} s")
    yield Row("changed", "booklets written anew then", drawn, 1)


def start_rows(rounds: int) -> Iterator[Row]:
    """Compare `check` with only loading the workbook, and `--help` with only importing the command-line library."""
    with tempfile.TemporaryDirectory() as name:
        book = _written(Path(name) / "block.xlsx", demo_workbook())
        load = f"import openpyxl; openpyxl.load_workbook({str(book)!r})"
        ours, bare = in_turn(
            [lambda: run("-m", "compiler", "check", book, expected=_FINDINGS).cpu, lambda: run("-c", load).cpu], rounds
        )
        detail = f"{ours:.2f} s against {bare:.2f}"
        what = "`check` of the example against only loading it with openpyxl"
        yield Row("check", what, ours / bare, 1.6, detail=detail)
        ours, bare = in_turn(
            [lambda: run("-m", "compiler", "--help").cpu, lambda: run("-c", "import click").cpu], 3 * rounds
        )
        yield Row("help", "`--help` against `python -c 'import click'`", ours / bare, 1.3)


def many_rows(few: int, rounds: int) -> Iterator[Row]:
    """Compare ten times as many clients, compiled as a coach does: processor time, and the peak of any one process."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        small = _written(folder / "small.xlsx", block_workbook(few))
        large = _written(folder / "large.xlsx", block_workbook(10 * few))
        short = [_compiled(small, folder / f"small-{number}", jobs=None) for number in range(rounds)]
        long = _compiled(large, folder / "large", jobs=None)
    what = f"{10 * few} clients against {few}"
    time = long.cpu / median(spent.cpu for spent in short)
    peak = long.peak / median(spent.peak for spent in short)
    yield Row("many", f"{what}: time", time, 11, detail=f"{long.cpu:.0f} s of processor")
    yield Row("many", f"{what}: peak memory of any one process", peak, 4, detail=f"{long.peak:.0f} MB")


def _compiled(book: Path, out: Path, jobs: int | None = 1) -> Spent:
    how = () if jobs is None else ("--jobs", str(jobs))
    return run("-m", "compiler", "compile", book, "-o", out, *how, expected=_FINDINGS)


def _written(file: Path, content: bytes) -> Path:
    file.write_bytes(content)
    return file


def _booklets(out: Path) -> dict[str, int]:
    return {file.name: file.stat().st_mtime_ns for file in (out / "booklets").iterdir()}
