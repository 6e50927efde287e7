"""DEVELOPERS.md says of every word that a user meets whose it is; a word without row, or a row without word, fails."""

from __future__ import annotations

import re
from collections import Counter
from pathlib import Path

import pytest

from tests.words_of_the_program import words_of_the_program

GUIDE = Path(__file__).parents[1] / "DEVELOPERS.md"
ROW = re.compile(r"^\| (?P<kind>[^|`]+) \| (?P<whose>trade|standard|ours) \| (?P<words>`.+`) \|$")


def table() -> list[tuple[str, str, list[str]]]:
    """Return the rows of the table: kind, whose, words."""
    section = GUIDE.read_text(encoding="utf-8").partition("## Words a user meets")[2].partition("\n## ")[0]
    rows = [row for line in section.splitlines() if (row := ROW.match(line))]
    return [(row["kind"], row["whose"], re.findall(r"`([^`]+)`", row["words"])) for row in rows]


@pytest.fixture(scope="module")
def words(tmp_path_factory: pytest.TempPathFactory) -> dict[str, set[str]]:
    """Return what the program really has."""
    return words_of_the_program(tmp_path_factory.mktemp("words"))


def test_every_word_has_its_row(words: dict[str, set[str]]) -> None:
    """A new word is put into the table of DEVELOPERS.md by whoever brings it: the trade's, a standard's, or ours."""
    known = {(kind, word) for kind, _, listed in table() for word in listed}
    missing = sorted((kind, word) for kind, found in words.items() for word in found if (kind, word) not in known)
    assert missing == [], "add these to `Words a user meets` in DEVELOPERS.md, each to the row that says whose it is"


def test_every_row_is_of_words_that_are_used(words: dict[str, set[str]]) -> None:
    """What nothing uses any more leaves the table."""
    gone = [(kind, word) for kind, _, listed in table() for word in listed if word not in words.get(kind, ())]
    assert gone == [], "take these out of `Words a user meets` in DEVELOPERS.md"


def test_no_word_is_two_things() -> None:
    """A word of one kind is the trade's, a standard's or ours."""
    counted = Counter((kind, word) for kind, _, listed in table() for word in listed)
    assert [word for word, times in counted.items() if times > 1] == []
