"""Heart-rate targets against published and computed examples (tests/data/reference/heart_rate.csv, SOURCES.md)."""

from __future__ import annotations

import csv
from decimal import Decimal
from pathlib import Path

import pytest

from compiler.pipeline.check import Checked, check_source
from compiler.resolve.heart import estimated_rate, reserve_target
from compiler.resolve.values import LoadKind, Part, PlannedLoad
from tests.fragments import fragment_book
from tests.support import source_book

REFERENCE = Path(__file__).parents[2] / "data" / "reference" / "heart_rate.csv"
CONFIRMED = ("computed", "primary_abstract", "secondary_page")


def rows(kind: str) -> list[dict[str, str]]:
    with REFERENCE.open(encoding="utf-8", newline="") as file:
        return [row for row in csv.DictReader(file) if row["kind"] == kind and row["confirmed"].startswith(CONFIRMED)]


@pytest.mark.parametrize("row", rows("karvonen_example"), ids=str)
def test_karvonen(row: dict[str, str]) -> None:
    """Rest + share x reserve (Karvonen 1957), to the beat; among them the published 156 and 144."""
    rest, top = Decimal(row["hr_rest"]), Decimal(row["hr_max"])
    for percent, expected in (("intensity_percent_min", "expected_min"), ("intensity_percent_max", "expected_max")):
        target = reserve_target(rest, top, Decimal(row[percent]))
        assert abs(Decimal(target) - Decimal(row[expected])) <= Decimal("0.5")


def test_the_published_examples() -> None:
    """Age 27, rest 70, 70% is 156; rest 60, maximum 200, 60% is 144 (secondary pages that quote Karvonen)."""
    assert reserve_target(Decimal(70), Decimal(193), Decimal(70)) == 156
    assert reserve_target(Decimal(60), Decimal(200), Decimal(60)) == 144


@pytest.mark.parametrize("row", [r for r in rows("hrmax_example") if r["key"] == "tanaka_2001"], ids=lambda r: r["age"])
def test_tanaka(row: dict[str, str]) -> None:
    """208 - 0.7 x age (Tanaka 2001), computed."""
    assert estimated_rate(int(row["age"])) == Decimal(row["expected_min"])


HEADERS = ["Programme", "Session", "Part", "Order", "Exercise", "Week 1 sets", "Week 1 reps", "Week 1 load"]


def checked(load: str, client: dict[str, str], restriction: list[str] | None = None) -> Checked:
    tables = {
        "Block": [["Setting", "Value"], ["Start date", "2026-12-07"], ["Weeks", "1"]],
        "Exercises": [["Exercise", "Implement"], ["Rowing machine", "cardio"]],
        "Programme": [HEADERS, ["One", "Day one", "main", "A", "Rowing machine", "1", "8 min", load]],
        "Clients": [["Client", "Programme", *client], ["Imogen Thackray", "One", *client.values()]],
    }
    if restriction:
        tables["Restrictions"] = [["Restriction", "Avoid tags", "Heart-rate targets"], restriction]
    return check_source(source_book(tables))


def planned(of: Checked) -> PlannedLoad:
    (plan,) = of.plans
    return plan.sessions[0].parts[Part.MAIN][0].load


def test_measured_maximum_goes_before_the_estimate() -> None:
    """Rest 60, maximum 200 measured: 60% of the reserve is 144, whatever the age."""
    load = planned(checked("60-70% HRR", {"Resting HR": "60", "Max HR": "200", "Born": "1990-01-01"}))
    assert load.beats == (144, 158)


def test_a_zone_is_a_share_of_the_reserve() -> None:
    """The Block's `steady` is 60 to 74% of the reserve: 60 + 0.6 x 140 and 60 + 0.74 x 140."""
    assert planned(checked("steady", {"Resting HR": "60", "Max HR": "200"})).beats == (144, 164)


def test_without_rates_there_is_no_number() -> None:
    """The flag says which of the two is not there, and only that."""
    for rates, said in (
        ({"Resting HR": "60"}, "has neither a maximum nor a date of birth;"),
        ({"Max HR": "200"}, "has no resting heart rate;"),
        ({"Born": "1990-01-01"}, "has no resting heart rate;"),
    ):
        found = checked("60-70% HRR", rates)
        assert planned(found).kind is LoadKind.BLANK
        (flag,) = [flag for flag in found.flags if flag.slug == "missing-heart-rate"]
        assert said in flag.message


