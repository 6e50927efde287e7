"""What the how-to page says of a dose, a load, a box: in the words of this booklet's own exercises.

In: the exercises of the booklet, those of the sample block first, so that the words are those beside them where they
can be. A form that no exercise has is not told.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Sequence

from compiler.documents.dose import dose, is_weighed, item_words, log_boxes
from compiler.documents.figures import TIMES, Figures
from compiler.documents.load_words import bar_words
from compiler.documents.session import Pages
from compiler.notation.values import (
    AsManyAsPossible,
    AtLeast,
    Cluster,
    Count,
    PercentOf,
    RepsItem,
    Sets,
    Tempo,
)
from compiler.notation.words import tempo_words
from compiler.quantities import Unit
from compiler.resolve.values import LoadKind, Maximum, MaxOrigin, PlannedExercise, PlannedLoad
from compiler.schema.implements import PAIRS

_NUMBERS = ("none", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")
_PAUSE = "still"
_PHASES = ("lowering", _PAUSE, "lifting", "at the top")
_NO_NUMBER = "your weight"
"""Stands for a load in the example of a box: an invented number might be lifted."""


def spoken(number: int) -> str:
    """Return a small number in words, a larger one in digits."""
    return _NUMBERS[number] if number < len(_NUMBERS) else str(number)


def _span(low: int, high: int, joined: str = " to ") -> str:
    return spoken(low) if low == high else f"{spoken(low)}{joined}{spoken(high)}"


# ---------------------------------------------------------------- sets and repetitions


def dose_sentences(planned: Sequence[PlannedExercise], figures: Figures) -> Iterator[str]:
    """Yield what the doses of the booklet mean, each kind once."""
    told = next((e for e in planned if e.sets is not None and TIMES in dose(e, figures).text), None)
    if told is None or told.sets is None:
        yield "First how many sets, then what is done in each."
    else:
        many = "sets" if told.sets.high > 1 else "set"
        yield f"{dose(told, figures).text} is {_sets(told.sets)} {many} of {_done(told.reps.items[0], figures)}."
    listed = next((e for e in planned if len(e.reps.items) > 1), None)
    if listed is not None:
        first, second = (_done(item, figures) for item in listed.reps.items[:2])
        yield f"{dose(listed, figures).text} is {first} in the first set, {second} in the second."
    items = [item for e in planned for item in e.reps.items]
    for item in _first_of_each([i for i in items if told is None or i != told.reps.items[0]]):
        match item:
            case Count(low=low, high=high):
                yield f"{item_words(item, figures)} means stop anywhere from {spoken(low)} to {spoken(high)}."
            case AtLeast():
                yield f"{item_words(item, figures)} means {_done(item, figures)}."
            case Cluster(counts=counts):
                yield f"{item_words(item, figures)} is one set in {spoken(len(counts))} parts with a breath between."
            case _:
                pass
    if (tempo := _told_tempo(planned)) is not None:
        yield tempo_sentence(tempo)
        if None not in _parts(tempo) and any(e.tempo and None in _parts(e.tempo) for e in planned):
            yield "X is as fast as you can."


def _first_of_each(items: Iterable[RepsItem]) -> list[RepsItem]:
    """Return the first range, the first open end, the first set in parts."""
    kept: dict[type, RepsItem] = {}
    for item in items:
        if isinstance(item, AtLeast | Cluster) or (isinstance(item, Count) and item.low != item.high):
            kept.setdefault(type(item), item)
    return list(kept.values())


def _sets(sets: Sets) -> str:
    joined = " or " if sets.high == sets.low + 1 else " to "
    return _span(sets.low, sets.high, joined)


def _done(item: RepsItem, figures: Figures) -> str:
    """Return what is done in a set, as it is said."""
    match item:
        case Count(low=low, high=high):
            return _span(low, high)
        case AtLeast(count=count):
            return f"{spoken(count)}, and more if they are good"
        case AsManyAsPossible():
            return "as many as you can"
        case Cluster(counts=counts):
            return f"{' and '.join(map(spoken, counts))}, with a breath between"
        case _:
            return item_words(item, figures)


def _told_tempo(planned: Sequence[PlannedExercise]) -> Tempo | None:
    return next((e.tempo for e in planned if e.tempo is not None), None)


def _parts(tempo: Tempo) -> tuple[int | None, ...]:
    return (tempo.lowering, tempo.pause, tempo.lifting, tempo.top)[: tempo.written]


def tempo_sentence(tempo: Tempo) -> str:
    """Return what a tempo means: each of its parts in turn."""
    words = [_phase(part, phase) for part, phase in zip(_parts(tempo), _PHASES, strict=False)]
    said = next((i for i, part in enumerate(_parts(tempo)) if part), None)
    if said is not None:  # the word seconds is said once
        number = _parts(tempo)[said]
        words[said] = words[said].replace(" ", " second " if number == 1 else " seconds ", 1)
    return f"Tempo {tempo_words(tempo)} is {', '.join(words)}; the first is always the lowering."


def _phase(part: int | None, phase: str) -> str:
    if part is None:
        return f"{phase} as fast as you can (X)"
    return "no pause" if part == 0 and phase == _PAUSE else f"{spoken(part)} {phase}"


# ---------------------------------------------------------------- loads


def load_sentences(planned: Sequence[PlannedExercise], pages: Pages) -> Iterator[str]:
    """Yield what the loads of the booklet mean, each kind once."""
    weighed = [e for e in planned if e.load.kind is LoadKind.WEIGHT and e.load.items[0].low.load is not None]
    on_a_bar = next((e for e in weighed if e.exercise.implement.value == "barbell"), None)
    if on_a_bar is not None:
        included = "bar and collars" if any(map(_has_collars, weighed)) else "bar"
        yield f"{pages.figures.loads(on_a_bar.load.items[0])} is the whole weight, {included} included."
        yield from _plates(planned, pages)
    units = {e.unit for e in planned if is_weighed(e)}
    if len(units) > 1:
        yield "Weights are in kilograms or pounds: look at the kg or lb beside each."
    elif weighed and on_a_bar is None:
        yield f"Weights are in {'kilograms' if Unit.KG in units else 'pounds'}."
    pair = _amount_of(weighed, PAIRS, pages.figures)
    if pair:
        yield f"2 {TIMES} {pair} is one of {pair} in each hand."
    plates = _amount_of(weighed, ("landmine",), pages.figures)
    if plates:
        yield f"bar + {plates} is {plates} of plates on the free end."
    if any(e.load.about for e in planned):
        yield '"About" is a place to start; the effort decides.'
    if any(e.load.kind in {LoadKind.BLANK, LoadKind.OWN} for e in planned):
        yield "A line is for you to write your weight on."


def _has_collars(planned: PlannedExercise) -> bool:
    """Tell whether a load is more than its bar and plates: what a client would miss when adding them up."""
    fitted = planned.load.items[0].low
    if fitted.bar is None or fitted.load is None or not fitted.per_side:
        return False
    return fitted.load.amount > fitted.bar.weight.to(fitted.load.unit).amount + 2 * sum(fitted.per_side)


def _amount_of(weighed: Sequence[PlannedExercise], implements: Collection[str], figures: Figures) -> str | None:
    """Return the first load with one of the implements, one that is no range if there is such a one."""
    loads = [e.load.items[0] for e in weighed if e.exercise.implement.value in implements]
    single = [item for item in loads if item.low.load == item.high.load]
    return next((figures.loads(item) for item in (*single, *loads)), None)


def _plates(planned: Sequence[PlannedExercise], pages: Pages) -> Iterator[str]:
    """Yield what "10 + 2.5 a side" means, of the bar that goes without saying."""
    for item in (item for e in planned for item in e.load.items):
        bar = item.low.bar
        if bar is not None and item.low.per_side and bar_words(item.low, pages.figures) == pages.usual_bar:
            weight = pages.figures.load(bar.weight)
            yield (
                f'"{pages.figures.plates(item.low)}" is what goes on each end of the {weight} bar, from the inside'
                " outwards."
            )
            return


def percent_sentences(planned: Iterable[PlannedExercise], method: str) -> Iterator[str]:
    """Yield what the percentages that the pages show are of; the load beside an effort shows none."""
    loads = [e.load for e in planned if e.load.kind in {LoadKind.WEIGHT, LoadKind.ADDED} and e.load.percent_of]
    maxima = [load.maximum for load in loads if load.maximum]
    if maxima:
        estimated = any(found.origin is MaxOrigin.ESTIMATE for found in maxima)
        how = f", estimated from your test by {method}" if estimated else " in the last test"
        yield f"Percentages are of your {' or '.join(dict.fromkeys(map(_hundred_percent, loads)))}{how}."


def _hundred_percent(load: PlannedLoad) -> str:
    """Return the name of what the percentages of a load are of."""
    match load.percent_of, load.maximum:
        case PercentOf.REP_MAX, _ if load.rep_max is not None and load.rep_max.reps > 1:
            return f"{spoken(load.rep_max.reps)}-repetition maximum"
        case PercentOf.WORKING_MAX, Maximum(one_rm=one_rm, working_max=working_max) if one_rm != working_max:
            return "working max"
        case _:
            return "one-repetition maximum"


# ---------------------------------------------------------------- boxes


def box_example(planned: Sequence[PlannedExercise], pages: Pages) -> str:
    """Return what a client might write into the first box of the first exercise that has one."""
    for e in planned:
        boxes = log_boxes(e)
        item = e.reps.items[0]
        if boxes.count and isinstance(item, Count | AtLeast):
            reps = str(item.low if isinstance(item, Count) else item.count)
            return f"{_amount(e, pages.figures)} {TIMES} {reps}" if TIMES in boxes.caption else reps
    return ""


def _amount(planned: PlannedExercise, figures: Figures) -> str:
    load = planned.load.items[0].low.load if planned.load.items and not planned.load.about else None
    return figures.amount(abs(load.amount)) if load is not None else _NO_NUMBER
