"""The program as functions: paths in, values out."""

from __future__ import annotations

from collections.abc import Sequence
from os import PathLike
from pathlib import Path

from compiler.fallback import using
from compiler.fallback_files import read_fallbacks
from compiler.pipeline.check import Checked, check_workbook
from compiler.pipeline.compile import Compiled, compile_workbook
from compiler.pipeline.desk import EVERYBODY, RunChoice
from compiler.pipeline.next import NextMade, make_next

Paths = Sequence[str | PathLike[str]]


def check(workbook: str | PathLike[str], *, fallback_fonts: Paths = ()) -> Checked:
    """Read and check a block workbook; return its flags and plans.

    `fallback_fonts` are TrueType files for letters that the booklet's own fonts have not got, asked in turn. Raises
    `compiler.fallback_files.FontRefused` for a file that cannot serve,
    `compiler.source.unreadable.UnreadableWorkbook` where the file cannot be read as a workbook.
    """
    with using(read_fallbacks(map(Path, fallback_fonts))):
        return check_workbook(Path(workbook))


def compile_block(
    workbook: str | PathLike[str],
    out: str | PathLike[str],
    choice: RunChoice = EVERYBODY,
    *,
    jobs: int = 1,
    password: str = "",
    fallback_fonts: Paths = (),
) -> Compiled:
    """Compile a block workbook into the folder `out`; return what was made, who is held and why.

    Booklets are drawn by `jobs` processes. More than one are started afresh and load the caller's main module again, so
    it must not call this when it is merely imported.

    With a password every PDF is encrypted and opens by it alone; it has at most
    `compiler.render.sealing.MOST_BYTES` bytes in UTF-8. The workbooks for the coach are not encrypted.

    `choice` says whose booklets go into the print run, and how they look. `fallback_fonts` as for `check`. Raises
    `UnreadableWorkbook` and `FontRefused` as `check` does,
    `compiler.pipeline.desk.NotInWorkbook` for a choice that the workbook does not have, and
    `compiler.files.CannotWrite` where the folder cannot be written.
    """
    with using(read_fallbacks(map(Path, fallback_fonts))):
        return compile_workbook(Path(workbook), Path(out), choice=choice, jobs=jobs, password=password)


def next_block(workbook: str | PathLike[str], logs: Paths = (), *, fallback_fonts: Paths = ()) -> NextMade:
    """Return next month's workbook as bytes, with what is new in it and every flag; nothing is written.

    `logs` are log entry workbooks; the Log sheet is read in any case. `fallback_fonts`, and what is raised, as for
    `check`.
    """
    with using(read_fallbacks(map(Path, fallback_fonts))):
        return make_next(Path(workbook), [Path(log) for log in logs])
