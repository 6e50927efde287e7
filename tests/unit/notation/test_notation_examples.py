"""Every documented form reads as documented, every refused form is refused with its slug."""

from __future__ import annotations

from typing import Any

import pytest

from compiler.flags.catalogue import CATALOGUE
from compiler.flags.model import Remark
from compiler.notation.languages import LANGUAGES


def _cases(column: str) -> list[Any]:
    return [
        pytest.param(language.read, text, expected, id=f"{language.name}: {text}")
        for language in LANGUAGES
        for text, expected in getattr(language, column)
    ]


@pytest.mark.parametrize(("read", "text", "expected"), _cases("examples"))
def test_documented_form_reads_as_documented(read: Any, text: str, expected: object) -> None:
    """The examples of the field reference are true."""
    assert expected == read(text)


@pytest.mark.parametrize(("read", "text", "slug"), _cases("refused"))
def test_refused_form_gives_its_slug_and_a_way_out(read: Any, text: str, slug: str) -> None:
    """A refusal has a known slug, a message for a coach and a hint."""
    reason = read(text)
    assert isinstance(reason, Remark)
    assert slug == reason.slug
    assert slug in CATALOGUE
    assert reason.message.endswith(".")
    assert reason.hint
