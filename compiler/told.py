"""What the commands say when they are done: values in, lines for people out."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from compiler.counting import counted, first_of

if TYPE_CHECKING:
    from collections.abc import Iterable

    from compiler.documents.held import Held
    from compiler.files import Beside
    from compiler.pipeline.compile import Compiled
    from compiler.progress.values import NextMonth
    from compiler.render.template_kept import Kept

FOR_THE_COACH = (
    ("coach/room-sheets.pdf", "Room sheets"),
    ("coach/summary.xlsx", "Summary"),
    ("coach/checked-copy.xlsx", "Checked copy"),
    ("coach/log-entry.xlsx", "Log entry workbook"),
    ("coach/flags.json", "Flags"),
)
"""The files for the coach, in the order in which they are told, and what they are."""

NAMED = 8
"""Up to this many clients are named in one line; the rest are counted."""


def told(compiled: Compiled) -> str:
    """Return what was made and where, and who is held."""
    count = len(compiled.clients)
    lines = [f"{counted(count, 'booklet')} in {compiled.folder / 'booklets'}"]
    if compiled.changed is not None:
        lines.append(told_of_changes(compiled.changed))
    if compiled.book is not None:
        lines.append(told_of_run(compiled))
    places = compiled.written.places
    lines += [f"{what} in {compiled.folder / places[name]}" for name, what in FOR_THE_COACH if name in places]
    lines += told_of_held(compiled.held)
    lines += [told_of_beside(beside) for beside in compiled.written.beside]
    return "\n".join(lines)


def told_of_held(held: Iterable[Held]) -> list[str]:
    """Return who gets no booklet, and why: one line for all with the same reason."""
    alike: dict[str, list[str]] = {}
    for one in held:
        why = dict.fromkeys(f"{flag.slug} at {flag.place or flag.sheet_name or 'the workbook'}" for flag in one.flags)
        alike.setdefault(", ".join(why), []).append(one.client)
    return [f"No booklet for {first_of(names, NAMED)}: {why}" for why, names in alike.items()]


def told_of_beside(beside: Beside) -> str:
    """Return which file was kept, because the coach has changed it."""
    return f"{beside.kept} was edited and left as it is; the new one is {beside.new}"


def told_of_run(compiled: Compiled) -> str:
    """Return what the front desk prints."""
    if not compiled.in_run:
        return "No booklet for the print run: nothing that was asked for is new or can be made"
    files = [name for name in ("print-run.pdf", "print-run-imposed.pdf") if f"desk/{name}" in compiled.written.places]
    count = counted(compiled.in_run, "booklet")
    return f"Print run of {count} in {compiled.folder / 'desk'}: {' and '.join(files)}, run-list.pdf"


def told_of_changes(clients: tuple[str, ...]) -> str:
    """Return which booklets differ from those of the run before."""
    if not clients:
        return "No booklet changed"
    return f"{counted(len(clients), 'booklet')} changed: {first_of(clients, NAMED)}"


def told_of_next(month: NextMonth, out: Path) -> str:
    """Return what next month's workbook adds to this month's."""
    written = sum(proposal.written for proposal in month.proposals)
    listed = len(month.proposals) - written
    lines = [f"Wrote {out}" + (f", for a block that starts on {month.start.isoformat()}" if month.start else "")]
    lines.append(f"Proposals: {written} written as rows, {listed} only listed; its Progress sheet says why")
    alike: dict[str, list[str]] = {}
    for name, why in month.without:
        alike.setdefault(why, []).append(name)
    lines += [f"{first_of(names, NAMED)}: {why}" for why, names in alike.items()]
    return "\n".join(lines)


def told_of_new(kept: Kept, old: Path, workbook: Path) -> str:
    """Return what a new workbook took over from an old one, and what it did not."""
    sheets = ", ".join(f"{name} {count}" for name, count in kept.rows.items() if count)
    lines = [f"Wrote {workbook} with rows of {old}: {sheets or 'none'}."]
    if kept.changes_left:
        rows = "1 row" if kept.changes_left == 1 else f"{kept.changes_left} rows"
        lines.append(f"Left out {rows} of Changes that went with the old block. Look there for what should last.")
    lines.append("Left out: title, start date, closed dates, easier weeks, programme and log. Fill in the Programme.")
    return "\n".join(lines)
