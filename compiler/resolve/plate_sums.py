"""Plates on one end of a bar, in whole numbers: which sums they make, and with how few of them.

A stack never grows outwards, so every stack is a place in a tree: the plates on, and what may come next,
which is the size last put on, as far as there is more of it, or a smaller one.
"""

from __future__ import annotations

_NEVER = 1 << 60


class PlateSums:
    """The sums of counted plates. Made once for the plates of a site; it remembers what it has worked out.

    `counted` is (size, how many go on this end), the largest first. `fewest[k]` is sum -> fewest plates, from
    the sizes at `k` and smaller ones; no sum is above `most`.
    """

    def __init__(self, counted: tuple[tuple[int, int], ...], most: int) -> None:
        self.counted = counted
        tables = [{0: 0}]
        for size, count in reversed(counted):
            tables.append(_with_one_more_size(tables[-1], size, count, most))
        self.fewest = tuple(reversed(tables))
        self._outer: dict[tuple[int, int, int], int | None] = {}
        self._by_plates = [sorted(table.items(), key=lambda entry: entry[1]) for table in self.fewest]
        self._changes: dict[tuple[int, int, int], int] = {}

    @property
    def reachable(self) -> tuple[int, ...]:
        """Every sum there is, ascending."""
        return tuple(sorted(self.fewest[0]))

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

        Some sum stays on the bar, and what is outside of it comes off or goes on in the fewest plates.
        """
        low, high = (here, there) if here < there else (there, here)
        key = (low, high, index)
        known = self._changes.get(key)
        if known is None:
            known = self._changes[key] = self._count_change(low, high - low, index)
        return known

    def _count_change(self, low: int, change: int, index: int) -> int:
        fewest = self.fewest[index]
        least = fewest[low] + fewest[low + change]
        for off, plates in self._by_plates[index]:
            if plates >= least:
                break
            if off <= low and off + change in fewest and low - off in fewest:
                least = min(least, plates + fewest[off + change])
        return least


def _with_one_more_size(smaller: dict[int, int], size: int, count: int, most: int) -> dict[int, int]:
    table = dict(smaller)
    for base, plates in smaller.items():
        for copies in range(1, min(count, (most - base) // size) + 1):
            total = base + copies * size
            if plates + copies < table.get(total, _NEVER):
                table[total] = plates + copies
    return table
