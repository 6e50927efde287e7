"""A planned load -> the words and numbers of a booklet."""

from __future__ import annotations

from compiler.documents.booklet_value import BlankLoad, Figure
from compiler.documents.figures import MINUS, TIMES, Figures
from compiler.folding import name_key
from compiler.quantities import Load, Percent
from compiler.resolve.values import Fitted, FittedRange, LoadKind, PlannedExercise, PlannedLoad
from compiler.schema.implements import PAIRS, SYSTEM

BEATS = "beats a minute"
HELP = "help from a band or machine"


def load_figure(
    planned: PlannedExercise, figures: Figures, *, percents: bool, usual_bar: str | None
) -> Figure | BlankLoad | None:
    """Return what stands where the load is; None where the exercise has none to speak of."""
    load = planned.load
    if load.paper_week is not None:
        return BlankLoad(unit_words(planned), (_step_words(load, load.paper_week, figures),))
    match load.kind:
        case LoadKind.WEIGHT | LoadKind.ADDED:
            return _weight(planned, figures, percents=percents, usual_bar=usual_bar)
        case LoadKind.EFFORT:
            return _effort(planned, figures, usual_bar=usual_bar)
        case LoadKind.WORK_UP:
            until = f"until it is {figures.effort(load.effort)}" if load.effort else "until it feels right"
            return Figure("Work up", (f"each set heavier {until}",))
        case LoadKind.OWN:
            own = () if load.own_step is None else (load.own_step,)
            return BlankLoad(unit_words(planned), (_paper(load, own, figures, "your last working weight"),))
        case LoadKind.BODY_WEIGHT:
            return Figure("Body weight")
        case LoadKind.FEEL:
            return Figure(str(load.feel).capitalize())
        case LoadKind.BAND:
            return Figure(_band_words(load.band or ""))
        case LoadKind.HEART_RATE if load.beats is not None:
            low, high = load.beats
            return Figure(f"{low}\u2013{high}" if low != high else str(low), (BEATS,))
        case LoadKind.TALK_TEST:
            head, _, rest = (load.talk or "").partition(": ")
            return Figure(head.capitalize(), (rest,))
        case LoadKind.BLANK | LoadKind.HEART_RATE:
            return BlankLoad(unit_words(planned), ("ask your coach",))
        case LoadKind.NONE:
            return None


def load_text(planned: PlannedExercise, figures: Figures) -> str | None:
    """Return the figure of a load without the words after it; None where there is no figure."""
    load = planned.load
    if load.paper_week is None:
        match load.kind:
            case LoadKind.WEIGHT | LoadKind.ADDED:
                return _weight_text(planned, figures)
            case LoadKind.EFFORT:
                return _effort_text(load, figures)
            case _:
                pass
    figure = load_figure(planned, figures, percents=False, usual_bar=None)
    return figure.text if isinstance(figure, Figure) else None


def unit_words(planned: PlannedExercise) -> str:
    """Return the unit that a client writes a load in: kg, or kg each hand."""
    if planned.exercise.implement.value == "cardio":
        return "bpm"
    if planned.exercise.implement.value == "band":
        return "band"
    return f"{planned.unit} each hand" if planned.exercise.implement.value in PAIRS else str(planned.unit)


def _band_words(name: str) -> str:
    words = name if "band" in name_key(name) else f"{name} band"
    return words[:1].upper() + words[1:]


def _step_words(load: PlannedLoad, week: int, figures: Figures) -> str:
    """Return how a load goes on from what the client wrote in a week.

    After `75% or RPE 7` a step of `+2.5%` is in points of a maximum that nobody knows: its way is told, no number.
    """
    if load.kind is not LoadKind.EFFORT or all(isinstance(step, Load) for step in load.paper_steps):
        return _paper(load, load.paper_steps, figures, f"your week {week} weight")
    amounts = [step.amount if isinstance(step, Load) else step.value for step in load.paper_steps]
    if load.paper_scale is not None:
        return "ask your coach"
    if min(amounts) > 0:
        return f"more than your week {week} weight"
    if max(amounts) < 0:
        return f"less than your week {week} weight"
    return "ask your coach"


def _paper(load: PlannedLoad, steps: tuple[Load | Percent, ...], figures: Figures, start: str) -> str:
    words = start
    for step in steps:
        if isinstance(step, Load):
            words += f" {figures.signed(step)}"
        else:
            sign = MINUS if step.value < 0 else "+"
            words += f" {sign} {figures.amount(abs(step.value))}%"
    if load.paper_scale is not None:
        words += f", then {figures.percent(load.paper_scale)} of that"
    return words


def _weight(
    planned: PlannedExercise, figures: Figures, *, percents: bool, usual_bar: str | None
) -> Figure | BlankLoad:
    item, text = planned.load.items[0], _weight_text(planned, figures)
    if text is None:
        return BlankLoad(unit_words(planned), ("ask your coach",))
    notes = load_notes(planned, figures, item, percents=percents, usual_bar=usual_bar)
    helped = planned.load.kind is LoadKind.ADDED and item.low.load is not None and item.low.load.amount < 0
    return Figure(text, (HELP, *notes) if helped else tuple(notes))


