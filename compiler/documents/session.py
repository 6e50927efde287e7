"""A planned session -> the session of a booklet: warm-up, blocks with their heads, cool-down."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from decimal import Decimal

from compiler.documents.booklet_value import (
    Block,
    BlockResult,
    ExerciseRow,
    Figure,
    LogBoxes,
    Session,
    TickItem,
    TickList,
)
from compiler.documents.dose import BY_THE_CLOCK, dose, extra_lines, load, log_boxes
from compiler.documents.figures import TIMES, Figures, day_words
from compiler.documents.load_words import BEATS, bar_words
from compiler.frozen import frozen
from compiler.notation.values import DoneAs, DoneAsKind, Rest
from compiler.notation.words import rest_words
from compiler.resolve.settle import DEFAULT_WORDS
from compiler.resolve.values import LoadKind, Part, PlannedExercise, PlannedSession, RampSet
from compiler.review.turns import grouped, letter_of, sets_of

CHANGE_OVER = 20
"""A rest inside a group of up to this many seconds is time to change over, and is told in the block's head."""

GROUPS = {2: "Superset", 3: "Tri-set"}
LARGER_GROUP = "Giant set"


@frozen
class Pages:
    """What the pages of one booklet have in common. `usual_bar` is the bar that goes without saying, in words."""

    figures: Figures
    percents: bool
    usual_bar: str | None
    weeks: int


def usual_bar(sessions: Iterable[PlannedSession], figures: Figures) -> str | None:
    """Return the bar that most loads of a booklet are on; two sites may have bars of one name and two weights."""
    bars = Counter(
        bar_words(item.low, figures)
        for session in sessions
        for exercise in session.exercises
        for item in exercise.load.items
        if item.low.bar is not None
    )
    return bars.most_common(1)[0][0] if bars else None


def session_page(session: PlannedSession, key: str, pages: Pages, *, easier: bool) -> Session:
    """Return one session of the booklet."""
    return Session(
        key=key,
        title=session.name,
        when=_when(session, pages.weeks),
        bookmark=f"Week {session.week}: {session.name}",
        blocks=tuple(_block(group, pages) for group in blocks_of(session)),
        warm_up=_ticks("Warm-up", session.parts[Part.WARM_UP], pages),
        cool_down=_ticks("Cool-down", session.parts[Part.COOL_DOWN], pages),
        note="An easier week, on purpose." if easier else "",
    )


def _when(session: PlannedSession, weeks: int) -> str:
    week = f"week {session.week} of {weeks}"
    if session.closed:
        return f"{session.weekday}, closed that day: ask for another, {week}"
    if session.day is not None:
        return f"{session.weekday} {day_words(session.day)}, {week}"
    return f"{session.weekday}, {week}" if session.weekday else week.capitalize()


def _ticks(title: str, exercises: Sequence[PlannedExercise], pages: Pages) -> TickList | None:
    items = []
    for planned in exercises:
        shown = load(planned, pages.figures, percents=False, usual_bar=pages.usual_bar)
        words = [_short_dose(planned, pages.figures)]
        if isinstance(shown, Figure) and shown.text != "Body weight":
            words.append(f"{shown.text} {BEATS}" if planned.load.kind is LoadKind.HEART_RATE else shown.text)
        name = planned.exercise.name.needed
        items.append(TickItem(name, ", ".join(words), changed_words(planned), planned.cue or ""))
    return TickList(title, tuple(items)) if items else None


def _short_dose(planned: PlannedExercise, figures: Figures) -> str:
    """Return a dose for a warm-up line: one set goes without saying."""
    figure = dose(planned, figures)
    text = figure.text.removeprefix(f"1 {TIMES} ")
    sides = [note for note in figure.notes if note == "each side"]
    return " ".join([text, *sides])


# ---------------------------------------------------------------- blocks


def blocks_of(session: PlannedSession) -> list[list[PlannedExercise]]:
    """Return the exercises of each block of a session's page, in their order."""
    return [*grouped(session.parts[Part.MAIN]), *grouped(session.parts[Part.CONDITIONING])]


def blocks(exercises: Sequence[PlannedExercise], pages: Pages) -> list[Block]:
    """Return the exercises of one part of a session as blocks."""
    return [_block(group, pages) for group in grouped(exercises)]


def _block(group: list[PlannedExercise], pages: Pages) -> Block:
    how = next((planned.done_as for planned in group if planned.done_as), None)
    alone = len(group) == 1
    rows = tuple(_row(planned, pages, label="" if alone else planned.order) for planned in group)
    return Block(
        letter=group[0].order if alone else letter_of(group[0]),
        kind=_kind(group, how),
        rest=_rest_sentence(group, how),
        rows=rows,
        result=_result(how),
        left_over="" if alone or (how and how.kind in BY_THE_CLOCK) else _left_over(group),
    )


