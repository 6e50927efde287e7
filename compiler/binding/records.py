"""Fields -> records: the typed rows of every sheet, and the Book they make.

Assumes nothing of the file but that it opened. A sheet or column that is needed and missing leaves no Book.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from compiler.binding.headers import bind_headers, find_sheet
from compiler.binding.kits import bind_kits
from compiler.binding.log_rows import log_row
from compiler.binding.rows import BoundRow, bind_rows
from compiler.binding.settings import bind_block
from compiler.flags.catalogue import flag
from compiler.flags.model import Flag, Remark
from compiler.flags.nearest import nearest, slip_of
from compiler.folding import header_key
from compiler.frozen import frozen
from compiler.model.book import Book
from compiler.model.field import Field
from compiler.model.log import HistoryRow
from compiler.model.records import (
    Block,
    Change,
    Client,
    Exercise,
    KitRow,
    ProgrammeRow,
    Restriction,
    Site,
    Test,
    WeekCells,
)
from compiler.notation.values import Prescription
from compiler.notation.weeks import LAST_WEEK
from compiler.schema.column import SheetSpec
from compiler.schema.sheets import (
    BLOCK,
    CHANGES,
    CLIENTS,
    EXERCISES,
    FORMAT_VERSION,
    HISTORY,
    KIT,
    LOG_SHEET,
    NOT_READ,
    PROGRAMME,
    RESTRICTIONS,
    SHEETS,
    SITES,
    TESTS,
    VERSION_PROPERTY,
)
from compiler.source.cells import SourceBook
from compiler.source.collecting import no_collecting


@frozen
class Bound:
    """What binding made: the Book, or None where a sheet or column that is needed is missing."""

    book: Book | None
    flags: tuple[Flag, ...]


OURS = frozenset(header_key(name) for spec in SHEETS for name in (spec.name, *spec.aliases))


def wants_sheet(name: str) -> bool:
    """Tell whether a sheet is one of ours: the coach's own sheets are listed without reading their cells."""
    return header_key(name) in OURS


def bind_book(source: SourceBook) -> Bound:
    """Return the Book of a workbook as written, and every flag of its cells."""
    with no_collecting():
        return _bind(source)


def _bind(source: SourceBook) -> Bound:
    flags = _about_the_file(source)
    if any(f.slug in {"newer-workbook", "missing-sheet"} for f in flags):
        return Bound(None, tuple(flags))
    block, found = bind_block(source, BLOCK)
    flags += found
    weeks = block.weeks.known or LAST_WEEK
    rows: dict[str, list[BoundRow]] = {}
    complete = True
    for spec in SHEETS:
        if spec.settings:
            continue
        bound, found = _bind_sheet(source, spec, weeks)
        flags += found
        if bound is None:
            complete = False
        rows[spec.name] = bound or []
    if not complete:
        return Bound(None, tuple(flags))
    book, found = _book(source.name, block, rows)
    return Bound(book, (*flags, *found))


def _bind_sheet(source: SourceBook, spec: SheetSpec, weeks: int) -> tuple[list[BoundRow] | None, list[Flag]]:
    sheet, flags = find_sheet(source, spec)
    if sheet is None:
        return ([] if spec.optional and not flags else None), flags
    if spec.optional and not any(not cell.blank for cell in sheet.cells.values()):
        return [], flags
    table, found = bind_headers(sheet, spec)
    flags += found
    if table is None:
        return None, flags
    bound, found = bind_rows(table, weeks if spec.weekly else 0)
    return bound, flags + found


