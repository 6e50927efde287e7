"""One planned exercise of one client -> what its cell of a room sheet says, and whose bar could be shared.

The sheet is the coach's own: it says "untested" and "changed" outright, leaves out what the coach knows, and shortens
"body weight" as coaches type it.
"""

from __future__ import annotations

from functools import lru_cache

from compiler.documents.booklet_value import BlankLoad
from compiler.documents.dose import dose, load
from compiler.documents.figures import TIMES, Figures
from compiler.documents.load_words import bar_words
from compiler.documents.room_sheet_value import RoomCell
from compiler.folding import name_key
from compiler.frozen import frozen
from compiler.resolve.values import LoadKind, PlannedExercise
from compiler.schema.implements import PAIRS

BODY_WEIGHT = "BW"
ELSE = "→\u00a0"
"""Before another exercise than the one that the column is for."""

SETS_APART = "\u00a0/ "
"""Between the plates of one set and those of the next."""

UNTESTED = "untested"
CHANGED = "changed"
NOT_DONE = RoomCell("–")
_PAIR = f"2 {TIMES} "
_LONGER = (("Body weight", BODY_WEIGHT), ("body weight", BODY_WEIGHT), (" a side", ""), ("your ", ""))
SAID_BY_ITSELF = frozenset(
    {
        "ask your coach",
        "set by set",
        "as many as you can",
        "a breath between the parts",
        "more if they are good",
        "help from a band or machine",
    }
)
"""Words of a booklet that tell a coach nothing."""


@frozen
class Usual:
    """What the head of a column says for all: the exercise, what is done of it, the bar."""

    exercise: str
    dose: tuple[str, ...]
    bar: str | None


def dose_words(planned: PlannedExercise, figures: Figures) -> tuple[str, ...]:
    """Return what is done of an exercise: "3 × 8", "each side", "tempo 3-1-1"."""
    figure = dose(planned, figures)
    return (figure.text, *figure.notes)


def room_cell(
    planned: PlannedExercise, said: tuple[str, ...], usual: Usual, figures: Figures, *, untested: bool
) -> RoomCell:
    """Return the cell of one exercise; `said` are its dose words. Scaling is said of the client, not of every cell."""
    text, notes, blank = _load(planned, usual, figures)
    return RoomCell(text, (*notes, *_marks(planned, said, usual, untested=untested)), blank)


def _marks(planned: PlannedExercise, said: tuple[str, ...], usual: Usual, *, untested: bool) -> list[str]:
    marks = []
    name = planned.exercise.name.needed
    changed = planned.changed is not None and planned.changed.instead_of is None and planned.load.scaled is None
    if name != usual.exercise and name_key(name) != name_key(usual.exercise):
        marks.append(ELSE + name)
    elif changed:
        marks.append(CHANGED)
    if said[0] != usual.dose[0]:
        marks.append(said[0])
    marks += [words for words in said[1:] if words not in usual.dose and words not in SAID_BY_ITSELF]
    if untested:
        marks.append(UNTESTED)
    return marks


def _load(planned: PlannedExercise, usual: Usual, figures: Figures) -> tuple[str, list[str], str | None]:
    """Return the load as it is set large, the small words after it, and the unit where it is to be written in."""
    shown = load(planned, figures, percents=False, usual_bar=usual.bar)
    if shown is None:
        return "", [], None
    notes = [_short(note) for note in shown.notes if note not in SAID_BY_ITSELF]
    if isinstance(shown, BlankLoad):
        return "", notes, shown.unit
    kind = planned.load.kind
    if kind is LoadKind.TALK_TEST:
        return shown.text, [], None
    if kind is LoadKind.WORK_UP:
        return shown.text, [f"to {figures.effort(planned.load.effort)}"] if planned.load.effort else [], None
    if kind is LoadKind.HEART_RATE:
        return f"{shown.text} bpm", [], None
    if kind is LoadKind.EFFORT and planned.load.effort is not None:
        known = figures.reserve(planned.load.effort)
        notes = [note for note in notes if note != known]
    listed = _set_by_set(planned, figures)
    if listed:
        return listed, [*_plates_by_set(planned, usual, figures), *notes], None
    return _short(shown.text), notes, None


def _set_by_set(planned: PlannedExercise, figures: Figures) -> str:
    """Return a list of loads in full: 60, 65, 70 kg; empty where one load is for every set, or one cannot be loaded."""
    items = planned.load.items
    if len(items) < 2 or planned.load.kind is not LoadKind.WEIGHT or planned.load.about:
        return ""
    loads = [item.low.load for item in items]
    if any(found is None for found in loads) or any(item.low.load != item.high.load for item in items):
        return ""
    amounts = ", ".join(figures.amount(found.amount) for found in loads if found is not None)
    pair = _PAIR if planned.exercise.implement.value in PAIRS else ""
    return f"{pair}{amounts} {items[0].low.exact.unit}"


def _plates_by_set(planned: PlannedExercise, usual: Usual, figures: Figures) -> list[str]:
    """Return the plates of each set of a list in one note, 20 / 20 + 2.5, and the bar if it is not the usual."""
    loaded = [item.low for item in planned.load.items]
    plates = [figures.plates(fitted) for fitted in loaded]
    if loaded[0].bar is None or any(words is None for words in plates):
        return []
    note = SETS_APART.join(_short(words) for words in plates if words is not None)
    words = bar_words(loaded[0], figures)
    return [note] if words == usual.bar else [note, words]


@lru_cache(maxsize=4096)  # the same plates and words stand in many cells
def _short(words: str) -> str:
    for long, short in _LONGER:
        words = words.replace(long, short)
    return words


def on_the_bar(planned: PlannedExercise) -> tuple[object, ...] | None:
    """Return what must be alike for two people to share a bar: exercise, site, bar, plates; None without a bar."""
    items = planned.load.items
    if not items or any(item.low.bar is None or item.low.load is None for item in items):
        return None
    ends = tuple((end.bar, end.per_side) for item in items for end in (item.low, item.high))
    return (name_key(planned.exercise.name.needed), planned.site, ends)
