"""What one person wants of a site's kit in one exercise, and how much of it the site owns.

A bar lift wants its bar: the one the load was fitted to, else the one it names, else the first of the site. Dumbbells,
kettlebells and medicine balls are wanted by size, set by set; of a range the upper end; a load that the client finds
has no size beforehand. What an exercise needs by name (rack, bench, rings) is wanted once. Plates are not counted.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from decimal import Decimal
from typing import NamedTuple, assert_never

from compiler.counting import counted
from compiler.folding import name_key
from compiler.model.kit import SiteKit
from compiler.model.records import Exercise
from compiler.quantities import Unit, plain
from compiler.resolve.values import Fitted, LoadKind, PlannedExercise
from compiler.schema.implements import IMPLEMENT, KIT_KIND, TAKEN, LoadedBy

COUNTED_BY_SIZE = frozenset({"bar", "plates", "collars", *(kind.name for kind in TAKEN)})
"""Kinds whose rows say how many there are of each size."""

A_PAIR = 2
WITH_A_LOAD = (LoadKind.WEIGHT, LoadKind.EFFORT)


class Item(NamedTuple):
    """A thing of a site: by name, or one size of a kind. Sizes are counted in single pieces, two a pair."""

    kind: str
    name: str
    size: Decimal | None = None
    unit: Unit | None = None

    def amount(self, pieces: int) -> str:
        """Return so many in words: 3 pairs of 16 kg dumbbells, 4 × rack."""
        if self.size is None:
            return f"{pieces} × {self.name}"
        kind = KIT_KIND[self.kind]
        of = f"{plain(self.size)} {self.unit} {kind.one if pieces == 1 else kind.several}"
        if not kind.in_pairs:
            return f"{pieces} × {of}"
        pairs, odd = divmod(pieces, A_PAIR)
        if odd:
            return f"{pieces} single {of}"
        return f"{counted(pairs, 'pair')} of {of}"


class Want(NamedTuple):
    """One item that one person wants; `pieces` in single ones. `shared`: lifters take turns at it as at the bar."""

    item: Item
    pieces: int = 1
    shared: bool = False


class Needs:
    """What exercises need by name, as items of one kit; the needs of each exercise are looked up once."""

    def __init__(self, kit: SiteKit) -> None:
        self._kit = kit
        self._known: dict[int, tuple[Want, ...]] = {}

    def wants(self, exercise: Exercise) -> tuple[Want, ...]:
        """Return the items that are needed; not those whose rows say how many there are of each size."""
        known = self._known.get(exercise.row.row)
        if known is None:
            shared = exercise.implement.known == "barbell"
            items = dict.fromkeys(self._looked_up(exercise.needs.known or ()))
            known = self._known[exercise.row.row] = tuple(Want(item, shared=shared) for item in items)
        return known

    def _looked_up(self, needs: Iterable[str]) -> Iterator[Item]:
        for need in needs:
            key = name_key(need)
            kinds = {owned.kind for owned in self._kit.items if key in {name_key(owned.name), name_key(owned.kind)}}
            if kinds and not kinds & COUNTED_BY_SIZE:
                yield Item("stack" if "stack" in kinds else "", _shown(need, self._kit))


def wants_of(planned: PlannedExercise, kit: SiteKit, number: int, needs: Needs) -> tuple[Want, ...]:
    """Return what one person wants in one set of an exercise, counted from 0. `needs` are those of this kit."""
    tool, named = _tool(planned, kit, number), needs.wants(planned.exercise)
    if tool is None:
        return named
    return (tool, *(want for want in named if want.item != tool.item))


def _tool(planned: PlannedExercise, kit: SiteKit, number: int) -> Want | None:
    """Return what is lifted; None where nothing is that could be short, or nobody knows which."""
    if planned.exercise.implement.failed:
        return None
    implement = IMPLEMENT[planned.exercise.implement.needed]
    match implement.loaded_by:
        case LoadedBy.BAR:
            bar = _bar(planned, kit)
            return None if bar is None else Want(Item("bar", bar), shared=True)
        case LoadedBy.SIZE:
            (kind,) = implement.kit
            size = _size(planned, kit, number, kind)
            return None if size is None else Want(size, A_PAIR if implement.pair else 1)
        case LoadedBy.STACK:
            name = _stack(planned, kit)
            return None if name is None else Want(Item("stack", name))
        case LoadedBy.BAND:
            return Want(Item("bands", "bands"))
        case LoadedBy.PLATES | LoadedBy.BODY | LoadedBy.STEP:
            return None
        case _:
            assert_never(implement.loaded_by)


def _bar(planned: PlannedExercise, kit: SiteKit) -> str | None:
    for item in planned.load.items:
        if item.low.bar is not None:
            return item.low.bar.name
    named = planned.exercise.bar.known
    fitting = [bar.name for bar in kit.bars if named is None or name_key(bar.name) == name_key(named)]
    return fitting[0] if fitting else None


def size_in_set(planned: PlannedExercise, number: int) -> Fitted | None:
    """Return the load of one set, counted from 0: of a range the upper end; None where none is known beforehand."""
    items = planned.load.items
    if planned.load.kind not in WITH_A_LOAD or not items:
        return None
    return items[min(number, len(items) - 1)].high


def _size(planned: PlannedExercise, kit: SiteKit, number: int, kind: str) -> Item | None:
    fitted, stock = size_in_set(planned, number), kit.sizes(kind)
    if fitted is None or fitted.load is None or stock is None:
        return None
    return Item(kind, kind, fitted.load.to(stock.unit).amount, stock.unit)


def _stack(planned: PlannedExercise, kit: SiteKit) -> str | None:
    names = {name_key(name) for name in (*(planned.exercise.needs.known or ()), planned.exercise.name.known or "")}
    named = [stack.name for stack in kit.stacks if name_key(stack.name) in names]
    if named:
        return named[0]
    return kit.stacks[0].name if len(kit.stacks) == 1 else None


def _shown(need: str, kit: SiteKit) -> str:
    """Return a need as the Kit sheet spells it, so that two spellings are one item."""
    return next((owned.name for owned in kit.items if name_key(owned.name) == name_key(need)), need)


# ---------------------------------------------------------------- what there is


def owned_of(item: Item, kit: SiteKit) -> int | None:
    """Return how many a site owns, sizes in single pieces; None for as many as anybody needs."""
    if item.size is not None:
        stock = kit.sizes(item.kind)
        counts = [size.count for size in stock.sizes if size.amount == item.size] if stock else []
        count = _sum(counts)
        return None if count is None else count * (A_PAIR if KIT_KIND[item.kind].in_pairs else 1)
    if item.kind == "bar":
        return _sum([bar.count for bar in kit.bars if name_key(bar.name) == name_key(item.name)])
    key = name_key(item.name)
    return _sum([owned.count for owned in kit.items if key in {name_key(owned.name), name_key(owned.kind)}])


def _sum(counts: list[int | None]) -> int | None:
    known = [count for count in counts if count is not None]
    return sum(known) if known and len(known) == len(counts) else None
