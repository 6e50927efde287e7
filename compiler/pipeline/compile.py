"""The whole way, in order: cells, checks, plans, booklets, summary, files. The program is read here."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path

from compiler.documents.booklet import build_booklet
from compiler.documents.booklet_value import Booklet
from compiler.documents.held import Held
from compiler.documents.log_entry import build_log_entry
from compiler.documents.neutral import Sheet
from compiler.documents.room_sheet import build_room_sheets
from compiler.documents.room_sheet_value import RoomSheets
from compiler.documents.summary import PlanSheets, plan_sheets, summarise
from compiler.file_names import unique_stems
from compiler.files import Written, check_writable, finish_interrupted, read_manifest, write_set
from compiler.files_printed import read_printed, read_run
from compiler.files_waiting import WaitingFiles
from compiler.flags.catalogue import flag
from compiler.flags.model import Flag, Remark, sort_flags
from compiler.flags.tabular import flags_as_json
from compiler.layout.room_sheet import lay_out_room_sheets
from compiler.pipeline.booklets import draw_changed
from compiler.pipeline.check import Checked, check_bytes
from compiler.pipeline.desk import EVERYBODY, Desk, RunChoice
from compiler.pipeline.kept import Drawn, Long, password_key, read_kept, run_key
from compiler.pipeline.long_sessions import LongSessions
from compiler.pipeline.stops import errors
from compiler.pipeline.workers import Workers
from compiler.render.booklet import render_booklet
from compiler.render.checked_copy import render_checked_copy
from compiler.render.log_entry import render_log_entry
from compiler.render.sealing import seal
from compiler.render.sheets import render_sheets
from compiler.resolve.values import ClientPlan
from compiler.schema.sheets import SHEET_ORDER
from compiler.source.xlsx import read_file

Progress = Callable[[str, int, int | None], None]
"""Told what is being done, how much of it is done, of how much (None: not known)."""

BOOKLETS = "booklets/"

WORTH_WORKERS = 50
"""From so many booklets on several processes are quicker than one: they take half a second to start."""


def silent(_doing: str, _done: int, _of: int | None) -> None:
    """Tell nobody."""


@dataclass(frozen=True, slots=True)
class Compiled:
    """What one run made of a workbook: what is known of it, who is held and why, and what was written where.

    `in_run` is how many booklets are in the print run. `changed` are the clients whose booklet is not that of the run
    before; None where there was none.
    """

    checked: Checked
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
    checked = check_bytes(data, workbook.name)
    stems, collisions = unique_stems(plan.name for plan in checked.plans)
    checked = _with_flags(checked, _collisions(collisions))
    held = held_clients(checked)
    kept, run = read_kept(folder), run_key(data, workbook.name, choice, printed, password_key(password))
    if (known := kept.as_left(run)) is not None:
        checked = _with_flags(checked, _long_sessions(checked, known))
        return Compiled(checked, held, folder, _unchanged(folder), len(read_run(folder)), ())
    desk = Desk(checked.book, choice, printed, password) if checked.book else None
    with WaitingFiles() as files, Workers(jobs or _jobs_that_pay(checked)) as workers:
        for_the_floor = _for_the_floor(checked, held, workers)
        of_plans = workers.meanwhile(partial(_plan_sheets, checked))
        draw = partial(draw_changed, kept=kept, workers=workers, password=password)
        long = _booklets(files, checked, stems, draw, desk, progress)
        checked = _with_flags(checked, _long_sessions(checked, long))
        progress("Writing", 0, None)
        if checked.book is not None and desk is not None:
            summary_file = workers.begin(render_sheets, partial(_summary, checked, held, of_plans))
            files.update(desk.files())
            files["coach/summary.xlsx"] = summary_file()
        files.update({name: content for name, made in for_the_floor.items() if (content := made())})
        _lock(files, password)
        files["coach/checked-copy.xlsx"] = render_checked_copy(data, checked.flags)
        files["coach/flags.json"] = flags_as_json(checked.flags, checked.name).encode()
        before = read_manifest(folder)
        written = write_set(folder, files)
    kept.save(run, long)
    changed = tuple(plan.name for plan in checked.plans if _file(stems, plan) in written.written)
    return Compiled(checked, held, folder, written, desk.count if desk else 0, changed if before else None)


def held_clients(checked: Checked) -> tuple[Held, ...]:
    """Return the clients who get no booklet, in the order of the sheet, with the errors that stop them."""
    if checked.book is None:
        return ()
    planned = {plan.name for plan in checked.plans}
    names = [client.name.known for client in checked.book.clients if client.has_booklet]
    stopping = {
        name: tuple(found for found in errors(checked.flags) if name in found.touches)
        for name in names
        if name
    }
    return tuple(Held(name, why) for name, why in stopping.items() if name not in planned)


def _lock(files: WaitingFiles, password: str) -> None:
    """Lock every PDF by the password, where there is one; booklets are locked as they are drawn."""
    for name in [*files] if password else ():
        if name.endswith(".pdf") and not name.startswith(BOOKLETS):
            files[name] = seal(files[name], password)


def _booklets(
    files: WaitingFiles,
    checked: Checked,
    stems: dict[str, str],
    draw: Callable[[Iterable[tuple[str, Booklet]]], Iterator[tuple[str, Booklet, Drawn]]],
    desk: Desk | None,
    progress: Progress,
) -> tuple[Long, ...]:
    """Make the files of the booklets and give them to the desk; return the sessions that take more pages than meant."""
    long: list[Long] = []
    if checked.book is None or desk is None:
        return ()
    book = checked.book
    values = ((_file(stems, plan), build_booklet(book, plan, desk.look(plan))) for plan in checked.plans)
    for plan, (name, booklet, drawn) in zip(checked.plans, draw(values), strict=True):
        files[name] = drawn.content
        long.append(drawn.long)
        desk.add(plan, booklet, name, drawn.content)
        progress("Booklets", len(long), len(checked.plans))
    return tuple(long)


def _jobs_that_pay(checked: Checked) -> int:
    return os.cpu_count() or 1 if len(checked.plans) > WORTH_WORKERS else 1


def _file(stems: dict[str, str], plan: ClientPlan) -> str:
    return f"{BOOKLETS}{stems[plan.name]}.pdf"


def _long_sessions(checked: Checked, long: tuple[Long, ...]) -> tuple[Flag, ...]:
    """Return the flags of long sessions; `long` stands in the order of the plans."""
    found = LongSessions()
    for plan, sessions in zip(checked.plans, long, strict=True):
        if sessions and checked.book is not None:
            found.add(plan, build_booklet(checked.book, plan), sessions)
    return found.flags()


def _unchanged(folder: Path) -> Written:
    """Return what is told of a folder that stands as it should."""
    names = tuple(read_manifest(folder))
    return Written(folder, {name: name for name in names}, (), names, (), (), ())


def _for_the_floor(
    checked: Checked, held: tuple[Held, ...], workers: Workers
) -> dict[str, Callable[[], bytes]]:
    """Return what makes the room sheets and the log entry; workers begin with them, as they are the longest."""
    made: dict[str, Callable[[], bytes]] = {}
    if checked.book is None or not checked.plans:
        return made
    rooms = partial(build_room_sheets, checked.book, checked.plans, held)
    made["coach/room-sheets.pdf"] = workers.begin(_draw_rooms, rooms)
    log_entry = partial(build_log_entry, checked.book, checked.plans)
    made["coach/log-entry.xlsx"] = workers.begin(render_log_entry, log_entry)
    return made


def _plan_sheets(checked: Checked) -> PlanSheets | None:
    return plan_sheets(checked.book, checked.plans, checked.demand) if checked.book else None


def _summary(
    checked: Checked, held: tuple[Held, ...], of_plans: Callable[[], PlanSheets | None]
) -> tuple[Sheet, ...]:
    """Return the sheets of the summary, those of the plans asked for at last."""
    made = of_plans()
    return summarise(checked.book, checked.plans, checked.flags, held, made) if checked.book else ()


def _draw_rooms(rooms: RoomSheets) -> bytes:
    """Return the room sheets as a file; nothing where there are none."""
    return render_booklet(lay_out_room_sheets(rooms)) if rooms.sheets else b""


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
