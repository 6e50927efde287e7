"""Repetitions against percentage: told on the row where it is so with the Block's working max, else of the client.

The percentage is the exact share of the exercise's own 1RM. Where that is not known (a borrowed test, a working max
typed as one) the row as written decides. A typed weight is measured against the client's 1RM in the same way; against
a borrowed one only where it is more than all of it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from decimal import Decimal

from compiler.cellref import CellRef
from compiler.checks.groups import group_of, groups
from compiler.counting import counted
from compiler.flags.catalogue import flag
from compiler.flags.model import Flag, Remark
from compiler.folding import name_key
from compiler.model.book import Book
from compiler.model.effective import EffectiveWeek, LoadChain
from compiler.model.records import ProgrammeRow
from compiler.notation.values import PercentLoad, PercentOf, Step
from compiler.quantities import Load, Percent, plain
from compiler.resolve.plan import Resolution
from compiler.resolve.strength import Method, share_of_one_rm
from compiler.resolve.values import ClientPlan, Fitted, LoadKind, PlannedExercise
from compiler.review.reps_table import Asked, Doubt, doubt_of, sure_reps
from compiler.review.turns import WORK, Turn, lines_of, rounds_of, sets_of

HUNDRED = Decimal(100)
HINT = "Fewer repetitions, a lower percentage, or more rest."
HINT_FOR_A_WEIGHT = "Fewer repetitions, a lighter load, or more rest. If the client has become stronger, test again."


@dataclass
class _Row:
    """What is known of one load cell: its doubt as written, and whom that touches."""

    row: ProgrammeRow
    reps: CellRef
    doubt: Doubt
    touches: dict[str, None] = field(default_factory=dict)


def review_reps(book: Book, resolution: Resolution) -> Iterator[Flag]:
    """Yield one flag a cell where the row as written is doubtful; else one a client for whom it is."""
    rows = _doubtful_rows(book)
    others: dict[tuple[CellRef, str], tuple[PlannedExercise, Doubt]] = {}
    for plan in resolution.plans:
        for planned, turn in _planned(plan):
            place = planned.load.source
            if place is None:
                continue
            row, own = rows.get(place), _own_doubt(planned, turn)
            if row is not None and _follows(planned, row, own):
                row.touches[plan.name] = None
            elif own is not None and not _is_guess(planned, own) and (row is None or own.far > row.doubt.far):
                worst = others.get((place, plan.name))
                if worst is None or (own.far, own.short_by) > (worst[1].far, worst[1].short_by):
                    others[place, plan.name] = (planned, own)
    for place, found in rows.items():
        yield _of_the_row(place, found)
    for (place, name), (planned, doubt) in others.items():
        yield _of_a_client(place, name, planned, doubt)


def _planned(plan: ClientPlan) -> Iterator[tuple[PlannedExercise, Turn]]:
    for session in plan.sessions:
        yield from lines_of(session)


def _follows(planned: PlannedExercise, row: _Row, own: Doubt | None) -> bool:
    """Tell whether a client's line is as doubtful as the row, so that the row's flag speaks of it too."""
    if planned.row.row != row.row.row or planned.load.kind not in {LoadKind.WEIGHT, LoadKind.ADDED, LoadKind.BLANK}:
        return False
    if planned.load.maximum is not None and planned.load.maximum.one_rm is not None:
        return own is not None and own.far == row.doubt.far
    as_written = name_key(planned.exercise.name.known or "") == name_key(row.row.exercise.known or "")
    most = max((sure_reps(item) or 0 for item in planned.reps.items), default=0)
    return as_written and most >= row.doubt.asked


# ---------------------------------------------------------------- the row as written


def _doubtful_rows(book: Book) -> dict[CellRef, _Row]:
    """Return the doubtful load cells of the Programme with their worst doubt, by the Block's working max."""
    by_row = groups(book)
    weeks = book.weeks_of
    found: dict[CellRef, _Row] = {}
    for row in book.programme:
        if row.part.known not in {str(part) for part in WORK}:
            continue
        for number, says in weeks[row.row].items():
            done = [weeks[other.row][number] for other in group_of(by_row, row) if number in weeks[other.row]]
            doubt = _written_doubt(book, row, says, done)
            if doubt is None or says.load is None:
                continue
            place = says.load.place_field.place
            worst = found.get(place)
            if worst is None or (doubt.far, doubt.short_by) > (worst.doubt.far, worst.doubt.short_by):
                found[place] = _Row(row, says.reps.place, doubt)
    return found


def _written_doubt(book: Book, row: ProgrammeRow, says: EffectiveWeek, done: list[EffectiveWeek]) -> Doubt | None:
    exercise = book.exercise(row.exercise.known)
    percents = _written_percents(book, says.load)
    reps = says.reps.known
    if exercise is None or percents is None or reps is None or says.sets.failed:
        return None
    rests = [rest.high for week in done if (rest := week.rest.known) is not None]
    sets = says.sets_value
    return doubt_of(
        Asked(
            exercise=exercise,
            sets=sets.high if sets else rounds_of(row.done_as.known) or 1,
            percents=percents,
            reps=reps.items,
            rest=sum(rests) if rests else None,
            tempo=says.tempo.known,
        )
    )


