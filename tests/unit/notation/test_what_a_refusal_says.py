"""What a coach reads of a load or repetitions that nearly say something: which slip it is."""

from __future__ import annotations

import pytest

from compiler.flags.model import Remark
from compiler.notation.languages import LANGUAGES

READERS = {language.name: language.read for language in LANGUAGES}

SAID = [
    ("load", "75-80% BW", "expected one share of body weight up to 300%."),
    ("load", "120-110 bpm", "is a range that runs down, from 120 to 110."),
    ("load", "120 bpm, 130 bpm", "is a list of something other than weights or percentages."),
    ("load", "60-70% HRR, 80% HRR", "is a list of something other than weights or percentages."),
    ("load", "101% HRR", "101% HRR"),
    ("load", "12 each hand", "is a weight without a unit."),
    ("load", "2 x 75%", "is not a weight for each hand."),
    ("load", "60% each hand", "is not a weight for each hand."),
    ("load", "RPE 8, then -0%", "expected a share to take off, below 100%."),
    ("load", "RPE 8 RIR", "mixes RPE and repetitions in reserve."),
    ("load", "RPE 8 kg", "has an effort with a unit."),
    ("load", "RPE 7, 8, 9", "gives each set an effort of its own; a row has one."),
    ("load", "RPE 8 or RPE 9", "gives two efforts for one load."),
    ("load", "own + 5 bpm", "has a step that is neither a weight nor a plain percentage."),
    ("load", "same + 5% 1RM", "has a step that is neither a weight nor a plain percentage."),
    ("load", "same - 100%", "expected a step below 100%."),
    ("load", "own + 0%", "expected a step below 100%."),
    ("load", "BW + 10%", "adds something other than a weight to body weight."),
    ("load", "BW + 10", "is a weight without a unit."),
    ("load", "75% or 5%", "expected an effort after `or`, `stop at` or `work up to`."),
    ("load", "work up to 80%", "expected an effort after `or`, `stop at` or `work up to`."),
    ("load", "60 kg - 70%", "is a range whose ends are not in the same unit."),
    ("reps", "6/4/2, 3", "is not a list of repetitions."),
    ("reps", "10 bpm", "does not say what is done in a set."),
]


@pytest.mark.parametrize(("language", "text", "said"), SAID, ids=[f"{language}: {text}" for language, text, _ in SAID])
def test_the_slip_is_named(language: str, text: str, said: str) -> None:
    """The text is quoted, what is wrong with it follows, and a hint says what to write."""
    reason = READERS[language](text)
    assert isinstance(reason, Remark)
    assert reason.message.startswith(f'"{text}"')
    assert said in reason.message
    assert reason.hint
