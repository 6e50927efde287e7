"""Header row -> columns. In: one sheet as written and its declaration. Out: where every column stands, and flags.

The header row is the one of the first ten rows that matches most headers. A header matches exactly, then folded
(case, spaces, line breaks, punctuation), then by alias. Nothing of the coach's own is touched; it is named once.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from compiler.cellref import CellRef
from compiler.flags.catalogue import flag
from compiler.flags.model import Flag, Remark
from compiler.flags.nearest import nearest, slip_of
from compiler.folding import header_key
from compiler.frozen import frozen
from compiler.notation.weeks import LAST_WEEK
from compiler.schema.column import Column, SheetSpec, weekly_header
from compiler.source.cells import SourceBook, SourceCell, SourceSheet

HEADER_ROWS = 10


@frozen
class Table:
    """Where a sheet's columns are. A weekly column stands under (key, week), any other under (key, 0)."""

    sheet: SourceSheet
    spec: SheetSpec
    header_row: int
    columns: dict[tuple[str, int], int]


def find_sheet(book: SourceBook, spec: SheetSpec) -> tuple[SourceSheet | None, list[Flag]]:
    """Return the sheet that a declaration means, exactly named or folded; two that fold alike are an error."""
    exact = [sheet for sheet in book.sheets if sheet.name == spec.name]
    if exact:
        return exact[0], []
    keys = {header_key(name) for name in (spec.name, *spec.aliases)}
    alike = [sheet for sheet in book.sheets if header_key(sheet.name) in keys]
    if len(alike) > 1:
        names = " and ".join(f'"{sheet.name}"' for sheet in alike)
        remark = Remark(
            "missing-sheet",
            f'Two sheets could be "{spec.name}": {names}.',
            f'Name the right one "{spec.name}".',
        )
        return None, [flag(remark, sheet=alike[0].name)]
    if alike or spec.optional:
        return (alike[0] if alike else None), []
    there = ", ".join(f'"{sheet.name}"' for sheet in book.sheets)
    close = nearest(spec.name, [sheet.name for sheet in book.sheets])
    remark = Remark(
        "missing-sheet",
        f'The workbook has no sheet "{spec.name}". It has {there}.',
        f'If the sheet "{close[0]}" is meant, rename it "{spec.name}".'
        if close
        else f'Add the sheet "{spec.name}"; `programme new` writes one.',
    )
    return None, [flag(remark)]


Wanted = dict[str, tuple[Column, int]]
"""By folded header or alias the column that it means, and the week of a weekly one, else 0."""


def _wanted(spec: SheetSpec) -> Wanted:
    wanted = {header_key(name): (column, 0) for column in spec.columns for name in (column.header, *column.aliases)}
    for column in spec.weekly:
        for week in range(1, LAST_WEEK + 1):
            for name in (weekly_header(column, week), *(alias.format(week=week) for alias in column.aliases)):
                wanted[header_key(name)] = (column, week)
    return wanted


def _header_row(
    rows: Iterable[tuple[int, dict[int, SourceCell]]], wanted: Wanted
) -> tuple[int, dict[int, SourceCell]] | None:
    best: tuple[int, dict[int, SourceCell]] | None = None
    most = 0
    for number, cells in rows:
        if number > HEADER_ROWS:
            break
        hits = sum(1 for cell in cells.values() if not cell.blank and header_key(str(cell.value)) in wanted)
        if hits > most:
            best, most = (number, cells), hits
    return best


def bind_headers(sheet: SourceSheet, spec: SheetSpec) -> tuple[Table | None, list[Flag]]:
    """Return the table of a sheet, or None where a column that is needed is missing, with the flags."""
    wanted = _wanted(spec)
    found = _header_row(sheet.rows(), wanted)
    if found is None:
        expected = ", ".join(column.header for column in spec.columns if not column.optional)
        remark = Remark(
            "missing-column",
            f"No header row was found in the first {HEADER_ROWS} rows; expected {expected}.",
            "Put the headers back in one row at the top.",
        )
        return None, [flag(remark, sheet=sheet.name)]
    number, cells = found
    columns, own, flags = _placed(cells, wanted)
    flags += _missing(sheet, spec, number, columns, own)
    flags += _slips(spec, columns, own, {f.place for f in flags})
    if any(f.slug in {"missing-column", "duplicate-column"} for f in flags):
        return None, [*flags, *_own_columns(own, flags)]
    return Table(sheet, spec, number, columns), [*flags, *_own_columns(own, flags)]


