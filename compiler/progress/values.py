"""What next month is made of, as values: proposals, the rows that carry them, and what becomes of this month's rows."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

from compiler.cellref import CellRef, RowRef
from compiler.frozen import frozen
from compiler.quantities import Load

COMMON_PRACTICE = "common practice, no source"
"""What stands as the rule of a proposal that follows a habit of the trade."""


@frozen
class NewTest:
    """A row to be added to Tests. `rpe` None: nothing left."""

    client: str
    day: date
    exercise: str
    load: Load
    reps: int | None
    rpe: Decimal | None
    body_weight: Load | None
    source: str


@frozen
class NewChange:
    """A row to be added to Changes. `weeks` None: all weeks."""

    client: str
    session: str
    order: str
    exercise: str
    weeks: tuple[int, ...] | None
    do: str
    with_: str
    load: str
    words: str
    why: str


@frozen
class Proposal:
    """What the log says about one client's loads.

    `what` is what changes: 1RM, working weight, load. `old` and `new` are None where no single weight tells it. With
    neither `tests` nor `changes` it is only listed, and `type_this` says what to type. `rests_on` are the cells of the
    log and the row it started from; `replaces` the rows of Changes that the new ones stand in for.
    """

    client: str
    exercise: str
    what: str
    old: Load | None
    new: Load | None
    why: str
    source: str
    rests_on: tuple[CellRef, ...]
    tests: tuple[NewTest, ...] = ()
    changes: tuple[NewChange, ...] = ()
    replaces: tuple[RowRef, ...] = ()
    type_this: str | None = None

    @property
    def written(self) -> bool:
        """True where rows of Tests or Changes carry it."""
        return bool(self.tests or self.changes)


@frozen
class DoneRow:
    """Sets `first` to `last`, done alike, for History. `reps` is as it is written; empty where nobody wrote it."""

    client: str
    day: date | None
    week: int
    session: str
    order: str
    exercise: str
    first: int
    last: int
    load: Load | None
    reps: str
    rpe: Decimal | None


@frozen
class NewClient:
    """What changes in a client's row: the own start date moves on; who joined late starts with the others."""

    row: RowRef
    start_date: date | None
    joins_late: bool


@frozen
class NextMonth:
    """Everything that next month's workbook has and this month's has not.

    `dropped` are rows of Changes that were for some weeks of this block, or that new ones replace. `without` are
    clients for whom nothing is proposed, with the reason.
    """

    start: date | None
    clients: tuple[NewClient, ...]
    dropped: tuple[RowRef, ...]
    proposals: tuple[Proposal, ...]
    history: tuple[DoneRow, ...]
    without: tuple[tuple[str, str], ...]
