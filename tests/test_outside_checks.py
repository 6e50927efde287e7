"""DEVELOPERS.md says what is checked against what: its tests exist, its counts are true, no file of numbers is idle."""

from __future__ import annotations

import importlib
import re
from math import prod
from pathlib import Path
from typing import NamedTuple

import pytest

ROOT = Path(__file__).parents[1]
GUIDE = ROOT / "DEVELOPERS.md"
REFERENCE = ROOT / "tests" / "data" / "reference"
ROW = re.compile(r"^\| (?P<what>[^|]+) \| (?P<against>[^|]+) \| (?P<cases>[^|]+) \| `(?P<test>tests/[^`]+)` \|$")


class Row(NamedTuple):
    """A row of the table."""

    what: str
    against: str
    cases: str
    test: str


def table() -> list[Row]:
    """Return the rows of the table."""
    section = GUIDE.read_text(encoding="utf-8").partition("## Checked against what")[2].partition("\n## ")[0]
    return [Row(*row.groups()) for line in section.splitlines() if (row := ROW.match(line))]


ROWS = table()


def test_the_table_is_read() -> None:
    """A line of the table that cannot be read would be checked by nobody."""
    lines = GUIDE.read_text(encoding="utf-8").partition("## Checked against what")[2].partition("\n## ")[0].splitlines()
    assert len(ROWS) == sum(line.startswith("|") for line in lines) - len(("head", "rule"))


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row.what)
def test_the_test_exists_and_has_so_many_cases(row: Row) -> None:
    """A number alone is how often the test is run with other values."""
    path, _, name = row.test.partition("::")
    test = getattr(importlib.import_module(path.removesuffix(".py").replace("/", ".")), name)
    if row.cases.isdigit():
        assert prod(len(mark.args[1]) for mark in test.pytestmark if mark.name == "parametrize") == int(row.cases)


def test_every_file_of_numbers_is_in_the_table() -> None:
    """A file with a source that no row names is tested against by nobody, or forgotten here."""
    named = {name for row in ROWS for name in re.findall(r"`([^`]+)`", row.against)}
    data = ROOT / "tests" / "data"
    files = {file.name for file in REFERENCE.glob("*.csv")}
    folders = {folder.parent.relative_to(ROOT).as_posix() for folder in data.glob("*/SOURCE.md")}
    assert named == files | folders
