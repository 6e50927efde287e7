"""How much of an item is wanted at once, and who could take the next size where there is too little of one.

Down to the next size is open to everybody; up only to those whose exact load lies above their size, who have no limit
and no restriction, and are under 90%, where loads are rounded down. Nobody is moved: the coach decides.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping
from decimal import Decimal
from fractions import Fraction
from functools import lru_cache
from math import ceil
from typing import NamedTuple

from compiler.model.kit import SiteKit
from compiler.resolve.percentages import ROUND_DOWN_FROM
from compiler.resolve.values import ClientPlan, Fitted, PlannedExercise
from compiler.review.kit_wanted import Item, owned_of


class User(NamedTuple):
    """One person who wants an item. `in_turn`: how many exercises are done in turn, two in a superset."""

    plan: ClientPlan
    planned: PlannedExercise
    in_turn: int
    pieces: int
    shared: bool
    fitted: Fitted | None = None


class Shift(NamedTuple):
    """Somebody who could take another size."""

    client: str
    to: Item


def pieces_at_once(users: Iterable[User], lifters_to_bar: int) -> int:
    """Return how many single pieces are wanted at once: people at it, rounded up, and those who take turns at a bar.

    Of those who do two exercises in turn half are at each of them.
    Where one thing is used in two ways (one dumbbell and a pair, a rack to squat in and to hang from), nobody uses it
    in both at once: the way that takes most comes first, and no more people are at it than there are.
    """
    alike = Counter((user.pieces, user.shared, user.in_turn) for user in users)
    return _pieces(frozenset(alike.items()), lifters_to_bar)


@lru_cache(maxsize=1024)  # a group wants a thing in few ways, in every turn of every session
def _pieces(alike: frozenset[tuple[tuple[int, bool, int], int]], lifters_to_bar: int) -> int:
    """Return the same for how many want it in which way: how many pieces, shared or not, exercises done in turn."""
    shares: defaultdict[tuple[int, bool], Fraction] = defaultdict(Fraction)
    for (pieces, shared, in_turn), many in alike:
        shares[pieces, shared] += Fraction(many, in_turn)
    wanted, left = 0, ceil(sum(shares.values()))
    for (pieces, shared), share in sorted(shares.items(), key=lambda way: (-way[0][0], way[0][1])):
        people = min(ceil(share), left)
        left -= people
        wanted += pieces * (ceil(Fraction(people, lifters_to_bar)) if shared else people)
    return wanted


def shifts(
    kit: SiteKit, item: Item, owned: int, wanted: Mapping[Item, list[User]], lifters_to_bar: int
) -> tuple[Shift, ...]:
    """Return who could take the next size so that what is owned suffices, those nearest to it first."""
    now = {other: list(users) for other, users in wanted.items()}
    found: list[Shift] = []
    for _, user, to in sorted(_moves(kit, item, now[item]), key=lambda move: move[0]):
        if pieces_at_once(now[item], lifters_to_bar) <= owned:
            break
        if user not in now[item]:
            continue
        there = [*now.get(to, ()), user]
        room = owned_of(to, kit)
        if room is not None and pieces_at_once(there, lifters_to_bar) > room:
            continue
        now[item].remove(user)
        now[to] = there
        found.append(Shift(user.plan.name, to))
    return tuple(dict.fromkeys(found))


def _moves(kit: SiteKit, item: Item, users: Iterable[User]) -> Iterable[tuple[Decimal, User, Item]]:
    """Yield (how far the exact load is from the other size, who, the other size)."""
    stock = kit.sizes(item.kind)
    sizes = [size.amount for size in stock.sizes] if stock else []
    size, unit = item.size, item.unit
    if size is None or unit is None:
        return
    position = sizes.index(size)
    for user, exact in [(user, user.fitted.exact.to(unit).amount) for user in users if user.fitted is not None]:
        if position > 0:
            below = sizes[position - 1]
            yield abs(exact - below), user, item._replace(size=below)
        if position + 1 < len(sizes) and exact > size and _may_go_up(user):
            above = sizes[position + 1]
            yield abs(above - exact), user, item._replace(size=above)


def _may_go_up(user: User) -> bool:
    client, percent = user.plan.client, user.fitted.percent if user.fitted else None
    free = client.highest_effort.blank and client.restrictions.blank
    return free and (percent is None or percent.value < ROUND_DOWN_FROM)