def _weight_text(planned: PlannedExercise, figures: Figures) -> str | None:
    """Return a weight, or body weight and what goes on or off it; None where there is no number."""
    item = planned.load.items[0]
    amount = figures.loads(item)
    if amount is None:
        return None
    if planned.load.kind is LoadKind.ADDED:
        words = added_words(item, figures) or ""
        return words[:1].upper() + words[1:]
    implement = planned.exercise.implement.value
    if implement in PAIRS:
        return f"2 {TIMES} {amount}"
    return f"bar + {amount}" if implement == "landmine" else amount


def added_words(item: FittedRange, figures: Figures) -> str | None:
    """Return what goes on or off the body, body weight + 5 kg or body weight − 20 kg; None where there is no number."""
    low, high = item.low.load, item.high.load
    return None if low is None or high is None else body_words(low, high, figures)


def body_words(low: Load, high: Load, figures: Figures) -> str:
    """Return body weight and what lies between two loads added to it; help is below zero."""
    if low.amount == 0 and high.amount == 0:
        return "body weight"
    if low.amount >= 0:
        return f"body weight + {figures.span(low.amount, high.amount)} {low.unit}"
    if high.amount <= 0:
        return f"body weight {MINUS} {figures.span(abs(high.amount), abs(low.amount))} {low.unit}"
    return f"body weight {MINUS} {figures.amount(abs(low.amount))} to + {figures.load(high)}"


def load_notes(
    planned: PlannedExercise,
    figures: Figures,
    item: FittedRange | None,
    *,
    percents: bool,
    usual_bar: str | None,
) -> list[str]:
    """Return the small words after a load: plates, another bar, percentage, where to stop."""
    notes: list[str] = []
    load = planned.load
    if item is not None:
        notes += _plates(item, figures, usual_bar)
        if item.low.miss is not None and item.low.load is not None:
            notes.append("the heaviest here")
    if percents and item is not None and item.low.percent is not None:
        notes += _share(load, item, item.low.percent, figures)
    if load.stop_at is not None:
        notes.append(f"stop at {figures.effort(load.stop_at)}")
    return notes


def _share(load: PlannedLoad, item: FittedRange, low: Percent, figures: Figures) -> list[str]:
    """Return what share of what a load is, in the unit that the load is printed in: 70% of 108 kg.

    What was added since, the body in it, and a client's own scale are told: 70% of 108 kg + 5 kg, then 90% of that.
    """
    of = load.percentages_of
    if of is None:
        return []
    of = of.to(item.low.top.unit)
    span = figures.span(low.value, (item.high.percent or low).value)
    words = f"{span}% of {figures.load(Load(round(of.amount, 1), of.unit))}"
    if load.steps is not None:
        steps = load.steps.to(of.unit)
        words += f" {figures.signed(Load(round(steps.amount, 1), steps.unit))}"
    if load.counted is not None:
        words += ", body included"
    if load.scaled is not None:
        words += f", then {figures.percent(load.scaled)} of that"
    return [words]


def _plates(item: FittedRange, figures: Figures, usual_bar: str | None) -> list[str]:
    fitted: Fitted = item.low
    words = figures.plates(fitted)
    if words is None or fitted.bar is None:
        return []
    upper = figures.plates(item.high)
    if upper is not None and upper != words:
        words = f"{words} to {upper}"
    bar = bar_words(fitted, figures)
    return [words] if bar == usual_bar else [words, bar]


def bar_words(fitted: Fitted, figures: Figures) -> str:
    """Return the name of a bar, with its weight where the name does not say it; empty without a bar."""
    if fitted.bar is None:
        return ""
    weight = figures.load(fitted.bar.weight)
    return fitted.bar.name if weight in fitted.bar.name else f"{fitted.bar.name}, {weight}"


def _effort(planned: PlannedExercise, figures: Figures, *, usual_bar: str | None) -> Figure:
    load, text = planned.load, _effort_text(planned.load, figures)
    if load.effort is None:
        return Figure(text)
    notes = []
    if load.back_off is not None:
        notes.append("first set")
    reserve = figures.reserve(load.effort)
    if reserve:
        notes.append(reserve)
    if load.about and load.items:
        amount = figures.loads(load.items[0])
        pair = f"2 {TIMES} " if planned.exercise.implement.value in PAIRS else ""
        if amount:
            notes.append(_about(planned, load.items[0], f"{pair}{amount}", figures))
            if load.items[0].low.load == load.items[0].high.load:
                notes += _plates(load.items[0], figures, usual_bar)
    return Figure(text, tuple(notes))


def _effort_text(load: PlannedLoad, figures: Figures) -> str:
    return "By feel" if load.effort is None else figures.effort(load.effort)


def _about(planned: PlannedExercise, item: FittedRange, amount: str, figures: Figures) -> str:
    words = added_words(item, figures) if planned.exercise.implement.value == SYSTEM else None
    return f"about {words or amount}"
