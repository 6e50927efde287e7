"""What the rules of progress look at: one client's month, planned and done."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date, timedelta

from compiler.cellref import CellRef
from compiler.folding import name_key
from compiler.frozen import frozen
from compiler.model.book import Book
from compiler.model.records import Change, Exercise
from compiler.notation.values import LoadText
from compiler.quantities import Percent
from compiler.resolve.context import ClientView
from compiler.resolve.sessions import DAYS_IN_A_WEEK
from compiler.resolve.values import ClientPlan, PlannedExercise
from compiler.review.logged import LOGGED_PARTS, Logged


@frozen
class Cells:
    """What the load cells of a book say, by their places; a step says what the load it starts from says.

    `changes` are the rows of Changes by the place of their load.
    """

    loads: dict[CellRef, LoadText]
    changes: dict[CellRef, Change]


def cells_of(book: Book) -> Cells:
    """Return the load cells of a book."""
    loads: dict[CellRef, LoadText] = {}
    for row in book.programme:
        for week in book.weeks_of[row.row].values():
            if week.load is not None and week.load.base.known is not None:
                loads[week.load.place_field.place] = week.load.base.known
    changes = {change.load.place: change for change in book.changes if change.load.known is not None}
    loads |= {place: change.load.needed for place, change in changes.items()}
    return Cells(loads, changes)


@frozen
class Month:
    """One client's month. `entries` are what the log says; `easier` the weeks that are lighter on purpose.

    `unread` is what the log speaks of in words that could not be read. `held_back`: why this client's loads are raised
    by nobody but the coach; None where nothing stands against it.
    """

    view: ClientView
    plan: ClientPlan
    entries: tuple[Logged, ...]
    cells: Cells
    easier: frozenset[int]
    cap: Percent
    held_back: str | None
    unread: tuple[PlannedExercise, ...] = ()

    def planned(self) -> Iterator[tuple[str, PlannedExercise]]:
        """Yield what may be logged, with its session, in the order it is done."""
        for session in self.plan.sessions:
            for part in LOGGED_PARTS:
                for planned in session.parts[part]:
                    yield session.name, planned

    def of_exercise(self, exercise: Exercise) -> list[PlannedExercise]:
        """Return where an exercise is planned, in the order it is done, easier weeks left out."""
        return [
            planned
            for _, planned in self.planned()
            if planned.exercise.row == exercise.row and planned.week not in self.easier
        ]

    def unread_since(self, exercise: Exercise, week: int) -> int | None:
        """Return the first week after one in which the log of an exercise could not be read; None where it all was."""
        later = [one for _, one in self.planned() if one.exercise.row == exercise.row and one.week > week]
        return next((one.week for one in later if any(one is other for other in self.unread)), None)

    def done_of(self, wanted: Iterable[PlannedExercise]) -> list[Logged]:
        """Return what the log says of some planned exercises."""
        rows = list(wanted)
        return [entry for entry in self.entries if any(entry.planned is one for one in rows)]

    def text(self, planned: PlannedExercise) -> LoadText | None:
        """Return what the load cell behind a planned exercise says."""
        return self.cells.loads.get(planned.load.source) if planned.load.source else None

    def change(self, planned: PlannedExercise) -> Change | None:
        """Return the row of Changes whose load a planned exercise has."""
        return self.cells.changes.get(planned.load.source) if planned.load.source else None

    def view_of(self, planned: PlannedExercise) -> ClientView:
        """Return the client's circumstances where an exercise is planned: at another site, its kit and unit."""
        return self.view.at(planned.site) if planned.site is not None else self.view

    def day(self, entry: Logged) -> date | None:
        """Return the day of an entry: the one known, else the first of its week; None where no start is known."""
        if entry.day is not None or self.view.start is None:
            return entry.day
        return self.view.start + timedelta(days=DAYS_IN_A_WEEK * (entry.week - 1))

    def exercises(self) -> tuple[Exercise, ...]:
        """Return the exercises of the month, each once, in the order they are first done."""
        found: dict[str, Exercise] = {}
        for _, planned in self.planned():
            found.setdefault(name_key(planned.exercise.name.needed), planned.exercise)
        return tuple(found.values())
