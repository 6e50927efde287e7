"""Laws of the notation: any text gives a value or a reason, and spelling does not matter."""

from __future__ import annotations

import dataclasses
from decimal import Decimal
from importlib.resources import files

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from lark import Lark

from compiler.flags.model import Remark
from compiler.notation.languages import LANGUAGES, Language
from compiler.notation.load import read_load
from compiler.notation.numbers import had_decimal_comma
from compiler.notation.reps import read_reps
from compiler.notation.rest import read_rest
from compiler.notation.tables import parser_of
from compiler.notation.values import Count, PercentLoad, Reps, Rest, Weight, WeightLoad
from compiler.notation.weight import read_tested_weight, read_weight
from compiler.quantities import Unit

GRAMMARS = sorted(
    entry.name.removesuffix(".lark")
    for entry in files("compiler.notation").iterdir()
    if entry.name.endswith(".lark") and entry.name != "shared.lark"
)
READERS = [*(language.read for language in LANGUAGES), read_tested_weight]
KEEPS_LETTER_CASE = {"bands", "zones"}
_TEXTS = [text for language in LANGUAGES for text, _ in (*language.examples, *language.refused)]
_WORDS = "8 10 75 0 1.5 ² % kg lb x - , ; / @ RPE RIR s min m ' \" : + own BW same or then each max to by = light HRR"
_PIECES = st.sampled_from([*_WORDS.split(), " ", ", ", "each side"])
ANY_TEXT = st.one_of(
    st.text(max_size=30),
    st.lists(_PIECES, max_size=10).map("".join),
    st.builds(lambda text, piece: text + piece, st.sampled_from(_TEXTS), st.one_of(_PIECES, st.text(max_size=3))),
)


@pytest.mark.parametrize("kind", GRAMMARS)
def test_grammar_has_no_conflicts(kind: str) -> None:
    """Strict building refuses shift/reduce conflicts and terminals that match the same text."""
    Lark.open_from_package(
        "compiler.notation", f"{kind}.lark", parser="lalr", start=kind, maybe_placeholders=True, strict=True
    )


def test_a_parser_is_made_once() -> None:
    """Making one takes longer than reading a whole sheet with it."""
    assert all(parser_of(kind) is parser_of(kind) for kind in GRAMMARS)


@settings(max_examples=150, deadline=None)
@given(ANY_TEXT)
def test_any_text_gives_a_value_or_a_reason(text: str) -> None:
    """No text raises, and none of the parser's words reach a coach."""
    for read in READERS:
        result = read(text)
        if isinstance(result, Remark):
            assert result.message
            assert result.hint
            assert not any(words in result.message for words in ("Unexpected", "Expected one of", "terminal"))
        else:
            assert dataclasses.is_dataclass(result) or isinstance(result, tuple)


@settings(max_examples=50, deadline=None)
@given(ANY_TEXT)
def test_reading_is_the_same_every_time(text: str) -> None:
    """The same text gives an equal value."""
    for read in READERS:
        assert read(text) == read(text)


def _spellings(text: str, *, letters: bool) -> list[str]:
    wide = text.translate({ord(digit): ord(digit) + 0xFEE0 for digit in "0123456789"})
    spellings = [
        f"  {text}\n",
        text.replace("-", "–"),
        text.replace("-", "\u2212"),
        text.replace("x", "×"),
        text.replace(" ", "\u00a0"),
        text.replace(" ", " \u200b"),
        wide,
    ]
    return spellings + ([text.upper(), text.lower()] if letters else [])


@pytest.mark.parametrize("language", LANGUAGES, ids=lambda language: language.name)
def test_spelling_does_not_matter(language: Language) -> None:
    """Spaces, letter case, any dash, any times sign and full-width digits give the same value."""
    for text, expected in language.examples:
        for spelling in _spellings(text, letters=language.name not in KEEPS_LETTER_CASE):
            assert expected == language.read(spelling), spelling


@pytest.mark.parametrize("language", LANGUAGES, ids=lambda language: language.name)
def test_a_long_text_is_refused_before_it_is_read(language: Language) -> None:
    """Two hundred characters are the most."""
    result = language.read("8, " * 100)
    assert isinstance(result, Remark)
    assert result.slug == "too-long"


