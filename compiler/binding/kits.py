"""Rows of the Kit sheet -> what each site owns.

Within one kind at one site, and between bars, plates and collars, all sizes are in one unit; two units there are
an error, and that kind is left out so that no load can be made from it.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from decimal import Decimal

from compiler.cellref import CellRef
from compiler.flags.catalogue import flag
from compiler.flags.model import Flag, Remark
from compiler.flags.nearest import nearest
from compiler.folding import name_key
from compiler.model.kit import Bar, OwnedItem, SiteKit, Stack, Stock
from compiler.model.records import KitRow
from compiler.notation.values import BandNames, Size, Sizes
from compiler.quantities import Load, Unit
from compiler.schema.implements import TAKEN, WEIGHT_KINDS

LOADED_TOGETHER = ("bar", "plates", "collars")


@dataclass
class _Gathered:
    site: str
    stocks: dict[str, list[tuple[Size, CellRef]]] = field(default_factory=dict)
    units: dict[str, tuple[Unit, CellRef]] = field(default_factory=dict)
    bars: list[Bar] = field(default_factory=list)
    stacks: list[Stack] = field(default_factory=list)
    bands: list[BandNames] = field(default_factory=list)
    items: list[OwnedItem] = field(default_factory=list)
    spoilt: dict[str, CellRef] = field(default_factory=dict)


def bind_kits(
    rows: tuple[KitRow, ...], default_unit: Unit, listed: Iterable[str] = ()
) -> tuple[dict[str, SiteKit], list[Flag]]:
    """Return what each site owns under the folded name of the site, and the flags.

    `listed` are the names of the Sites sheet. A row of no known site may belong to any, and spoils its kind there.
    """
    sites: dict[str, _Gathered] = {}
    flags: list[Flag] = []
    known = {name_key(name) for name in listed}
    astray: list[tuple[CellRef, str, tuple[str, ...]]] = []
    for row in rows:
        if row.site.known is None or (known and name_key(row.site.known) not in known):
            near = nearest(row.site.known or row.site.text, known, most=1)
            astray.append((row.site.place, row.kind.known or "", tuple(map(name_key, near))))
        if row.site.known is None:
            continue
        site = sites.setdefault(name_key(row.site.known), _Gathered(row.site.known))
        unnamed = next((cell for cell in (row.kind, row.name) if cell.failed), None)
        if unnamed is not None:
            site.spoilt.setdefault("", unnamed.place)
        if row.kind.known is None:
            continue
        flags += _gather(site, row, default_unit)
    for place, kind, meant in astray:
        for key in meant or tuple(sites):
            if key in sites:
                sites[key].spoilt.setdefault(kind, place)
    return {key: _site_kit(site) for key, site in sites.items()}, flags


def _gather(site: _Gathered, row: KitRow, default_unit: Unit) -> list[Flag]:
    kind = row.kind.needed
    name = row.name.known or kind
    site.items.append(OwnedItem(kind, name, row.how_many.known, row.row.cell(row.kind.place.column)))
    if row.sizes.failed or row.unit.failed:
        site.spoilt.setdefault(kind, row.sizes.place if row.sizes.failed else row.unit.place)
        return []
    sizes = row.sizes.content
    if kind not in WEIGHT_KINDS:
        if isinstance(sizes, BandNames):
            site.bands.append(sizes)
        return []
    if isinstance(sizes, BandNames):  # a check tells it
        site.spoilt.setdefault(kind, row.sizes.place)
        return []
    if sizes is None:
        if kind == "collars":
            return []
        site.spoilt.setdefault(kind, row.sizes.place)
        remark = Remark(
            "not-a-number",
            f'The {kind} "{name}" of {site.site} have no sizes.',
            "Say what they weigh: 20, or 2-40 by 2.",
        )
        return [flag(remark, row.sizes.place)]
    unit = Unit(row.unit.content) if row.unit.content else default_unit
    clash = _unit_clash(site, kind, unit, row)
    if clash:
        return [clash]
    _store(site, row, sizes, unit)
    return []


def _unit_clash(site: _Gathered, kind: str, unit: Unit, row: KitRow) -> Flag | None:
    together = LOADED_TOGETHER if kind in LOADED_TOGETHER else (kind,)
    for other in together:
        if other in site.units and site.units[other][0] is not unit and kind != "stack":
            for spoilt in together:
                site.spoilt.setdefault(spoilt, row.unit.place)
            remark = Remark(
                "unit-missing",
                f"The {kind} of {site.site} are in {unit}, the {other} in {site.units[other][0]}.",
                "Use one unit for bars, plates and collars of a site, and one within a kind.",
            )
            return flag(remark, row.unit.place, found=row.unit.text, related=(site.units[other][1],))
    site.units.setdefault(kind, (unit, row.unit.place))
    return None


def _store(site: _Gathered, row: KitRow, sizes: Sizes, unit: Unit) -> None:
    kind, place = row.kind.needed, row.sizes.place
    counted = [
        (Size(s.amount, s.count if s.count is not None else row.how_many.known), place) for s in sizes.items
    ]
    if kind == "bar":
        name = row.name.known or f"{row.sizes.text} {unit} bar"
        site.bars += [Bar(name, Load(size.amount, unit), size.count, place) for size, _ in counted]
    elif kind == "stack":
        stock = Stock(unit, tuple(Size(s.amount) for s in sizes.items), (place,))
        site.stacks.append(Stack(row.name.known or kind, _ascending(stock)))
    else:
        site.stocks.setdefault(kind, []).extend(counted)


def _site_kit(site: _Gathered) -> SiteKit:
    collars = site.stocks.get("collars")
    whole_bar_kit = site.spoilt.keys().isdisjoint(LOADED_TOGETHER)
    return SiteKit(
        site=site.site,
        bars=tuple(site.bars) if whole_bar_kit else (),
        plates=_stock(site, "plates") if whole_bar_kit else None,
        collars=Load(2 * collars[0][0].amount, site.units["collars"][0]) if collars else None,
        taken=tuple((kind.name, stock) for kind in TAKEN if (stock := _stock(site, kind.name)) is not None),
        stacks=tuple(site.stacks),
        bands=tuple(site.bands),
        items=tuple(site.items),
        spoilt=tuple(site.spoilt.items()),
    )


def _stock(site: _Gathered, kind: str) -> Stock | None:
    if kind not in site.stocks or kind in site.spoilt:
        return None
    counts: dict[Decimal, int | None] = {}
    for size, _ in site.stocks[kind]:
        if size.amount not in counts:
            counts[size.amount] = size.count
        elif size.count is None or counts[size.amount] is None:
            counts[size.amount] = None
        else:
            counts[size.amount] = (counts[size.amount] or 0) + size.count
    places = tuple(dict.fromkeys(place for _, place in site.stocks[kind]))
    return _ascending(Stock(site.units[kind][0], tuple(Size(a, c) for a, c in counts.items()), places))


def _ascending(stock: Stock) -> Stock:
    return Stock(stock.unit, tuple(sorted(stock.sizes, key=lambda size: size.amount)), stock.places)
