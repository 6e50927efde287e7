"""Jumps in weekly volume load: told once a programme and week, with the client for whom it is the largest."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal
from itertools import pairwise

from compiler.flags.catalogue import flag
from compiler.flags.model import Flag, Remark
from compiler.folding import name_key
from compiler.frozen import frozen
from compiler.model.book import Book
from compiler.quantities import Load, plain
from compiler.resolve.values import ClientPlan
from compiler.review.volume import LineVolume, Volumes, WeekVolume, weekly_volume

HUNDRED = Decimal(100)
NOTHING = Decimal(0)

Key = tuple[int, str]


@frozen
class Jump:
    """A rise from one week to the next, of the lines whose load is known in both. `most` is the line that rose most."""

    week: int
    after: int
    before: Load
    now: Load
    most: LineVolume

    @property
    def percent(self) -> Decimal:
        """By how much it rises: 50 is half as much again."""
        return (self.now.amount - self.before.amount) * HUNDRED / self.before.amount


def jumps(volumes: tuple[WeekVolume, ...], easier: frozenset[int]) -> tuple[Jump, ...]:
    """Return every rise from a week to the next one trained, easier weeks left out.

    A line whose load is not known in one of the two weeks counts in neither; one that is new counts whole. Where more
    lines are left out than counted, nothing can be said.
    """
    hard = [volume for volume in volumes if volume.week not in easier]
    return tuple(jump for before, now in pairwise(hard) if (jump := _jump(before, now)) is not None)


def _jump(before: WeekVolume, now: WeekVolume) -> Jump | None:
    unknown = {line.key for volume in (before, now) for line in volume.lines if line.load is None}
    earlier, later = _known(before, unknown), _known(now, unknown)
    first = sum(earlier.values(), NOTHING)
    second = sum(later.values(), NOTHING)
    weighed = {key for key, amount in (*earlier.items(), *later.items()) if amount}
    if not first or second <= first or len(unknown) > len(weighed):
        return None
    lines = {line.key: line for line in now.lines if line.key not in unknown}
    most = max(lines, key=lambda key: later[key] - earlier.get(key, NOTHING))
    unit = now.load.unit
    return Jump(now.week, before.week, Load(first, unit), Load(second, unit), lines[most])


def _known(volume: WeekVolume, unknown: set[Key]) -> dict[Key, Decimal]:
    sums: dict[Key, Decimal] = {}
    for line in volume.lines:
        if line.load is not None and line.key not in unknown:
            sums[line.key] = sums.get(line.key, NOTHING) + line.load.amount
    return sums


@frozen
class ReviewedVolume:
    """The flags of rises in volume, and the volumes that they rest on: the summary shows them, too."""

    flags: tuple[Flag, ...]
    volumes: Volumes


def review_volume(book: Book, plans: Iterable[ClientPlan]) -> ReviewedVolume:
    """Return a warning for each programme and week where a client's volume load rises by more than the Block allows."""
    volumes: Volumes = {}
    found: dict[tuple[str, int], list[tuple[Jump, ClientPlan]]] = {}
    for plan in plans:
        weeks = weekly_volume(plan, book.block.kit_unit)
        volumes[plan.client.row.row] = tuple(week.summed for week in weeks)
        for jump in _too_far(book, weeks):
            found.setdefault((name_key(plan.client.programme.known or ""), jump.week), []).append((jump, plan))
    return ReviewedVolume(tuple(_told(book, told) for told in found.values()), volumes)


def _too_far(book: Book, weeks: tuple[WeekVolume, ...]) -> list[Jump]:
    """Return the rises of a client over what the Block allows; none where it could not be read."""
    allowed, easier = book.block.volume_jump.known, book.block.easier_weeks.known
    if allowed is None or book.block.easier_weeks.failed:
        return []
    lighter = frozenset(easier.numbers or ()) if easier else frozenset()
    return [jump for jump in jumps(weeks, lighter) if jump.percent > allowed.value]


def _told(book: Book, found: list[tuple[Jump, ClientPlan]]) -> Flag:
    jump, plan = max(found, key=lambda one: one[0].percent)
    others = f" and over the Block's {book.block.volume_jump.known} for {len(found) - 1} more" if len(found) > 1 else ""
    remark = Remark(
        "volume-jump",
        f"Week {jump.week} is {_whole(jump.percent)}% more volume load than week {jump.after} for {plan.name}"
        f" ({_whole(jump.before.amount)} to {_whole(jump.now.amount)} {jump.now.unit}){others};"
        f" most of it is {jump.most.exercise}.",
        "Spread the rise over more weeks, name the lighter week in Easier weeks, or change the jump that is flagged on"
        " the Block sheet.",
    )
    row = jump.most.row
    cell = row.weeks[jump.week - 1].sets if jump.week <= len(row.weeks) else row.exercise
    return flag(
        remark,
        cell.place,
        client=plan.name if len(found) == 1 else None,
        found=cell.text or None,
        related=(row.exercise.place,),
    )


def _whole(amount: Decimal) -> str:
    return plain(amount.quantize(Decimal(1)))