def test_a_restriction_puts_words_in_the_place_of_targets() -> None:
    """Where heart-rate targets are ruled out every target becomes talk-test words."""
    client = {"Resting HR": "60", "Max HR": "200", "Restrictions": "heart-rate medicine"}
    load = planned(checked("60-70% HRR", client, ["heart-rate medicine", "note only", "no"]))
    assert load.kind is LoadKind.TALK_TEST
    assert load.beats is None


def bands() -> list[tuple[str, str]]:
    """Return targets that end where Garber's bands end, with the head of the words for them."""
    heads = {"very_light": "easy", "light": "easy", "moderate": "steady", "vigorous": "brisk"}
    found = []
    for kind, unit in (("acsm_category_hrr", "HRR"), ("acsm_category_hrmax", "HRmax")):
        for row in rows(kind):
            if row["key"] in heads:
                high = row["intensity_percent_max"]
                found.append((f"{int(high) - 3}-{high}% {unit}", heads[row["key"]]))
    return found


@pytest.mark.parametrize(("target", "head"), bands())
def test_words_for_a_target_are_of_its_band(target: str, head: str) -> None:
    """The bands of Garber 2011, of the reserve and of the maximum: light is easy, never steady."""
    client = {"Resting HR": "60", "Max HR": "200", "Restrictions": "heart-rate medicine"}
    load = planned(checked(target, client, ["heart-rate medicine", "note only", "no"]))
    assert (load.talk or "").startswith(f"{head}:")


def test_a_target_above_the_highest_rate_stops_the_client() -> None:
    found = checked("60-70% HRR", {"Resting HR": "60", "Max HR": "200", "Highest HR": "140"})
    assert found.plans == ()
    assert [flag.slug for flag in found.flags if flag.touches] == ["over-client-limit"]


BAND_OF_A_SITE = """
## Exercises

| Exercise   | Implement |
| ---------- | --------- |
| Pull-apart | band      |

## Programme

| Programme | Session | Part | Order | Exercise   | Week 1 sets | Week 1 reps | Week 1 load |
| --------- | ------- | ---- | ----- | ---------- | ----------- | ----------- | ----------- |
| One       | Day one | main | A     | Pull-apart | 3           | 15          | purple      |

## Clients

| Client           | Programme | Site |
| ---------------- | --------- | ---- |
| Imogen Thackray  | One       | Gym  |

## Sites

| Site |
| ---- |
| Gym  |
| Club |

## Kit

| Site | Kind  | Name | Sizes | Unit |
| ---- | ----- | ---- | ----- | ---- |
| Gym  | bands |      | red   |      |
| Club | {} |
"""


def told_of_purple(at_the_club: str) -> list[tuple[str, str]]:
    """Return slug and cell of what is told of a load `purple` at a site with a red band, by the other site's kit."""
    checked = check_source(fragment_book(BAND_OF_A_SITE.format(at_the_club)))
    return [(flag.slug, str(flag.place)) for flag in checked.flags if flag.sheet_name in {"Programme", "Kit"}]


def test_a_band_that_another_site_has_is_not_printed() -> None:
    """The name is right, and the client's own site lacks the band: the page leaves it blank."""
    checked = check_source(fragment_book(BAND_OF_A_SITE.format("bands | | purple | ")))
    said = "Imogen Thackray is to use the band purple, and Gym has none; the page leaves it blank."
    assert [flag.message for flag in checked.flags if flag.slug == "not-loadable"] == [said]
    assert planned(checked).kind is LoadKind.BLANK


@pytest.mark.parametrize(
    ("kit", "told"),
    [
        ("bands | | green |", [("unreadable-load", "Programme!H2")]),
        ("plates | | 20 x | kg", [("unreadable-load", "Programme!H2"), ("not-a-number", "Kit!D3")]),
        ("bands | | green = |", [("not-loadable", "Programme!H2"), ("not-a-number", "Kit!D3")]),
        ("bands | | 1-3 by 2 |", [("not-loadable", "Programme!H2"), ("unknown-choice", "Kit!D3")]),
        (
            "bnads | | green = |",
            [("not-loadable", "Programme!H2"), ("unknown-choice", "Kit!B3"), ("not-a-number", "Kit!D3")],
        ),
    ],
)
def test_a_band_that_no_site_has_is_told_once(kit: str, told: list[tuple[str, str]]) -> None:
    """Where every list of bands was read, the name is wrong; where one was not, the client's site surely lacks it."""
    assert told_of_purple(kit) == told
