"""What a number format does to a number."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from compiler.source.formats import BUILT_IN, has_dates, section_for

ONE = Decimal(1)


@pytest.mark.parametrize(
    "code",
    [
        "0;[Red]-0",
        "#,##0_M_M",
        "0\\d",
        "0.0E+00",
        'General" sec"',
        '0" days"',
        "@",
        "General",
        "0%",
        "# ?/?",
        "[$€-407] 0",
    ],
)
def test_letters_in_a_format_are_not_always_dates(code: str) -> None:
    """Cases of public reports: tidyverse/readxl 388 and 559, nacnudus/tidyxl 24, box/spout 212."""
    assert has_dates(code) is False


@pytest.mark.parametrize(
    ("code", "dates"),
    [
        ("d-mmm", "dm"),
        ("mmm-yy", "my"),
        ("[$-409]d\\-mmm;@", "dm"),
        ("m-d", "md"),
        ("d.m", "dm"),
        ("ddd d mmm yyyy", "wdmy"),
        ("yyyy\\-mm\\-dd", "ymd"),
        ("h:mm", "hn"),
        ("mm:ss", "ns"),
        ("[h]:mm:ss", "hns"),
        ("[mm]:ss", "ns"),
        ("hh:mm:ss\\ AM/PM", "hns"),
        ("m/d/yy h:mm", "mdyhn"),
        ('m"月"d"日"', "md"),
    ],
)
def test_parts_of_days_and_times(code: str, dates: str) -> None:
    """A month beside hours or seconds is minutes (ECMA-376 part 1, 18.8.31)."""
    assert dates == "".join(section_for(code, ONE).dates)
    assert has_dates(code) is True


@pytest.mark.parametrize(("value", "words"), [(60, " kg"), (100, " lb"), (250, " lb")], ids=["below", "at", "above"])
def test_a_condition_chooses_the_section(value: int, words: str) -> None:
    assert words == section_for('[>=100]0" lb";0" kg"', Decimal(value)).after


@pytest.mark.parametrize(("value", "after"), [(1, "a"), (-1, "b"), (0, "c")])
def test_sections_go_by_sign(value: int, after: str) -> None:
    assert after == section_for('0"a";0"b";0"c"', Decimal(value)).after


def test_a_percent_sign_scales_only_outside_quotes() -> None:
    assert [section_for(code, ONE).percent for code in ("0%", '0" %"', "0\\%")] == [True, False, False]


def test_a_date_in_one_section_only_depends_on_the_value() -> None:
    assert has_dates("0;d-mmm") is None


@given(st.text(max_size=40), st.decimals(allow_nan=False, allow_infinity=False, min_value=-(10**9), max_value=10**9))
def test_any_code_is_read_without_failing(code: str, value: Decimal) -> None:
    """Whatever a format says, its date parts are those that `Section` names."""
    assert set(section_for(code, value).dates) <= set("ymdhnsw")


def test_every_built_in_code_is_a_date_or_is_not() -> None:
    """Numbers 14 to 22, 27 to 36, 45 to 47 and 50 to 58 are days and times (ECMA-376 part 1, 18.8.30)."""
    dates = {number for number, code in BUILT_IN.items() if has_dates(code)}
    assert {*range(14, 23), *range(27, 37), 45, 46, 47, *range(50, 59)} == dates
