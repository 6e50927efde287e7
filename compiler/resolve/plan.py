"""The plans of all clients: each session of each week, with every load resolved, or the cell that stopped the client.

Resolving goes client by client. A client stops only at a cell that their own plan needs; everybody else goes on.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from decimal import ROUND_FLOOR

from compiler.cellref import CellRef, RowRef
from compiler.flags.catalogue import flag
from compiler.flags.model import Flag, Remark, Severity
from compiler.folding import name_key
from compiler.frozen import frozen
from compiler.model.book import Book
from compiler.model.effective import EffectiveWeek
from compiler.model.field import Poisoned
from compiler.model.records import Change, Client, Exercise, ProgrammeRow
from compiler.notation.values import Count, PercentLoad, Reps, ShareOfMost
from compiler.resolve.asked import Asked, Planned
from compiler.resolve.changes import (
    Exceptions,
    exceptions_for,
    kept_elsewhere,
    two_sites,
    view_in,
)
from compiler.resolve.context import ClientView, Index, Line, index_book, view_client
from compiler.resolve.limits import limit_flags, spotter_flags
from compiler.resolve.lists import list_flags
from compiler.resolve.loads import plan_load
from compiler.resolve.maxima import most_reps
from compiler.resolve.paper import Written, since_first_written
from compiler.resolve.printed import require_printed
from compiler.resolve.ramp import plan_ramp
from compiler.resolve.sessions import Slot, deal_sessions, session_names, weeks_of
from compiler.resolve.settle import DEFAULT_WORDS, settle
from compiler.resolve.substitute import carries_over, needs_load, own_load, scale_of
from compiler.resolve.values import (
    Changed,
    ClientPlan,
    LoadKind,
    Part,
    PlannedExercise,
    PlannedLoad,
    PlannedSession,
    Settled,
    Stop,
)
from compiler.resolve.ways import way_of

OF_THE_EXERCISE = frozenset({"missing-test", "test-required", "no-working-weight", "coarse-rounding"})
"""Flags of a load that say once more, in every week and session, what is wrong with an exercise for a client."""

SCALABLE = (LoadKind.WEIGHT, LoadKind.ADDED, LoadKind.BLANK)
"""Loads that a `scale` change can make lighter or heavier."""


@frozen
class Resolution:
    """The plans of the clients that have one, why the others have none, and what the coach should know."""

    plans: tuple[ClientPlan, ...]
    stops: tuple[Stop, ...]
    flags: tuple[Flag, ...]


@dataclass
class _Findings:
    """What gathers while one client is resolved."""

    flags: list[Flag] = field(default_factory=list)
    stops: list[Stop] = field(default_factory=list)
    told: set[tuple[str, str]] = field(default_factory=set)
    written: Written = field(default_factory=dict)

    def of_load(self, exercise: Exercise, flags: Iterable[Flag]) -> None:
        """Add the flags of one load; what is true of the exercise whatever the week is told at the first one alone."""
        for found in flags:
            key = found.slug, name_key(exercise.name.needed)
            if found.slug not in OF_THE_EXERCISE:
                self.flags.append(found)
            elif key not in self.told:
                self.told.add(key)
                self.flags.append(found)

    def stopped(self, client: str) -> bool:
        """Tell whether anything found so far leaves the client without a booklet."""
        errors = (found for found in self.flags if found.severity is Severity.ERROR)
        return bool(self.stops) or any(client in found.touches for found in errors)


def resolve_book(book: Book, bad_rows: Iterable[RowRef] = (), stopped: Iterable[str] = ()) -> Resolution:
    """Return the plans of all clients. `stopped` clients have an error of their own that was found before."""
    index = index_book(book, bad_rows)
    held = set(stopped)
    plans: list[ClientPlan] = []
    stops: list[Stop] = []
    flags: list[Flag] = []
    for client in book.clients:
        name = client.name.known
        if name is None or not client.has_booklet:
            continue
        plan, findings = _resolve_client(index, client)
        flags += findings.flags
        stops += findings.stops
        if plan is not None and name not in held:
            plans.append(plan)
    return Resolution(tuple(plans), tuple(dict.fromkeys(stops)), tuple(flags))


def _resolve_client(index: Index, client: Client) -> tuple[ClientPlan | None, _Findings]:
    """Return one client's plan, or None with what stopped them; every row is tried, so that one run shows all."""
    findings = _Findings()
    name = client.name.needed
    if client.row in index.bad_rows:
        findings.stops.append(Stop(name, client.name.place))
    try:
        require_printed(index.book.block)
        require_printed(client)
        view = view_client(index, client)
        programme = name_key(client.programme.needed)
        rows = index.rows.get(programme, ())
        slots, found = deal_sessions(view, session_names(rows))
        findings.flags += found
        trained = set(weeks_of(view))
    except Poisoned as poison:
        findings.stops.append(Stop(name, poison.place))
        return None, findings
    sessions = []
    for slot in slots:
        lines = index.lines[programme, name_key(slot.session)]
        session = _session(view, lines, slot, findings)
        if session is not None:
            sessions.append(session)
    first = client.first_week.known or 1
    weeks = index.book.block.weeks.needed
    away = tuple(week for week in range(first, weeks + 1) if week not in trained)
    if not rows:
        findings.stops.append(Stop(name, client.programme.place))
    if findings.stopped(name):
        return None, findings
    return ClientPlan(client, tuple(sessions), away, weeks), findings