def _written_percents(book: Book, chain: LoadChain | None) -> list[Decimal] | None:
    """Return the true percentages of 1RM of a load cell, upper ends; None where they hang on the client."""
    base = chain.base.known if chain else None
    if chain is None or not isinstance(base, PercentLoad) or base.stop_at is not None:
        return None
    points = Decimal(0)
    for typed in chain.steps:
        if not isinstance(typed.known, Step) or not isinstance(typed.known.by, Percent):
            return None
        points += typed.known.by.value
    of = _of_one_rm(book, base)
    return None if of is None else [(item.high.value + points) * of for item in base.items]


def _of_one_rm(book: Book, base: PercentLoad) -> Decimal | None:
    """Return the share of the 1RM that 100% of a load cell is."""
    match base.of:
        case PercentOf.ONE_RM:
            return Decimal(1)
        case PercentOf.WORKING_MAX:
            share = book.block.working_max.known
            return None if share is None else share.share
        case PercentOf.REP_MAX:
            method = book.block.method.known
            if base.rep_max is None or method is None:
                return None
            return share_of_one_rm(Decimal(base.rep_max), Method(method)) if base.rep_max > 1 else Decimal(1)


# ---------------------------------------------------------------- what one client is asked for


def _own_doubt(planned: PlannedExercise, turn: Turn) -> Doubt | None:
    load = planned.load
    known = load.maximum or load.measure
    if load.kind not in {LoadKind.WEIGHT, LoadKind.ADDED} or load.about or load.stop_at is not None:
        return None
    if known is None or known.one_rm is None or not known.one_rm.amount or not load.items:
        return None
    if load.maximum is None and any(item.high.load is None for item in load.items):
        return None  # what looks like the total of a pair, or cannot be loaded, is not printed
    return doubt_of(
        Asked(
            exercise=planned.exercise,
            sets=max(sets_of(planned), rounds_of(turn.how) or 1),
            percents=[_share(item.high, known.one_rm, known.body) for item in load.items],
            reps=planned.reps.items,
            rest=turn.rest_of_a_round,
            tempo=planned.tempo,
        )
    )


def _share(end: Fitted, one_rm: Load, body: Load | None) -> Decimal:
    """Return the exact load as a percentage of the 1RM; with the body where the 1RM counts it."""
    system = end.exact.to(one_rm.unit)
    if body is not None:
        system = system.plus(body)
    return system.amount * HUNDRED / one_rm.amount


def _is_guess(planned: PlannedExercise, own: Doubt) -> bool:
    """Tell whether a doubt rests on a borrowed maximum alone, which says little of how often a weight can be lifted."""
    known = planned.load.maximum or planned.load.measure
    if known is None or known.lent_by is None:
        return False
    return planned.load.maximum is not None or own.percent <= HUNDRED


# ---------------------------------------------------------------- in words


def _of_the_row(place: CellRef, found: _Row) -> Flag:
    doubt = found.doubt
    remark = Remark(
        doubt.slug,
        f"{found.row.exercise.known}: {_asked(doubt)} at {_percent(doubt)} of the 1RM{_spare(doubt)};"
        f" by the table {_possible(doubt)} possible.",
        HINT,
    )
    related = () if found.reps == place else (found.reps,)
    touches = tuple(found.touches) if doubt.far else ()
    return flag(remark, place, found=_text_at(found.row, place), related=related, touches=touches)


def _of_a_client(place: CellRef, name: str, planned: PlannedExercise, doubt: Doubt) -> Flag:
    remark = Remark(
        doubt.slug,
        f"{name} is to do {_asked(doubt)} of {planned.exercise.name.known} at {_percent(doubt)} of the"
        f" 1RM{_spare(doubt)}; by the table {_possible(doubt)} possible.",
        HINT if planned.load.maximum is not None else HINT_FOR_A_WEIGHT,
    )
    text = _text_at(planned.row, place)
    return flag(remark, place, client=name, found=text, touches=(name,) if doubt.far else ())


def _text_at(row: ProgrammeRow, place: CellRef) -> str | None:
    """Return what stands in a cell of a row; None where the place is on another sheet."""
    cells = (cell for week in row.weeks for cell in (week.load, week.sets, week.reps))
    return next((cell.text for cell in cells if cell.place == place and cell.text), None)


def _percent(doubt: Doubt) -> str:
    return f"{plain(doubt.percent.quantize(Decimal('0.1')))}%"


def _asked(doubt: Doubt) -> str:
    return counted(doubt.asked, "repetition")


def _possible(doubt: Doubt) -> str:
    """Return how many the table calls possible, with its verb."""
    if doubt.possible < 1:
        return "none is"
    return f"about {plain(doubt.possible.quantize(Decimal('0.1')))} {'is' if doubt.possible == 1 else 'are'}"


def _spare(doubt: Doubt) -> str:
    return f", with {doubt.spare} to spare" if doubt.spare and not doubt.far else ""
