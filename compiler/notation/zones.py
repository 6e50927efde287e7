"""Heart-rate zones of a block: a name and its share of heart-rate reserve, `easy 40-59%, steady 60-74%`."""

from __future__ import annotations

from decimal import Decimal

from compiler.flags.model import Remark
from compiler.folding import name_key
from compiler.notation.numbers import Refused, settle_commas
from compiler.notation.reading import Node, amount, branches, cleaned, guarded, quoted, tokens, tree_of
from compiler.notation.values import Zone, Zones

_HINT = "Write easy 40-59%, steady 60-74%."

EXAMPLES: tuple[tuple[str, Zones], ...] = (
    (
        "easy 40-59%, steady 60-74%",
        Zones((Zone("easy", Decimal(40), Decimal(59)), Zone("steady", Decimal(60), Decimal(74)))),
    ),
    ("zone 2: 60-70%", Zones((Zone("zone 2", Decimal(60), Decimal(70)),))),
    ("UT1 = 55% to 70% HRR", Zones((Zone("UT1", Decimal(55), Decimal(70)),))),
)

REFUSED: tuple[tuple[str, str], ...] = (
    ("", "unreadable-load"),
    ("easy", "unreadable-load"),
    ("40-59%", "unreadable-load"),
    ("easy 40-59", "unreadable-load"),
    ("easy 59-40%", "impossible-percentage"),
    ("easy 90-110%", "impossible-percentage"),
    ("easy 40-50%, Easy 60-70%", "unreadable-load"),
)


def read_zones(text: str) -> Zones | Remark:
    """Return the zones in the order and letter case typed, or why they could not be read."""
    return guarded(_read, text)


def _refusal(text: str, found: str, slug: str = "unreadable-load") -> Refused:
    return Refused(Remark(slug, f"{quoted(text)} {found}.", _HINT))


def _read(text: str) -> Zones:
    tree = tree_of("zones", settle_commas(cleaned(text)).text)
    if tree is None:
        raise _refusal(text, "is not a list of zones: a name, and a range that ends in a percentage")
    zones = tuple(_zone(node, text) for node in branches(tree))
    if len({name_key(zone.name) for zone in zones}) < len(zones):
        raise _refusal(text, "uses one name for two zones")
    return Zones(zones)


def _zone(node: Node, text: str) -> Zone:
    found = tokens(node)
    otherwise = _refusal(text, "is not a list of zones").reason
    low, high = (amount(token, otherwise) for token in found if token.type == "NUMBER")
    if not 0 < low <= high <= 100:
        raise _refusal(text, "has a range that is not within 100%, smaller end first", "impossible-percentage")
    return Zone(str(found[0]).strip(), low, high)
