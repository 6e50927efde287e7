"""What resolving one client starts from: the book's look-ups, made once, and the client's own circumstances."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from decimal import Decimal

from compiler.cellref import CellRef, RowRef
from compiler.flags.model import Flag
from compiler.flags.nearest import nearest
from compiler.folding import name_key
from compiler.model.book import Book
from compiler.model.effective import EffectiveWeek, unroll
from compiler.model.field import Field, Poisoned
from compiler.model.kit import SiteKit
from compiler.model.records import Change, Client, ProgrammeRow, Restriction, Site, Test
from compiler.quantities import Load, Percent, Unit
from compiler.resolve.rounding import Rounding
from compiler.resolve.values import Maximum

DEFAULT_STEPS = {Unit.KG: Load(Decimal("2.5"), Unit.KG), Unit.LB: Load(Decimal(5), Unit.LB)}
"""Steps of loads where a site has no kit: common practice, no source."""


@dataclass(frozen=True, slots=True)
class Index:
    """The book's rows by what they are looked up by, gathered once for all clients.

    `bad_rows` carry an error that was found without any client; whoever needs one of them stops. `lost_tests` is, by
    client and exercise, the cell of a test that is not surely theirs: a name in it is misspelt. `maxima` and
    `lacking` hold what was worked out once for a client and exercise, and for a site and exercise.
    """

    book: Book
    bad_rows: frozenset[RowRef]
    tests: dict[tuple[str, str], tuple[Test, ...]]
    rows: dict[str, tuple[ProgrammeRow, ...]]
    weeks: dict[RowRef, dict[int, EffectiveWeek]]
    lost_tests: dict[tuple[str, str], CellRef]
    maxima: dict[tuple[object, ...], tuple[Maximum | None, tuple[Flag, ...]]] = field(default_factory=dict)
    lacking: dict[tuple[str, CellRef], str | None] = field(default_factory=dict)


def index_book(book: Book, bad_rows: Iterable[RowRef] = ()) -> Index:
    """Return the look-ups of a book."""
    tests: defaultdict[tuple[str, str], list[Test]] = defaultdict(list)
    for test in book.tests:
        if test.client.known is not None and not test.exercise.failed:
            tests[name_key(test.client.known), name_key(test.exercise.known or "")].append(test)
    rows: defaultdict[str, list[ProgrammeRow]] = defaultdict(list)
    for row in book.programme:
        if row.programme.known is not None:
            rows[name_key(row.programme.known)].append(row)
    return Index(
        book=book,
        bad_rows=frozenset(bad_rows),
        tests={key: tuple(found) for key, found in tests.items()},
        rows={key: tuple(found) for key, found in rows.items()},
        weeks={row.row: unroll(row) for row in book.programme},
        lost_tests=_lost_tests(book),
    )


def _lost_tests(book: Book) -> dict[tuple[str, str], CellRef]:
    """Return the cells of tests with a client or an exercise that is not known, by those that are likely meant."""
    lost: dict[tuple[str, str], CellRef] = {}
    for test in book.tests:
        client = _meant(test.client, book.client_named)
        exercise = _meant(test.exercise, book.exercise_named)
        if client is None or exercise is None or (client[1] and exercise[1]):
            continue
        cell = test.exercise if client[1] else test.client
        lost.setdefault((client[0], exercise[0]), cell.place)
    return lost


def _meant(cell: Field[str], known: Mapping[str, object]) -> tuple[str, bool] | None:
    """Return the key of the name that a cell means and whether it says so; None where it is far from all of them."""
    key = name_key(cell.known or cell.text)
    if key in known and not cell.failed:
        return key, True
    near = nearest(key, known, most=1)
    return (near[0], False) if near else None


@dataclass(frozen=True, slots=True)
class Limit:
    """A highest effort and the cell that sets it."""

    rpe: Decimal | None
    percent: Percent | None
    place: CellRef


@dataclass(frozen=True, slots=True)
class ClientView:
    """One client's circumstances. `kit` None: nothing is listed for the site, loads go to the Block's step."""

    index: Index
    client: Client
    name: str
    start: date | None
    site: Site | None
    kit: SiteKit | None
    unit: Unit
    rounding: Rounding
    restrictions: tuple[Restriction, ...]
    limits: tuple[Limit, ...]
    changes: tuple[Change, ...]

    @property
    def book(self) -> Book:
        """The workbook."""
        return self.index.book

    @property
    def step(self) -> Load:
        """What loads are rounded to where there is no kit."""
        typed = self.book.block.step.value
        if typed is None:
            return DEFAULT_STEPS[self.unit]
        return Load(typed.amount, typed.unit or self.unit)

    @property
    def body_weight(self) -> Load | None:
        """The client's body weight, if it is known."""
        typed = self.client.body_weight.value
        return None if typed is None else Load(typed.amount, typed.unit or self.unit)

    @property
    def staffed(self) -> bool:
        """False only where the Sites sheet says that nobody is on duty."""
        return self.site is None or self.site.staffed.value is not False

    def at(self, site_name: str) -> ClientView:
        """Return the same client training at another site."""
        key = name_key(site_name)
        return replace(self, site=self.book.site_named.get(key), kit=self.book.kits.get(key))


def view_client(index: Index, client: Client) -> ClientView:
    """Return a client's circumstances. Raises `Poisoned` for a cell that they need and that failed."""
    book = index.book
    restrictions = tuple(
        restriction
        for name in client.restrictions.value or ()
        if (restriction := book.restriction_named.get(name_key(name))) is not None
    )
    changes = tuple(change for change in book.changes if concerns(change, client))
    for change in changes:
        if change.row in index.bad_rows:
            # an exception that cannot be kept must not be passed over: it may be what keeps the client safe
            raise Poisoned(change.who.place)
    site_name = client.site.value or _only_site(book)
    view = ClientView(
        index=index,
        client=client,
        name=client.name.needed,
        start=client.start_date.value or book.block.start_date.value,
        site=None,
        kit=None,
        unit=Unit(book.block.unit.needed),
        rounding=Rounding(book.block.rounding.needed),
        restrictions=restrictions,
        limits=tuple(_limits(client, restrictions)),
        changes=changes,
    )
    return view.at(site_name) if site_name else view


def _only_site(book: Book) -> str | None:
    """Return the one site there is: with several, the client's row must say."""
    if len(book.sites) == 1:
        return book.sites[0].name.value
    if not book.sites and len(book.kits) == 1:
        return next(iter(book.kits.values())).site
    return None


def _limits(client: Client, restrictions: tuple[Restriction, ...]) -> Iterable[Limit]:
    for cell in (client.highest_effort, *(restriction.highest_effort for restriction in restrictions)):
        effort = cell.value
        if effort is not None:
            yield Limit(effort.rpe, effort.percent, cell.place)


def concerns(change: Change, client: Client) -> bool:
    """Tell whether a row of Changes speaks of a client: by name, group, level, programme, or `all`."""
    words = {name_key(word) for word in change.who.known or ()}
    own = (client.name.known, client.group.known, client.level.known, client.programme.known, "all")
    return any(name_key(word) in words for word in own if word)
