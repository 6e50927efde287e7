"""Values are printed in words that a client reads, and that the notation reads back."""

from __future__ import annotations

from decimal import Decimal

import pytest

from compiler.notation import reps, rest, sets, tempo
from compiler.notation.reps import read_reps
from compiler.notation.rest import read_rest
from compiler.notation.tempo import read_tempo
from compiler.notation.values import (
    AsManyAsPossible,
    Cluster,
    Count,
    Distance,
    DistanceUnit,
    Reps,
    Rest,
    Sets,
    ShareOfMost,
    Tally,
    Tempo,
    TestSet,
    Timed,
)
from compiler.notation.words import (
    number_words,
    percent_words,
    reps_words,
    rest_words,
    sets_words,
    tempo_words,
)
from compiler.quantities import Percent


@pytest.mark.parametrize(
    ("value", "words"),
    [
        (Reps((Count(8, 8),)), "8"),
        (Reps((Count(8, 10),)), "8–10"),
        (Reps((Count(12, 12), Count(10, 10), Count(8, 8))), "12, 10, 8"),
        (Reps((Timed(25, 25),)), "25\u00a0s"),
        (Reps((Timed(30, 30), Timed(40, 40)), each_side=True), "30, 40\u00a0s\u00a0each\u00a0side"),
        (Reps((Timed(90, 90), Timed(150, 150))), "90\u00a0s, 2\u00a0min 30\u00a0s"),
        (Reps((AsManyAsPossible(),)), "as many as possible"),
        (Reps((ShareOfMost(Percent(Decimal(60))),)), "60% of your most"),
        (Reps((TestSet(3),)), "heaviest\u00a03"),
        (Reps((Distance(Decimal(400), Decimal(400), DistanceUnit.METRE),)), "400\u00a0m"),
        (Reps((Distance(Decimal("1.5"), Decimal(2), DistanceUnit.KILOMETRE),)), "1.5–2\u00a0km"),
        (Reps((Tally(1, 1, "breaths"),)), "1\u00a0breath"),
        (Reps((Tally(5, 6, "breaths"),)), "5–6\u00a0breaths"),
        (Reps((Cluster((2, 2, 2)),)), "2\u00a0+\u00a02\u00a0+\u00a02"),
    ],
)
def test_reps_are_printed_in_words(value: Reps, words: str) -> None:
    """Numbers stay with their unit, and a unit shared by all sets stands once."""
    assert words == reps_words(value)


@pytest.mark.parametrize(
    ("low", "high", "words"),
    [
        (0, 0, "no rest"),
        (0, 30, "0–30\u00a0s"),
        (60, 60, "60\u00a0s"),
        (90, 90, "90\u00a0s"),
        (60, 90, "60–90\u00a0s"),
        (120, 120, "2\u00a0min"),
        (150, 150, "2\u00a0min 30\u00a0s"),
        (120, 180, "2–3\u00a0min"),
        (90, 120, "90\u00a0s – 2\u00a0min"),
    ],
)
def test_rests_are_printed_in_seconds_below_two_minutes(low: int, high: int, words: str) -> None:
    """Two minutes and more are printed as minutes."""
    assert words == rest_words(Rest(low, high))


def test_other_words() -> None:
    """Tempo as written, a real minus sign, ranges."""
    assert tempo_words(Tempo(3, 1, None, 0)) == "3-1-X-0"
    assert tempo_words(Tempo(3, 1, 1, 0, written=3)) == "3-1-1"
    assert number_words(Decimal(-20)) == "\u221220"
    assert percent_words(Percent(Decimal(70)), Percent(Decimal(75))) == "70–75%"
    assert sets_words(Sets(2, 3)) == "2–3"


@pytest.mark.parametrize("value", [value for _, value in reps.EXAMPLES], ids=str)
def test_printed_reps_read_back(value: Reps) -> None:
    """What the booklet prints, the notation reads as the same value, but for words kept for clients."""
    words = reps_words(value).replace("of your most", "of max").replace("heaviest\u00a03", "3RM")
    assert value == read_reps(words.replace("20\u00a0m", "20 metres"))


@pytest.mark.parametrize("value", [value for _, value in rest.EXAMPLES], ids=str)
def test_printed_rests_read_back(value: Rest) -> None:
    """A printed rest is a readable one."""
    assert value == read_rest(rest_words(value))


@pytest.mark.parametrize("value", [value for _, value in tempo.EXAMPLES], ids=str)
def test_printed_tempos_read_back(value: Tempo) -> None:
    """A printed tempo is a readable one."""
    assert value == read_tempo(tempo_words(value))


@pytest.mark.parametrize("value", [value for _, value in sets.EXAMPLES if isinstance(value, Sets)], ids=str)
def test_printed_sets_read_back(value: Sets) -> None:
    """A printed number of sets is a readable one."""
    assert value == sets.read_sets(sets_words(value))
