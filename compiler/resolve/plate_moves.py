"""A run of sets -> the stacks of plates that serve it with the fewest plates moved, then the fewest plates.

The bar is empty before the first set and after the last: loading it and stripping it are moves like the others, so
that a stack of many small plates is not taken to spare one change.

All stacks of plates form a tree (see `plate_sums`), and going from one set to the next is a walk in it:
plates off back to the last common plate, plates on from there. So the cheapest walk through given sums is
found by splitting the run at each place into stretches that have one more plate in common. That is exact, and
it never lists the stacks of a sum, of which there may be thousands. What cannot become cheaper than what is
known is not followed.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import accumulate, groupby
from typing import NamedTuple

from compiler.resolve.plate_sums import PlateSums

_MOVE = 1 << 24  # a move outweighs any number of plates
_NEVER = 1 << 60
_ON_AND_OFF = 2


def fewest_moves(sides: Sequence[int], sums: PlateSums) -> list[tuple[int, ...]]:
    """Return a stack for each sum of a run of sets.

    They have the fewest plates moved from the empty bar through the sets and back to it, then the fewest plates in
    all. The sums must be reachable. Sets of one sum in a row have one stack: two would save nothing in either count.
    """
    runs = [(side, len(list(same))) for side, same in groupby(sides)]
    if len(runs) == 1:
        return [sums.fewest_plates(sides[0])] * len(sides)
    walk = _Walk([side for side, _ in runs], [length for _, length in runs], sums)
    return [stack for stack, (_, length) in zip(walk.stacks(), runs, strict=True) for _ in range(length)]


class _Node(NamedTuple):
    """A place in the tree: `on` is the sum of the plates on there.

    The next plate out is of the size at `at`, of which `left` are left, or of a smaller one.
    """

    on: int
    at: int
    left: int


class _Stretch(NamedTuple):
    """The runs from `first` to `last`, together at a node."""

    first: int
    last: int
    node: _Node


class _Split:
    """The cheapest way found so far to part the runs of one stretch.

    `best[i]` is the cost of the first `i` runs. `step[i]` is the stretch one plate further out that ends
    there; None where the last of these runs goes on alone. `alone` holds the costs of doing each run alone.
    """

    def __init__(self, alone: list[int]) -> None:
        self.alone = alone
        self.best = list(accumulate(alone, initial=0))
        self.step: list[_Stretch | None] = [None] * len(self.best)

    def offer(self, at: int, cost: int, step: _Stretch) -> None:
        """Take a stretch that brings the first `at` runs to a cost lower than known."""
        self.best[at], self.step[at] = cost, step
        for later, single in enumerate(self.alone[at:], start=at + 1):
            cost += single
            if cost >= self.best[later]:
                return
            self.best[later], self.step[later] = cost, None


class _Bounds:
    """What every run must cost at least from one node on.

    `reach[run]` is the last run up to which all can go through the node, less than `run` where it cannot itself.
    The others are running sums of moves between neighbours and of plates lifted, and each run's fewest plates.
    """

    def __init__(self, node: _Node, sides: list[int], lengths: list[int], sums: PlateSums) -> None:
        self.reach = list(range(-1, len(sides) - 1))
        self._plates, self._changes, self._lifted = [], [0], [0]
        since = 0  # the first of the runs up to here that all can go through the node
        for run, side in enumerate(sides):
            plates = sums.outer_count(side - node.on, node.at, node.left) if side >= node.on else None
            if run:
                together = plates is not None and since < run
                change = sums.least_change(sides[run - 1] - node.on, side - node.on, node.at) if together else 0
                self._changes.append(self._changes[-1] + change)
            if plates is None:
                since = run + 1
            else:
                self.reach[since : run + 1] = [run] * (run + 1 - since)
            self._plates.append(plates or 0)
            self._lifted.append(self._lifted[-1] + (plates or 0) * lengths[run])

    def least(self, first: int, last: int) -> int:
        """Return a lower bound of the cost of a stretch at this node; exact for one run."""
        moves = self._changes[last] - self._changes[first] + self._plates[first] + self._plates[last]
        return _MOVE * moves + self._lifted[last + 1] - self._lifted[first]


class _Walk:
    """The cheapest walk through the sums of one run of sets, neighbours differing; made for one question.

    A cost is moves, and plates times the sets that lift them, in one number. The cost of a stretch counts from
    its node on: out from there, among its runs, and back there.
    """

    def __init__(self, sides: list[int], lengths: list[int], sums: PlateSums) -> None:
        self._sides = sides
        self._lengths = lengths
        self._lifts = list(accumulate(lengths, initial=0))
        self._sums = sums
        self._bounds: dict[_Node, _Bounds] = {}
        self._splits: dict[_Stretch, _Split] = {}
        self._not_below: dict[_Stretch, int] = {}

    def stacks(self) -> list[tuple[int, ...]]:
        """Return the stack of each run."""
        stacks: list[tuple[int, ...]] = [()] * len(self._sides)
        whole = _Stretch(0, len(self._sides) - 1, _Node(0, 0, self._sums.counted[0][1]))
        self._cost(whole, _NEVER)
        waiting: list[tuple[_Stretch, tuple[int, ...]]] = [(whole, ())]
        while waiting:
            stretch, inner = waiting.pop()
            first, end, node = stretch
            while end >= first:
                step = self._splits[stretch].step[end - first + 1]
                if step is None:
                    stacks[end] = inner + self._sums.outer_plates(self._sides[end] - node.on, node.at, node.left)
                    end -= 1
                else:
                    waiting.append((step, (*inner, self._sums.counted[step.node.at][0])))
                    end = step.first - 1
        return stacks

    def _cost(self, stretch: _Stretch, below: int) -> int:
        """Return the least cost of a stretch, or `below` if it is not less than that."""
        known = self._splits.get(stretch)
        if known is not None:
            return min(known.best[-1], below)
        if self._not_below.get(stretch, 0) >= below:
            return below
        first, last, node = stretch
        bounds = self._bounds_of(node)
        split = _Split([bounds.least(run, run) for run in range(first, last + 1)])
        for start in range(first, last):
            if split.best[start - first] + bounds.least(start, last) < min(split.best[-1], below):
                self._go_on_together(stretch, split, start, below)
        if split.best[-1] >= below:
            self._not_below[stretch] = below
            return below
        self._splits[stretch] = split
        return split.best[-1]

    def _bounds_of(self, node: _Node) -> _Bounds:
        bounds = self._bounds.get(node)
        if bounds is None:
            bounds = self._bounds[node] = _Bounds(node, self._sides, self._lengths, self._sums)
        return bounds

    def _go_on_together(self, stretch: _Stretch, split: _Split, start: int, below: int) -> None:
        """Offer every stretch from run `start` on that has one more plate in common, the likeliest first."""
        first = stretch.first
        before = split.best[start - first]
        room = min(split.best[-1], below) - before
        for least, _, _, step in sorted(self._steps(stretch, start, room)):
            if before + least >= min(split.best[-1], below):
                return
            end = step.last
            cost = before + self._common_plate(step)
            rest = self._least_rest(stretch, end)
            room = min(split.best[end - first + 1], min(split.best[-1], below) - rest) - cost
            found = self._cost(step, room) if room > 0 else room
            if found < room:
                split.offer(end - first + 1, cost + found, step)

    def _steps(self, stretch: _Stretch, start: int, room: int) -> Iterator[tuple[int, int, int, _Stretch]]:
        """Yield the stretches from `start` on, one plate further out than `stretch`.

        Before each stand the least that it and all after it in `stretch` can cost, and what parts equals: longer
        stretches first, then larger plates.
        """
        room_on_bar = min(self._sides[start], self._sides[start + 1]) - stretch.node.on
        for at in range(stretch.node.at, len(self._sums.counted)):
            size, count = self._sums.counted[at]
            left = (stretch.node.left if at == stretch.node.at else count) - 1
            if left < 0 or size > room_on_bar:
                continue
            node = _Node(stretch.node.on + size, at, left)
            bounds = self._bounds_of(node)
            for end in range(start + 1, min(bounds.reach[start], stretch.last) + 1):
                step = _Stretch(start, end, node)
                least = self._common_plate(step) + bounds.least(start, end) + self._least_rest(stretch, end)
                if least < room:
                    yield least, -end, at, step

    def _least_rest(self, stretch: _Stretch, end: int) -> int:
        return self._bounds_of(stretch.node).least(end + 1, stretch.last) if end < stretch.last else 0

    def _common_plate(self, stretch: _Stretch) -> int:
        """Return the cost of one plate that these runs alone have in common: on before, off after them."""
        return _MOVE * _ON_AND_OFF + self._lifts[stretch.last + 1] - self._lifts[stretch.first]
