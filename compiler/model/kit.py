"""What one site owns, gathered from its rows of the Kit sheet: what the rounding works with.

All sizes of one kind at one site are in one unit; kinds may differ (dumbbells in pounds beside kilogram plates).
A count of None means as many as anybody needs.
"""

from __future__ import annotations

from compiler.cellref import CellRef
from compiler.frozen import frozen
from compiler.notation.values import BandNames, Size
from compiler.quantities import Load, Unit


@frozen
class Bar:
    """A bar: its own weight, how many there are, and its row."""

    name: str
    weight: Load
    count: int | None
    place: CellRef

    def __hash__(self) -> int:
        """Return a hash of the cell alone: bars are looked up for every load."""
        return hash(self.place)


@frozen
class Stock:
    """Sizes of one kind of kit in one unit, ascending. Counts are pairs for plates and dumbbells, singles otherwise."""

    unit: Unit
    sizes: tuple[Size, ...]
    places: tuple[CellRef, ...]

    def __hash__(self) -> int:
        """Return a hash of the cells alone: stocks are looked up for every load."""
        return hash(self.places)


@frozen
class Stack:
    """A machine or cable with a stack: the weights its pin can choose."""

    name: str
    stock: Stock


@frozen
class OwnedItem:
    """Something that is there or not: a rack, a bench, a pull-up bar. `count` None where not said."""

    kind: str
    name: str
    count: int | None
    place: CellRef


@frozen
class SiteKit:
    """Everything one site owns. `collars` is the weight of the pair, counted whenever plates are on.

    `bars` stand in the order of the sheet. `taken` are the sizes of what is lifted as it is, by kind. `items` holds
    every named thing, loadable or not. `spoilt` are kinds with a row that could not be read, and its cell: they are
    there, and nothing can be loaded with them. "" stands for a row that may be of any kind or name.
    """

    site: str
    bars: tuple[Bar, ...] = ()
    plates: Stock | None = None
    collars: Load | None = None
    taken: tuple[tuple[str, Stock], ...] = ()
    stacks: tuple[Stack, ...] = ()
    bands: tuple[BandNames, ...] = ()
    items: tuple[OwnedItem, ...] = ()
    spoilt: tuple[tuple[str, CellRef], ...] = ()

    def sizes(self, kind: str) -> Stock | None:
        """Return the sizes of a kind that is lifted as it is; None where there are none."""
        return next((stock for of, stock in self.taken if of == kind), None)
