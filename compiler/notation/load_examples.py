"""The forms of a load, as the field reference prints them and the tests read them."""

from __future__ import annotations

from decimal import Decimal

from compiler.notation.values import (
    BodyWeightLoad,
    BodyWeightShare,
    Effort,
    EffortLoad,
    EffortScale,
    Feel,
    FeelLoad,
    HeartRateLoad,
    HeartRateOf,
    LoadText,
    NamedLoad,
    OwnWeight,
    PercentLoad,
    PercentOf,
    PercentRange,
    Step,
    WeightLoad,
    WeightRange,
    WorkUp,
)
from compiler.quantities import Load, Percent, Unit


def _percents(*ends: str) -> tuple[PercentRange, ...]:
    return tuple(PercentRange(Percent(Decimal(end)), Percent(Decimal(end))) for end in ends)


def _kg(*ends: str) -> tuple[WeightRange, ...]:
    return tuple(WeightRange(Load(Decimal(end), Unit.KG), Load(Decimal(end), Unit.KG)) for end in ends)


def _rpe(low: str, high: str | None = None) -> Effort:
    return Effort(EffortScale.RPE, Decimal(low), Decimal(high or low))


_TWO_LEFT = Effort(EffortScale.RIR, Decimal(2), Decimal(2))
_SEVENTIES = (PercentRange(Percent(Decimal(70)), Percent(Decimal(75))),)

EXAMPLES: tuple[tuple[str, LoadText], ...] = (
    ("75%", PercentLoad(_percents("75"))),
    ("75% 1RM", PercentLoad(_percents("75"), PercentOf.ONE_RM)),
    ("90% of 8RM", PercentLoad(_percents("90"), PercentOf.REP_MAX, 8)),
    ("70-75%", PercentLoad(_SEVENTIES)),
    ("70, 75, 80%", PercentLoad(_percents("70", "75", "80"))),
    ("75% or RPE 7", PercentLoad(_percents("75"), fallback=_rpe("7"))),
    ("60 kg", WeightLoad(_kg("60"))),
    ("135 lb", WeightLoad((WeightRange(Load(Decimal(135), Unit.LB), Load(Decimal(135), Unit.LB)),))),
    ("60, 65, 70 kg", WeightLoad(_kg("60", "65", "70"))),
    ("60-65 kg", WeightLoad((WeightRange(Load(Decimal(60), Unit.KG), Load(Decimal(65), Unit.KG)),))),
    ("2 x 16 kg", WeightLoad(_kg("16"), implements=2)),
    ("RPE 8", EffortLoad(_rpe("8"))),
    ("RPE 7-8", EffortLoad(_rpe("7", "8"))),
    ("2 RIR", EffortLoad(_TWO_LEFT)),
    ("RIR 2", EffortLoad(_TWO_LEFT)),
    ("75%, stop at RPE 8", PercentLoad(_percents("75"), stop_at=_rpe("8"))),
    ("RPE 8, then -10%", EffortLoad(_rpe("8"), back_off=Percent(Decimal(10)))),
    ("work up", WorkUp()),
    ("work up to RPE 8", WorkUp(_rpe("8"))),
    ("own", OwnWeight()),
    ("own + 2.5 kg", OwnWeight(Load(Decimal("2.5"), Unit.KG))),
    ("own -10%", OwnWeight(Percent(Decimal(-10)))),
    ("+2.5 kg", Step(Load(Decimal("2.5"), Unit.KG))),
    ("+2.5%", Step(Percent(Decimal("2.5")))),
    ("same", Step(None)),
    ("same - 5 kg", Step(Load(Decimal(-5), Unit.KG))),
    ("body weight", BodyWeightLoad()),
    ("BW + 10 kg", BodyWeightLoad(Load(Decimal(10), Unit.KG))),
    ("BW - 20 kg", BodyWeightLoad(Load(Decimal(-20), Unit.KG))),
    ("25% BW", BodyWeightShare(Percent(Decimal(25)))),
    ("light", FeelLoad(Feel.LIGHT)),
    ("moderate", FeelLoad(Feel.MODERATE)),
    ("heavy", FeelLoad(Feel.HEAVY)),
    ("by feel", FeelLoad(Feel.BY_FEEL)),
    ("yellow", NamedLoad("yellow")),
    ("60-70% HRR", HeartRateLoad(Decimal(60), Decimal(70), HeartRateOf.RESERVE)),
    ("65-75% HRmax", HeartRateLoad(Decimal(65), Decimal(75), HeartRateOf.MAXIMUM)),
    ("120-140 bpm", HeartRateLoad(Decimal(120), Decimal(140), HeartRateOf.BEATS)),
    ("zone 2", NamedLoad("zone 2")),
    # other ways of writing the same
    ("75 % of 1RM", PercentLoad(_percents("75"), PercentOf.ONE_RM)),
    ("70% to 75%", PercentLoad(_SEVENTIES)),
    ("70%, 75%, 80%", PercentLoad(_percents("70", "75", "80"))),
    ("70,75,80%", PercentLoad(_percents("70", "75", "80"))),
    ("72,5%", PercentLoad(_percents("72.5"))),
    ("62,5; 65 kg", WeightLoad(_kg("62.5", "65"))),
    ("@ 75%", PercentLoad(_percents("75"))),
    ("@RPE 8", EffortLoad(_rpe("8"))),
    ("RPE8", EffortLoad(_rpe("8"))),
    ("2 reps in reserve", EffortLoad(_TWO_LEFT)),
    ("75% or 2 RIR, stop at RPE 9", PercentLoad(_percents("75"), fallback=_TWO_LEFT, stop_at=_rpe("9"))),
    ("16 kg each hand", WeightLoad(_kg("16"), implements=2)),
    ("bodyweight", BodyWeightLoad()),
    ("bw+10kg", BodyWeightLoad(Load(Decimal(10), Unit.KG))),
    ("25% of body weight", BodyWeightShare(Percent(Decimal(25)))),
    ("60-70% of HR reserve", HeartRateLoad(Decimal(60), Decimal(70), HeartRateOf.RESERVE)),
    ("65-75% of max heart rate", HeartRateLoad(Decimal(65), Decimal(75), HeartRateOf.MAXIMUM)),
    ("same as last week", Step(None)),
)

