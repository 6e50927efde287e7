"""Work done by worker processes, in order. Values go out to them, results come back; the parent alone touches files.

Workers are started afresh ("spawn"), on every system alike. They end with the parent, however it ends.
"""

from __future__ import annotations

import multiprocessing
import os
import signal
import threading
from collections import deque
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import Future, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager
from dataclasses import dataclass
from itertools import islice
from typing import Generic, TypeVar

from compiler.files_disk import CannotWrite

AHEAD = 8
"""So many values a worker are handed out before the first result is waited for."""

V = TypeVar("V")
R = TypeVar("R")


@dataclass(frozen=True, slots=True)
class Ready(Generic[R]):
    """A result that is known already and takes its turn among the others."""

    result: R


def in_order(
    here: Callable[[V], R], there: Callable[[V], R], values: Iterable[V | Ready[R]], jobs: int, *, alone: int = 0
) -> Iterator[R]:
    """Yield what is made of each value, in the order of the values: by `here` in this process, by `there` in workers.

    Workers are started where there are `jobs` for more than one, once `alone` values have been worked on here: a few
    are done sooner than workers start. Raises `CannotWrite` where a worker is ended from outside.
    """
    rest = iter(values)
    worked = 0
    while jobs == 1 or worked < alone:
        value = next(rest, None)
        if value is None:
            return
        if isinstance(value, Ready):
            yield value.result
        else:
            worked += 1
            yield here(value)
    yield from _shared(there, rest, jobs)


def _shared(work: Callable[[V], R], values: Iterator[V | Ready[R]], jobs: int) -> Iterator[R]:
    pool = ProcessPoolExecutor(jobs, multiprocessing.get_context("spawn"), _begin)
    waiting: deque[Future[R] | Ready[R]] = deque()
    try:
        while True:
            for value in islice(values, jobs * AHEAD - len(waiting)):
                waiting.append(value if isinstance(value, Ready) else _submitted(pool, work, value))
            if not waiting:
                return
            first = waiting.popleft()
            yield first.result if isinstance(first, Ready) else first.result()
    except BrokenProcessPool as lost:
        raise CannotWrite(
            "A process that was drawing booklets was ended from outside; nothing was changed. "
            "If this machine is short of memory, --jobs 1 needs the least."
        ) from lost
    finally:
        pool.shutdown(cancel_futures=True)


def _submitted(pool: ProcessPoolExecutor, work: Callable[[V], R], value: V) -> Future[R]:
    with _interrupts_held():
        return pool.submit(work, value)


@contextmanager
def _interrupts_held() -> Iterator[None]:
    """Hold Ctrl-C back: a worker started meanwhile never gets it, and leaves it to the parent to end in good order."""
    if not hasattr(signal, "pthread_sigmask"):  # Windows
        yield
        return
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


def _begin() -> None:
    """Begin a worker: Ctrl-C is for the parent, and without a parent there is no work."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    threading.Thread(target=_end_with_parent, daemon=True).start()


def _end_with_parent() -> None:
    parent = multiprocessing.parent_process()
    if parent is not None:
        parent.join()
        os._exit(1)
