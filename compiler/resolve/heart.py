"""Heart-rate targets and names in a load cell.

Percentage of heart-rate reserve: target = rest + share x (maximum - rest) (Karvonen MJ et al., Ann Med Exp Biol Fenn
1957;35:307-315). The maximum is measured, or 208 - 0.7 x age (Tanaka H et al., J Am Coll Cardiol 2001;37:153-156).
Where a restriction rules targets out, words of the talk test stand in their place; bands of reserve and of the maximum
as in Garber CE et al., Med Sci Sports Exerc 2011;43(7):1334-1359, table 2; the words are common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterable
from decimal import ROUND_HALF_UP, Decimal

from compiler.flags.catalogue import flag
from compiler.flags.model import Flag, Remark
from compiler.folding import name_key
from compiler.model.field import Field
from compiler.notation.values import BandNames, HeartRateLoad, HeartRateOf, LoadText, NamedLoad
from compiler.resolve.asked import Planned
from compiler.resolve.context import ClientView
from compiler.resolve.values import LoadKind, PlannedLoad

HUNDRED = Decimal(100)
TANAKA_AT_BIRTH, TANAKA_A_YEAR = Decimal(208), Decimal("0.7")
LIGHT_BELOW = {HeartRateOf.RESERVE: Decimal(40), HeartRateOf.MAXIMUM: Decimal(64)}
MODERATE_BELOW = {HeartRateOf.RESERVE: Decimal(60), HeartRateOf.MAXIMUM: Decimal(77)}


def highest_rate(view: ClientView) -> tuple[Decimal | None, bool]:
    """Return the client's maximum heart rate and whether it was measured; None where neither it nor an age is known."""
    measured = view.client.max_hr.value
    if measured is not None:
        return Decimal(measured), True
    born = view.client.born.value
    if born is None or view.start is None:
        return None, False
    return estimated_rate(born.age_on(view.start)), False


def estimated_rate(age: int) -> Decimal:
    """Return the maximum heart rate that is usual at an age: 208 - 0.7 x age (Tanaka 2001)."""
    return TANAKA_AT_BIRTH - TANAKA_A_YEAR * age


def reserve_target(rest: Decimal, top: Decimal, percent: Decimal) -> int:
    """Return a target in beats a minute from a share of the reserve (Karvonen)."""
    return int((rest + (top - rest) * percent / HUNDRED).quantize(Decimal(1), rounding=ROUND_HALF_UP))


def plan_heart_rate(view: ClientView, wanted: HeartRateLoad, cell: Field[LoadText]) -> Planned:
    """Return a target in beats a minute, or talk-test words, or nothing with a flag."""
    if any(restriction.heart_rate_targets.value is False for restriction in view.restrictions):
        return Planned(PlannedLoad(LoadKind.TALK_TEST, talk=_talk(wanted)))
    beats = _beats(view, wanted)
    if beats is None:
        return Planned(PlannedLoad(LoadKind.BLANK), (_missing(view, wanted, cell),))
    limit = view.client.highest_hr.value
    if limit is not None and beats[1] > limit:
        remark = Remark(
            "over-client-limit",
            f"{cell.text} is up to {beats[1]} beats a minute for {view.name}, whose highest is {limit}.",
            "Give this client a lower target on the Changes sheet.",
        )
        found = flag(
            remark,
            cell.place,
            client=view.name,
            found=cell.text,
            related=(view.client.highest_hr.place,),
            touches=(view.name,),
        )
        return Planned(PlannedLoad(LoadKind.BLANK), (found,))
    return Planned(PlannedLoad(LoadKind.HEART_RATE, beats=beats))


def _beats(view: ClientView, wanted: HeartRateLoad) -> tuple[int, int] | None:
    if wanted.of is HeartRateOf.BEATS:
        return int(wanted.low), int(wanted.high)
    top, _ = highest_rate(view)
    if top is None:
        return None
    if wanted.of is HeartRateOf.MAXIMUM:
        rest = Decimal(0)
    else:
        resting = view.client.resting_hr.value
        if resting is None:
            return None
        rest = Decimal(resting)
    return reserve_target(rest, top, wanted.low), reserve_target(rest, top, wanted.high)


def _missing(view: ClientView, wanted: HeartRateLoad, cell: Field[LoadText]) -> Flag:
    """Return the flag of a target without its rates: which of them are not there, at the first one's cell."""
    client = view.client
    no_rest = wanted.of is not HeartRateOf.MAXIMUM and client.resting_hr.value is None
    no_top = highest_rate(view)[0] is None
    absent = ["no resting heart rate"] if no_rest else []
    absent += ["neither a maximum nor a date of birth"] if no_top else []
    blanks = (["Resting HR"] if no_rest else []) + (["either Max HR or Born"] if no_top else [])
    remark = Remark(
        "missing-heart-rate",
        f"{view.name} has {' and '.join(absent)}; the target is left blank.",
        f"Fill in {' and '.join(blanks)} on the Clients sheet.",
    )
    place = client.resting_hr.place if no_rest else client.max_hr.place
    return flag(remark, place, client=view.name, related=(cell.place,))


def _talk(wanted: HeartRateLoad) -> str:
    """Return the words for the upper end of a target; beats say nothing of themselves, and are taken as steady."""
    if wanted.of is HeartRateOf.BEATS:
        return "steady: you can talk, but not sing"
    if wanted.high < LIGHT_BELOW[wanted.of]:
        return "easy: you can talk in whole sentences and sing"
    if wanted.high < MODERATE_BELOW[wanted.of]:
        return "steady: you can talk, but not sing"
    return "brisk: a few words at a time, never out of breath"


def plan_named(view: ClientView, wanted: NamedLoad, cell: Field[LoadText]) -> Planned:
    """Return the band of this site, or the heart-rate zone, that a name means.

    A name that no site and no zone knows was flagged at its cell, and its row stops the client; at a site without kit
    the coach's word stands.
    """
    key = name_key(wanted.name)
    zones = view.book.block.zones.value
    for zone in zones.zones if zones else ():
        if name_key(zone.name) == key:
            return plan_heart_rate(view, HeartRateLoad(zone.low, zone.high, HeartRateOf.RESERVE), cell)
    here = _band(view.kit.bands if view.kit else (), key)
    if here is not None:
        return Planned(PlannedLoad(LoadKind.BAND, band=here))
    if view.kit is None:
        return Planned(PlannedLoad(LoadKind.BAND, band=wanted.name))
    remark = Remark(
        "not-loadable",
        f"{view.name} is to use the band {wanted.name}, and {view.kit.site} has none; the page leaves it blank.",
        "Add it to the bands of the site on the Kit sheet, or give this client another load on Changes.",
    )
    return Planned(PlannedLoad(LoadKind.BLANK), (flag(remark, cell.place, client=view.name, found=cell.text),))


def has_band(view: ClientView, name: str) -> bool:
    """Tell whether the client's site has a band of a name: `light` is a band there, and a feeling elsewhere."""
    return view.kit is not None and _band(view.kit.bands, name_key(name)) is not None


def _band(bands: Iterable[BandNames], key: str) -> str | None:
    for names in bands:
        for word, colour in names.pairs:
            if key in {name_key(word), name_key(colour)}:
                return colour
    return None
