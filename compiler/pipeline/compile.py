"""The whole way, in order: cells, checks, plans, booklets, summary, files. The program is read here."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path

from compiler.documents.booklet import build_booklet
from compiler.documents.held import Held
from compiler.documents.log_entry import build_log_entry
from compiler.documents.room_sheet import build_room_sheets
from compiler.documents.summary import summarise
from compiler.file_names import unique_stems
from compiler.files import Written, check_writable, write_set
from compiler.files_printed import read_printed
from compiler.flags.catalogue import flag
from compiler.flags.model import Flag, Remark, sort_flags
from compiler.flags.tabular import flags_as_json
from compiler.layout.booklet import lay_out_booklet
from compiler.layout.room_sheet import lay_out_room_sheets
from compiler.model.book import Book
from compiler.pipeline.check import Checked, check_bytes
from compiler.pipeline.desk import EVERYBODY, Desk, RunChoice
from compiler.pipeline.long_sessions import LongSessions
from compiler.pipeline.stops import errors
from compiler.render.booklet import render_booklet
from compiler.render.checked_copy import render_checked_copy
from compiler.render.log_entry import render_log_entry
from compiler.render.sheets import render_sheets
from compiler.resolve.values import ClientPlan
from compiler.schema.sheets import SHEET_ORDER
from compiler.source.xlsx import read_file

Progress = Callable[[int, int], None]
"""Told after each booklet: how many are made, of how many."""


def _silent(_done: int, _all: int) -> None:
    """Tell nobody."""


@dataclass(frozen=True, slots=True)
class Compiled:
    """What one run made of a workbook: what is known of it, who is held and why, and what was written where.

    `in_run` is how many booklets are in the print run.
    """

    checked: Checked
    held: tuple[Held, ...]
    folder: Path
    written: Written
    in_run: int = 0


def compile_workbook(
    workbook: Path, folder: Path, progress: Progress = _silent, choice: RunChoice = EVERYBODY
) -> Compiled:
    """Compile a workbook into a folder.

    Raises `UnreadableWorkbook` where the file cannot be read, `NotInWorkbook` where it has not who was chosen for the
    print run, `CannotWrite` where the folder cannot be written; the folder then holds what it held before.
    """
    check_writable(folder)
    printed = read_printed(folder)
    data = read_file(workbook)
    checked = check_bytes(data, workbook.name)
    stems, collisions = unique_stems(plan.name for plan in checked.plans)
    checked = _with_flags(checked, _collisions(collisions))
    held = held_clients(checked)
    long = LongSessions()
    desk = Desk(checked.book, choice, printed) if checked.book else None
    files = _booklets(checked.book, checked.plans, stems, long, desk, progress) if checked.book and desk else {}
    checked = _with_flags(checked, long.flags())
    if checked.book is not None and desk is not None:
        files |= desk.files()
        files |= _room_sheets(checked.book, checked.plans, held)
        files["coach/summary.xlsx"] = render_sheets(
            summarise(checked.book, checked.plans, checked.flags, held)
        )
        files["coach/log-entry.xlsx"] = render_log_entry(build_log_entry(checked.book, checked.plans))
    files["coach/checked-copy.xlsx"] = render_checked_copy(data, checked.flags)
    files["coach/flags.json"] = flags_as_json(checked.flags, checked.name).encode()
    return Compiled(checked, held, folder, write_set(folder, files), desk.count if desk else 0)


def held_clients(checked: Checked) -> tuple[Held, ...]:
    """Return the clients who get no booklet, in the order of the sheet, with the errors that stop them."""
    if checked.book is None:
        return ()
    planned = {plan.name for plan in checked.plans}
    names = [client.name.known for client in checked.book.clients if client.print.known != "none"]
    stopping = {
        name: tuple(found for found in errors(checked.flags) if name in found.touches)
        for name in names
        if name
    }
    return tuple(Held(name, why) for name, why in stopping.items() if name not in planned)


def _booklets(
    book: Book,
    plans: tuple[ClientPlan, ...],
    stems: dict[str, str],
    long: LongSessions,
    desk: Desk,
    progress: Progress,
) -> dict[str, bytes]:
    made: dict[str, bytes] = {}
    for number, plan in enumerate(plans, start=1):
        booklet = build_booklet(book, plan, desk.look(plan))
        pages = lay_out_booklet(booklet)
        long.add(plan, booklet, pages)
        name = f"booklets/{stems[plan.name]}.pdf"
        made[name] = render_booklet(pages)
        desk.add(plan, booklet, pages, name, made[name])
        progress(number, len(plans))
    return made


def _room_sheets(book: Book, plans: tuple[ClientPlan, ...], held: tuple[Held, ...]) -> dict[str, bytes]:
    rooms = build_room_sheets(book, plans, held)
    return {"coach/room-sheets.pdf": render_booklet(lay_out_room_sheets(rooms))} if rooms.sheets else {}


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