REFUSED: tuple[tuple[str, str], ...] = (
    ("", "unreadable-load"),
    ("-", "unreadable-load"),
    ("75", "bare-percentage"),
    ("0.75", "bare-percentage"),
    ("0,75", "ambiguous-number"),
    ("70-75", "bare-percentage"),
    ("70, 75, 80", "bare-percentage"),
    ("@ 8", "bare-percentage"),
    ("at 8", "bare-percentage"),
    ("75 or RPE 7", "bare-percentage"),
    ("+2.5", "bare-percentage"),
    ("own + 2.5", "bare-percentage"),
    ("BW + 10", "unit-missing"),
    ("2 x 16", "unit-missing"),
    ("60,65 kg", "ambiguous-number"),
    ("1,000 kg", "ambiguous-number"),
    ("1.000,5 kg", "ambiguous-number"),
    ("7500%", "impossible-percentage"),
    ("115%", "impossible-percentage"),
    ("10%", "impossible-percentage"),
    ("120% HRR", "impossible-percentage"),
    ("0% BW", "impossible-percentage"),
    ("75% of max", "unreadable-load"),
    ("75-70%", "unreadable-load"),
    ("60kg/132lb", "unreadable-load"),
    ("60 kg, 132 lb", "unreadable-load"),
    ("60 kg, 65", "unreadable-load"),
    ("~60 kg", "unreadable-load"),
    ("about 60 kg", "unreadable-load"),
    ("6O kg", "unreadable-load"),
    ("-20 kg", "unreadable-load"),
    ("-10%", "unreadable-load"),
    ("60+ kg", "unreadable-load"),
    ("60 kg+", "unreadable-load"),
    ("0 kg", "unreadable-load"),
    ("6000 kg", "unreadable-load"),
    ("3 x 8", "unreadable-load"),
    ("3 x 8 @ 75%", "unreadable-load"),
    ("RPE 11", "unreadable-load"),
    ("RPE 8.3", "unreadable-load"),
    ("RPE 9-8", "unreadable-load"),
    ("RPE 7, 8, 9", "unreadable-load"),
    ("RPE", "unreadable-load"),
    ("RPE 8 kg", "unreadable-load"),
    ("60 kg or RPE 7", "unreadable-load"),
    ("75% or 60 kg", "unreadable-load"),
    ("75%, then -10%", "unreadable-load"),
    ("70%, 75% 1RM", "unreadable-load"),
    ("BW + 10%", "unreadable-load"),
    ("work up to 60 kg", "unreadable-load"),
    ("own weight", "unreadable-load"),
    ("max", "unreadable-load"),
    ("300 bpm", "unreadable-load"),
    ("1e3 kg", "unreadable-load"),
    ("#N/A", "unreadable-load"),
)
