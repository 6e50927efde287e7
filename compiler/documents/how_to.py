"""The how-to page: explains the marks that occur in this booklet, and no others."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

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
from compiler.documents.figures import Figures
from compiler.documents.how_to_words import box_example, dose_sentences, load_sentences, percent_sentences
from compiler.documents.session import Pages, blocks_of
from compiler.model.book import Book
from compiler.quantities import Unit
from compiler.resolve.values import ClientPlan, LoadKind, PlannedExercise, PlannedSession

SAMPLE_ROWS = 3

EFFORTS = (
    EffortStep("RPE 6", "four more reps were possible"),
    EffortStep("RPE 7", "three more"),
    EffortStep("RPE 8", "two more"),
    EffortStep("RPE 9", "one more"),
    EffortStep("RPE 10", "nothing left"),
)


def how_to(
    book: Book, plan: ClientPlan, sessions: Sequence[tuple[PlannedSession, Session]], pages: Pages
) -> HowTo:
    """Return the how-to page of one booklet; `sessions` with their pages, in the order of the pages.

    What it says is said in the words of the sample block, where they show it, or of the rest of the booklet.
    """
    sample, shown = _sample(sessions)
    planned = [*shown, *plan.exercises]
    points = [
        *_blocks(sessions, sample),
        *_names(sample, planned),
        *_doses(planned, pages.figures),
        *_loads(book, planned, pages),
        *_ramps(planned),
        *_cues(sample),
        *_boxes(planned, pages),
    ]
    there = _marks(sample)
    points = [point if point.mark in there else replace(point, mark=None) for point in points]
    efforts = any(e.load.effort is not None or e.load.stop_at is not None for e in planned)
    note = plan.client.note.value
    return HowTo(
        title="How to read a session",
        sample=sample,
        points=tuple(points),
        effort=EffortStrip("RPE: how hard should it feel?", EFFORTS) if efforts else None,
        note=CoachNote("From your coach", note) if note else None,
    )


def _marks(sample: Block) -> set[Mark]:
    """Return what the sample has a place for; the number of another point would be looked for in vain."""
    rows = sample.rows
    there = {
        Mark.REST: sample.rest,
        Mark.NAME: rows,
        Mark.CHANGED: any(row.changed for row in rows),
        Mark.RAMP: any(row.ramp for row in rows),
        Mark.DOSE: rows,
        Mark.LOAD: any(row.load for row in rows),
        Mark.CUE: any(row.cue for row in rows),
        Mark.BOXES: any(row.log.count for row in rows),
        Mark.REPS_LEFT: any(row.log.reps_left for row in rows),
    }
    return {mark for mark, shown in there.items() if shown}


def _sample(
    sessions: Sequence[tuple[PlannedSession, Session]],
) -> tuple[Block, list[PlannedExercise]]:
    """Choose a real block that shows most marks, and its exercises; one of its own where the booklet has none."""
    blocks = [
        (block, group)
        for session, page in sessions
        for block, group in zip(page.blocks, blocks_of(session), strict=True)
        if 1 <= len(block.rows) <= SAMPLE_ROWS
    ]
    return max(blocks, key=lambda found: _tells(found[0]), default=(Block("A", "", "", ()), []))


def _tells(block: Block) -> tuple[int, int]:
    """Rank a block by how much of the notation it shows; one superset beats a longer list."""
    marks = {
        "group": len(block.rows) == 2,
        "load": any(isinstance(row.load, Figure) and any(u in row.load.text for u in Unit) for row in block.rows),
        "notes": any(isinstance(row.load, Figure) and row.load.notes for row in block.rows),
        "tempo": any("tempo" in note for row in block.rows for note in row.dose.notes),
        "cue": any(row.cue for row in block.rows),
        "changed": any(row.changed for row in block.rows),
        "ramp": any(row.ramp for row in block.rows),
    }
    return sum(marks.values()), -sum(len(row.extra) for row in block.rows)


def _blocks(sessions: Sequence[tuple[PlannedSession, Session]], sample: Block) -> Iterator[Point]:
    blocks = [block for _, page in sessions for block in page.blocks]
    texts = []
    if len(sample.rows) == 1:
        texts.append("Do every set of a block, then go on to the next.")
    if any(len(block.rows) > 1 for block in blocks):
        texts.append(
            "Exercises joined by a bracket are done in turn: one set of each, then the rest."
            " Repeat until every set is done."
        )
    if sample.rest and len(sample.rows) == 1:
        texts.append("How long you rest stands beside the letter.")
    yield Point("Block and rest." if sample.rest else "Block.", " ".join(texts), Mark.REST)


def _names(sample: Block, planned: list[PlannedExercise]) -> Iterator[Point]:
    labels = [row.label for row in sample.rows if row.label]
    text = f"{labels[0]} comes before {labels[1]}." if len(labels) > 1 else "Blocks follow their letters: A before B."
    yield Point("Order and name.", text, Mark.NAME)
    if any(e.changed for e in planned):
        shown = any(row.changed for row in sample.rows)
        this = "this one" if shown else "an exercise with this word beside it"
        yield Point("Changed.", f"Your coach has changed {this} for you.", Mark.CHANGED)


def _doses(planned: list[PlannedExercise], figures: Figures) -> Iterator[Point]:
    yield Point("Sets \u00d7 reps.", " ".join(dose_sentences(planned, figures)), Mark.DOSE)


def _loads(book: Book, planned: list[PlannedExercise], pages: Pages) -> Iterator[Point]:
    texts = list(load_sentences(planned, pages))
    if pages.percents:
        texts += percent_sentences(planned, book.block.method.value or "")
    yield Point("Your load.", " ".join(texts) or "How heavy it is, or how hard it should feel.", Mark.LOAD)


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


def _boxes(planned: list[PlannedExercise], pages: Pages) -> Iterator[Point]:
    written = box_example(planned, pages)
    such = f", such as {written}" if written else ""
    yield Point(
        "Your boxes.",
        f"Write what you really did, one box for each set{such}. Missed a set? Draw a line through its box.",
        Mark.BOXES,
    )
    if any(e.load.kind in {LoadKind.WEIGHT, LoadKind.EFFORT} for e in planned):
        yield Point(
            "Reps left.",
            "How many more good ones were in you after the last set. A guess is fine.",
            Mark.REPS_LEFT,
        )
