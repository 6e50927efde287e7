"""Every documented form reads as documented, every refused form is refused with its slug."""

from __future__ import annotations

from types import ModuleType
from typing import Any

import pytest

from compiler.flags.catalogue import CATALOGUE
from compiler.notation import load, reps, rest, sets, tempo
from compiler.notation.values import Reason

READERS = (
    (sets, sets.read_sets),
    (load, load.read_load),
    (reps, reps.read_reps),
    (rest, rest.read_rest),
    (tempo, tempo.read_tempo),
)


def _pairs(name: str) -> list[Any]:
    def label(module: ModuleType, text: str) -> str:
        return f"{module.__name__.rsplit('.', 1)[-1]}: {text}"

    return [
        pytest.param(read, text, expected, id=label(module, text))
        for module, read in READERS
        for text, expected in getattr(module, name)
    ]


@pytest.mark.parametrize(("read", "text", "expected"), _pairs("EXAMPLES"))
def test_documented_form_reads_as_documented(read: Any, text: str, expected: object) -> None:
    """The examples of the field reference are true."""
    assert expected == read(text)


@pytest.mark.parametrize(("read", "text", "slug"), _pairs("REFUSED"))
def test_refused_form_gives_its_slug_and_a_way_out(read: Any, text: str, slug: str) -> None:
    """A refusal has a known slug, a message for a coach and a hint."""
    reason = read(text)
    assert isinstance(reason, Reason)
    assert slug == reason.slug
    assert slug in CATALOGUE
    assert reason.message.endswith(".")
    assert reason.hint
