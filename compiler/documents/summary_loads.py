"""The Loads sheet of the summary: every load that a booklet prints, once for each client, with where it comes from.

Where a load starts from a test, formulas lead from the test to it; see `summary_formulas`.
Loads that ought to have a number and have none stand here too, so that nothing is missed. Ramp sets do not: they
are shares of the first working set, printed beside it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from sys import intern

from compiler.cellref import CellRef
from compiler.documents.neutral import Cell, ColumnKind, Heading, Sheet
from compiler.documents.summary_cells import as_typed, cells_text, chains_by_cell, spans
from compiler.documents.summary_formulas import (
    Trace,
    exact_load,
    loadable,
    one_rm,
    rep_maximum,
    reps_to_failure,
    trace,
    working_max,
)
from compiler.documents.summary_kit import Ladders
from compiler.frozen import frozen
from compiler.model.book import Book
from compiler.model.effective import LoadChain
from compiler.notation.values import EffortLoad, PercentLoad, PercentOf
from compiler.quantities import plain
from compiler.resolve.rounding import Miss, Rounding
from compiler.resolve.strength import Method
from compiler.resolve.values import (
    ClientPlan,
    Fitted,
    LoadKind,
    Maximum,
    MaxOrigin,
    PlannedExercise,
    PlannedLoad,
    RepMaximum,
)
from compiler.schema.implements import PAIRS, SYSTEM

HEADINGS = (
    Heading("Client", width=28),
    Heading("Exercise", width=30),
    Heading("Session", width=24),
    Heading("Order", width=8),
    Heading("Weeks", width=9),
    Heading("Load", ColumnKind.AMOUNT, width=11),
    Heading("Unit", width=6),
    Heading("Load is", width=17),
    Heading("Bar", width=16),
    Heading("Plates a side", width=26),
    Heading("Rounded", width=17),
    Heading("Exact load", ColumnKind.AMOUNT, width=15),
    Heading("Percentage", ColumnKind.PERCENT, width=11, decimals=2),
    Heading("Percentage of", width=18),
    Heading("Rep max", ColumnKind.AMOUNT, width=12, decimals=2),
    Heading("Working max", ColumnKind.AMOUNT, width=12, decimals=2),
    Heading("Share of 1RM", ColumnKind.PERCENT, width=9),
    Heading("1RM", ColumnKind.AMOUNT, width=12, decimals=2),
    Heading("Method", width=17),
    Heading("Reps to failure", ColumnKind.AMOUNT, width=9),
    Heading("Test weight", ColumnKind.AMOUNT, width=11),
    Heading("Test reps", ColumnKind.WHOLE, width=6),
    Heading("RPE", ColumnKind.AMOUNT, width=6),
    Heading("Body counted", ColumnKind.AMOUNT, width=10, decimals=2),
    Heading("Test cell", width=12),
    Heading("Tested on", ColumnKind.DATE, width=12),
    Heading("Lent by", width=22),
    Heading("Ratio", ColumnKind.PERCENT, width=8),
    Heading("Steps", ColumnKind.AMOUNT, width=9, decimals=2),
    Heading("Scaled to", ColumnKind.PERCENT, width=8),
    Heading("Share of first set", ColumnKind.PERCENT, width=9),
    Heading("Load cell", width=24),
    Heading("As typed", width=24),
    Heading("Site", width=14),
    Heading("Remark", width=34),
)

MISSED: dict[str, str] = {
    Miss.BELOW_LIGHTEST: "lighter than anything here; left blank",
    Miss.TOO_HEAVY: "heavier than anything here",
    Miss.NO_KIT: "nothing here to load it with; left blank",
}
METHODS = {MaxOrigin.SINGLE: "tested single", MaxOrigin.WORKING_MAX: "typed working max"}
ROUNDED = {
    Rounding.NEAREST: "nearest, ties down",
    Rounding.DOWN: "down",
    Rounding.UP: "up",
}
NO_ORDER = "\u2013"
"""For a row without a label, such as of a warm-up, among others that have one."""

NO_NUMBER = {LoadKind.BLANK: "left blank", LoadKind.OWN: "left blank: no working weight yet"}


@frozen
class _Key:
    """What makes two loads of a client the same load."""

    exercise: str
    site: str | None
    kind: LoadKind
    about: bool
    instead_of: str | None
    exact: Cell
    loaded: Cell
    percent: Cell
    of_first: Cell
    bar: str | None
    miss: str | None
    scaled: Cell
    steps: Cell
    rounding: Rounding | None
    maximum: Maximum | None
    rep_max: RepMaximum | None


@dataclass
class _Uses:
    """Where one load is used, gathered while the plan is read."""

    planned: PlannedExercise
    traced: Trace | None
    weeks: dict[tuple[str, str], list[int]] = field(default_factory=dict)
    plates: dict[str, None] = field(default_factory=dict)
    cells: dict[CellRef, None] = field(default_factory=dict)


@frozen
class _Sources:
    """What the rows look things up in."""

    chains: dict[CellRef, LoadChain]
    ladders: Ladders
    method: Method


def loads_sheet(book: Book, plans: Iterable[ClientPlan], ladders: Ladders) -> Sheet:
    """Return the sheet: clients and exercises in the order of the booklets."""
    sources = _Sources(chains_by_cell(book), ladders, Method(book.block.method.known or Method.BRZYCKI))
    rows = tuple(row for plan in plans for row in _rows(plan, sources))
    return Sheet("Loads", "Loads and where they come from", HEADINGS, rows, frozen=2, pages_wide=3)


def _rows(plan: ClientPlan, sources: _Sources) -> Iterator[tuple[Cell, ...]]:
    found: dict[_Key, _Uses] = {}
    exercises: dict[str, None] = {}
    for session in plan.sessions:
        for planned in (planned for part in session.parts.values() for planned in part):
            for traced in _loads(planned.load):
                key = _key(planned, traced)
                exercises.setdefault(key.exercise)
                uses = found.setdefault(key, _Uses(planned, traced))
                _use(uses, session.name, planned, traced)
    order = {exercise: place for place, exercise in enumerate(exercises)}
    for _, uses in sorted(found.items(), key=lambda item: order[item[0].exercise]):
        yield _row(plan.name, uses, sources)


def _loads(load: PlannedLoad) -> list[Trace | None]:
    """Return the different loads of one line; None stands for a number that is missing."""
    if not load.items:
        return [None] if load.kind in NO_NUMBER else []
    found: list[Trace | None] = []
    for number, item in enumerate(load.items):
        found.append(trace(load, number, high=False))
        if item.high != item.low:
            found.append(trace(load, number, high=True))
    return found


def _key(planned: PlannedExercise, traced: Trace | None) -> _Key:
    load = planned.load
    fitted = traced.fitted if traced else None
    return _Key(
        exercise=planned.exercise.name.known or "",
        site=planned.site,
        kind=load.kind,
        about=load.about,
        instead_of=planned.changed.instead_of if planned.changed else None,
        exact=fitted.exact if fitted else None,
        loaded=fitted.load if fitted else None,
        percent=traced.percent if traced else None,
        of_first=traced.of_first if traced else None,
        bar=fitted.bar.name if fitted and fitted.bar else None,
        miss=fitted.miss if fitted else None,
        scaled=load.scaled,
        steps=load.steps,
        rounding=load.rounding,
        maximum=load.maximum,
        rep_max=load.rep_max,
    )


def _use(uses: _Uses, session: str, planned: PlannedExercise, traced: Trace | None) -> None:
    fitted = traced.fitted if traced else None
    weeks = uses.weeks.setdefault((session, planned.order), [])
    if planned.week not in weeks:
        weeks.append(planned.week)
    if fitted is not None and fitted.per_side is not None:
        uses.plates.setdefault(" + ".join(plain(plate) for plate in fitted.per_side) or "none")
    if planned.load.source is not None:
        uses.cells.setdefault(planned.load.source)


def _row(client: str, uses: _Uses, sources: _Sources) -> tuple[Cell, ...]:
    planned, traced = uses.planned, uses.traced
    load, fitted = planned.load, traced.fitted if traced else None
    typed = [sources.chains[cell] for cell in uses.cells if cell in sources.chains]
    shown = fitted.load if fitted else None
    bar = fitted.bar if fitted else None
    return (
        client,
        planned.exercise.name.known,
        _list(session for session, _ in uses.weeks),
        _list(order or NO_ORDER for _, order in uses.weeks) if any(order for _, order in uses.weeks) else None,
        _list(spans(weeks) for weeks in uses.weeks.values()),
        loadable(traced, sources.ladders.of(load.kit, planned.exercise, bar)) if traced and shown else None,
        str(shown.unit) if shown else None,
        _meaning(planned),
        bar.name if bar else None,
        _list(uses.plates),
        ROUNDED[load.rounding] if load.rounding and shown else None,
        exact_load(traced) if traced else None,
        traced.percent if traced else None,
        _percent_of(typed) if traced and traced.percent else None,
        rep_maximum(load.rep_max, sources.method),
        *_from_test(load, sources.method),
        load.steps,
        load.scaled,
        traced.of_first if traced else None,
        intern(cells_text(uses.cells)) or None,
        _list(dict.fromkeys(as_typed(chain) for chain in typed)),
        planned.site,
        _remark(planned, fitted),
    )


def _list(words: Iterable[str]) -> str | None:
    """Return words one after the other; equal ones are one text, as those of many clients say the same."""
    return intern("; ".join(words)) or None


def _from_test(load: PlannedLoad, method: Method) -> tuple[Cell, ...]:
    """Return the cells from Working max to Ratio."""
    known = load.maximum
    if known is None:
        return (*(None,) * 8, load.counted, *(None,) * 4)
    return (
        working_max(known),
        known.share if known.one_rm else None,
        one_rm(known, Method(known.method) if known.method else method),
        METHODS.get(known.origin, known.method),
        reps_to_failure(known),
        known.lifted,
        known.reps,
        known.rpe,
        load.counted,
        str(known.test),
        known.tested_on,
        known.lent_by,
        known.ratio,
    )


def _meaning(planned: PlannedExercise) -> str | None:
    """Return what the number counts, where it is not simply what is lifted."""
    implement = planned.exercise.implement.known
    words = ["about"] if planned.load.about else []
    if planned.load.kind is LoadKind.ADDED or implement == SYSTEM:
        words.append("added to the body")
    elif implement in PAIRS:
        words.append("each hand")
    elif implement == "landmine":
        words.append("plates only")
    return ", ".join(words) or None


def _percent_of(typed: list[LoadChain]) -> str | None:
    """Return what the percentages of some cells are of; an effort stands for a percentage of the 1RM."""
    words: dict[str, None] = {}
    for base in (chain.base.known for chain in typed):
        if isinstance(base, EffortLoad):
            words.setdefault(str(PercentOf.ONE_RM))
        elif isinstance(base, PercentLoad):
            words.setdefault(f"{base.rep_max}RM" if base.of is PercentOf.REP_MAX else str(base.of))
    return ", ".join(words) or None


def _remark(planned: PlannedExercise, fitted: Fitted | None) -> str | None:
    words = []
    if planned.changed is not None and planned.changed.instead_of is not None:
        words.append(f"instead of {planned.changed.instead_of}")
    if fitted is None:
        words.append(NO_NUMBER[planned.load.kind])
    elif fitted.miss is not None:
        words.append(MISSED.get(fitted.miss, fitted.miss))
    return "; ".join(words) or None
