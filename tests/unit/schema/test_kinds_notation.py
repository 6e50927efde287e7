"""Cells of the small languages: every stored form, and what a spreadsheet made of it."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import pytest

from compiler.cellref import CellRef
from compiler.notation.values import (
    BandNames,
    BodyWeightLoad,
    Count,
    EffortLimit,
    NotThisWeek,
    PercentLoad,
    PercentRange,
    Ramp,
    RampStep,
    Reps,
    Rest,
    Result,
    Sets,
    Size,
    Sizes,
    Tempo,
    Timed,
    Weekday,
    Weeks,
    Weight,
    WeightLoad,
    WeightRange,
)
from compiler.quantities import Load, Percent, Unit
from compiler.schema.kinds import (
    DONE_AS,
    EFFORT_LIMIT,
    LOAD,
    LOG,
    RAMP,
    RAMP_OR_NO,
    REPS,
    REST,
    RESULT,
    SETS,
    SIZES_OR_BANDS,
    TEMPO,
    WEEKDAYS,
    WEEKS,
    WEIGHT,
    ZONES,
    Kind,
    Refusal,
    Understood,
)
from compiler.source.grid import cell_from_text

HERE = CellRef("Programme", 12, 12)


def reps(low: int, high: int | None = None) -> Reps:
    return Reps((Count(low, high or low),))


def percent_load(value: str) -> PercentLoad:
    number = Percent(Decimal(value))
    return PercentLoad((PercentRange(number, number),))


def kilograms(value: str) -> WeightLoad:
    load = Load(Decimal(value), Unit.KG)
    return WeightLoad((WeightRange(load, load),))


@pytest.mark.parametrize(
    ("kind", "text", "value", "remarks"),
    [
        (SETS, "3", Sets(3, 3), []),
        (SETS, "{number 3}", Sets(3, 3), []),
        (SETS, "-", NotThisWeek(), []),
        (SETS, "{number 46083 as d-mmm}", Sets(2, 3), ["became-date"]),
        (REPS, "8–10", reps(8, 10), []),
        (REPS, "８－１０", reps(8, 10), ["odd-characters"]),
        (REPS, "‘8-10", reps(8, 10), ["odd-characters"]),
        (REPS, "8\u200b-10", reps(8, 10), ["odd-characters"]),
        (REPS, "8-10\r", reps(8, 10), []),
        (REPS, "{number 8}", reps(8), []),
        (REPS, '{number 8 as 0" reps"}', reps(8), ["unit-in-format"]),
        (REPS, "{number 46244 as d-mmm}", reps(8, 10), ["became-date"]),
        (REPS, "{number 46303 as d-mmm}", reps(8, 10), ["became-date"]),
        (REPS, "{number 46244 as [$-409]d\\\\-mmm;@}", reps(8, 10), ["became-date"]),
        (REPS, "{number 46244 as d.m}", reps(8, 10), ["became-date"]),
        (REPS, '{number 46244 as m"月"d"日"}', reps(8, 10), ["became-date"]),
        (REPS, "{number 46244 as mm-dd-yy}", reps(8, 10), ["became-date"]),
        (REPS, "{number 46244 as m/d/yyyy}", reps(8, 10), ["became-date"]),
        (REPS, "{number 42339 as mmm-yy}", reps(12, 15), ["became-date"]),
        (REPS, "{number 0.0625 as h:mm}", Reps((Timed(90, 90),)), ["became-time"]),
        (LOAD, "75%", percent_load("75"), []),
        (LOAD, "72,5%", percent_load("72.5"), ["decimal-comma"]),
        (LOAD, "{number 0.75 as 0%}", percent_load("75"), []),
        (LOAD, "{number 0.725 as 0.0%}", percent_load("72.5"), []),
        (LOAD, "{number 0.725 as 0%}", percent_load("72.5"), ["shown-rounded"]),
        (LOAD, '{number 60 as 0" kg"}', kilograms("60"), ["unit-in-format"]),
        (LOAD, '{number 60 as [>=100]0" lb";0" kg"}', kilograms("60"), ["unit-in-format"]),
        (LOAD, '{number 60.25 as 0" kg"}', kilograms("60.25"), ["shown-rounded", "unit-in-format"]),
        (LOAD, '{formula =60&" kg" gives "60 kg"}', kilograms("60"), []),
        (LOAD, "body weight", BodyWeightLoad(), []),
        (REST, "{number 90}", Rest(90, 90), []),
        (REST, '{number 90 as 0"s"}', Rest(90, 90), ["unit-in-format"]),
        (REST, '{number 2 as 0" min"}', Rest(120, 120), ["unit-in-format"]),
        (REST, "1′ 30″", Rest(90, 90), []),
        (REST, "{number 0.0625 as h:mm}", Rest(90, 90), ["became-time"]),
        (REST, "{number 0.0625 as hh:mm:ss AM/PM}", Rest(90, 90), ["became-time"]),
        (REST, "{number 0.0625 as hh:mm:ss}", Rest(90, 90), ["became-time"]),
        (REST, "{number 0.0625 as mm:ss}", Rest(90, 90), ["became-time"]),
        (REST, "{number 0.03125 as h:mm}", Rest(45, 45), ["became-time"]),
        (REST, "{number 0.001041666 as [h]:mm:ss}", Rest(90, 90), []),
        (REST, "{number 0 as h:mm}", Rest(0, 0), []),
        (TEMPO, "{number 3110}", Tempo(3, 1, 1, 0), []),
        (TEMPO, "{number 310 as 0000}", Tempo(0, 3, 1, 0), []),
        (WEIGHT, "{number 72.5}", Weight(Decimal("72.5"), None), []),
        (WEIGHT, '{number 160 as 0" lb"}', Weight(Decimal(160), Unit.LB), ["unit-in-format"]),
        (WEEKS, "{number 4}", Weeks((4,)), []),
        (WEEKDAYS, "Mon Wed", (Weekday.MON, Weekday.WED), []),
        (SIZES_OR_BANDS, "20 x2, 10", Sizes((Size(Decimal(20), 2), Size(Decimal(10)))), []),
        (SIZES_OR_BANDS, "light = yellow", BandNames((("light", "yellow"),)), []),
        (SIZES_OR_BANDS, "yellow, red", BandNames((("yellow", "yellow"), ("red", "red"))), []),
        (SIZES_OR_BANDS, "{number 2.5}", Sizes((Size(Decimal("2.5")),)), []),
        (EFFORT_LIMIT, "{number 0.8 as 0%}", EffortLimit(None, Percent(Decimal(80))), []),
        (RAMP, "bar x 8", Ramp((RampStep(None, 8),)), []),
        (RAMP_OR_NO, "Yes", True, []),
        (RAMP_OR_NO, "{truth FALSE}", False, []),
        (RAMP_OR_NO, "bar x 8", Ramp((RampStep(None, 8),)), []),
        (RESULT, "45 s", Result(Decimal(45), "s"), []),
        (RESULT, "{number 0.520833333 as h:mm}", Result(Decimal(750), "s"), ["became-time"]),
        (RESULT, "{number 0.00868055556 as h:mm:ss}", Result(Decimal(750), "s"), []),
    ],
)
def test_understood(kind: Kind[Any], text: str, value: object, remarks: list[str]) -> None:
    result = kind.read(cell_from_text(text, HERE))
    assert isinstance(result, Understood)
    assert (value, remarks) == (result.value, [remark.slug for remark in result.remarks])


@pytest.mark.parametrize(
    ("kind", "text", "slug"),
    [
        (SETS, "{number 46244}", "lost-to-date"),
        (SETS, "{truth TRUE}", "truth-value"),
        (REPS, "{number 46251 as mmm-yy}", "lost-to-date"),
        (REPS, "{number 46244 as yyyy-mm-dd}", "lost-to-date"),
        (REPS, "{number 43988 as mm-dd-yy}", "lost-to-date"),
        (REPS, "{number 36951 as mm-dd-yy}", "lost-to-date"),
        (REPS, "{number 46081 as d-mmm}", "lost-to-date"),
        (REPS, "{number 46244.5 as d-mmm}", "lost-to-date"),
        (REPS, "{number 46244 as ddd d/m h:mm}", "lost-to-date"),
        (REPS, "{number 46244}", "lost-to-date"),
        (REPS, "{number 5.5}", "unreadable-reps"),
        (REPS, "{number 0 as h:mm}", "lost-to-time"),
        (REPS, "8²", "unreadable-reps"),
        (REPS, "①", "unreadable-reps"),
        (REPS, "=8*2", "unreadable-reps"),
        (REPS, "{error #SPILL!}", "formula-error"),
        (LOAD, "{number 75}", "bare-percentage"),
        (LOAD, "{number 0.75}", "bare-percentage"),
        (LOAD, "{number 75 as 0%}", "impossible-percentage"),
        (LOAD, '{number 0.7 as 0" %"}', "bare-percentage"),
        (LOAD, "{number 46024 as d-mmm}", "lost-to-date"),
        (LOAD, "{number 0.0625 as h:mm}", "lost-to-time"),
        (LOAD, "{number 5000 as 0.00E+00}", "not-a-number"),
        (LOAD, "=80*0.75", "unreadable-load"),
        (LOAD, "{formula =80*0.75}", "formula-not-calculated"),
        (LOAD, "{truth TRUE}", "truth-value"),
        (LOAD, "{struck 60 kg}", "struck-out"),
        (REST, "{number 3.75 as [h]:mm:ss}", "lost-to-time"),
        (REST, "{number 3.75 as h:mm}", "lost-to-time"),
        (REST, "{number 0.5625 as h:mm AM/PM}", "lost-to-time"),
        (REST, "{number 0.0625}", "lost-to-time"),
        (REST, "{number 0.00138888889 as h:mm}", "lost-to-time"),
        (REST, "{number -0.5 as h:mm}", "lost-to-time"),
        (REST, "{number 46244 as d-mmm}", "lost-to-date"),
        (TEMPO, "{number 36951 as mm-dd-yy}", "lost-to-date"),
        (TEMPO, "{number 310}", "unreadable-tempo"),
        (TEMPO, "{number 200 as 0.00E+00}", "not-a-number"),
        (WEEKS, "{number 46024 as d-mmm}", "lost-to-date"),
        (WEIGHT, "{number 0.75 as 0%}", "not-a-number"),
        (RESULT, "{number 3.75 as [h]:mm:ss}", "lost-to-time"),
        (RESULT, "{number 0.25}", "lost-to-time"),
        (DONE_AS, "backwards", "unknown-choice"),
        (LOG, "=95*2", "unreadable-reps"),
        (ZONES, "easy", "unreadable-load"),
    ],
)
def test_refused(kind: Kind[Any], text: str, slug: str) -> None:
    result = kind.read(cell_from_text(text, HERE))
    assert isinstance(result, Refusal)
    assert slug == result.remark.slug
    assert result.remark.hint


def test_a_recovered_range_says_what_is_shown_and_what_was_read() -> None:
    result = REPS.read(cell_from_text("{number 46244 as d-mmm}", HERE))
    assert isinstance(result, Understood)
    assert result.remarks[0].message == 'The cell holds a date, shown as "10-Aug", and was read as 8-10.'
    assert result.remarks[0].hint == "Format the column as Text and type it again."


def test_a_range_is_recovered_in_the_1904_system_too() -> None:
    result = REPS.read(cell_from_text("{number 44782 as d-mmm}", HERE, date_1904=True))
    assert isinstance(result, Understood)
    assert reps(8, 10) == result.value
