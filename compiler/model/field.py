"""A cell that was understood, or was not. Whoever reads the value of one that failed stops there.

A failed cell has been flagged where it stands. Reading its value raises `Poisoned`, so that no number can be
made from it and no second flag is raised for the consequence; the resolver catches it, client by client.
"""

from __future__ import annotations

from typing import Generic, TypeVar

from compiler.cellref import CellRef
from compiler.frozen import frozen

T = TypeVar("T")


class Poisoned(Exception):  # noqa: N818 - it is a state of a cell, not an error of the program
    """The value of a cell that could not be read was asked for."""

    def __init__(self, place: CellRef) -> None:
        super().__init__(str(place))
        self.place = place


@frozen
class Field(Generic[T]):
    """One cell of a record: where it is, what was typed, what it means."""

    place: CellRef
    text: str
    content: T | None
    failed: bool = False

    @property
    def value(self) -> T | None:
        """What the cell means; None where it is blank. Raises `Poisoned` where it could not be read."""
        if self.failed:
            raise Poisoned(self.place)
        return self.content

    @property
    def needed(self) -> T:
        """The value of a cell that binding has made sure of. Raises `Poisoned` where it could not be read."""
        if self.failed or self.content is None:
            raise Poisoned(self.place)
        return self.content

    @property
    def known(self) -> T | None:
        """The value, or None where it is blank or failed: for checks, which stay silent about poison."""
        return None if self.failed else self.content

    @property
    def blank(self) -> bool:
        """True where nothing was typed."""
        return self.content is None and not self.failed
