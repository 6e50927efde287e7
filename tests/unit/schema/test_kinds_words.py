"""Kinds of words, numbers and days: what may be written, and what is said about the rest."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Any

import pytest

from compiler.cellref import CellRef
from compiler.flags.catalogue import CATALOGUE
from compiler.notation.values import BirthDay
from compiler.quantities import Percent
from compiler.schema.kinds import (
    CUE,
    DATE,
    DATES,
    HEART_RATE,
    LONG_TEXT,
    NAME,
    NAMES,
    PERCENT,
    RPE,
    SHORT_TEXT,
    YEAR_OR_DATE,
    YES_NO,
    Kind,
    Refusal,
    Understood,
    choice,
    whole,
)
from compiler.source.grid import cell_from_text

HERE = CellRef("Tests", 2, 3)
SCREENING = choice("clear", "ask first", "cleared")


def read(kind: Kind[Any], text: str, *, date_1904: bool = False) -> Understood[Any] | Refusal:
    """Read one entry of a grid; a text in quotes keeps its spaces."""
    result = kind.read(cell_from_text(text, HERE, date_1904=date_1904))
    remarks = (result.remark,) if isinstance(result, Refusal) else result.remarks
    assert all(remark.slug in CATALOGUE for remark in remarks)
    return result


def slugs(result: Understood[Any]) -> list[str]:
    return [remark.slug for remark in result.remarks]


@pytest.mark.parametrize(
    ("kind", "text", "value", "remarks"),
    [
        (NAME, "Imogen Thackray", "Imogen Thackray", []),
        (NAME, " Imogen<br> Thackray\u00a0", "Imogen Thackray", []),
        (NAME, "NA", "NA", []),
        (NAME, "None", "None", []),
        (NAME, "TRUE", "TRUE", []),
        (NAME, "José", "José", []),
        (NAME, "Di\u200e\u202a Vale\u202c", "Di Vale", ["odd-characters"]),
        (NAME, "Cy\u0007 Oram", "Cy Oram", ["odd-characters"]),
        (NAME, "👩‍🚀 Kai", "👩‍🚀 Kai", []),
        (NAME, "=1+1", "=1+1", ["formula-as-text"]),
        (NAME, "+Bo Tarn", "+Bo Tarn", []),
        (NAME, "{number 2}", "2", []),
        (NAME, "{number 1234}", "1234", ["number-as-name"]),
        (SHORT_TEXT, "{number 2026}", "2026", []),
        (CUE, "{number 0.75 as 0%}", "75%", []),
        (CUE, " Pause<br>at the  knee. ", "Pause\nat the knee.", []),
        (LONG_TEXT, "One.<br><br>Two.", "One.\n\nTwo.", []),
        (NAMES, "overhead, spinal load; impact<br>Overhead", ("overhead", "spinal load", "impact"), []),
        (NAMES, "one,,two,", ("one", "two"), []),
        (SCREENING, "Ask-First ", "ask first", []),
        (SCREENING, "CLEAR", "clear", []),
        (YES_NO, "Yes", True, []),
        (YES_NO, "n", False, []),
        (YES_NO, "{truth TRUE}", True, []),
        (YES_NO, "{number 0}", False, []),
        (whole(1, 12), "4", 4, []),
        (whole(1, 12), "{number 4}", 4, []),
        (whole(1, 12), "4.0", 4, []),
        (whole(1, 12), "４", 4, []),
        (HEART_RATE, '{number 62 as 0" bpm"}', 62, ["unit-in-format"]),
        (HEART_RATE, "62 bpm", 62, []),
        (RPE, "RPE 8.5", Decimal("8.5"), []),
        (RPE, "{number 9}", Decimal(9), []),
        (RPE, "8,5", Decimal("8.5"), ["decimal-comma"]),
        (PERCENT, "75%", Percent(Decimal(75)), []),
        (PERCENT, "72,5 %", Percent(Decimal("72.5")), ["decimal-comma"]),
        (PERCENT, "{number 0.75 as 0%}", Percent(Decimal(75)), []),
        (PERCENT, "{number 0.725 as 0%}", Percent(Decimal("72.5")), ["shown-rounded"]),
        (DATE, "2026-08-10", date(2026, 8, 10), []),
        (DATE, "10 August 2026", date(2026, 8, 10), []),
        (DATE, "Mon, 10 Aug 2026", date(2026, 8, 10), []),
        (DATE, "August 10th, 2026", date(2026, 8, 10), []),
        (DATE, "10-Aug-26", date(2026, 8, 10), ["loose-date"]),
        (DATE, "13/08/2026", date(2026, 8, 13), ["loose-date"]),
        (DATE, "08/13/2026", date(2026, 8, 13), ["loose-date"]),
        (DATE, "10.10.2026", date(2026, 10, 10), ["loose-date"]),
        (DATE, "{date 2026-08-10}", date(2026, 8, 10), []),
        (DATE, "{number 46244.75 as d/m/yyyy}", date(2026, 8, 10), ["loose-date"]),
        (DATE, "{date 46243.9166 as d/m/yyyy}", date(2026, 8, 9), ["near-midnight"]),
        (DATES, "2026-12-25, 26 December 2026", (date(2026, 12, 25), date(2026, 12, 26)), []),
        (DATES, "{date 2026-12-25}", (date(2026, 12, 25),), []),
        (YEAR_OR_DATE, "1984", BirthDay(date(1984, 12, 31)), []),
        (YEAR_OR_DATE, "{number 1984}", BirthDay(date(1984, 12, 31)), []),
        (YEAR_OR_DATE, "1984-03-15", BirthDay(date(1984, 3, 15)), []),
        (YEAR_OR_DATE, "{date 1984-03-15}", BirthDay(date(1984, 3, 15)), []),
        (YEAR_OR_DATE, "{date 1932-03-15}", BirthDay(date(1932, 3, 15)), []),
    ],
)
def test_understood(kind: Kind[Any], text: str, value: object, remarks: list[str]) -> None:
    result = read(kind, text)
    assert isinstance(result, Understood)
    assert (value, remarks) == (result.value, slugs(result))


@pytest.mark.parametrize(
    ("kind", "text", "slug"),
    [
        (NAME, "{truth TRUE}", "truth-value"),
        (NAME, "{error #REF!}", "formula-error"),
        (NAME, "#N/A", "formula-error"),
        (NAME, "{formula =A1}", "formula-not-calculated"),
        (NAME, "{struck Ana}", "struck-out"),
        (NAME, "{date 2026-08-10 as d-mmm}", "lost-to-date"),
        (NAME, "x" * 101, "too-long"),
        (NAMES, "x" * 101, "too-long"),
        (NAMES, ", ;", "missing-name"),
        (CUE, "x" * 501, "too-long"),
        (LONG_TEXT, "x" * 2001, "too-long"),
        (SCREENING, "cleard", "unknown-choice"),
        (YES_NO, "perhaps", "unknown-choice"),
        (YES_NO, "{struck yes}", "struck-out"),
        (whole(1, 12), "13", "not-a-number"),
        (whole(1, 12), "4.5", "not-a-number"),
        (whole(1, 12), "1_0", "not-a-number"),
        (whole(1, 12), "1e1", "not-a-number"),
        (whole(1, 12), "²", "not-a-number"),
        (whole(1, 12), "4 kg", "not-a-number"),
        (whole(1, 12), "1,000", "ambiguous-number"),
        (whole(1, 12), "{truth TRUE}", "truth-value"),
        (whole(1, 12), "{number 4 as 0%}", "not-a-number"),
        (whole(1, 12), "{number 4 as 0.00E+00}", "not-a-number"),
        (whole(1, 12), "{date 2026-08-10 as d-mmm}", "lost-to-date"),
        (whole(1, 12), "{number 0.0625 as h:mm}", "lost-to-time"),
        (whole(1, 12), "{error NaN}", "not-a-number"),
        (whole(1, 100), "8²", "not-a-number"),
        (whole(1, 100), "2½", "not-a-number"),
        (whole(1, 12), '{number 4 as 0" dozen"}', "not-a-number"),
        (HEART_RATE, "300", "not-a-number"),
        (RPE, "11", "not-a-number"),
        (RPE, "8.3", "not-a-number"),
        (PERCENT, "75", "bare-percentage"),
        (PERCENT, "{number 75}", "bare-percentage"),
        (PERCENT, "{number 0.75}", "bare-percentage"),
        (PERCENT, '{number 0.7 as 0" %"}', "bare-percentage"),
        (PERCENT, "{number 75 as 0%}", "impossible-percentage"),
        (PERCENT, "0.75%", "impossible-percentage"),
        (PERCENT, "0,75", "ambiguous-number"),
        (DATE, "10/08/2026", "ambiguous-date"),
        (DATE, "13/08/26", "unreadable-date"),
        (DATE, "31/02/2026", "unreadable-date"),
        (DATE, "2026-02-30", "unreadable-date"),
        (DATE, "10 août 2026", "unreadable-date"),
        (DATE, "10 Aug", "unreadable-date"),
        (DATE, "Tue 10 Aug 2026", "unreadable-date"),
        (DATE, "1949-01-01", "unreadable-date"),
        (DATE, "{number 46244}", "unreadable-date"),
        (DATE, "{number 2026}", "unreadable-date"),
        (DATE, "{number -5 as d/m/yyyy}", "unreadable-date"),
        (DATE, "{number 0 as d/m/yyyy}", "unreadable-date"),
        (DATE, "{number 60 as d/m/yyyy}", "unreadable-date"),
        (DATE, "{number 3000000 as d/m/yyyy}", "unreadable-date"),
        (DATE, "{number 0.5 as h:mm}", "unreadable-date"),
        (DATE, "٢٠٢٦-٠٨-٤٠", "unreadable-date"),
        (DATES, "2026-12-25, soon", "unreadable-date"),
        (DATES, ", ,", "unreadable-date"),
        (DATES, "25 Foo 2026", "unreadable-date"),
        (YEAR_OR_DATE, "84", "unreadable-date"),
        (YEAR_OR_DATE, "{number 1984 as d/m/yyyy}", "unreadable-date"),
        (YEAR_OR_DATE, "{number 30000}", "unreadable-date"),
    ],
)
def test_refused(kind: Kind[Any], text: str, slug: str) -> None:
    result = read(kind, text)
    assert isinstance(result, Refusal)
    assert slug == result.remark.slug
    assert result.remark.hint


def test_the_1904_system_counts_its_own_days() -> None:
    """Reading 44782 of a 1904 workbook as 9 August 2022 is the classic fault."""
    result = read(DATE, "{number 44782 as d/m/yyyy}", date_1904=True)
    assert isinstance(result, Understood)
    assert result.value == date(2026, 8, 10)
    bare = read(DATE, "{number 44782}", date_1904=True)
    assert isinstance(bare, Refusal)
    assert "10 August 2026" in bare.remark.message


def test_an_ambiguous_date_names_both_readings() -> None:
    result = read(DATE, "10/08/2026")
    assert isinstance(result, Refusal)
    assert result.remark.message == '"10/08/2026" may be 10 August 2026 or 8 October 2026.'
    assert result.remark.hint == "Write 2026-08-10 or 2026-10-08."


def test_an_unknown_choice_names_the_nearest_and_all() -> None:
    result = read(SCREENING, "cleard")
    assert isinstance(result, Refusal)
    assert result.remark.message == '"cleard" is not one of the choices: clear, ask first, cleared.'
    assert result.remark.hint == "Write cleared, if that is meant."


def test_an_error_value_is_named_with_its_meaning_and_formula() -> None:
    result = read(NAME, "{formula =VLOOKUP(A1,B:B,1,0) gives #N/A}")
    assert isinstance(result, Refusal)
    assert (
        result.remark.message == "The formula =VLOOKUP(A1,B:B,1,0) gives #N/A: a lookup found nothing; expected a name."
    )


def test_a_percentage_of_thousands_says_what_was_meant() -> None:
    result = read(PERCENT, "{number 75 as 0%}")
    assert isinstance(result, Refusal)
    assert "7500%" in result.remark.message
    assert "75%" in (result.remark.hint or "")
