"""Sizes of type on a room sheet, largest first: a sheet takes the largest in which its clients fit on one page.

A sheet is read at arm's length, some 60 cm: numbers of 12 pt and more are read there at full speed (Legge and Bigelow,
Journal of Vision 11(5), 2011); in the smallest size they are still over 10 pt, and nothing is under 9 pt.
"""

from __future__ import annotations

from compiler.frozen import frozen
from compiler.layout.measures import MM


@frozen
class RoomStyle:
    """Type in points; `above` and `below` are the space round the lines of a row.

    In a `flat` style, columns want to be wide enough for a load and its small words on one line.
    """

    name: float
    load: float
    small: float
    head: float
    above: float
    below: float
    flat: bool = False

    @property
    def load_lead(self) -> float:
        """The leading of names and loads."""
        return self.load * 1.12

    @property
    def small_lead(self) -> float:
        """The leading of small words."""
        return self.small * 1.14


LARGE = RoomStyle(name=12.5, load=14, small=10.5, head=11, above=1.4 * MM, below=1.2 * MM)
MIDDLE = RoomStyle(name=11.5, load=12.5, small=10, head=10.5, above=1.1 * MM, below=0.9 * MM)
SMALL = RoomStyle(name=10.5, load=11, small=9, head=9.5, above=0.8 * MM, below=0.6 * MM)
FLAT = RoomStyle(name=10.5, load=10.5, small=9, head=9, above=0.6 * MM, below=0.5 * MM, flat=True)
STYLES = (LARGE, MIDDLE, SMALL, FLAT)
