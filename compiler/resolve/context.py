"""What resolving one client starts from: the book's look-ups, made once, and the client's own circumstances."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import field, replace
from datetime import date
from decimal import Decimal
from functools import lru_cache

from compiler.cellref import CellRef, RowRef
from compiler.checks.groups import Group, group_of, groups
from compiler.flags.model import Flag
from compiler.flags.nearest import nearest
from compiler.folding import name_key
from compiler.frozen import frozen
from compiler.model.book import Book
from compiler.model.effective import EffectiveWeek
from compiler.model.field import Field, Poisoned
from compiler.model.kit import SiteKit
from compiler.model.records import Change, Client, Exercise, ProgrammeRow, Restriction, Site, Test
from compiler.notation.values import DoneAs, PercentOf
from compiler.quantities import Load, Percent, Unit
from compiler.resolve.racks import Rack, make_rack
from compiler.resolve.rounding import Rounding
from compiler.resolve.values import Maximum, RepMaximum, Settled
from compiler.schema.words import EVERY

DEFAULT_STEPS = {Unit.KG: Load(Decimal("2.5"), Unit.KG), Unit.LB: Load(Decimal(5), Unit.LB)}
"""Steps of loads where a site has no kit: common practice, no source."""


@frozen
class Line:
    """One row of the programme, with what is the same for everybody who does it.

    `in_session` is None where its cell failed. `weeks` is what the row says in the weeks it is done in,
    `ways` how it is done in those that were asked for (`ways.way_of`). `bad`: it carries an error.
    """

    row: ProgrammeRow
    in_session: str | None
    weeks: dict[int, EffectiveWeek]
    group: Group
    bad: bool
    ways: dict[int, DoneAs | None] = field(default_factory=dict)


@frozen
class Index:
    """The book's rows by what they are looked up by, gathered once for all clients.

    `bad_rows` carry an error that was found without any client; whoever needs one of them stops. `rows` are those of
    each programme, `lines` those that may be of a session, by programme and session. `lost_tests` is, by client and
    exercise, the cell of a test that is not surely theirs: a name in it is misspelt. `maxima` holds what was worked out
    once for a client and exercise, `lacking` and `racks` for a site and exercise, by their rows; `as_written`, by site
    and row, what is done as it stands by everybody who has no restriction.
    """

    book: Book
    bad_rows: frozenset[RowRef]
    tests: dict[tuple[str, str], tuple[Test, ...]]
    rows: dict[str, tuple[ProgrammeRow, ...]]
    lines: dict[tuple[str, str], tuple[Line, ...]]
    lost_tests: dict[tuple[str, str], CellRef]
    maxima: dict[tuple[int, date | None, int], tuple[Maximum | None, tuple[Flag, ...]]] = field(default_factory=dict)
    lacking: dict[tuple[str, int], str | None] = field(default_factory=dict)
    racks: dict[str | None, dict[int, Rack]] = field(default_factory=dict)
    as_written: dict[str, dict[int, Settled]] = field(default_factory=dict)


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
    bad = frozenset(bad_rows)
    return Index(
        book=book,
        bad_rows=bad,
        tests={key: tuple(found) for key, found in tests.items()},
        rows={key: tuple(found) for key, found in rows.items()},
        lines=_lines(book, rows, bad),
        lost_tests=_lost_tests(book),
    )


def _lines(
    book: Book, rows: Mapping[str, Iterable[ProgrammeRow]], bad: frozenset[RowRef]
) -> dict[tuple[str, str], tuple[Line, ...]]:
    """Return the rows of each session of each programme: its own, those of all, and those of which nobody knows."""
    by_row = groups(book)
    found: dict[tuple[str, str], tuple[Line, ...]] = {}
    for programme, own in rows.items():
        lines = [_line(book, row, group_of(by_row, row), bad) for row in own]
        for session in {line.in_session for line in lines if line.in_session is not None}:
            found[programme, session] = tuple(one for one in lines if one.in_session in {session, EVERY, None})
    return found


def _line(book: Book, row: ProgrammeRow, group: Group, bad: frozenset[RowRef]) -> Line:
    session = row.session.known
    return Line(
        row,
        None if session is None else name_key(session),
        book.weeks_of[row.row],
        group,
        row.row in bad,
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


@frozen
class Limit:
    """A highest effort and the cell that sets it."""

    rpe: Decimal | None
    percent: Percent | None
    place: CellRef


@frozen
class Basis:
    """What one client's percentages of one exercise are of, `of` None where nothing is known; and by which test.

    `body` is the part of the body in it. `rounding` is that of percentages below those that are always rounded down.
    `rack` None: a cell that it needs could not be read.
    """

    of: Load | None
    maximum: Maximum | None
    rep_max: RepMaximum | None
    body: Load | None
    rounding: Rounding
    kit: str | None
    rack: Rack | None
    flags: tuple[Flag, ...]


@frozen
class ClientView:
    """One client's circumstances. `kit` None: nothing is listed for the site, loads go to the Block's step.

    `racks` are those of the site. `bases` and `settled` are what was worked out once for this client there, by the rows
    of Exercises and Programme: what percentages are of, and what is done in place of a row where no change holds.
    `as_written` are the rows that nothing is in the way of: the same for all at the site who have no restriction.
    """

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
    racks: dict[int, Rack]
    bases: dict[tuple[int, PercentOf, int | None], Basis] = field(default_factory=dict)
    settled: dict[int, Settled] = field(default_factory=dict)
    as_written: dict[int, Settled] = field(default_factory=dict)

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

    def rack(self, exercise: Exercise) -> Rack:
        """Return what an exercise is loaded from at the client's site. Raises `Poisoned` for a cell it needs."""
        found = self.racks.get(exercise.row.row)
        if found is None:
            found = self.racks[exercise.row.row] = make_rack(self.kit, exercise, lambda: self.step)
        return found

    def unit_of(self, exercise: Exercise) -> Unit:
        """Return the unit that an exercise is loaded in at the client's site; the Block's where nothing says one."""
        try:
            return self.rack(exercise).unit or self.unit
        except Poisoned:  # a step that could not be read stops only those who have a load from it
            return self.unit

    @property
    def body_weight(self) -> Load | None:
        """The client's body weight, if it is known."""
        typed = self.client.body_weight.value
        return None if typed is None else Load(typed.amount, typed.unit or self.unit)

    @property
    def staffed(self) -> bool:
        """False only where the Sites sheet says that nobody is on duty."""
        return self.site is None or self.site.staffed.value is not False

    @property
    def place_words(self) -> str:
        """What a message calls the place where the client trains."""
        return self.kit.site if self.kit else "the site"

    def at(self, site_name: str) -> ClientView:
        """Return the same client training at another site."""
        key = name_key(site_name)
        kit = self.book.kits.get(key)
        racks = self.index.racks.setdefault(kit.site if kit else None, {})
        as_written = {} if self.restrictions else self.index.as_written.setdefault(key, {})
        site = self.book.site_named.get(key)
        return replace(self, site=site, kit=kit, racks=racks, bases={}, settled={}, as_written=as_written)


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
        racks=index.racks.setdefault(None, {}),
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
    words = _keys(change.who.known or ())
    own = (client.name.known, client.group.known, client.level.known, client.programme.known, EVERY)
    return any(name_key(word) in words for word in own if word)


@lru_cache(maxsize=4096)  # every row of Changes is held against every client
def _keys(words: tuple[str, ...]) -> frozenset[str]:
    return frozenset(map(name_key, words))
