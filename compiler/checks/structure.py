"""What one row of the Programme must say, week by week: sets, reps, load, and that they agree."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from compiler.checks.groups import group_of, groups, timed_as_a_whole
from compiler.checks.lookups import client_names, out_weeks, quoted_cells, week_header
from compiler.checks.references import load_names
from compiler.flags.catalogue import flag
from compiler.flags.model import Flag, Remark
from compiler.folding import name_key
from compiler.model.book import Book
from compiler.model.effective import EffectiveWeek, LoadChain
from compiler.model.field import Field
from compiler.model.records import ProgrammeRow
from compiler.notation.values import (
    HeartRateLoad,
    LoadText,
    NamedLoad,
    PercentLoad,
    Sets,
    Step,
    TestSet,
    Timed,
    WeightLoad,
)
from compiler.quantities import Percent
from compiler.schema.implements import UNWEIGHED

FREE_PARTS = frozenset({"warm-up", "cool-down"})
"""Parts whose rows may leave sets and load blank; so may the rows of what has no weight."""


NEEDED = (("clients", "Clients"), ("programme", "Programme"), ("exercises", "Exercises"))
"""Lists of a book that a booklet cannot do without, each with its sheet."""


def check_rows_at_all(book: Book) -> Iterator[Flag]:
    """Check that there is somebody to train, and something to do: a sheet of headers alone makes no booklet."""
    for rows, sheet in NEEDED:
        if not getattr(book, rows):
            remark = Remark(
                "missing-name",
                f"{sheet} has no rows under its headers; a booklet needs at least one.",
                f"Fill in {sheet}; if the rows stand on another sheet, move them here.",
            )
            everybody = client_names(client for client in book.clients if client.has_booklet)
            yield flag(remark, sheet=sheet, touches=everybody)


def check_first_weeks(book: Book) -> Iterator[Flag]:
    """Check that the first week of a row says sets, reps and load; later blanks mean as the week before."""
    by_row = groups(book)
    for row in book.programme:
        weeks = book.weeks_of[row.row]
        if not weeks:
            continue
        first = weeks[min(weeks)]
        cells = row.weeks[first.week - 1]
        may_be_blank = _may_be_blank(book, row)
        no_sets = cells.sets.blank and not may_be_blank and not timed_as_a_whole(group_of(by_row, row))
        no_reps = cells.reps.blank
        no_load = cells.load.blank and not may_be_blank and not _finds_the_load(first)
        yield from _missing(first.week, row, no_sets=no_sets, no_reps=no_reps, no_load=no_load)


def _may_be_blank(book: Book, row: ProgrammeRow) -> bool:
    exercise = book.exercise(row.exercise.known)
    if exercise is None or row.part.known is None or exercise.implement.known is None:
        return True
    return row.part.known in FREE_PARTS or exercise.implement.known in UNWEIGHED


def _finds_the_load(week: EffectiveWeek) -> bool:
    """Tell whether a set is itself a search for the load: 3RM."""
    reps = week.reps.known
    return reps is not None and all(isinstance(item, TestSet) for item in reps.items)


def _missing(week: int, row: ProgrammeRow, *, no_sets: bool, no_reps: bool, no_load: bool) -> Iterator[Flag]:
    cells = row.weeks[week - 1]
    name = row.exercise.known or "This row"
    if no_sets and no_reps and no_load:
        remark = Remark(
            "missing-sets",
            f"{name} has no sets, reps or load in any week.",
            "Fill them in, or delete the row.",
        )
        yield flag(remark, cells.sets.place, related=(cells.reps.place, cells.load.place))
        return
    earlier = "and this is the row's first week" if week == 1 else "and no week before it has any"
    if no_sets:
        remark = Remark(
            "missing-sets",
            f"{week_header('sets', week)} is blank, {earlier}.",
            "Write how many sets, or 3 x 8 @ 75%.",
        )
        yield flag(remark, cells.sets.place)
    if no_reps:
        remark = Remark(
            "missing-reps",
            f"{week_header('reps', week)} is blank, {earlier}.",
            "Write the reps of a set: 8, 8-10, 30 s.",
        )
        yield flag(remark, cells.reps.place)
    if no_load:
        whole = cells.load.place == cells.sets.place
        says = f'"{cells.sets.text}" has no load' if whole else f"{week_header('load', week)} is blank"
        remark = Remark("missing-load", f"{says}, {earlier}.", "Write 75%, 60 kg, RPE 8, own, body weight or by feel.")
        yield flag(remark, cells.load.place, found=cells.sets.text if whole else None)


def check_dashes(book: Book) -> Iterator[Flag]:
    """Check that nothing stands in a week that a dash leaves out, nor in those after it without sets."""
    for row in book.programme:
        told: set[int] = set()
        for week, since in out_weeks(row):
            cells = row.weeks[week - 1]
            typed = [
                (week_header(key, week), cell)
                for key in ("reps", "load", "rest", "tempo")
                if (cell := getattr(cells, key)).known is not None
            ]
            if not typed or since in told:
                continue
            told.add(since)
            dash = row.weeks[since - 1].sets
            related = [cell.place for _, cell in typed]
            if week == since:
                remark = Remark(
                    "unreadable-reps",
                    f'"{dash.text}" in {week_header("sets", week)} leaves the week out, and {quoted_cells(typed)}.',
                    "Type the sets, or clear the other cells of the week.",
                )
                yield flag(remark, dash.place, found=dash.text, related=related)
            else:
                remark = Remark(
                    "missing-sets",
                    f"{week_header('sets', week)} is blank and the row is out since the dash of week {since},"
                    f" but {quoted_cells(typed)}.",
                    "Type the sets to take the row up again, or clear the other cells of the week.",
                )
                yield flag(remark, cells.sets.place, related=(dash.place, *related))


def check_steps(book: Book) -> Iterator[Flag]:
    """Check that a step has a load before it to start from; points stand only after a percentage."""
    names = {name_key(name) for name in load_names(book)}
    for row in book.programme:
        seen: set[object] = set()
        weeks = book.weeks_of[row.row]
        for week in weeks.values():
            if week.load is None or _told_before(book, row, weeks, week.load, names):
                continue
            cell, remark = _step_remark(week.load, week.week)
            if remark is not None and cell.place not in seen:
                seen.add(cell.place)
                yield flag(
                    remark,
                    cell.place,
                    found=cell.text,
                    related=() if cell is week.load.base else (week.load.base.place,),
                )


def _told_before(
    book: Book, row: ProgrammeRow, weeks: dict[int, EffectiveWeek], chain: LoadChain, names: set[str]
) -> bool:
    """Tell whether what a step lacks has its flag: a first week that misses its load, a name that nothing has."""
    base, first = chain.base.known, weeks[min(weeks)]
    if isinstance(base, Step):
        return chain.base_week > first.week and not _may_be_blank(book, row) and not _finds_the_load(first)
    return isinstance(base, NamedLoad) and name_key(base.name) not in names


def _step_remark(chain: LoadChain, week: int) -> tuple[Field[LoadText], Remark | None]:
    base = chain.base.known
    if isinstance(base, Step):
        before = "this is the first" if chain.base_week == 1 else f"no week before week {chain.base_week} has a load"
        message = f'"{chain.base.text}" is a step on the week before, and {before}.'
        return chain.base, Remark(
            "step-without-start",
            message,
            "Write the load of the first week in full: 75%, 60 kg, own.",
        )
    last = chain.place_field
    if base is None or not chain.steps or not isinstance(last.known, Step):
        return chain.base, None
    points = isinstance(last.known.by, Percent)
    if points and not isinstance(base, PercentLoad):
        message = f'"{last.text}" adds points to a percentage, and the load before it is "{chain.base.text}".'
        return last, Remark("step-without-start", message, "Write the step as a weight, or this week's load in full.")
    if isinstance(base, HeartRateLoad | NamedLoad):
        message = f'"{last.text}" is a step on the load before it, and "{chain.base.text}" is not a weight.'
        return last, Remark("step-without-start", message, f"Write {week_header('load', week)} in full.")
    return last, None


def check_lists(book: Book) -> Iterator[Flag]:
    """Check that a list set by set has an entry for each set; a shorter list of loads repeats its last."""
    for row in book.programme:
        seen: set[tuple[object, object]] = set()
        for week in book.weeks_of[row.row].values():
            sets = week.sets.known
            if not isinstance(sets, Sets):
                continue
            for cell, count, may_be_short in _listed(week):
                pair = (cell.place, week.sets.place)
                fits = count <= sets.high if may_be_short else sets.low <= count <= sets.high
                if fits or pair in seen:
                    continue
                seen.add(pair)
                yield _list_flag(cell, count, week.sets)


def _listed(week: EffectiveWeek) -> Iterator[tuple[Field[Any], int, bool]]:
    reps = week.reps.known
    if reps is not None and len(reps.items) > 1:
        yield week.reps, len(reps.items), False
    load = week.load.base.known if week.load else None
    if week.load and isinstance(load, PercentLoad | WeightLoad) and len(load.items) > 1:
        yield week.load.base, len(load.items), True


def _list_flag(cell: Field[Any], count: int, sets: Field[Any]) -> Flag:
    """Point at the later of the two cells: it was typed against the one that stood there."""
    at, other = (sets, cell) if sets.place.column > cell.place.column else (cell, sets)
    same = sets.place == cell.place
    number = "1 set" if sets.text == "1" else f"{sets.text} sets"
    if same:
        message = f'"{cell.text}" lists {count} entries, and its sets are another number.'
    else:
        list_at, sets_at = (f" ({cell.place.a1})", "") if at is sets else ("", f" ({sets.place.a1})")
        message = f'"{cell.text}"{list_at} has {count} entries for {number}{sets_at}.'
    remark = Remark("sets-and-list-disagree", message, "Give one entry for each set, or change the sets.")
    return flag(remark, at.place, found=at.text, related=() if same else (other.place,))


def check_tempo_and_hold(book: Book) -> Iterator[Flag]:
    """Check that a timed hold has no tempo."""
    for row in book.programme:
        seen: set[object] = set()
        for week in book.weeks_of[row.row].values():
            reps, tempo = week.reps.known, week.tempo.known
            if reps is None or tempo is None or not any(isinstance(item, Timed) for item in reps.items):
                continue
            if week.tempo.place in seen:
                continue
            seen.add(week.tempo.place)
            remark = Remark(
                "tempo-and-hold",
                f'"{week.tempo.text}" is a tempo, and {week.reps.place.a1} says "{week.reps.text}", which is a time.',
                "Clear the tempo, or write repetitions instead of the time.",
            )
            yield flag(remark, week.tempo.place, found=week.tempo.text, related=(week.reps.place,))
