"""The long explanations."""

from __future__ import annotations

import pytest

from compiler.flags.catalogue import CATALOGUE
from compiler.flags.explain import UnknownFlag, explain, list_of_flags


@pytest.mark.parametrize("asked", ["missing-test", "Missing test", "MISSING_TEST", " missing\u2013test "])
def test_explain(asked: str) -> None:
    """A flag is found however its slug is typed."""
    assert explain(asked).startswith("missing-test (warning)\n\n# A client has no test for a percentage\n")


def test_unknown_flag() -> None:
    """The near slugs are told."""
    with pytest.raises(UnknownFlag) as caught:
        explain("mising-tests")
    assert str(caught.value).startswith('There is no flag "mising-tests". Near it: missing-test')


def test_flag_like_nothing() -> None:
    """Without a near one the list is named."""
    with pytest.raises(UnknownFlag, match="programme explain"):
        explain("zzzzzz")


def test_list() -> None:
    """Every flag has a line with its severity and title."""
    lines = list_of_flags().splitlines()
    assert len(CATALOGUE) == len(lines)
    assert any(line.split(maxsplit=2) == ["ask-first", "error", CATALOGUE["ask-first"].title] for line in lines)


def test_examples_are_for_people() -> None:
    """How a cell of an example is stored is told in words, and its columns stand under each other."""
    lines = explain("became-date").splitlines()
    table = [line for line in lines if line.startswith("|")]
    assert "2026-10-08 (a date shown as d-mmm)" in table[2]
    assert len({len(line) for line in table}) == 1
