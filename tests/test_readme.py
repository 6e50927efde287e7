"""The README names commands, options, flags, settings and pictures: each of them is there, and none is left out."""

from __future__ import annotations

import re
from pathlib import Path

import click
import pytest

from compiler.cli import programme
from compiler.flags.catalogue import CATALOGUE

ROOT = Path(__file__).parents[1]
README = (ROOT / "README.md").read_text(encoding="utf-8")
LONGEST = 350
"""Lines. What is longer is looked up, not read; that is the field reference's work."""
OF_OTHER_PROGRAMS = {"--user", "--no-deps", "--sdist", "--version", "--help"}
"""Options that the README gives to Python and its tools, and those that every command has."""


def anchor(heading: str) -> str:
    """Return the anchor of a heading as Markdown hosts make it."""
    return re.sub(r"[^\w\- ]", "", heading.lower()).replace(" ", "-")


def options(command: click.Command) -> set[str]:
    """Return the long options of a command."""
    return {option for parameter in command.params for option in parameter.opts if option.startswith("--")}


def test_is_short_enough_to_read() -> None:
    assert len(README.splitlines()) <= LONGEST


def test_links_and_pictures_are_there() -> None:
    """A link leads to a heading of this page, or to a file, and there to a heading."""
    dead = []
    for target in re.findall(r"\]\(([^)]+)\)", README):
        file, _, wanted = target.partition("#")
        page = ROOT / (file or "README.md")
        if not page.exists():
            dead.append(target)
        elif wanted:
            headings = re.findall(r"^#+ (.+)$", page.read_text(encoding="utf-8"), re.MULTILINE)
            dead += [] if wanted in map(anchor, headings) else [target]
    assert dead == []


@pytest.mark.parametrize("name", sorted(programme.commands))
def test_every_command_has_its_row_with_its_options(name: str) -> None:
    """The table of commands names each of them and every option that it has."""
    table = README.partition("\n## Commands\n")[2]
    row = next((line for line in table.splitlines() if line.startswith(f"| `programme {name} ")), "")
    assert row, f"no row for {name}"
    told = set(re.findall(r"--[a-z-]+", row)) | {"--out"}  # -o stands in its example
    assert sorted(options(programme.commands[name]) - told) == []


def test_no_option_is_named_that_nothing_has() -> None:
    known = set().union(*map(options, programme.commands.values())) | OF_OTHER_PROGRAMS
    assert set(re.findall(r"(?<![\w-])--[a-z][a-z-]*", README)) <= known


def test_no_flag_is_named_that_there_is_not() -> None:
    """The rows of the ten flags, and the flag of the example."""
    table = README.partition("Ten that a first block")[2].partition("\n## ")[0]
    slugs = re.findall(r"^\| `([a-z-]+)` \|", table, re.MULTILINE)
    assert len(slugs) == 10
    assert [slug for slug in slugs if slug not in CATALOGUE] == []


def test_the_test_command_is_where_the_script_looks_for_it() -> None:
    """`.ci/run` runs the first shell block after the comment."""
    block = re.search(r"<!-- test command -->.*?^```sh\n(.*?)^```$", README, re.MULTILINE | re.DOTALL)
    assert block is not None
    assert block[1].startswith("python3 -m venv .venv")
    assert "pytest" in block[1]
