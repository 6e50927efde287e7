"""The whole block workbook as understood, with the look-ups by name that every later stage uses."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import field
from typing import Protocol, TypeVar

from compiler.cellref import RowRef
from compiler.folding import name_key
from compiler.frozen import frozen
from compiler.model.effective import EffectiveWeek, unroll
from compiler.model.field import Field
from compiler.model.kit import SiteKit
from compiler.model.log import HistoryRow, LogRow
from compiler.model.records import (
    Block,
    Change,
    Client,
    Exercise,
    KitRow,
    ProgrammeRow,
    Restriction,
    Site,
    Test,
)


class _Named(Protocol):
    @property
    def name(self) -> Field[str]: ...


N = TypeVar("N", bound=_Named)


def _by_name(records: Iterable[N]) -> dict[str, N]:
    """Return the records under their folded names; the first of two wins, the second is flagged elsewhere."""
    found: dict[str, N] = {}
    for record in records:
        if record.name.known is not None:
            found.setdefault(name_key(record.name.known), record)
    return found


class _OfClient(Protocol):
    @property
    def client(self) -> Field[str]: ...


C = TypeVar("C", bound=_OfClient)


def _by_client(rows: Iterable[C]) -> dict[str, tuple[C, ...]]:
    found: defaultdict[str, list[C]] = defaultdict(list)
    for row in rows:
        found[name_key(row.client.known or "")].append(row)
    return {key: tuple(own) for key, own in found.items()}


@frozen
class Book:
    """Everything a block workbook says. `kits` holds what each site owns, by the folded name of the site.

    The look-ups are made from the rows: `..._named` by folded name, `tests_of` and `history_of` the rows of each
    client, in the order of the sheet; `weeks_of` what each row of the programme says in the weeks it is done in.
    """

    name: str
    block: Block
    exercises: tuple[Exercise, ...]
    programme: tuple[ProgrammeRow, ...]
    clients: tuple[Client, ...]
    tests: tuple[Test, ...]
    restrictions: tuple[Restriction, ...]
    changes: tuple[Change, ...]
    sites: tuple[Site, ...]
    kit: tuple[KitRow, ...]
    kits: dict[str, SiteKit]
    log: tuple[LogRow, ...]
    history: tuple[HistoryRow, ...]
    exercise_named: dict[str, Exercise] = field(init=False, repr=False, compare=False)
    client_named: dict[str, Client] = field(init=False, repr=False, compare=False)
    site_named: dict[str, Site] = field(init=False, repr=False, compare=False)
    restriction_named: dict[str, Restriction] = field(init=False, repr=False, compare=False)
    tests_of: dict[str, tuple[Test, ...]] = field(init=False, repr=False, compare=False)
    history_of: dict[str, tuple[HistoryRow, ...]] = field(init=False, repr=False, compare=False)
    weeks_of: dict[RowRef, dict[int, EffectiveWeek]] = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        """Gather by name what is looked up for every client: there may be thousands of rows."""
        object.__setattr__(self, "exercise_named", _by_name(self.exercises))
        object.__setattr__(self, "client_named", _by_name(self.clients))
        object.__setattr__(self, "site_named", _by_name(self.sites))
        object.__setattr__(self, "restriction_named", _by_name(self.restrictions))
        object.__setattr__(self, "tests_of", _by_client(self.tests))
        object.__setattr__(self, "history_of", _by_client(self.history))
        object.__setattr__(self, "weeks_of", {row.row: unroll(row) for row in self.programme})

    def exercise(self, name: str | None) -> Exercise | None:
        """Return the exercise of a name however it is spelt, or None."""
        return self.exercise_named.get(name_key(name)) if name else None