def duplicate_column(header: str, place: CellRef, first: CellRef) -> Flag:
    """Return the error at the second of two columns with one header."""
    remark = Remark(
        "duplicate-column",
        f'Two columns are headed "{header}"; the other is {first.a1}.',
        "Keep one; give the other a header of your own.",
    )
    return flag(remark, place, found=header, related=(first,))


def _placed(
    cells: dict[int, SourceCell], wanted: Wanted
) -> tuple[dict[tuple[str, int], int], dict[str, CellRef], list[Flag]]:
    """Return where the columns stand, the coach's own headers with their cells, and an error at each repeated one."""
    columns: dict[tuple[str, int], int] = {}
    own: dict[str, CellRef] = {}
    flags: list[Flag] = []
    for position, cell in sorted(cells.items()):
        if cell.blank:
            continue
        text = str(cell.value).strip()
        meaning = wanted.get(header_key(text))
        if meaning is None:
            own.setdefault(text, cell.place)
            continue
        column, week = meaning
        first = columns.setdefault((column.key, week), position)
        if first != position:
            flags.append(duplicate_column(text, cell.place, cells[first].place))
    return columns, own, flags


def _own_columns(own: dict[str, CellRef], told: list[Flag]) -> list[Flag]:
    """Return the note that names the coach's own columns, but for those that have a flag already."""
    flagged = {f.place for f in told}
    left_alone = {text: place for text, place in own.items() if place not in flagged}
    if not left_alone:
        return []
    names = ", ".join(f'"{text}"' for text in left_alone)
    remark = Remark("extra-column", f"Columns of your own were left alone: {names}.")
    at, *others = left_alone.values()
    return [flag(remark, at, related=others)]


def _slips(
    spec: SheetSpec, columns: dict[tuple[str, int], int], own: dict[str, CellRef], told: set[CellRef | None]
) -> Iterator[Flag]:
    """Yield an error for each header that is a slip away from a column the sheet may have.

    Left alone, a whole column of restrictions or loads would count for nothing.
    """
    absent = [column.header for column in spec.columns if (column.key, 0) not in columns]
    absent += [
        weekly_header(column, week)
        for column in spec.weekly
        for week in range(1, LAST_WEEK + 1)
        if (column.key, week) not in columns
    ]
    for text, place in own.items():
        meant = slip_of(text, absent)
        if meant is not None and place not in told:
            remark = Remark(
                "missing-column",
                f'"{text}" is nearly "{meant}", a column that the sheet does not have.',
                f'Write "{meant}" if that is meant. A column of your own needs a header less like it.',
            )
            yield flag(remark, place, found=text)


def _missing(
    sheet: SourceSheet,
    spec: SheetSpec,
    row: int,
    columns: dict[tuple[str, int], int],
    own: dict[str, CellRef],
) -> list[Flag]:
    absent = [
        column.header for column in spec.columns if not column.optional and (column.key, 0) not in columns
    ]
    absent += [
        weekly_header(column, 1)
        for column in spec.weekly
        if not column.optional and (column.key, 1) not in columns
    ]
    flags = []
    for header in absent:
        close = nearest(header, own)
        hint = (
            f'If the column "{close[0]}" is meant, change its header to "{header}".'
            if close
            else f'Add a column headed "{header}".'
        )
        remark = Remark("missing-column", f'The sheet has no column "{header}".', hint)
        place = own[close[0]] if close else CellRef(sheet.name, row, 1)
        flags.append(flag(remark, place, found=close[0] if close else None))
    return flags