def _session(
    view: ClientView, lines: tuple[Line, ...], slot: Slot, findings: _Findings
) -> PlannedSession | None:
    parts: dict[Part, list[PlannedExercise]] = {part: [] for part in Part}
    try:
        torn = two_sites(view, slot.week, slot.session)
    except Poisoned as poison:
        findings.stops.append(Stop(view.name, poison.place))
        return None
    if torn is not None:
        findings.flags.append(torn)
        return None
    for line in lines:
        try:
            _ = line.row.session.needed  # where it failed, nobody knows whether this is the session
            planned = _exercise(view, line, slot, findings)
            if planned is not None:
                parts[Part(line.row.part.needed)].append(planned)
        except Poisoned as poison:
            findings.stops.append(Stop(view.name, poison.place))
    if not any(parts.values()):
        return None
    done = {part: tuple(found) for part, found in parts.items()}
    return PlannedSession(slot.session, slot.week, done, slot.weekday, slot.day, slot.closed)


def _exercise(view: ClientView, line: Line, slot: Slot, findings: _Findings) -> PlannedExercise | None:
    """Return what a client does of one row in one session, None where nothing. Raises `Poisoned`."""
    says, row = line.weeks.get(slot.loads_of), line.row
    if says is None:
        return None
    exceptions = exceptions_for(view, row, slot.week, slot.session)
    findings.flags += exceptions.flags
    if exceptions.leave_out is not None or exceptions.flags:
        return None
    if line.bad:
        raise Poisoned(row.exercise.place)
    here = view_in(view, slot.week, slot.session)
    settled = _settled(here, row, exceptions, slot, findings)
    exercise = settled.exercise
    if exercise is None:
        return None
    if exceptions.holding:
        says = _changed_cells(says, exceptions)
    reps = _reps(here, exercise, says, findings)
    loaded = _load(here, exercise, says, reps, exceptions, settled)
    on_paper = since_first_written(findings.written, loaded.load, (row.row, exercise.row, name_key(slot.session)), slot)
    ramp, load = plan_ramp(here, exercise, on_paper, row.ramp.value)
    findings.of_load(exercise, loaded.flags)
    if exceptions.holding:
        findings.flags += _unscalable(here, row, exceptions, loaded.load)
        findings.flags += list_flags(here, says, exceptions, reps, load)
    for found in limit_flags(here, row, exercise, load, reps):
        findings.flags.append(replace(found, found=_text_of(load.source, says, exceptions)))
    findings.flags += spotter_flags(here, row, exercise, load, reps)
    return PlannedExercise(  # by place: names take twice as long
        row,
        slot.week,
        row.order.value or "",
        exercise,
        says.sets_value,
        reps,
        load,
        says.rest.value,
        says.tempo.value,
        (row.cue.value if settled.changed is None else None) or exercise.cue.value,
        way_of(view.book, line, slot.loads_of),
        _site_of(here),
        here.unit_of(exercise),
        settled.changed or _scaled(exceptions, load),
        ramp,
    )


def _settled(
    view: ClientView, row: ProgrammeRow, exceptions: Exceptions, slot: Slot, findings: _Findings
) -> Settled:
    """Return what the client does in place of a row's exercise: the same in every week in which no change holds.

    Raises `Poisoned` where it, or what is printed of it and of the site, could not be read.
    """
    number = row.row.row
    known = None if exceptions.holding else view.as_written.get(number) or view.settled.get(number)
    if known is not None:
        findings.flags += known.flags
        return known
    swap = exceptions.swap
    kept = swap is not None and kept_elsewhere(view, swap.with_.needed, slot.week, slot.session)
    settled = settle(view, row, exceptions, swap_kept=kept)
    findings.flags += settled.flags
    if settled.exercise is not None:
        require_printed(settled.exercise)
        if view.site is not None:
            require_printed(view.site)
    if not exceptions.holding:
        untouched = settled.changed is None and not settled.flags
        (view.as_written if untouched else view.settled)[number] = settled
    return settled


