"""One planned exercise -> what its row says: dose, load, extra lines, boxes to write in.

Every string is made here; drawing computes nothing.
"""

from __future__ import annotations

from compiler.documents.booklet_value import BlankLoad, ExtraLine, Figure, LogBoxes
from compiler.documents.figures import TIMES, Figures
from compiler.documents.load_words import added_words, body_words, load_figure, load_notes
from compiler.notation.values import (
    AsManyAsPossible,
    AtLeast,
    Cluster,
    Count,
    Distance,
    DistanceUnit,
    DoneAsKind,
    Reps,
    RepsItem,
    Sets,
    ShareOfMost,
    Tally,
    TestSet,
    Timed,
)
from compiler.notation.words import reps_words, tempo_words
from compiler.quantities import Load
from compiler.resolve.values import FittedRange, LoadKind, PlannedExercise
from compiler.review.turns import sets_of
from compiler.schema.implements import PAIRS, SYSTEM, UNWEIGHED

WEIGHED = (LoadKind.WEIGHT, LoadKind.EFFORT, LoadKind.WORK_UP, LoadKind.OWN, LoadKind.BLANK, LoadKind.FEEL)
ONE_BOX = (DoneAsKind.AMRAP, DoneAsKind.FOR_TIME)
"""Ways to do a group where the result is of the whole group, and a row has a box only for its load."""

BY_THE_CLOCK = (*ONE_BOX, DoneAsKind.EMOM, DoneAsKind.EVERY)
"""Ways in which the clock or the group says how often: one set typed, or none, is what is done each time."""

MOST_LISTED = 5
"""The most loads that are read at a glance in one figure."""


def item_words(item: RepsItem, figures: Figures) -> str:
    """Return one item of the repetitions, as large print shows it."""
    match item:
        case AsManyAsPossible():
            return "max"
        case ShareOfMost(percent=percent):
            return f"{figures.percent(percent)} of your most"
        case _:
            return reps_words(Reps((item,)), figures.sign)


def sets_words(sets: Sets | None) -> str:
    """Return the number of sets, or the range."""
    if sets is None:
        return "1"
    return str(sets.low) if sets.low == sets.high else f"{sets.low}\u2013{sets.high}"


def dose(planned: PlannedExercise, figures: Figures) -> Figure:
    """Return sets and repetitions, and the words after them."""
    return Figure(dose_text(planned, figures), tuple(_dose_notes(planned)))


def dose_text(planned: PlannedExercise, figures: Figures) -> str:
    """Return sets and repetitions without the words after them."""
    items = planned.reps.items
    if len(items) > 1:
        return ", ".join(item_words(item, figures) for item in items)
    one = planned.sets is None or planned.sets.high == 1
    words = item_words(items[0], figures)
    if one and isinstance(items[0], Timed | Distance | TestSet | Tally):
        return words
    if one and planned.done_as is not None and planned.done_as.kind in BY_THE_CLOCK:
        return f"{words} reps"
    return f"{sets_words(planned.sets)} {TIMES} {words}"


def _dose_notes(planned: PlannedExercise) -> list[str]:
    notes = []
    if len(planned.reps.items) > 1 and not _differs(planned):
        notes.append("set by set")
    match planned.reps.items[0]:
        case AsManyAsPossible():
            notes.append("as many as you can")
        case AtLeast():
            notes.append("more if they are good")
        case TestSet(count=count) if planned.load.kind is not LoadKind.WORK_UP:  # that says it beside the load
            notes.append(
                "work up to the heaviest single" if count == 1 else f"work up to the heaviest {count}"
            )
        case Cluster():
            notes.append("a breath between the parts")
        case _:
            pass
    if planned.reps.each_side or planned.exercise.each_side.value:
        notes.append("each side")
    if planned.tempo is not None:
        notes.append(f"tempo {tempo_words(planned.tempo)}")
    return notes


def load(
    planned: PlannedExercise, figures: Figures, *, percents: bool, usual_bar: str | None
) -> Figure | BlankLoad | None:
    """Return what stands where the load is; sets that differ are told in `extra_lines`, or here if they are short."""
    if _differs(planned):
        notes = load_notes(planned, figures, None, percents=percents, usual_bar=usual_bar)
        listed = _listed_loads(planned, figures)
        if listed:
            return Figure(listed, ("set by set", *notes))
        return Figure(_whole_span(planned, figures), tuple(notes))
    return load_figure(planned, figures, percents=percents, usual_bar=usual_bar)


def _listed_loads(planned: PlannedExercise, figures: Figures) -> str:
    """Return the loads of few sets in one figure, 12, 16, 20 kg; nothing where sets differ in more, or need plates."""
    items, sets = planned.load.items, sets_of(planned)
    if (
        len(planned.reps.items) > 1
        or sets > MOST_LISTED
        or planned.load.kind is not LoadKind.WEIGHT
        or planned.exercise.implement.value in {*PAIRS, "landmine"}
    ):
        return ""
    amounts: list[str] = []
    for item in (items[min(number, len(items) - 1)] for number in range(sets)):
        load = item.low.load
        if load is None or load != item.high.load or item.low.bar is not None or item.low.miss is not None:
            return ""
        amounts.append(figures.amount(load.amount))
    return f"{', '.join(amounts)} {items[0].low.exact.unit}"


