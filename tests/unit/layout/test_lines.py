"""Lines: they fit, they lose nothing, they break where a reader would."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from compiler.layout.lines import balanced, fitted, fitted_lines, glued, plain, wrap
from compiler.layout.metrics import Face, width

SIZE = 10.0
CHARACTERS = "abc ,-/é×–5\u00a0kgm%"


@given(st.text(alphabet=CHARACTERS, max_size=120), st.floats(min_value=12, max_value=400))
def test_lines_fit_and_lose_nothing(text: str, room: float) -> None:
    """Any text in any width from the widest letter up: every line fits, every letter is there, in order."""
    for lines in (wrap(text, Face.BOLD, SIZE, room), balanced(text, Face.BOLD, SIZE, room)):
        assert all(width(line, Face.BOLD, SIZE) <= room + 0.02 for line in lines)
        assert "".join("".join(lines).split()) == "".join(plain(text).split())


@given(st.text(alphabet=CHARACTERS, max_size=120), st.floats(min_value=12, max_value=400))
def test_balancing_takes_no_more_lines(text: str, room: float) -> None:
    assert len(balanced(text, Face.REGULAR, SIZE, room)) == len(wrap(text, Face.REGULAR, SIZE, room))


@pytest.mark.parametrize(
    ("text", "kept"),
    [
        ("ramp 75 kg × 3 first", "75\u00a0kg\u00a0×\u00a03"),
        ("hold for 2 min 30 s", "2\u00a0min 30\u00a0s"),
        ("8 each side then rest", "8\u00a0each\u00a0side"),
        ("load 25 + 10 + 2.5 a side", "25\u00a0+\u00a010\u00a0+\u00a02.5\u00a0a\u00a0side"),
        ("a 20 kgs bag", "a 20 kgs bag"),
        ("Body weight − 20 kg", "weight\u00a0−\u00a020\u00a0kg"),
    ],
)
def test_numbers_keep_their_units(text: str, kept: str) -> None:
    assert kept in glued(text)


def test_two_lines_part_at_a_comma() -> None:
    name = "Rear-foot-elevated split squat, dumbbells by the sides"
    room = width(name, Face.BOLD, SIZE) * 0.7
    assert balanced(name, Face.BOLD, SIZE, room) == (
        "Rear-foot-elevated split squat,",
        "dumbbells by the sides",
    )


def test_a_last_word_does_not_stand_alone() -> None:
    text = "one two three four five six"
    room = width("one two three four five", Face.REGULAR, SIZE) + 1
    assert wrap(text, Face.REGULAR, SIZE, room) == ("one two three four", "five six")


def test_a_long_word_is_split_after_a_hyphen_first() -> None:
    room = width("half-kneeling-", Face.REGULAR, SIZE) + 4
    assert wrap("half-kneeling-landmine", Face.REGULAR, SIZE, room)[0] == "half-kneeling-"


def test_the_first_line_may_begin_further_in() -> None:
    assert wrap("word", Face.REGULAR, SIZE, 100.0, 99.0) == ("", "word")


def test_a_title_shrinks_before_it_takes_two_lines() -> None:
    title = "Hinge and pull"
    room = width(title, Face.BOLD, 18) + 0.1
    assert fitted(title, Face.BOLD, 22, room, 14.5) == 18
    size, lines = fitted_lines(title, Face.BOLD, 22, room / 2, 14.5)
    assert (size, lines) == (14.5, ("Hinge", "and pull"))


def test_figures_are_tabular() -> None:
    """Default figures have one width, so that loads stand under each other (font audit of Source Sans 3)."""
    for face in Face:
        assert len({width(figure, face, 1000) for figure in "0123456789"}) == 1
