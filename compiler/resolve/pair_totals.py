"""Tests of dumbbells and kettlebells that look like the total of a pair: heavier than any single that is listed.

Only of what is held in both hands. All sites count, as people who train at home are tested at the gym. Such a test
gives no number: every load from it might be twice what was meant.
"""

from __future__ import annotations

from compiler.flags.catalogue import flag
from compiler.flags.model import Flag, Remark
from compiler.model.field import Field
from compiler.model.kit import SiteKit
from compiler.model.records import Exercise
from compiler.notation.values import Weight
from compiler.quantities import Load
from compiler.resolve.context import ClientView
from compiler.resolve.racks import stock_of
from compiler.resolve.rounding import Ladder, Miss, Rounding
from compiler.schema.implements import PAIR_KINDS, PAIRS


def pair_total(view: ClientView, exercise: Exercise, load: Load, cell: Field[Weight]) -> Flag | None:
    """Return the flag of a tested load that nobody could hold in one hand; None where the kit does not say so."""
    if exercise.implement.value not in PAIRS:
        return None
    kits = view.book.kits.values()
    if any(_spoilt(kit) for kit in kits):
        return None
    sizes = [Ladder.of_stock(stock) for kit in kits if (stock := stock_of(kit, exercise)) is not None]
    found = [ladder.loadable(load.amount, load.unit, Rounding.NEAREST) for ladder in sizes]
    if not found or any(loaded.miss is not Miss.TOO_HEAVY for loaded in found):
        return None
    remark = Remark(
        "pair-total",
        f"{view.name} has {load} in one hand in {exercise.name.value}, more than anything on the Kit sheet weighs; the"
        " test is not used.",
        f"Tests of {exercise.implement.value} are per hand: if it is the total of the pair, type half of it.",
    )
    return flag(remark, cell.place, client=view.name, found=cell.text)


def _spoilt(kit: SiteKit) -> bool:
    return any(not kind or kind in PAIR_KINDS for kind, _ in kit.spoilt)