def _site_of(view: ClientView) -> str | None:
    """Return the name of the site; a workbook without Sites has it on Kit alone."""
    if view.site is not None:
        return view.site.name.value
    return view.kit.site if view.kit else None


def _changed_cells(says: EffectiveWeek, exceptions: Exceptions) -> EffectiveWeek:
    """Return the week's cells with what the changes put in their place, the narrower's over the wider's."""
    for change in reversed(exceptions.holding):
        if not change.sets.blank:
            says = replace(says, sets=change.sets)
        if not change.reps.blank:
            says = replace(says, reps=change.reps)
    return says


def _reps(view: ClientView, exercise: Exercise, says: EffectiveWeek, findings: _Findings) -> Reps:
    """Return the repetitions, a share of the client's most turned into a number. Raises `Poisoned`."""
    reps = says.reps.needed
    if ShareOfMost not in map(type, reps.items):
        return reps
    most = most_reps(view, exercise)
    if most is None:
        remark = Remark(
            "missing-test",
            f"{view.name} has no test of the most repetitions of {exercise.name.value}; the number is left open.",
            "Add a row to Tests with a result such as 12 reps.",
        )
        findings.flags.append(flag(remark, says.reps.place, client=view.name, found=says.reps.text))
        return reps
    return replace(
        reps,
        items=tuple(_share(item, most) if isinstance(item, ShareOfMost) else item for item in reps.items),
    )


def _share(item: ShareOfMost, most: int) -> Count:
    """Return the whole repetitions of a share, rounded down and never none."""
    count = max(1, int((item.percent.share * most).to_integral_value(ROUND_FLOOR)))
    return Count(count, count)


def _load(
    view: ClientView,
    exercise: Exercise,
    says: EffectiveWeek,
    reps: Reps,
    exceptions: Exceptions,
    settled: Settled,
) -> Planned:
    """Return the load of the week, a change's own before the row's. Raises `Poisoned`."""
    own = next((change for change in exceptions.holding if not change.load.blank), None)
    chain = own_load(own, says.week) or says.load
    scale = scale_of(exceptions.scale)
    if chain is not None and not _for_this_lift(exercise, own, settled):
        without_weight = exercise.implement.value == "body weight"
        if not carries_over(chain):
            load = PlannedLoad(LoadKind.BLANK, source=chain.place_field.place)
            return Planned(
                PlannedLoad(LoadKind.BODY_WEIGHT) if without_weight else load, (needs_load(view, exercise, chain),)
            )
        if without_weight and isinstance(chain.base.value, PercentLoad):
            return Planned(PlannedLoad(LoadKind.BODY_WEIGHT))
    if chain is not says.load:
        says = replace(says, load=chain)
    return plan_load(Asked(view, exercise, says, reps, scale))


def _text_of(place: CellRef | None, says: EffectiveWeek, exceptions: Exceptions) -> str | None:
    """Return what stands in the cell that a load came from."""
    cells = [change.load for change in exceptions.holding]
    cells += [says.load.place_field] if says.load else []
    return next((cell.text for cell in cells if cell.place == place), None)


def _for_this_lift(exercise: Exercise, own: Change | None, settled: Settled) -> bool:
    """Tell whether the load was typed for the exercise that is done: by the row, or by the change that swapped it."""
    if settled.changed is None:
        return True
    if own is None or own.do.value != "swap":
        return False
    return name_key(own.with_.needed) == name_key(exercise.name.needed)


def _unscalable(view: ClientView, row: ProgrammeRow, exceptions: Exceptions, load: PlannedLoad) -> list[Flag]:
    """Return an error where a change scales one exercise that has no weight: it would be printed as it is.

    A change for every exercise scales the weights there are.
    """
    change = exceptions.scale
    if change is None or load.kind in SCALABLE or (change.exercise.blank and change.order.blank):
        return []
    remark = Remark(
        "change-matches-nothing",
        f"{row.exercise.value} has no weight that could be scaled to {change.with_.text} for {view.name}.",
        "Give this client a load, or fewer sets, with another kind of change.",
    )
    related = (load.source,) if load.source else ()
    place, found = change.do.place, change.do.text
    return [flag(remark, place, client=view.name, found=found, related=related, touches=(view.name,))]


def _scaled(exceptions: Exceptions, load: PlannedLoad) -> Changed | None:
    """Return the tag of a row that was scaled, for this client: its weight, or the one suggested beside an effort."""
    change = exceptions.scale
    if change is None or not (load.kind in SCALABLE or load.about):
        return None
    return Changed(None, change.words.value or DEFAULT_WORDS, change.do.place)
