"""Every implement is loaded with kit of its kind, or is one of the few that go by the Block's step."""

from __future__ import annotations

from compiler.resolve.racks import BODY
from compiler.resolve.settle import LOADED_WITH
from compiler.schema.sheets.exercises import IMPLEMENTS
from compiler.schema.sheets.kit import KIT_KINDS

BY_STEP = {*BODY, "sled", "cardio", "other"}
"""What the Kit sheet has no sizes for. A new implement does not get here by being forgotten."""


def test_no_implement_goes_by_the_step_by_oversight() -> None:
    """A load that the site may not have would be printed as one that it has."""
    assert {*LOADED_WITH, *BY_STEP} == set(IMPLEMENTS)
    assert not BY_STEP & set(LOADED_WITH)
    assert {kind for kinds in LOADED_WITH.values() for kind in kinds} <= set(KIT_KINDS)
