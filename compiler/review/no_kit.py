"""Sites without a row on the Kit sheet: their loads go by the Block's step, and the coach is told so, once a site."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

from compiler.flags.catalogue import flag
from compiler.flags.model import Flag, Remark
from compiler.folding import name_key
from compiler.model.book import Book
from compiler.quantities import Load
from compiler.resolve.context import DEFAULT_STEPS
from compiler.resolve.plan import Resolution
from compiler.resolve.values import LoadKind


def review_sites_without_kit(book: Book, resolution: Resolution) -> Iterator[Flag]:
    """Yield a note for each site without kit where somebody lifts a weight that was rounded."""
    lifters: defaultdict[str | None, set[str]] = defaultdict(set)
    for plan in resolution.plans:
        for planned in plan.exercises:
            nowhere = planned.site is None or name_key(planned.site) not in book.kits
            if nowhere and planned.load.kind is LoadKind.WEIGHT:
                lifters[planned.site].add(plan.name)
    typed = book.block.step.known
    unit = book.block.kit_unit
    step = Load(typed.amount, typed.unit or unit) if typed else DEFAULT_STEPS[unit]
    for site, names in sorted(lifters.items(), key=lambda pair: pair[0] or ""):
        count = len(names)
        who = next(iter(names)) if count == 1 else f"{count} clients"
        where = site or "The place where they train"
        remark = Remark(
            "no-kit-list",
            f"{where} has no rows on the Kit sheet; the loads of {who} were rounded to steps of {step}.",
            "List bars, plates and dumbbells on the Kit sheet to get loads that can be loaded there.",
        )
        record = book.site_named.get(name_key(site)) if site else None
        yield flag(remark, record.name.place if record else None, sheet=None if record else "Kit")
