"""Kit demand: what a group that trains at the same time wants at once, against what its site owns.

Everybody of a group is at the same letter of a session at the same time. In a superset half of those who want a thing
are at it, in a tri-set a third, in a circuit people over stations, always rounded up; warm-up and cool-down lines
without an order are in no order, so people spread over them. At a bar, and what stands around it, as many lifters take
turns as the Block says. Of a thing without a number there is always enough.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from datetime import date
from typing import NamedTuple

from compiler.flags.catalogue import flag
from compiler.flags.model import Flag, Remark
from compiler.folding import name_key
from compiler.frozen import frozen
from compiler.model.book import Book
from compiler.model.kit import SiteKit
from compiler.model.records import ProgrammeRow
from compiler.quantities import plain
from compiler.resolve.values import ClientPlan, Part, PlannedExercise, PlannedSession
from compiler.review.kit_shifts import Shift, User, pieces_at_once, shifts
from compiler.review.kit_wanted import Item, Needs, owned_of, size_in_set, wants_of
from compiler.review.turns import letter_of, sets_of

LOOSE_PARTS = (Part.WARM_UP, Part.COOL_DOWN)

Attending = tuple[ClientPlan, PlannedSession]


@frozen
class Demand:
    """What one group wants at once of one item in one session: the most over the weeks, and the week of it.

    `wanted` and `owned` count single pieces, two a pair of dumbbells; `owned` None is as many as anybody needs. `users`
    want it in that week; `shifts` names those who could take the next size, where it is short.
    """

    group: str
    programme: str
    session: str
    week: int
    site: str
    item: Item
    exercises: tuple[str, ...]
    wanted: int
    owned: int | None
    users: tuple[str, ...]
    row: ProgrammeRow
    shifts: tuple[Shift, ...] = ()

    @property
    def short(self) -> int:
        """How many pieces are lacking, 0 where none."""
        return 0 if self.owned is None else max(0, self.wanted - self.owned)


class _Use(NamedTuple):
    """One person at one exercise, and how many exercises are done in turn with it: two in a superset."""

    plan: ClientPlan
    planned: PlannedExercise
    in_turn: int


def kit_demand(book: Book, plans: Iterable[ClientPlan]) -> tuple[Demand, ...]:
    """Return what every group wants at once, by group, session and item: the most over the weeks."""
    most: dict[tuple[str, str, str, str, Item], Demand] = {}
    needs = {site: Needs(kit) for site, kit in book.kits.items()}
    lifters = book.block.lifters_to_bar.known or 1
    for (group, programme, session, *_, site), people in _meetings(book, plans).items():
        kit = book.kits.get(site)
        if kit is None:
            continue
        for uses in _at_once(people):
            for item, (wanted, by_item) in _most_at_once(kit, needs[site], uses, lifters).items():
                key = group, programme, session, site, item
                if key not in most or wanted > most[key].wanted:
                    most[key] = _demand(kit, people[0], item, wanted, by_item, lifters)
    return tuple(most.values())


def _meetings(
    book: Book, plans: Iterable[ClientPlan]
) -> dict[tuple[str, str, str, int, date | str | None, str], list[Attending]]:
    """Return who trains at the same time: of one group, at one session, on one day, at one place."""
    found: defaultdict[tuple[str, str, str, int, date | str | None, str], list[Attending]] = defaultdict(list)
    for plan in plans:
        group, programme = plan.client.group.known, plan.client.programme.known
        if not group or not programme:
            continue
        for session in plan.sessions:
            when = session.day or session.weekday
            names = (name_key(group), name_key(programme), name_key(session.name))
            found[*names, session.week, when, _site(book, plan, session)].append((plan, session))
    return found


def _site(book: Book, plan: ClientPlan, session: PlannedSession) -> str:
    sites = (planned.site for planned in session.exercises)
    only = next(iter(book.kits)) if len(book.kits) == 1 else ""
    return name_key(next((site for site in sites if site), None) or plan.client.site.known or only)


def _at_once(people: Iterable[Attending]) -> Iterator[list[_Use]]:
    """Yield what is done at the same time: by part and letter; warm-up and cool-down lines without one together."""
    found: defaultdict[tuple[Part, str], list[_Use]] = defaultdict(list)
    for plan, session in people:
        for part, exercises in session.parts.items():
            turns: defaultdict[str, list[PlannedExercise]] = defaultdict(list)
            for planned in exercises:
                turns[_turn_key(part, planned)].append(planned)
            for key, together in turns.items():
                found[part, key] += [_Use(plan, planned, len(together)) for planned in together]
    yield from found.values()


def _turn_key(part: Part, planned: PlannedExercise) -> str:
    letter = name_key(letter_of(planned))
    return letter if letter or part in LOOSE_PARTS else str(planned.row.row)


def _most_at_once(
    kit: SiteKit, needs: Needs, uses: list[_Use], lifters: int
) -> dict[Item, tuple[int, dict[Item, list[User]]]]:
    """Return the most wanted at once of each item in one turn, over its sets, and who wants what in that set."""
    most: dict[Item, tuple[int, dict[Item, list[User]]]] = {}
    for number in range(max(_different_sets(use.planned) for use in uses)):
        by_item = _users(kit, needs, uses, number)
        for item, users in by_item.items():
            wanted = pieces_at_once(users, lifters)
            if item not in most or wanted > most[item][0]:
                most[item] = (wanted, by_item)
    return most


def _demand(
    kit: SiteKit, first: Attending, item: Item, wanted: int, by_item: dict[Item, list[User]], lifters: int
) -> Demand:
    """Return what is wanted of one item; `first` is one of those who train then."""
    plan, session = first
    users, owned = by_item[item], owned_of(item, kit)
    return Demand(
        group=plan.client.group.known or "",
        programme=plan.client.programme.known or "",
        session=session.name,
        week=session.week,
        site=kit.site,
        item=item,
        exercises=tuple(dict.fromkeys(user.planned.exercise.name.known or "" for user in users)),
        wanted=wanted,
        owned=owned,
        users=tuple(dict.fromkeys(user.plan.name for user in users)),
        row=users[0].planned.row,
        shifts=shifts(kit, item, owned, by_item, lifters) if owned is not None and wanted > owned else (),
    )


def _different_sets(planned: PlannedExercise) -> int:
    """Return after how many sets nothing new is wanted: the last entry of a list of loads repeats."""
    loads = len(planned.load.items)
    return min(sets_of(planned), loads) if loads > 1 else 1


def _users(kit: SiteKit, needs: Needs, uses: list[_Use], number: int) -> dict[Item, list[User]]:
    found: defaultdict[Item, list[User]] = defaultdict(list)
    for use in uses:
        if number and number >= sets_of(use.planned):
            continue
        fitted = size_in_set(use.planned, number)
        for want in wants_of(use.planned, kit, number, needs):
            found[want.item].append(User(use.plan, use.planned, use.in_turn, want.pieces, want.shared, fitted))
    return found


# ---------------------------------------------------------------- in words


def review_kit(book: Book, demands: Iterable[Demand]) -> Iterator[Flag]:
    """Yield a warning for each item that a group runs short of in a session."""
    for demand in demands:
        if demand.short:
            yield _short(book, demand)


def _short(book: Book, demand: Demand) -> Flag:
    names, takes = " and ".join(demand.exercises), "takes" if len(demand.exercises) == 1 else "take"
    remark = Remark(
        "kit-short",
        f"{demand.group}, {demand.session}, week {demand.week}: {names} {takes}"
        f" {demand.item.amount(demand.wanted)} at once, and {demand.site} has"
        f" {demand.item.amount(demand.owned or 0)}.",
        _hint(demand),
    )
    places = [
        item.place
        for item in book.kits[name_key(demand.site)].items
        if name_key(demand.item.name) in {name_key(item.name), name_key(item.kind)}
    ]
    return flag(remark, demand.row.exercise.place, found=demand.row.exercise.text, related=places)


def _hint(demand: Demand) -> str:
    rest = "let part of the group do the exercises in another order, or correct the Kit sheet"
    could = [(shift.client, f"{plain(shift.to.size)} {shift.to.unit}") for shift in demand.shifts if shift.to.size]
    if not could:
        return f"{rest[0].upper()}{rest[1:]}."
    (first, size), *others = could
    listed = "".join(f", {client} {other}" for client, other in others)
    return f"{first} could take {size}{listed}; or {rest}."
