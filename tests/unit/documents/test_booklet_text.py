"""The text form of a booklet: everything that will be printed, in the order of pages."""

from __future__ import annotations

from dataclasses import replace

from compiler.documents.booklet_text import booklet_as_text
from compiler.documents.booklet_value import BlankLoad
from tests.unit.layout.sample_booklet import BOOKLET, CIRCUIT, SQUAT, session


def test_a_session_reads_from_top_to_bottom() -> None:
    one = replace(session(1, 4), blocks=(SQUAT, CIRCUIT))
    text = booklet_as_text(replace(BOOKLET, sessions=(one,)))
    page = text.split("== session 1-4 ==\n")[1].split("\n\n== ")[0]
    assert page.splitlines() == [
        "# Squat and press",
        "Wednesday, week 4 of 4",
        "An easier week on purpose.",
        "Warm-up",
        "  [ ] Easy rowing machine, rate 18, 5 min",
        "  [ ] Hip hinge with a broom handle, 10",
        "  [ ] Cat and camel, slowly, 6",
        "  [ ] Half-kneeling hip-flexor rock, 8 each side",
        "  [ ] Shoulder-blade pull-up from a hang, 6",
        "A  Main lift  rest 3 min after each set",
        "  A Back squat",
        "    Ramp: bar × 8, 45 kg × 5, 65 kg × 3",
        "    3 × 5, 4, 3 | safety pins set",
        "    set 1 5 | 80 kg (25 + 5 a side)",
        "    set 2 4 | 85 kg (25 + 5 + 2.5 a side)",
        "    set 3 3 | 90 kg (25 + 10 a side)",
        "    Big breath at the top; knees follow the toes.",
        "    kg × reps: [ ][ ][ ]  reps left, last set: [ ]",
        "C  Circuit, 12 min  as many rounds as you can in 12 min; rest only when you need it",
        "  C1 Kettlebell swing",
        "    12 reps | 20 kg",
        "  C2 Step-up, knee-high box",
        "    8 (each side) | Body weight",
        "  C3 Farmer's walk",
        "    40 m | ____ kg each hand (no test yet: find it by RPE 7)",
        "  Rounds done in 12 min, and reps of the last one rounds + reps: [ ]",
        "Cool-down",
        "  [ ] Walk, 3 min",
        "  [ ] Long-sit hamstring reach, 5 slow breaths each side",
    ]


def test_cover_and_safety_are_there() -> None:
    text = booklet_as_text(BOOKLET)
    assert "# Imogen Thackray\nLower Ottermere Rowing Club\nCoach: Maud Ferrier" in text
    assert "  Long legs, quiet trunk: [ ] 2-1 | [ ] 2-2 | away | [ ] 2-4" in text
    assert "[Changed for you this month]\n  Overhead press is replaced" in text
    assert "  Your contact: [ ]\n" in text


def test_no_field_of_a_row_is_left_out() -> None:
    """Every string of a row stands in the text, so that a golden text shows every change of wording."""
    row = replace(
        SQUAT.rows[0],
        label="LABEL",
        changed="CHANGED",
        load=BlankLoad("UNIT", ("NOTE",)),
        spotter="SPOTTER",
    )
    text = booklet_as_text(replace(BOOKLET, sessions=(replace(session(0, 1), blocks=(replace(SQUAT, rows=(row,)),)),)))
    for word in ("LABEL", "CHANGED", "UNIT", "NOTE", "SPOTTER", row.ramp, row.cue, *(e.load for e in row.extra)):
        assert word in text
