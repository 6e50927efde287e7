"""A run of sets -> the stacks of plates that serve it with the fewest plates moved, then the fewest plates.

All stacks of plates form a tree (see `plate_sums`), and going from one set to the next is a walk in it:
plates off back to the last common plate, plates on from there. So the cheapest walk through given sums is
found by splitting the run at each place into stretches that have one more plate in common. That is exact, and
it never lists the stacks of a sum, of which there may be thousands. What cannot become cheaper than what is
known is not followed.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import accumulate, groupby, pairwise
from operator import mul
from typing import NamedTuple

from compiler.resolve.plate_sums import PlateSums

_MOVE = 1 << 24  # a move outweighs any number of plates
_NEVER = 1 << 60


def fewest_moves(sides: Sequence[int], sums: PlateSums) -> list[tuple[int, ...]]:
    """Return a stack for each sum of a run of sets.

    They have the fewest plates moved from set to set, then the fewest plates in all. The sums must be
    reachable. Sets of one sum in a row have one stack: two would save nothing in either count.
    """
    runs = [(side, len(list(same))) for side, same in groupby(sides)]
    if len(runs) == 1:
        return [sums.fewest_plates(sides[0])] * len(sides)
    walk = _Walk([side for side, _ in runs], [length for _, length in runs], sums)
    return [stack for stack, (_, length) in zip(walk.stacks(), runs, strict=True) for _ in range(length)]


class _Place(NamedTuple):
    """Where the runs from `first` to `last` are together in the tree: `on` is the sum of the plates on there.

    The next plate out is of the size at `index`, of which `left` are left, or of a smaller one.
    """

    first: int
    last: int
    on: int
    index: int
    left: int


class _Split:
    """The cheapest way found so far to part the runs of one place into stretches.

    `best[i]` is the cost of the first `i` runs. `step[i]` is the place that the stretch ending there goes on
    to; None where its last run goes on alone. `alone` holds the costs of doing each run alone.
    """

    def __init__(self, alone: list[int]) -> None:
        self.alone = alone
        self.best = list(accumulate(alone, initial=0))
        self.step: list[_Place | None] = [None] * len(self.best)

    def offer(self, at: int, cost: int, step: _Place) -> None:
        """Take a stretch that brings the first `at` runs to a cost lower than known."""
        self.best[at], self.step[at] = cost, step
        for later, single in enumerate(self.alone[at:], start=at + 1):
            cost += single
            if cost >= self.best[later]:
                return
            self.best[later], self.step[later] = cost, None


class _Bounds:
    """Lower bounds for the runs of one place, by how far they lie from its first run.

    `plates` are the fewest that each run needs from there on, `_changes` and `_lifted` running sums of the
    fewest plates moved between neighbours and of plates lifted.
    """

    def __init__(self, place: _Place, sides: list[int], lengths: list[int], sums: PlateSums) -> None:
        self._open_before = place.first > 0
        self._final = len(sides) - 1 - place.first
        rests = [side - place.on for side in sides[place.first : place.last + 1]]
        counts = (sums.outer_count(rest, place.index, place.left) for rest in rests)
        self.plates = [count for count in counts if count is not None]
        changes = (sums.least_change(here, there, place.index) for here, there in pairwise(rests))
        self._changes = list(accumulate(changes, initial=0))
        weighed = map(mul, self.plates, lengths[place.first :])
        self._lifted = list(accumulate(weighed, initial=0))

    def of(self, first: int, last: int) -> int:
        """Return the least that the runs from `first` to `last` can cost from here on; exact for one."""
        moves = self._changes[last] - self._changes[first]
        if first > 0 or self._open_before:
            moves += self.plates[first]
        if last < self._final:
            moves += self.plates[last]
        return _MOVE * moves + self._lifted[last + 1] - self._lifted[first]


class _Walk:
    """The cheapest walk through the sums of one run of sets, neighbours differing; made for one question.

    A cost is moves, and plates times the sets that lift them, in one number. The cost of a stretch counts
    from its place on: out from there, among its runs, and back there, save before the first run of all and
    after the last.
    """

    def __init__(self, sides: list[int], lengths: list[int], sums: PlateSums) -> None:
        self._sides = sides
        self._lengths = lengths
        self._lifts = list(accumulate(lengths, initial=0))
        self._sums = sums
        self._final = len(sides) - 1
        self._splits: dict[_Place, _Split] = {}
        self._bounds: dict[_Place, _Bounds] = {}
        self._above: dict[_Place, int] = {}

    def stacks(self) -> list[tuple[int, ...]]:
        """Return the stack of each run."""
        stacks: list[tuple[int, ...]] = [()] * len(self._sides)
        whole = _Place(0, self._final, 0, 0, self._sums.counted[0][1])
        self._cost(whole, _NEVER)
        waiting: list[tuple[_Place, tuple[int, ...]]] = [(whole, ())]
        while waiting:
            place, inner = waiting.pop()
            split = self._splits[place]
            end = place.last
            while end >= place.first:
                step = split.step[end - place.first + 1]
                if step is None:
                    rest = self._sides[end] - place.on
                    stacks[end] = inner + self._sums.outer_plates(rest, place.index, place.left)
                    end -= 1
                else:
                    waiting.append((step, (*inner, self._sums.counted[step.index][0])))
                    end = step.first - 1
        return stacks

    def _cost(self, place: _Place, below: int) -> int:
        """Return the least cost of the runs of a place, or `below` if it is not less than that."""
        known = self._splits.get(place)
        if known is not None:
            return min(known.best[-1], below)
        if self._above.get(place, 0) >= below:
            return below
        bounds = self._bounds_of(place)
        last = place.last - place.first
        split = _Split([bounds.of(run, run) for run in range(last + 1)])
        least = bounds.of(0, last)
        for start in range(last):
            for step in self._steps(place, place.first + start):
                if split.best[-1] == least:
                    break
                self._try_stretches(split, bounds, step, start, below)
        if split.best[-1] < below:
            self._splits[place] = split
            return split.best[-1]
        self._above[place] = below
        return below

    def _bounds_of(self, place: _Place) -> _Bounds:
        bounds = self._bounds.get(place)
        if bounds is None:
            bounds = self._bounds[place] = _Bounds(place, self._sides, self._lengths, self._sums)
        return bounds

    def _steps(self, place: _Place, start: int) -> list[_Place]:
        """Return the places one plate further out, for the runs from `start` on as far as they can follow."""
        steps = []
        for index in range(place.index, len(self._sums.counted)):
            size, count = self._sums.counted[index]
            left = (place.left if index == place.index else count) - 1
            on = place.on + size
            last = start - 1
            while left >= 0 and last < place.last and self._can_follow(last + 1, on, index, left):
                last += 1
            if last > start:
                steps.append(_Place(start, last, on, index, left))
        return steps

    def _can_follow(self, run: int, on: int, index: int, left: int) -> bool:
        return self._sums.outer_count(self._sides[run] - on, index, left) is not None

    def _try_stretches(self, split: _Split, bounds: _Bounds, step: _Place, start: int, below: int) -> None:
        """Offer the stretches that go on to `step` together, from its first run to each later one.

        `start` is that run counted from the first of the split; a split that cannot stay below `below` is
        left alone.
        """
        outer = self._bounds_of(step)
        last = len(split.best) - 2
        for end in range(start + step.last - step.first, start, -1):
            stretch = step._replace(last=step.first + end - start)
            cost = split.best[start] + self._common_plate(stretch)
            rest = bounds.of(end + 1, last) if end < last else 0
            room = min(split.best[end + 1], min(split.best[-1], below) - rest) - cost
            if outer.of(0, end - start) < room:
                found = self._cost(stretch, room)
                if found < room:
                    split.offer(end + 1, cost + found, stretch)

    def _common_plate(self, stretch: _Place) -> int:
        """Return the cost of a plate that these runs alone have in common: on before them, off after them."""
        moves = (stretch.first > 0) + (stretch.last < self._final)
        return _MOVE * moves + self._lifts[stretch.last + 1] - self._lifts[stretch.first]