@pytest.mark.parametrize("number", ["1", "8", "20", "75", "100", "500", "0.5", "0.75", "62.5"])
def test_a_bare_number_is_never_a_load(number: str) -> None:
    """Nothing is decided by size."""
    for text in (number, f"@ {number}", f"at {number}", f"{number}, {number}"):
        reason = read_load(text)
        assert isinstance(reason, Remark)
        assert reason.slug == "bare-percentage"


@settings(deadline=None)
@given(st.integers(20, 110), st.integers(0, 9))
def test_a_percentage_keeps_its_digits(whole: int, tenth: int) -> None:
    """Point and comma give the same exact number; the comma alone is worth a note."""
    if whole == 110:
        tenth = 0
    point, comma = (read_load(f"{whole}{mark}{tenth}%") for mark in ".,")
    assert point == comma
    assert isinstance(point, PercentLoad)
    assert point.items[0].low.value == Decimal(f"{whole}.{tenth}")
    assert had_decimal_comma(f"{whole},{tenth}%")
    assert not had_decimal_comma(f"{whole}.{tenth}%")


@settings(deadline=None)
@given(st.integers(1, 100), st.integers(1, 100))
def test_a_range_of_reps_is_read_upwards_only(low: int, high: int) -> None:
    """`8-10` is a range; `10-8` is a slip or a list, and is asked about."""
    result = read_reps(f"{low}-{high}")
    assert (result == Reps((Count(low, high),))) == (low <= high)


@settings(deadline=None)
@given(st.integers(0, 3600))
def test_every_way_to_write_a_rest_agrees(seconds: int) -> None:
    """Seconds, with a unit, as a clock and in minutes and seconds."""
    minutes, rest = divmod(seconds, 60)
    texts = (f"{seconds}", f"{seconds} s", f'{seconds}"', f"{minutes}:{rest:02}", f"{minutes} min {rest} s")
    assert {Rest(seconds, seconds)} == {read_rest(text) for text in texts}


@settings(deadline=None)
@given(st.lists(st.integers(1, 999), min_size=2, max_size=6), st.sampled_from(["kg", "lb"]))
def test_the_last_unit_holds_for_the_whole_list(weights: list[int], unit: str) -> None:
    """One unit at the end and one on each item are the same list."""
    once = read_load(", ".join(map(str, weights)) + f" {unit}")
    assert isinstance(once, WeightLoad)
    assert once == read_load(", ".join(f"{weight} {unit}" for weight in weights))


def test_ambiguous_numbers_name_both_readings() -> None:
    """The message holds each number that could be meant."""
    for text, readings in {
        "12,10 kg": ("12.10", "12 and 10"),
        "1,000 kg": ("1000", "1.000", "1 and 000"),
    }.items():
        reason = read_load(text)
        assert isinstance(reason, Remark)
        assert all(reading in reason.message for reading in readings)
    bare = read_load("75")
    assert isinstance(bare, Remark)
    assert "75%" in bare.message
    assert "75 kg" in bare.message


def test_only_a_tested_weight_may_be_below_zero() -> None:
    """Help with body weight is a test result below zero; no other weight is."""
    assert read_tested_weight("-20 kg") == Weight(Decimal(-20), Unit.KG)
    assert read_tested_weight("80 kg") == read_weight("80 kg")
    for text in ("--20", "-0", "-82,25 kg"):
        assert isinstance(read_tested_weight(text), Remark)
    assert isinstance(read_weight("-20 kg"), Remark)


def test_a_prescription_in_the_reps_cell_is_told_where_it_goes() -> None:
    """Not just that it cannot be read: the part after the @ has a column of its own."""
    refused = read_reps("8 @ 75%")
    assert isinstance(refused, Remark)
    assert refused.hint == "Put what follows the @ into the load column."


def test_a_test_of_nothing_is_told_to_leave_the_load_blank() -> None:
    """A set with the body alone has a blank Load; 0 is refused, as on a barbell it would be a lost weight."""
    for text in ("0", "0 kg", "+0", "0.0 lb"):
        reason = read_tested_weight(text)
        assert isinstance(reason, Remark)
        assert "blank" in reason.hint


def test_a_dash_for_a_load_is_sent_to_the_sets_cell() -> None:
    for text in ("-", "\u2013", " - "):
        reason = read_load(text)
        assert isinstance(reason, Remark)
        assert "sets cell" in reason.hint
