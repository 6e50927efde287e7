"""Any booklet that a workbook can ask for, set in any way, keeps the rules of pages."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from compiler.documents.booklet_value import (
    BlankLoad,
    Block,
    Booklet,
    ExerciseRow,
    ExtraLine,
    Figure,
    LogBoxes,
    PlanRow,
    Session,
    SessionRef,
    TickItem,
    TickList,
)
from compiler.layout.booklet import lay_out_booklet
from compiler.schema.kinds_text import LONGEST_NAME
from tests.unit.layout.formats import SETTINGS, Setting
from tests.unit.layout.rules import RULES
from tests.unit.layout.sample_booklet import BOOKLET

WORDS = st.lists(
    st.sampled_from(("squat", "half-kneeling", "12–15", "×", "Łukasz", "kg", "a", "é💪", "WWWWW", "W" * 70)),
    min_size=1,
    max_size=16,
).map(" ".join)
NAMES = WORDS.map(lambda text: text[:LONGEST_NAME].strip())
CUES = st.one_of(st.just(""), st.lists(WORDS, min_size=1, max_size=5).map(" ".join))
NOTES = st.lists(
    st.sampled_from(("each side", "tempo 3-1-1-0", "25 + 10 + 2.5 + 1.25 a side", "as many as you can")), max_size=3
)
FIGURES = st.builds(
    Figure,
    st.sampled_from(("3 × 8", "12, 10, 8, 6, 4", "10 × 10–12", "2 + 2 + 2", "102.5–107.5 kg", "Body weight + 20 kg")),
    NOTES.map(tuple),
)
LOADS = st.one_of(
    st.none(),
    FIGURES,
    st.builds(BlankLoad, st.sampled_from(("kg", "kg each hand")), NOTES.map(tuple)),
)
LOGS = st.builds(
    LogBoxes,
    st.sampled_from(("", "kg × reps", "kg each hand × reps", "seconds", "added kg × reps")),
    st.integers(0, 12),
    st.booleans(),
)
EXTRAS = st.builds(
    ExtraLine,
    st.sampled_from(("", "set 1", "then", "last set: at the end go straight on, 20% lighter, 3 times")),
    st.sampled_from(("", "5", "2 × 5")),
    st.sampled_from(("", "80 kg", "10% lighter")),
    NOTES.map(tuple),
)
ROWS = st.builds(
    ExerciseRow,
    label=st.sampled_from(("", "A", "B1", "C12")),
    name=NAMES,
    dose=FIGURES,
    load=LOADS,
    log=LOGS,
    changed=st.one_of(st.none(), NAMES),
    ramp=st.sampled_from(("", "bar × 8, 50 kg × 5, 70 kg × 3, 85 kg × 1")),
    spotter=st.sampled_from(("", "spotter", "safety pins set")),
    extra=st.lists(EXTRAS, max_size=3).map(tuple),
    cue=CUES,
)
BLOCKS = st.builds(
    Block,
    st.sampled_from(("A", "B", "")),
    st.sampled_from(("Superset", "Straight sets", "As many rounds as possible in 12 min")),
    st.one_of(st.just(""), NAMES),
    st.lists(ROWS, min_size=1, max_size=5).map(tuple),
)
TICKS = st.builds(
    TickList,
    st.just("Warm-up"),
    st.lists(st.builds(TickItem, NAMES, st.sampled_from(("", "8 each side")), st.none(), CUES), max_size=6).map(tuple),
)


@st.composite
def sessions(draw: st.DrawFn, number: int) -> Session:
    """Return one session of a few blocks."""
    return Session(
        key=str(number),
        title=draw(NAMES),
        when="Wednesday 30 September, week 12 of 12",
        bookmark=f"Week {number}: session",
        blocks=tuple(draw(st.lists(BLOCKS, max_size=4))),
        warm_up=draw(st.one_of(st.none(), TICKS)),
        cool_down=draw(st.one_of(st.none(), TICKS)),
        note=draw(st.sampled_from(("", "An easier week, on purpose."))),
    )


@st.composite
def booklets(draw: st.DrawFn) -> Booklet:
    """Return a booklet of one to three sessions in one to twelve weeks."""
    made = tuple(draw(sessions(number)) for number in range(1, draw(st.integers(1, 3)) + 1))
    weeks = draw(st.integers(1, 12))
    rows = tuple(PlanRow(one.title, (SessionRef(one.key),) * weeks) for one in made)
    plan = replace(BOOKLET.cover.plan, weeks=tuple(f"Week {week}" for week in range(1, weeks + 1)), rows=rows)
    cover = replace(BOOKLET.cover, client=draw(NAMES), gym=draw(NAMES), title=(draw(NAMES),), plan=plan)
    footer = (cover.client, "December 2026 to January 2027", cover.gym)
    return replace(BOOKLET, sessions=made, sheets=(), cover=cover, footer=footer)


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large])
@given(booklets(), st.sampled_from(SETTINGS))
def test_any_booklet_keeps_the_rules(booklet: Booklet, setting: Setting) -> None:
    """Words in the live area and apart, boxes large enough, nothing under its smallest type."""
    pages = lay_out_booklet(setting.of(booklet))
    for rule in RULES:
        rule(pages, setting)


LARGE = [setting for setting in SETTINGS if "large" in str(setting)]


@pytest.mark.parametrize("setting", LARGE, ids=str)
def test_rows_higher_than_a_page_are_sliced_anywhere(setting: Setting) -> None:
    """A head of four lines, and a row that grows line by line: wherever the page ends, boxes keep their numbers."""
    log = LogBoxes("added kg × reps", 12, reps_left=True)
    for words in range(0, 200, 16):
        row = ExerciseRow("A", "W" * LONGEST_NAME, Figure("3 × 8"), None, log, cue="half-kneeling " * words)
        blocks = tuple(Block(letter, "Straight sets", "", (row,)) for letter in "AB")
        session = replace(BOOKLET.sessions[0], title=f"Łukasz {'W' * 70} {'W' * 70}", blocks=blocks)
        pages = lay_out_booklet(setting.of(replace(BOOKLET, sessions=(session, *BOOKLET.sessions[1:]))))
        for rule in RULES:
            rule(pages, setting)