def _kind(group: list[PlannedExercise], how: DoneAs | None) -> str:
    match how.kind if how else None:
        case DoneAsKind.CIRCUIT:
            rounds = max(sets_of(planned) for planned in group)
            return f"Circuit, {rounds} rounds" if rounds > 1 else "Circuit"
        case DoneAsKind.EMOM:
            return "Every minute on the minute"
        case DoneAsKind.EVERY:
            return f"Every {_minutes(how)}"
        case DoneAsKind.AMRAP:
            return f"As many rounds as possible in {_minutes(how)}"
        case DoneAsKind.FOR_TIME:
            return "For time"
        case _:
            if len(group) > 1:
                return GROUPS.get(len(group), LARGER_GROUP)
            return "Straight sets" if sets_of(group[0]) > 1 else "Once"


def _minutes(how: DoneAs | None) -> str:
    seconds = how.seconds if how and how.seconds else 0
    return rest_words(Rest(seconds, seconds))


def _result(how: DoneAs | None) -> BlockResult | None:
    match how.kind if how else None:
        case DoneAsKind.AMRAP:
            return BlockResult("Rounds done", LogBoxes("rounds", 1))
        case DoneAsKind.FOR_TIME:
            return BlockResult("Your time", LogBoxes("time", 1))
        case _:
            return None


def _rest_sentence(group: list[PlannedExercise], how: DoneAs | None) -> str:
    labels = [planned.order for planned in group]
    turns = f"{_turns(labels)}, " if len(labels) > 1 else ""
    rest = next((planned.rest for planned in reversed(group) if planned.rest is not None), None)
    pause = rest_words(rest) if rest is not None and rest.high > 0 else None
    match how.kind if how else None:
        case DoneAsKind.EMOM:
            total = f"for {_minutes(how)}" if how and how.seconds else ""
            return f"start a set at every full minute {total}".strip()
        case DoneAsKind.EVERY:
            return f"start a set, {how.rounds} times; what is left is rest" if how and how.rounds else "start a set"
        case DoneAsKind.AMRAP:
            return f"{turns}round and round at a pace you can hold"
        case DoneAsKind.FOR_TIME:
            return f"{turns}as fast as every repetition stays good"
        case _:
            pass
    if len(group) == 1:
        if pause is None:
            return ""
        return f"rest {pause} after each set" if sets_of(group[0]) > 1 else f"then rest {pause}"
    sentence = f"{_turns(labels)}{_change_over(group)}"
    if pause:
        sentence += f", then rest {pause}"
    elif rest is not None:
        sentence += ", no rest needed"
    return sentence


def _turns(labels: list[str]) -> str:
    return f"{labels[0]} then {labels[1]}" if len(labels) == 2 else ", ".join(labels)


def _change_over(group: list[PlannedExercise]) -> str:
    inside = [planned.rest for planned in group[:-1] if planned.rest is not None and planned.rest.high > 0]
    short = [rest for rest in inside if rest.high <= CHANGE_OVER]
    if short:
        return f" ({rest_words(short[0])} to change over)"
    longer = [
        (planned.order, planned.rest)
        for planned in group[:-1]
        if planned.rest is not None and planned.rest.high > CHANGE_OVER
    ]
    return "".join(f", {rest_words(rest)} after {order}" for order, rest in longer)


def _left_over(group: list[PlannedExercise]) -> str:
    """Return which sets of a group have no partner, or fewer than the others; nothing where all have as many."""
    counts = [sets_of(planned) for planned in group]
    fewer = [count for count in counts if count < max(counts)]
    if not fewer:
        return ""
    longest = [planned.order for planned, count in zip(group, counts, strict=True) if count == max(counts)]
    more = max(counts) - max(fewer)
    sets = "the last" if more == 1 else f"the last {more}"
    return f"{sets} of {' and '.join(longest)} {'alone' if len(longest) == 1 else 'without the others'}"


# ---------------------------------------------------------------- rows


def _row(planned: PlannedExercise, pages: Pages, label: str) -> ExerciseRow:
    return ExerciseRow(
        label=label,
        name=planned.exercise.name.needed,
        dose=dose(planned, pages.figures),
        load=load(planned, pages.figures, percents=pages.percents, usual_bar=pages.usual_bar),
        log=log_boxes(planned),
        changed=changed_words(planned),
        ramp=_ramp(planned.ramp, pages.figures),
        spotter=SPOTTER_WORDS.get(planned.exercise.spotter.value or "", ""),
        extra=extra_lines(planned, pages.figures, usual_bar=pages.usual_bar),
        cue=planned.cue or "",
    )


SPOTTER_WORDS = {"one": "spotter", "two": "two spotters", "safety pins": "safety pins set"}


BY_THE_COACH = DEFAULT_WORDS.removeprefix("changed ")
"""The tag in front of it says that something is changed."""


def changed_words(planned: PlannedExercise) -> str | None:
    """Return the words beside the Changed tag: what it stands for and what the coach chose to say."""
    changed = planned.changed
    if changed is None:
        return None
    if changed.instead_of is None:
        return BY_THE_COACH if changed.words == DEFAULT_WORDS else changed.words
    return f"Instead of {changed.instead_of}: {changed.words}"


def _ramp(ramp: Sequence[RampSet], figures: Figures) -> str:
    words = []
    for step in ramp:
        bare = step.load.per_side == () and step.load.percent is None
        amount = figures.load(step.load.load) if step.load.load else ""
        words.append(f"{'bar' if bare else amount} {TIMES} {figures.amount(Decimal(step.reps))}")
    return ", ".join(words)
