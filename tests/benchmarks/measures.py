"""Time and memory: of a call, of two calls in turn, of a process. What is compared is always measured in one run."""

from __future__ import annotations

import gc
import json
import os
import subprocess
import sys
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from statistics import median
from time import process_time

ROOT = Path(__file__).parents[2]
Call = Callable[[], object]
_WATCHED = """
import json, os, subprocess, sys
from time import perf_counter
begin = perf_counter()
child = subprocess.Popen(sys.argv[1:], stdout=subprocess.DEVNULL)
_, status, usage = os.wait4(child.pid, 0)
child.returncode = os.waitstatus_to_exitcode(status)
spent = perf_counter() - begin, usage.ru_utime + usage.ru_stime, usage.ru_maxrss
print(json.dumps([child.returncode, *spent]))
"""
"""Runs a process and tells what it took. Linux counts the memory of who starts a process as the process's own, so a
small one must start what is measured."""

_ENVIRONMENT = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}


@dataclass(frozen=True, slots=True)
class Row:
    """One line of the table: what is compared, how the product stands to the baseline, the ratio to reach if any."""

    key: str
    what: str
    ratio: float
    goal: float | None
    at_least: bool = False
    detail: str = ""

    @property
    def met(self) -> bool:
        """True where the goal is reached, or there is none."""
        if self.goal is None:
            return True
        return self.ratio >= self.goal if self.at_least else self.ratio <= self.goal


@dataclass(frozen=True, slots=True)
class Spent:
    """What a process took: seconds on the clock, seconds of processor, the peak of memory in MB, its error output."""

    wall: float
    cpu: float
    peak: float
    said: str


def seconds(call: Call, clock: Callable[[], float] = process_time) -> float:
    """Return how long a call takes; processor seconds unless another clock is given, as neighbours make noise."""
    gc.collect()
    begin = clock()
    call()
    return clock() - begin


def in_turn(calls: Sequence[Callable[[], float]], rounds: int) -> tuple[float, ...]:
    """Return the median of each of some measurements, made one after the other so many times."""
    taken = [[call() for call in calls] for _ in range(rounds)]
    return tuple(median(times) for times in zip(*taken, strict=True))


def run(*arguments: str | Path, expected: Sequence[int] = (0,)) -> Spent:
    """Run this Python with arguments and wait for it. Raises RuntimeError where it ends with another code.

    It keeps its compiled modules, ours as the libraries', whatever this process was told.
    """
    done = subprocess.run(
        [sys.executable, "-S", "-c", _WATCHED, sys.executable, *map(str, arguments)],
        cwd=ROOT,
        env=_ENVIRONMENT,
        capture_output=True,
        text=True,
        check=True,
    )
    code, wall, cpu, peak = json.loads(done.stdout)
    if code not in expected:
        raise RuntimeError(f"{arguments} ended with {code}: {done.stderr}")
    return Spent(wall, cpu, peak / 1024, done.stderr)


def resident() -> float:
    """Return the memory that this process holds now, in MB (Linux)."""
    pages = int(Path("/proc/self/statm").read_text(encoding="ascii").split()[1])
    return pages * os.sysconf("SC_PAGE_SIZE") / 2**20
