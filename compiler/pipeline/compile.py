"""The whole way, in order: cells, checks, plans, booklets, summary, files. The program is read here."""

from __future__ import annotations

import gc
import os
from collections.abc import Callable, Collection, Iterable, Iterator
from dataclasses import replace
from functools import partial
from pathlib import Path

from compiler.documents.booklet import build_booklet, setting_of
from compiler.documents.held import Held
from compiler.documents.log_entry import LogEntry, build_log_entry
from compiler.documents.neutral import Sheet
from compiler.documents.summary import OtherSheets, in_order, other_sheets, plan_sheets
from compiler.file_names import unique_stems
from compiler.files import Written, check_writable, finish_interrupted, read_manifest, write_set
from compiler.files_printed import read_printed, read_run
from compiler.files_waiting import WaitingFiles
from compiler.flags.catalogue import flag
from compiler.flags.model import Flag, Remark, sort_flags
from compiler.flags.tabular import flags_as_json, flags_from_json
from compiler.frozen import frozen
from compiler.model.book import Book
from compiler.pipeline.booklets import Wanted, draw_changed
from compiler.pipeline.check import Checked, check_bound, read_book
from compiler.pipeline.desk import EVERYBODY, Desk, RunChoice
from compiler.pipeline.inputs import Inputs, inputs_of
from compiler.pipeline.kept import Drawn, key_of, password_key, read_kept, run_key
from compiler.pipeline.long_sessions import LongSessions
from compiler.pipeline.rooms import ROOMS, begin_rooms
from compiler.pipeline.stops import errors, stopped_by
from compiler.pipeline.workers import Content, Workers
from compiler.render.checked_copy import render_checked_copy
from compiler.render.log_entry import render_log_entry
from compiler.render.sealing import seal
from compiler.render.sheets import render_sheets
from compiler.schema.sheets import SHEET_ORDER
from compiler.source.xlsx import read_file

Progress = Callable[[str, int, int | None], None]
"""Told what is being done, how much of it is done, of how much (None: not known)."""

BOOKLETS = "booklets/"
FLAGS = "coach/flags.json"

WORTH_WORKERS = 50
"""From so many booklets on several processes are quicker than one: they take half a second to start."""

MANY = 500
"""From so many clients on memory is worth a search that takes as long as a few dozen booklets."""


def silent(_doing: str, _done: int, _of: int | None) -> None:
    """Tell nobody."""


@frozen
class Compiled:
    """What one run made of a workbook: the book (None where a sheet is missing), every flag, what was written where.

    `clients` have a booklet, in the order of the sheet; `held` have none, and why. `in_run` is how many booklets are in
    the print run. `changed` are the clients whose booklet is not that of the run before; None where there was none.
    """

    book: Book | None
    flags: tuple[Flag, ...]
    clients: tuple[str, ...]
    held: tuple[Held, ...]
    folder: Path
    written: Written
    in_run: int = 0
    changed: tuple[str, ...] | None = None


def compile_workbook(
    workbook: Path,
    folder: Path,
    progress: Progress = silent,
    choice: RunChoice = EVERYBODY,
    jobs: int | None = 1,
    password: str = "",
    data: bytes | None = None,
) -> Compiled:
    """Compile a workbook into a folder, by so many processes; None: as many as pay. A password locks every PDF.

    `data` is what the file holds, where it has been read already; else it is read here.

    Raises `UnreadableWorkbook` where the file cannot be read, `NotInWorkbook` where it has not who was chosen for the
    print run, `CannotWrite` where the folder cannot be written; the folder then holds what it held before.
    """
    check_writable(folder)
    finish_interrupted(folder)
    printed = read_printed(folder)
    data = read_file(workbook) if data is None else data
    progress("Checking", 0, None)
    bound = read_book(data, workbook.name)
    kept, run = read_kept(folder), run_key(data, workbook.name, choice, printed, password_key(password))
    if kept.as_left(run):
        return _as_left(folder, bound.book)
    with WaitingFiles() as files, Workers(jobs or _jobs_that_pay(bound.book), _loaded) as workers:
        if not kept.last:  # else most booklets may stand as they are
            workers.wake()
        checked = check_bound(bound, workbook.name)
        clients = checked.clients
        stems, collisions = unique_stems(clients)
        checked = _with_flags(checked, _collisions(collisions))
        held = held_clients(checked.book, checked.flags, clients)
        desk = Desk(checked.book, choice, printed, password) if checked.book else None
        inputs = inputs_of(checked.book, checked.bad_rows) if checked.book else None
        made = draw_changed(_wanted_booklets(checked, stems, desk, inputs, password), kept, workers, password)
        long = LongSessions()
        drawing = _booklets(files, checked, made, desk, long, progress)
        next(drawing, None)  # from here on the workers have their hands full
        begun = {"coach/log-entry.xlsx": workers.begin(_draw_log_entry, partial(_log_entry, checked))}
        if checked.book is not None and inputs is not None:
            begun[ROOMS] = begin_rooms(checked.book, checked.plans, held, inputs, kept, workers, password)
        of_plans = workers.meanwhile(partial(_plan_sheets, checked))
        for _ in drawing:
            pass
        checked = _with_flags(checked, long.flags())
        progress("Writing", 0, None)
        if checked.book is not None and desk is not None:
            summary = {"coach/summary.xlsx": workers.begin(_draw_summary, partial(_summary, checked, held, of_plans))}
            # Nothing more is made of the plans, and they are most of what is held; the worker has their sheets.
            checked = replace(checked, plans=(), demand=None, volumes={})
            del of_plans
            if len(clients) > MANY:
                gc.collect()  # not for cycles: it lets go of Python's spare tuples, too, which lie all over the memory
            _take(files, begun)
            desk.write(files, kept)
            _take(files, summary)
        _lock(files, password)
        files["coach/checked-copy.xlsx"] = render_checked_copy(data, checked.flags)
        files[FLAGS] = flags_as_json(checked.flags, checked.name).encode()
        before = read_manifest(folder)
        written = write_set(folder, files)
    kept.save(run, written.places)
    changed = tuple(name for name in clients if _file(stems, name) in written.written)
    in_run = desk.count if desk else 0
    return Compiled(
        checked.book, checked.flags, clients, held, folder, written, in_run, changed if before else None
    )


