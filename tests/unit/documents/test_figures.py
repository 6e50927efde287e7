"""Numbers as the booklet prints them."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest

from compiler.documents.figures import Figures, period_words
from compiler.notation.values import Effort, EffortScale
from compiler.quantities import Load, Unit


def rpe(low: str, high: str) -> Effort:
    return Effort(EffortScale.RPE, Decimal(low), Decimal(high))


@pytest.mark.parametrize(
    ("effort", "printed", "reserve"),
    [
        (rpe("8", "8"), "RPE 8", "leave 2 in reserve"),
        (rpe("7", "8"), "RPE 7–8", "leave 2–3 in reserve"),
        (rpe("7.5", "8"), "RPE 7.5–8", "leave 2–2.5 in reserve"),
        (rpe("9", "10"), "RPE 9–10", "leave at most 1 in reserve"),
        (rpe("8.5", "9.5"), "RPE 8.5–9.5", "leave at most 1.5 in reserve"),
        (rpe("10", "10"), "RPE 10", "nothing left"),
        (rpe("9.5", "9.5"), "RPE 9.5", "nothing left"),
        (Effort(EffortScale.RIR, Decimal(2), Decimal(3)), "2–3 in reserve", None),
    ],
)
def test_an_effort_and_what_it_leaves(effort: Effort, printed: str, reserve: str | None) -> None:
    """Repetitions in reserve are ten less the RPE (Zourdos et al. 2016); an effort in reserve is not said twice."""
    assert (Figures().effort(effort), Figures().reserve(effort)) == (printed, reserve)


@pytest.mark.parametrize(("amount", "printed"), [("2.5", "+ 2,5 kg"), ("-5", "− 5 kg")])
def test_a_step_has_its_sign_before_it(amount: str, printed: str) -> None:
    """With the decimal sign of the Block, and a real minus sign."""
    assert Figures(",").signed(Load(Decimal(amount), Unit.KG)) == printed


@pytest.mark.parametrize(
    ("first", "last", "words"),
    [
        (date(2026, 12, 7), date(2026, 12, 20), "December 2026"),
        (date(2026, 11, 2), date(2026, 12, 20), "November to December 2026"),
        (date(2026, 12, 7), date(2027, 1, 3), "December 2026 to January 2027"),
        (date(2026, 12, 7), date(2027, 12, 5), "December 2026 to December 2027"),
    ],
)
def test_the_months_of_a_block(first: date, last: date, words: str) -> None:
    """A year is said once where both months are in it."""
    assert period_words(first, last) == words
