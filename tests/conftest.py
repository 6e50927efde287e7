"""What all tests share: the option that writes expectations anew."""

from __future__ import annotations

import pytest


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
