"""Work done by worker processes, in order. Values go out to them, results come back; the parent alone touches files.

Workers are started afresh ("spawn"), on every system alike. They end with the parent, however it ends.
"""

from __future__ import annotations

import gc
import gzip
import multiprocessing
import os
import pickle
import signal
import threading
import zlib
from collections import deque
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import Future, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager
from functools import partial
from io import BytesIO
from itertools import islice
from types import TracebackType
from typing import Any, Generic, Self, TypeVar

from compiler.fallback import Fallbacks, in_use, use
from compiler.files_disk import CannotWrite
from compiler.files_waiting import PIECE
from compiler.frozen import frozen

AHEAD = 8
"""So many values a worker are handed out before the first result is waited for."""

_LIGHT = 1
"""How hard what is sent is deflated: for its weight in memory alone."""

V = TypeVar("V")
R = TypeVar("R")


@frozen
class Ready(Generic[R]):
    """A result that is known already and takes its turn among the others."""

    result: R


class Content:
    """The bytes of a file, piece by piece; false where it is empty. From a worker they stay deflated until asked for.

    Of a large file the parent would else hold two copies at once, while it still holds all that it is made from.
    """

    def __init__(self, whole: bytes) -> None:
        self._whole = whole
        self._deflated: tuple[bytes, ...] = ()

    def __reduce__(self) -> tuple[Callable[[tuple[bytes, ...]], Content], tuple[tuple[bytes, ...]]]:
        """Return what is sent in place of it."""
        deflated = tuple(zlib.compress(piece, _LIGHT) for piece in self) if self._whole else self._deflated
        return Content._of, (deflated,)

    @classmethod
    def _of(cls, deflated: tuple[bytes, ...]) -> Content:
        made = cls(b"")
        made._deflated = deflated
        return made

    def __bool__(self) -> bool:
        """Tell whether there are any."""
        return bool(self._whole or self._deflated)

    def __iter__(self) -> Iterator[bytes]:
        """Yield the pieces; none of an empty file."""
        starts = range(0, len(self._whole), PIECE)
        yield from (self._whole[start : start + PIECE] for start in starts)
        yield from map(zlib.decompress, self._deflated)


class Workers:
    """Processes that work beside this one from when they are woken to the end of the block; none for one job.

    Till then, and for one job, the work is done here. A worker that wakes calls `load` first, which is to load what the
    work needs; without one, waking is all that it does.
    """

    def __init__(self, jobs: int, load: Callable[[], object] = bool) -> None:
        self.jobs = jobs
        self._load = load
        self._pool: ProcessPoolExecutor | None = None

    def __enter__(self) -> Self:
        """Begin the block."""
        return self

    def __exit__(
        self, kind: type[BaseException] | None, raised: BaseException | None, traceback: TracebackType | None
    ) -> None:
        """End the processes; what was not begun is dropped."""
        if self._pool is not None:
            self._pool.shutdown(cancel_futures=True)

    @property
    def awake(self) -> bool:
        """Whether there are any that work."""
        return self._pool is not None

    def wake(self) -> None:
        """Start all of them now, where they have not been, so that they load while this process is busy."""
        if self.jobs > 1 and self._pool is None:
            spawn = multiprocessing.get_context("spawn")
            self._pool = ProcessPoolExecutor(self.jobs, spawn, _begin, (in_use(), gc.get_threshold()))
            for _ in range(self.jobs):
                self.later(_called, self._load)

    def later(self, work: Callable[[V], R], value: V) -> Callable[[], R]:
        """Let a worker begin on a value; return what waits for the result. Without workers the work is done then.

        Both raise `CannotWrite` where a worker is ended from outside.
        """
        if self._pool is None:
            return partial(work, value)
        with _told(), _interrupts_held():
            return partial(_waited_for, self._pool.submit(work, value))

    def begin(self, work: Callable[[V], R], build: Callable[[], V]) -> Callable[[], R]:
        """Build a value and let a worker begin on it, as `later` does.

        It waits packed. Without workers it is built when the result is asked for, so that nothing waits in memory.
        """
        if self._pool is None:
            return lambda: work(build())
        return self.later(_worked_on, (work, _packed(build())))

    def meanwhile(self, build: Callable[[], Iterable[R]]) -> Callable[[], Iterable[R]]:
        """Build values while workers are busy, to be asked for later; without workers they are built then.

        Each is packed before the next is built. What is asked for them can be sent to a worker, which then asks.
        """
        return build if self._pool is None else _Packed(tuple(map(_packed, build())))


@frozen
class _Packed(Generic[R]):
    """Values packed to be sent between processes; called, it gives the values one by one."""

    values: tuple[bytes, ...]

    def __call__(self) -> Iterator[R]:
        """Yield the values."""
        return map(_unpacked, self.values)


def _packed(value: object) -> bytes:
    """Return a value deflated as it is pickled: the pool holds two copies of what it sends, one until the result."""
    packed = BytesIO()
    with gzip.GzipFile(fileobj=packed, mode="wb", compresslevel=_LIGHT) as deflated:
        pickle.dump(value, deflated, pickle.HIGHEST_PROTOCOL)
    return packed.getvalue()


def _unpacked(value: bytes) -> Any:
    with gzip.GzipFile(fileobj=BytesIO(value)) as inflated:
        return pickle.load(inflated)  # noqa: S301 - packed by `_packed` in this very run


def _worked_on(what: tuple[Callable[[V], R], bytes]) -> R:
    work, value = what
    return work(_unpacked(value))


def _called(load: Callable[[], object]) -> None:
    load()


def _waited_for(result: Future[R]) -> R:
    with _told():
        return result.result()


@contextmanager
def _told() -> Iterator[None]:
    try:
        yield
    except BrokenProcessPool as lost:
        raise CannotWrite(
            "The drawing of booklets was stopped from outside, and nothing was changed. "
            "If the computer is short of memory, add --jobs 1, which needs the least."
        ) from lost


def in_order(work: Callable[[V], R], values: Iterable[V | Ready[R]], workers: Workers) -> Iterator[R]:
    """Yield what is made of each value, in the order of the values.

    Raises `CannotWrite` where a worker is ended from outside.
    """
    if not workers.awake:
        for value in values:
            yield value.result if isinstance(value, Ready) else work(value)
        return
    rest = iter(values)
    waiting: deque[Callable[[], R] | Ready[R]] = deque()
    while True:
        for value in islice(rest, workers.jobs * AHEAD - len(waiting)):
            waiting.append(value if isinstance(value, Ready) else workers.later(work, value))
        if not waiting:
            return
        first = waiting.popleft()
        yield first.result if isinstance(first, Ready) else first()


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


def _begin(fonts: Fallbacks, searches: tuple[int, int, int]) -> None:
    """Begin a worker: Ctrl-C is for the parent, without a parent there is no work, fonts are those of the run.

    It searches for unused objects as seldom as the parent does.
    """
    use(fonts)
    gc.set_threshold(*searches)
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    threading.Thread(target=_end_with_parent, daemon=True).start()


def _end_with_parent() -> None:
    parent = multiprocessing.parent_process()
    if parent is not None:
        parent.join()
        os._exit(1)
