"""A progress bar for whatever takes more than a second, on a terminal only."""

from __future__ import annotations

from threading import Lock, Timer
from types import TracebackType
from typing import Self

from rich.console import Console
from rich.progress import BarColumn, Progress, TextColumn, TimeElapsedColumn

PATIENCE_SECONDS = 1.0


class Meter:
    """A bar on standard error that appears after a second and leaves nothing behind."""

    def __init__(self, console: Console | None = None, patience: float = PATIENCE_SECONDS) -> None:
        self._progress = Progress(
            TextColumn("{task.description}"),
            BarColumn(),
            TextColumn("{task.fields[count]}"),
            TimeElapsedColumn(),
            console=console or Console(stderr=True),
            transient=True,
        )
        self._task = self._progress.add_task("Reading", total=None, count="")
        self._timer = Timer(patience, self._show)
        self._timer.daemon = True
        self._lock = Lock()
        self._ended = False

    def __enter__(self) -> Self:
        self._timer.start()
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self._timer.cancel()
        with self._lock:
            self._ended = True
            self._progress.stop()

    def _show(self) -> None:
        with self._lock:
            if not self._ended:
                self._progress.start()

    def tell(self, doing: str, done: int, of: int | None) -> None:
        """Say what is being done, how much of it is done, of how much; None where that is not known."""
        count = "" if of is None else f"{done} of {of}"
        self._progress.update(self._task, description=doing, completed=done, total=of, count=count)
