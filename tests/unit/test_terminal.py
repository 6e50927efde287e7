"""The bar on a terminal: only after a while, only on a terminal, and nothing left behind."""

from __future__ import annotations

from io import StringIO
from time import monotonic, sleep

import pytest
from rich.console import Console

from compiler.terminal import Meter


def console(*, terminal: bool) -> tuple[Console, StringIO]:
    file = StringIO()
    return Console(file=file, force_terminal=terminal, width=80), file


def wait_for(file: StringIO, words: str, seconds: float = 10.0) -> bool:
    until = monotonic() + seconds
    while words not in file.getvalue():
        if monotonic() > until:
            return False
        sleep(0.01)
    return True


def test_a_run_of_more_than_the_patience_shows_how_far_it_is() -> None:
    """What is being done, and how much of how much."""
    shown, file = console(terminal=True)
    with Meter(shown, patience=0.0) as meter:
        meter.tell("Drawing", 3, 40)
        assert wait_for(file, "Drawing")
        assert wait_for(file, "3 of 40")


def test_what_has_no_end_yet_has_no_count() -> None:
    """Before the clients are known, only the words."""
    shown, file = console(terminal=True)
    with Meter(shown, patience=0.0) as meter:
        meter.tell("Checking", 0, None)
        assert wait_for(file, "Checking")
    assert " of " not in file.getvalue()


def test_a_quick_run_shows_nothing() -> None:
    """It ends before the patience does, and the bar does not come afterwards."""
    shown, file = console(terminal=True)
    with Meter(shown, patience=0.2) as meter:
        meter.tell("Drawing", 1, 2)
    said = file.getvalue()
    sleep(0.4)
    assert file.getvalue() == said
    assert "Drawing" not in said


def test_the_bar_goes_when_a_run_is_brought_down() -> None:
    """The cursor is shown again (ECMA-48 and DEC: ESC [ ? 25 h), whatever ends the run."""
    shown, file = console(terminal=True)

    def run() -> None:
        with Meter(shown, patience=0.0) as meter:
            meter.tell("Drawing", 1, 2)
            assert wait_for(file, "Drawing")
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        run()
    assert file.getvalue().rfind("\x1b[?25h") > file.getvalue().rfind("\x1b[?25l") >= 0
