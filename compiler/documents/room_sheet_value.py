"""The room sheets as values: for the coach on the floor, what everybody in the room lifts in one session.

Clients stand down the page, exercises across. Every string that will be printed is here; layout only chooses the size
of type and deals rows and columns out to pages.
"""

from __future__ import annotations

from compiler.documents.booklet_value import Paper
from compiler.frozen import frozen


@frozen
class RoomColumn:
    """One exercise: its order ("B1"), its name, what is done of it ("3 × 8"), and the small words after that."""

    label: str
    name: str
    dose: str
    notes: tuple[str, ...] = ()


@frozen
class RoomBlock:
    """Exercises done together: the head above their columns, the rest between sets."""

    head: str
    rest: str
    columns: tuple[RoomColumn, ...]


@frozen
class RoomCell:
    """What one client does of one exercise.

    `text` is set large ("95 kg"); each of `notes` follows small: plates of one side, another dose, another exercise.
    With `blank` there is no load: a line to write on, then this unit.
    """

    text: str = ""
    notes: tuple[str, ...] = ()
    blank: str | None = None


@frozen
class RoomRow:
    """One client, what the coach should have in mind ("limit RPE 7"), and a cell for every exercise in turn."""

    name: str
    notes: tuple[str, ...]
    cells: tuple[RoomCell, ...]


@frozen
class Shared:
    """Neighbours whose bar carries the same plates in one column: numbers of the column, the first and last row."""

    column: int
    first: int
    last: int


@frozen
class Remark:
    """One line under the table: a head in semibold ("Away"), and what there is to say."""

    head: str
    text: str


@frozen
class RoomSheet:
    """One group in one session of one week. `group` is its folded name, empty for those in no group."""

    group: str
    title: str
    when: str
    bookmark: str
    who: str
    blocks: tuple[RoomBlock, ...]
    rows: tuple[RoomRow, ...]
    shared: tuple[Shared, ...]
    remarks: tuple[Remark, ...]
    legend: tuple[str, ...]


@frozen
class RoomSheets:
    """The room sheets of a block. `footer` stands at the foot of each; `continued` heads a further page.

    `groups` are the folded names of all groups in the order of their sheets, also of those whose sheets are left out.
    """

    language: str
    paper: Paper
    title: str
    author: str
    groups: tuple[str, ...]
    sheets: tuple[RoomSheet, ...]
    footer: tuple[str, ...]
    page: str = "Page {} of {}"
    continued: str = "{}, continued"
