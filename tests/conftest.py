"""What all tests share: the option that writes expectations anew, and how hypothesis chooses its examples.

They are the same at every run; `--hypothesis-profile=search` looks for new ones, by the thousand.
"""

from __future__ import annotations

import signal

import pytest
from hypothesis import settings

# A shell starts what runs in the background with Ctrl-C ignored, and children inherit it; tests stop theirs by it.
if signal.getsignal(signal.SIGINT) is signal.SIG_IGN:
    signal.signal(signal.SIGINT, signal.default_int_handler)

settings.register_profile("same", derandomize=True, deadline=None)
settings.register_profile("search", derandomize=False, deadline=None, max_examples=5_000)
settings.load_profile("same")


def pytest_addoption(parser: pytest.Parser) -> None:
    """Add `--update-expected`: expected files are written anew; read the diff before committing it."""
    parser.addoption(
        "--update-expected",
        action="store_true",
        help="write expected and generated files anew from what the code gives now",
    )


@pytest.fixture
def update_expected(request: pytest.FixtureRequest) -> bool:
    """Whether expected files are to be written anew in place of being compared."""
    return bool(request.config.getoption("--update-expected"))