def _book(name: str, block: Block, rows: dict[str, list[BoundRow]]) -> tuple[Book, list[Flag]]:
    flags: list[Flag] = []
    programme = []
    for row in rows[PROGRAMME.name]:
        record, found = _programme_row(row)
        programme.append(record)
        flags += found
    exercises = tuple(Exercise(row=row.row, **row.plain) for row in rows[EXERCISES.name])
    clients = tuple(Client(row=row.row, **row.plain) for row in rows[CLIENTS.name])
    restrictions = tuple(Restriction(row=row.row, **row.plain) for row in rows[RESTRICTIONS.name])
    sites = tuple(Site(row=row.row, **row.plain) for row in rows[SITES.name])
    kit = tuple(KitRow(row=row.row, **row.plain) for row in rows[KIT.name])
    kits, found = bind_kits(kit, block.kit_unit, [site.name.known for site in sites if site.name.known])
    flags += found
    book = Book(
        name=name,
        block=block,
        exercises=exercises,
        programme=tuple(programme),
        clients=clients,
        tests=tuple(Test(row=row.row, **row.plain) for row in rows[TESTS.name]),
        restrictions=restrictions,
        changes=tuple(Change(row=row.row, **row.plain) for row in rows[CHANGES.name]),
        sites=sites,
        kit=kit,
        kits=kits,
        log=tuple(map(log_row, rows[LOG_SHEET.name])),
        history=tuple(HistoryRow(row=row.row, **row.plain) for row in rows[HISTORY.name]),
    )
    return book, flags


def _programme_row(row: BoundRow) -> tuple[ProgrammeRow, list[Flag]]:
    flags: list[Flag] = []
    weeks = []
    for cells in row.weekly:
        dealt, found = _deal_out(cells)
        weeks.append(WeekCells(**dealt))
        flags += found
    return ProgrammeRow(row=row.row, weeks=tuple(weeks), **row.plain), flags


def _deal_out(cells: dict[str, Field[Any]]) -> tuple[dict[str, Field[Any]], list[Flag]]:
    """Split a prescription typed whole into sets, reps and load; a second reps or load beside it is refused."""
    whole = cells["sets"].content
    if not isinstance(whole, Prescription):
        return cells, []
    at = cells["sets"]
    flags = []
    for key in ("reps", "load"):
        if not cells[key].blank:
            remark = Remark(
                "unreadable-reps",
                f'"{at.text}" is a whole prescription, and the {key} cell of the week says "{cells[key].text}".',
                "Clear one of the two.",
            )
            flags.append(flag(remark, cells[key].place, found=cells[key].text, related=(at.place,)))
            return {**cells, key: replace(cells[key], content=None, failed=True)}, flags
    return {
        **cells,
        "sets": replace(at, content=whole.sets),
        "reps": replace(at, content=whole.reps),
        "load": replace(at, content=whole.load),
    }, flags


def _about_the_file(source: SourceBook) -> list[Flag]:
    flags: list[Flag] = []
    version = source.properties.get(VERSION_PROPERTY, "")
    if version.isascii() and version.isdigit() and int(version) > FORMAT_VERSION:
        remark = Remark(
            "newer-workbook",
            f"The workbook has format {version}; this release reads up to {FORMAT_VERSION}.",
            "Install the newer release of the programme compiler.",
        )
        flags.append(flag(remark))
    if source.has_macros:
        flags.append(
            flag(
                Remark(
                    "macros-ignored",
                    "The workbook has macros. They were not run, and no copy written has them.",
                )
            )
        )
    if source.date_1904:
        flags.append(
            flag(Remark("other-date-system", "The workbook counts days from 1904; its dates were read so."))
        )
    ours = OURS | {header_key(name) for name in NOT_READ}
    own = [sheet.name for sheet in source.sheets if header_key(sheet.name) not in ours]
    return [*flags, *_own_sheets(source, own)]


def _own_sheets(source: SourceBook, own: list[str]) -> list[Flag]:
    """Return the note that names the coach's own sheets, and an error for each that is a slip away from one of ours."""
    there = {header_key(sheet.name) for sheet in source.sheets}
    absent = [spec for spec in SHEETS if not there & {header_key(name) for name in (spec.name, *spec.aliases)}]
    told = {name for spec in absent if not spec.optional for name in nearest(spec.name, own, most=1)}
    flags, names = [], []
    for name in own:
        meant = slip_of(name, [spec.name for spec in absent if spec.optional])
        if meant is not None:
            remark = Remark(
                "missing-sheet",
                f'The sheet "{name}" is nearly "{meant}", which the workbook does not have.',
                f'Name it "{meant}" if that is meant. A sheet of your own needs a name less like it.',
            )
            flags.append(flag(remark, sheet=name))
        elif name not in told:
            names.append(f'"{name}"')
    if names:
        flags.append(flag(Remark("extra-column", f"Sheets of your own were left alone: {', '.join(names)}.")))
    return flags
