"""The progress page: what was lifted before, this month's plan, boxes for what will be lifted; one to three lifts.

Every number and every place on a scale is worked out here; drawing only measures.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from datetime import date
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal

from compiler.documents.figures import MINUS, TIMES, Figures
from compiler.documents.load_words import unit_words
from compiler.documents.past_results import PastResult, past_results
from compiler.documents.progress_value import GridLine, Panel, PanelPoint, Progress
from compiler.folding import name_key
from compiler.frozen import frozen
from compiler.model.book import Book
from compiler.notation.values import AtLeast, Count, Reps
from compiler.notation.words import reps_words
from compiler.quantities import Load, Unit
from compiler.resolve.sessions import DAYS_IN_A_WEEK
from compiler.resolve.values import ClientPlan, LoadKind, Part, PlannedExercise

MOST_LIFTS = 3
PAST_WEEKS = 8
MOST_STEPS = 5
STEPS = tuple(map(Decimal, ("0.5", "1", "2", "2.5", "5", "10", "20", "25", "50", "100", "200", "500")))
FROM_TESTS = "Solid dots are the heaviest you lifted in the weeks before. "
FROM_PLAN = "Open dots are the heaviest weight in this month's plan. Write the heaviest that you lift in the boxes."


@frozen
class _Target:
    """The heaviest planned load of a week."""

    load: Load
    reps: str


@dataclass(slots=True)
class _Lift:
    """One exercise that has planned weights: its targets by week, and what was lifted by weeks before the start."""

    planned: PlannedExercise
    unit: Unit
    targets: dict[int, _Target] = field(default_factory=dict)
    past: dict[int, PastResult] = field(default_factory=dict)
    planned_in: set[Unit] = field(default_factory=set)

    @property
    def rank(self) -> tuple[bool, bool, int]:
        """What makes a lift worth a panel: a past, a bar, many weeks."""
        return (bool(self.past), self.planned.exercise.implement.value == "barbell", len(self.targets))


def progress(book: Book, plan: ClientPlan, figures: Figures) -> Progress | None:
    """Return the page of one booklet; None where no exercise has planned weights in two weeks."""
    lifts = _lifts(plan)
    start = plan.client.start_date.known or book.block.start_date.known
    results = past_results(book, plan.name)
    for lift in lifts:
        known = results.get(name_key(lift.planned.exercise.name.needed), ())
        lift.past = _by_week(known, start, lift.unit)
    least = min(2, plan.weeks)
    worth = [lift for lift in lifts if len(lift.targets) >= least]
    chosen = sorted(worth, key=lambda lift: lift.rank, reverse=True)[:MOST_LIFTS]
    if not chosen:
        return None
    shown = [lift for lift in lifts if lift in chosen]
    return Progress(
        title="Your progress",
        intro=f"{FROM_TESTS if any(lift.past for lift in shown) else ''}{FROM_PLAN}{_converted(shown)}",
        before="weeks before",
        lifted="You lifted",
        panels=tuple(_panel(lift, plan.weeks, figures) for lift in shown),
    )


def _converted(lifts: Iterable[_Lift]) -> str:
    """Return what is to be said of weights that their own pages print in another unit."""
    others = {(unit, lift.unit) for lift in lifts for unit in lift.planned_in if unit is not lift.unit}
    return "".join(f" Weights planned in {unit} are shown in {to}." for unit, to in sorted(others))


def _lifts(plan: ClientPlan) -> list[_Lift]:
    """Return the exercises of the main parts with planned weights, in the order they are met."""
    found: dict[str, _Lift] = {}
    for session in plan.sessions:
        for planned in session.parts[Part.MAIN]:
            best = _heaviest(planned)
            if best is None:
                continue
            name = name_key(planned.exercise.name.needed)
            lift = found.setdefault(name, _Lift(planned, best.load.unit))
            lift.planned_in.add(best.load.unit)
            best = _Target(_in_unit(best.load, lift.unit), best.reps)
            known = lift.targets.get(session.week)
            if known is None or best.load.amount > known.load.amount:
                lift.targets[session.week] = best
    return list(found.values())


def _heaviest(planned: PlannedExercise) -> _Target | None:
    """Return the heaviest set of a row whose loads are numbers, None for any other row."""
    if planned.load.kind is not LoadKind.WEIGHT or planned.load.about or planned.load.paper_steps:
        return None
    reps = planned.reps.items
    best: _Target | None = None
    for number, item in enumerate(planned.load.items):
        load = item.high.load
        if load is None or item.low.load is None:
            return None
        done = reps[min(number, len(reps) - 1)]
        if best is None or load.amount > best.load.amount:
            best = _Target(load, reps_words(Reps((done,))) if isinstance(done, Count | AtLeast) else "")
    return best


def _in_unit(load: Load, unit: Unit) -> Load:
    """Return a load in the unit of its panel; one of another unit to the tenth."""
    return load if load.unit is unit else Load(round(load.to(unit).amount, 1), unit)


def _by_week(results: Iterable[PastResult], start: date | None, unit: Unit) -> dict[int, PastResult]:
    """Return the heaviest result of each of the last weeks before the start, by how many weeks before.

    Of two as heavy, the one with more repetitions.
    """
    found: dict[int, PastResult] = {}
    for result in results:
        days = (start - result.date).days if start else 0
        week = -(-days // DAYS_IN_A_WEEK)
        load = _in_unit(result.load, unit)
        best = found.get(week)
        size = load.amount, result.reps or 0
        if 1 <= week <= PAST_WEEKS and (best is None or size > (best.load.amount, best.reps or 0)):
            found[week] = PastResult(result.date, load, result.reps)
    return found


# ---------------------------------------------------------------- panels


def _panel(lift: _Lift, weeks: int, figures: Figures) -> Panel:
    results = [result.load.amount for result in lift.past.values()]
    scale = _Scale.of([*results, *(target.load.amount for target in lift.targets.values())])
    back = range(max(lift.past, default=0), 0, -1)
    past = tuple(_past_point(lift.past.get(week), scale, figures) for week in back)
    plan = tuple(_plan_point(lift.targets.get(week), scale, figures) for week in range(1, weeks + 1))
    unit = unit_words(lift.planned)
    if lift.planned.exercise.implement.value == "landmine":
        unit = f"plates, {unit}"
    title = f"{lift.planned.exercise.name.needed}, {unit}"
    return Panel(
        title=title,
        past_weeks=tuple(f"{MINUS}{week}" for week in back),
        past=past,
        plan=plan,
        lines=tuple(GridLine(scale.share(value), figures.amount(value)) for value in scale.values()),
        described=_described(title, lift, figures),
    )


def _past_point(result: PastResult | None, scale: _Scale, figures: Figures) -> PanelPoint | None:
    if result is None:
        return None
    detail = f"{TIMES} {result.reps}" if result.reps else ""
    return PanelPoint(scale.share(result.load.amount), figures.amount(result.load.amount), detail)


def _plan_point(target: _Target | None, scale: _Scale, figures: Figures) -> PanelPoint | None:
    if target is None:
        return None
    detail = f"{TIMES} {target.reps}" if target.reps else ""
    return PanelPoint(scale.share(target.load.amount), figures.amount(target.load.amount), detail)


def _described(title: str, lift: _Lift, figures: Figures) -> str:
    """Return the panel in words, for those who do not see it."""
    past = [f"{_weeks_before(week)} {_said(lift.past[week], figures)}" for week in sorted(lift.past, reverse=True)]
    plan = [
        f"week {week} {figures.amount(target.load.amount)}" for week, target in sorted(lift.targets.items())
    ]
    lifted = f" Lifted: {', '.join(past)}." if past else ""
    return f"{title}.{lifted} Plan: {', '.join(plan)}."


def _said(result: PastResult, figures: Figures) -> str:
    times = f" {TIMES} {result.reps}" if result.reps else ""
    return f"{figures.amount(result.load.amount)}{times}"


def _weeks_before(week: int) -> str:
    return "the week before" if week == 1 else f"{week} weeks before"


@frozen
class _Scale:
    """A scale in even steps that holds some values; it need not start at nought."""

    low: Decimal
    high: Decimal
    step: Decimal

    @classmethod
    def of(cls, values: Sequence[Decimal]) -> _Scale:
        """Return the finest scale of few steps; one value alone stands in its middle."""
        for step in STEPS:
            low = _whole(min(values), step, ROUND_FLOOR)
            high = _whole(max(values), step, ROUND_CEILING)
            if low == high:
                low, high = max(low - step, Decimal(0)), high + step
            if high - low <= MOST_STEPS * step:
                return cls(low, high, step)
        return cls(Decimal(0), max(values), max(values) / MOST_STEPS)

    def share(self, value: Decimal) -> float:
        """Return where a value stands, from 0 at the foot of the scale to 1 at its top."""
        return float((value - self.low) / (self.high - self.low))

    def values(self) -> tuple[Decimal, ...]:
        """Return the values of the lines, from the foot up."""
        count = int((self.high - self.low) / self.step)
        return tuple(self.low + number * self.step for number in range(count + 1))


def _whole(value: Decimal, step: Decimal, rounding: str) -> Decimal:
    return (value / step).to_integral_value(rounding=rounding) * step
