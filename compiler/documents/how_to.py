"""The how-to page: explains the marks that occur in this booklet, and no others."""

from __future__ import annotations

from collections.abc import Iterator

from compiler.documents.booklet_value import (
    Block,
    CoachNote,
    EffortStep,
    EffortStrip,
    Figure,
    HowTo,
    Mark,
    Point,
    Session,
)
from compiler.documents.session import Pages
from compiler.model.book import Book
from compiler.notation.values import AtLeast, Cluster, Count
from compiler.resolve.values import ClientPlan, LoadKind, MaxOrigin, PlannedExercise
from compiler.schema.implements import PAIRS

SAMPLE_ROWS = 3

EFFORTS = (
    EffortStep("RPE 6", "four more reps were possible"),
    EffortStep("RPE 7", "three more"),
    EffortStep("RPE 8", "two more"),
    EffortStep("RPE 9", "one more"),
    EffortStep("RPE 10", "nothing left"),
)


def how_to(book: Book, plan: ClientPlan, sessions: tuple[Session, ...], pages: Pages) -> HowTo:
    """Return the how-to page of one booklet."""
    sample = _sample(sessions)
    planned = [e for s in plan.sessions for exercises in s.parts.values() for e in exercises]
    points = [
        *_blocks(sessions, sample),
        *_names(sample, planned),
        *_doses(planned),
        *_loads(book, planned, pages),
        *_ramps(planned),
        *_cues(sample),
        *_boxes(planned),
    ]
    efforts = any(e.load.effort is not None or e.load.stop_at is not None for e in planned)
    note = plan.client.note.value
    return HowTo(
        title="How to read a session",
        sample=sample,
        points=tuple(points),
        effort=EffortStrip("RPE: how hard should it feel?", EFFORTS) if efforts else None,
        note=CoachNote("From your coach", note) if note else None,
    )


def _sample(sessions: tuple[Session, ...]) -> Block:
    """Choose a real block that shows most marks; a block of its own where the booklet has none."""
    blocks = [
        block for session in sessions for block in session.blocks if 1 <= len(block.rows) <= SAMPLE_ROWS
    ]
    if not blocks:
        return Block("A", "", "", ())
    return max(blocks, key=_tells)


def _tells(block: Block) -> tuple[int, int]:
    """Rank a block by how much of the notation it shows; one superset beats a longer list."""
    marks = {
        "group": len(block.rows) == 2,
        "load": any(isinstance(row.load, Figure) and "kg" in row.load.text for row in block.rows),
        "notes": any(isinstance(row.load, Figure) and row.load.notes for row in block.rows),
        "tempo": any("tempo" in note for row in block.rows for note in row.dose.notes),
        "cue": any(row.cue for row in block.rows),
        "changed": any(row.changed for row in block.rows),
        "ramp": any(row.ramp for row in block.rows),
    }
    return sum(marks.values()), -sum(len(row.extra) for row in block.rows)


def _blocks(sessions: tuple[Session, ...], sample: Block) -> Iterator[Point]:
    grouped = any(len(block.rows) > 1 for session in sessions for block in session.blocks)
    text = "The rest stands once, in the head of the block."
    if grouped:
        text = (
            "Exercises joined by a bracket are done in turn: one set of each, then the rest."
            " Repeat until every set is done."
        )
    yield Point("Block and rest.", text, Mark.REST if sample.rest else None)


def _names(sample: Block, planned: list[PlannedExercise]) -> Iterator[Point]:
    labels = [row.label for row in sample.rows if row.label]
    text = f"{labels[0]} comes before {labels[1]}." if len(labels) > 1 else "Blocks follow their letters: A before B."
    yield Point("Order and name.", text, Mark.NAME)
    if any(e.changed for e in planned):
        yield Point("Changed.", "Your coach has changed this one for you.", Mark.CHANGED)


def _doses(planned: list[PlannedExercise]) -> Iterator[Point]:
    items = [item for e in planned for item in e.reps.items]
    texts = ["4 \u00d7 6 is four sets of six."]
    if any(isinstance(item, Count) and item.low != item.high for item in items):
        texts.append("8\u201310 means stop anywhere from eight to ten.")
    if any(isinstance(item, AtLeast) for item in items):
        texts.append("8+ means eight, and more if they are good.")
    if any(isinstance(item, Cluster) for item in items):
        texts.append("2 + 2 + 2 is one set in three parts with a breath between.")
    if any(e.tempo for e in planned):
        texts.append(
            "Tempo 3-1-1-0 is three seconds lowering, one still, one lifting, none at the top; the first is always the"
            " lowering, X is as fast as you can."
        )
    yield Point("Sets \u00d7 reps.", " ".join(texts), Mark.DOSE)


def _loads(book: Book, planned: list[PlannedExercise], pages: Pages) -> Iterator[Point]:
    unit = "Kilograms" if pages.unit == "kg" else "Pounds"
    texts = [f"{unit} in all."]
    bar = next(
        (i.low.bar for e in planned for i in e.load.items if i.low.bar and i.low.bar.name == pages.usual_bar),
        None,
    )
    if bar is not None:
        weight = pages.figures.load(bar.weight)
        texts.append(
            f'"10 + 2.5 a side" is what goes on each end of the {weight} bar, from the inside outwards.'
        )
    if any(e.exercise.implement.value in PAIRS for e in planned):
        texts.append("2 \u00d7 16 kg is one of 16 kg in each hand.")
    if any(e.exercise.implement.value == "landmine" and e.load.items for e in planned):
        texts.append("bar + 5 kg is 5 kg of plates on the free end.")
    if any(e.load.about for e in planned):
        texts.append('"About" is a place to start; the effort decides.')
    if any(e.load.kind in {LoadKind.BLANK, LoadKind.OWN} for e in planned):
        texts.append("A line is for you to write your weight on.")
    if pages.percents and any(e.load.maximum for e in planned):
        texts.append(_percents_of(book, planned))
    yield Point("Your load.", " ".join(texts), Mark.LOAD)


def _percents_of(book: Book, planned: list[PlannedExercise]) -> str:
    maxima = [e.load.maximum for e in planned if e.load.maximum]
    of = {m.share.value for m in maxima}
    estimated = any(m.origin is MaxOrigin.ESTIMATE for m in maxima)
    what = "one-repetition maximum" if of == {100} else "working max"
    how = f", estimated from your test by {book.block.method.value}" if estimated else " in the last test"
    return f"Percentages are of your {what}{how}."


def _ramps(planned: list[PlannedExercise]) -> Iterator[Point]:
    if any(e.ramp for e in planned):
        yield Point(
            "Ramp.",
            "Lighter sets first. They are your coach's choice; take more if you need them.",
            Mark.RAMP,
        )


def _cues(sample: Block) -> Iterator[Point]:
    if any(row.cue for row in sample.rows):
        yield Point("Cue.", "The one thing to think about.", Mark.CUE)


def _boxes(planned: list[PlannedExercise]) -> Iterator[Point]:
    yield Point(
        "Your boxes.",
        "Write what you really did, one box for each set: 60 \u00d7 6. Missed a set? Draw a line through its box.",
        Mark.BOXES,
    )
    if any(e.load.kind in {LoadKind.WEIGHT, LoadKind.EFFORT} for e in planned):
        yield Point(
            "Reps left.",
            "How many more good ones were in you after the last set. A guess is fine.",
            Mark.REPS_LEFT,
        )