def held_clients(book: Book | None, flags: Iterable[Flag], clients: Collection[str]) -> tuple[Held, ...]:
    """Return those who get no booklet, in the order of the sheet, with the errors that stop them; `clients` get one."""
    flags = tuple(errors(flags))
    return tuple(
        Held(name, tuple(found for found in flags if name in found.touches))
        for name in _wanted(book)
        if name not in clients
    )


def _wanted(book: Book | None) -> tuple[str, ...]:
    """Return the names of those who are to get a booklet, each once."""
    names = (client.name.known for client in book.clients if client.has_booklet) if book else ()
    return tuple(dict.fromkeys(name for name in names if name))


def _as_left(folder: Path, book: Book | None) -> Compiled:
    """Return what is told of a folder that stands as this very run would make it: nothing is worked out again."""
    flags = flags_from_json((folder / FLAGS).read_text(encoding="utf-8"))
    held = stopped_by(flags)
    clients = tuple(name for name in _wanted(book) if name not in held)
    names = tuple(read_manifest(folder))
    written = Written(folder, {name: name for name in names}, (), names, (), (), ())
    return Compiled(
        book, flags, clients, held_clients(book, flags, clients), folder, written, len(read_run(folder)), ()
    )


def _lock(files: WaitingFiles, password: str) -> None:
    """Lock every PDF by the password, where there is one; booklets are locked as they are drawn."""
    for name in [*files] if password else ():
        if name.endswith(".pdf") and not name.startswith(BOOKLETS):
            files[name] = seal(files[name], password)


def _wanted_booklets(
    checked: Checked, stems: dict[str, str], desk: Desk | None, inputs: Inputs | None, password: str
) -> Iterator[Wanted]:
    """Yield the booklets of all plans, none of them built yet."""
    if checked.book is None or desk is None or inputs is None:
        return
    lock = password_key(password)
    for plan in checked.plans:
        look = desk.look(plan)
        build = partial(build_booklet, checked.book, plan, look)
        yield Wanted(_file(stems, plan.name), key_of((inputs.of(plan.name), look), lock), build)


def _booklets(
    files: WaitingFiles,
    checked: Checked,
    made: Iterator[tuple[str, Drawn]],
    desk: Desk | None,
    long: LongSessions,
    progress: Progress,
) -> Iterator[None]:
    """Take the files of the booklets, one at each step, and give them to the desk; note what takes too many pages."""
    if checked.book is None or desk is None:
        return
    for count, (plan, (name, drawn)) in enumerate(zip(checked.plans, made, strict=True), start=1):
        setting = setting_of(checked.book, plan, desk.look(plan))
        files[name] = drawn.content
        long.add(plan, setting.format, drawn.long)
        desk.add(plan, setting, name, drawn.content)
        progress("Booklets", count, len(checked.plans))
        yield


def _loaded() -> None:
    """Do nothing: a worker that is asked for it has loaded this module, and all that draws."""


def _jobs_that_pay(book: Book | None) -> int:
    return os.cpu_count() or 1 if len(_wanted(book)) > WORTH_WORKERS else 1


def _file(stems: dict[str, str], client: str) -> str:
    return f"{BOOKLETS}{stems[client]}.pdf"


def _plan_sheets(checked: Checked) -> Iterable[Sheet]:
    return plan_sheets(checked.book, checked.plans, checked.demand, checked.volumes) if checked.book else ()


def _summary(
    checked: Checked, held: tuple[Held, ...], of_plans: Callable[[], Iterable[Sheet]]
) -> tuple[OtherSheets, Callable[[], Iterable[Sheet]]] | None:
    """Return the sheets of the summary but for those of the plans, and what is asked for those."""
    if checked.book is None:
        return None
    return other_sheets(checked.book, checked.plans, checked.flags, held), of_plans


def _draw_summary(made: tuple[OtherSheets, Callable[[], Iterable[Sheet]]] | None) -> Content:
    if made is None:
        return Content(b"")
    others, of_plans = made
    return Content(render_sheets(in_order(others, of_plans())))


def _log_entry(checked: Checked) -> LogEntry | None:
    return build_log_entry(checked.book, checked.plans) if checked.book and checked.plans else None


def _draw_log_entry(entry: LogEntry | None) -> Content:
    return Content(render_log_entry(entry) if entry else b"")


def _take(files: WaitingFiles, begun: dict[str, Callable[[], Content]]) -> None:
    """Put down what was begun, and keep none of it; without plans there are no room sheets and no log entry."""
    for name in [*begun]:
        content = begun.pop(name)()
        if content:
            with files.writing(name) as out:
                out.writelines(content)


def _collisions(collisions: tuple[tuple[str, ...], ...]) -> tuple[Flag, ...]:
    remarks = (
        Remark(
            "file-names-collide",
            f"The booklets of {' and '.join(names)} would have one file name; they were numbered.",
        )
        for names in collisions
    )
    return tuple(map(flag, remarks))


def _with_flags(checked: Checked, more: tuple[Flag, ...]) -> Checked:
    if not more:
        return checked
    return replace(checked, flags=sort_flags((*checked.flags, *more), SHEET_ORDER))