def _whole_span(planned: PlannedExercise, figures: Figures) -> str:
    """Return the lightest and the heaviest of a load list; the sets stand below."""
    loads = [end.load for item in planned.load.items for end in (item.low, item.high) if end.load is not None]
    if not loads:
        return "set by set"
    amounts = [load.amount for load in loads]
    pair = f"2 {TIMES} " if planned.exercise.implement.value in PAIRS else ""
    if planned.load.kind is LoadKind.ADDED:
        words = body_words(Load(min(amounts), loads[0].unit), Load(max(amounts), loads[0].unit), figures)
        return words[:1].upper() + words[1:]
    return f"{pair}{figures.span(min(amounts), max(amounts))} {loads[0].unit}"


def _differs(planned: PlannedExercise) -> bool:
    return (
        not planned.load.about
        and len(planned.load.items) > 1
        and planned.load.kind in {LoadKind.WEIGHT, LoadKind.ADDED}
    )


def extra_lines(
    planned: PlannedExercise, figures: Figures, *, usual_bar: str | None
) -> tuple[ExtraLine, ...]:
    """Return the lines under the dose: sets of a list, a back-off, a drop set."""
    lines: list[ExtraLine] = []
    if _differs(planned) and not _listed_loads(planned, figures):
        lines += _set_lines(planned, figures, usual_bar)
    back_off = planned.load.back_off
    sets = sets_of(planned)
    if back_off is not None and sets > 1:
        percent = figures.percent(back_off)
        about = planned.load.items[1] if planned.load.about and len(planned.load.items) > 1 else None
        notes = (f"about {_set_load(planned, about, figures)}",) if about else ()
        lines.append(
            ExtraLine(
                "then",
                f"{sets - 1} {TIMES} {item_words(planned.reps.items[-1], figures)}",
                f"{percent} lighter",
                notes,
            )
        )
    how = planned.done_as
    if how is not None and how.kind is DoneAsKind.DROP_SET:
        drop = f"{figures.percent(how.drop)} lighter" if how.drop else "lighter"
        times = how.rounds or 1
        again = "once" if times == 1 else f"{times} times"
        lines.append(ExtraLine(f"last set: at the end go straight on, {drop}, {again}"))
    if how is not None and how.kind is DoneAsKind.REST_PAUSE:
        lines.append(ExtraLine("last set: rest 15 s, then a few more with the same weight"))
    return tuple(lines)


def _set_lines(planned: PlannedExercise, figures: Figures, usual_bar: str | None) -> list[ExtraLine]:
    lines = []
    reps = planned.reps.items
    items = planned.load.items
    for number in range(sets_of(planned)):
        item = items[min(number, len(items) - 1)]
        done = reps[min(number, len(reps) - 1)]
        shown = load_notes(planned, figures, item, percents=False, usual_bar=usual_bar)
        words = item_words(done, figures)
        lines.append(ExtraLine(f"set {number + 1}", words, _set_load(planned, item, figures), tuple(shown)))
    return lines


def _set_load(planned: PlannedExercise, item: FittedRange, figures: Figures) -> str:
    """Return the load of one set of several; a line to write on where there is no number."""
    amount = figures.loads(item)
    if amount is None:
        return "____"
    implement = planned.exercise.implement.value
    if planned.load.kind is LoadKind.ADDED or implement == SYSTEM:
        return added_words(item, figures) or amount
    return f"2 {TIMES} {amount}" if implement in PAIRS else amount


def log_boxes(planned: PlannedExercise) -> LogBoxes:
    """Return the boxes to write in: one a set, captioned by what is written."""
    weighed = is_weighed(planned)
    if planned.done_as is not None and planned.done_as.kind in ONE_BOX:
        return LogBoxes(str(planned.unit), 1 if weighed else 0)
    return LogBoxes(
        _caption(planned, weighed=weighed), sets_of(planned), reps_left=weighed and _counted(planned)
    )


def is_weighed(planned: PlannedExercise) -> bool:
    """Tell whether a weight is written down for a row."""
    if planned.load.kind is LoadKind.ADDED:
        return True
    return planned.load.kind in WEIGHED and planned.exercise.implement.value not in UNWEIGHED


def _counted(planned: PlannedExercise) -> bool:
    return not any(isinstance(item, Timed | Distance | Tally) for item in planned.reps.items)


def _caption(planned: PlannedExercise, *, weighed: bool) -> str:
    unit, first = planned.unit, planned.reps.items[0]
    cardio = planned.exercise.implement.value == "cardio"
    match first:
        case Timed() if cardio:
            return "metres"
        case Distance() if cardio:
            return "time"
        case Timed(high=high):
            done = "seconds" if high <= 120 else "min"
        case Distance(unit=length):
            done = {DistanceUnit.METRE: "m", DistanceUnit.YARD: "yd"}.get(length, str(length))
        case Tally(word=word):
            done = word
        case Count() | AtLeast() | AsManyAsPossible() | ShareOfMost() | TestSet() | Cluster():
            done = "reps"
    if not weighed:
        return "metres" if done == "m" else done
    done = "s" if done == "seconds" else done
    implement = planned.exercise.implement.value
    if planned.load.kind is LoadKind.ADDED or implement == SYSTEM:
        return f"added {unit} {TIMES} {done}"
    if implement in PAIRS:
        return f"{unit} each hand {TIMES} {done}"
    if implement == "landmine":
        return f"plates {unit} {TIMES} {done}"
    return f"{unit} {TIMES} {done}"
