"""Plates on one end of a bar, in whole numbers: which sums they make, and with how few of them.

A stack never grows outwards, so every stack is a place in a tree: the plates on, and what may come next, which
is more of the size last put on, as far as there are, or a smaller one.
"""

from __future__ import annotations

from functools import lru_cache

Counted = tuple[tuple[int, int], ...]  # (size, how many go on this end), the largest first

_NEVER = 1 << 60
_MOST_SIZES = 40
_MOST_WORK = 2_000_000  # sums looked at: a second or so, and far beyond any gym's plates


@lru_cache(maxsize=64)
def plate_sums(counted: Counted, most: int) -> PlateSums | None:
    """Return the sums of plates up to `most`, the same object for the same plates.

    None where sizes so many or so odd make more sums than can be kept.
    """
    if len(counted) > _MOST_SIZES:
        return None
    tables = [{0: 0}]
    work = 0
    for size, count in reversed(counted):
        work += len(tables[-1]) * count
        if work > _MOST_WORK:
            return None
        tables.append(_with_one_more_size(tables[-1], size, count, most))
    return PlateSums(counted, tuple(reversed(tables)))


def _with_one_more_size(smaller: dict[int, int], size: int, count: int, most: int) -> dict[int, int]:
    table = dict(smaller)
    for base, plates in smaller.items():
        for copies in range(1, min(count, (most - base) // size) + 1):
            total = base + copies * size
            if plates + copies < table.get(total, _NEVER):
                table[total] = plates + copies
    return table


class PlateSums:
    """The sums of counted plates; it remembers what it has worked out.

    `fewest[k]` is sum -> fewest plates, of the sizes from `k` on, so `fewest[0]` has every sum there is.
    """

    def __init__(self, counted: Counted, fewest: tuple[dict[int, int], ...]) -> None:
        self.counted = counted
        self.fewest = fewest
        self._by_plates = [sorted(table.items(), key=lambda entry: entry[1]) for table in fewest]
        self._outer: dict[tuple[int, int, int], int | None] = {}
        self._inner: dict[tuple[int, int], frozenset[int]] = {}
        self._changes: dict[tuple[int, int, int], int] = {}

    def fewest_plates(self, side: int, index: int = 0) -> tuple[int, ...]:
        """Return the plates of a reachable sum, of the sizes from `index` on: fewest, then largest first."""
        stack: list[int] = []
        for at in range(index, len(self.counted)):
            size, count = self.counted[at]
            plates, smaller = self.fewest[at][side], self.fewest[at + 1]
            copies = min(count, side // size)
            while copies + smaller.get(side - copies * size, _NEVER) != plates:
                copies -= 1
            stack += [size] * copies
            side -= copies * size
        return tuple(stack)

    def outer_count(self, rest: int, index: int, left: int) -> int | None:
        """Return the fewest plates that add `rest` from a place in the tree; None where none do.

        `left` plates of the size at `index` may come next, or smaller ones.
        """
        key = (rest, index, left)
        if key not in self._outer:
            size, smaller = self.counted[index][0], self.fewest[index + 1]
            ways = [
                copies + smaller[rest - copies * size]
                for copies in range(min(left, rest // size) + 1)
                if rest - copies * size in smaller
            ]
            self._outer[key] = min(ways, default=None)
        return self._outer[key]

    def outer_plates(self, rest: int, index: int, left: int) -> tuple[int, ...]:
        """Return the plates that `outer_count` counts, the largest first."""
        plates = self.outer_count(rest, index, left)
        size, smaller = self.counted[index][0], self.fewest[index + 1]
        copies = min(left, rest // size)
        while copies + smaller.get(rest - copies * size, _NEVER) != plates:
            copies -= 1
        return (size,) * copies + self.fewest_plates(rest - copies * size, index + 1)

    def least_change(self, here: int, there: int, index: int) -> int:
        """Return a lower bound of the plates moved from one sum to another, of the sizes from `index` on.

        Some plates stay on, and what is outside of them, no larger than the last of them, comes off or goes on
        in the fewest plates.
        """
        low, high = (here, there) if here < there else (there, here)
        key = (low, high, index)
        known = self._changes.get(key)
        if known is None:
            known = self._changes[key] = self._count_change(low, high - low, index)
        return known

    def _count_change(self, low: int, change: int, index: int) -> int:
        least = self.fewest[index][low] + self.fewest[index][low + change]
        for last in range(index, len(self.counted)):
            staying, fewest = self._sums_between(index, last), self.fewest[last]
            for off, plates in self._by_plates[last]:
                if plates >= least:
                    break
                if low - off in staying and off + change in fewest:
                    least = min(least, plates + fewest[off + change])
        return least

    def _sums_between(self, index: int, last: int) -> frozenset[int]:
        """Return the sums of the sizes from `index` to `last` alone."""
        key = (index, last)
        if key not in self._inner:
            larger = self._sums_between(index, last - 1) if last > index else frozenset((0,))
            size, count = self.counted[last]
            sums = (base + copies * size for base in larger for copies in range(count + 1))
            self._inner[key] = frozenset(total for total in sums if total in self.fewest[index])
        return self._inner[key]
