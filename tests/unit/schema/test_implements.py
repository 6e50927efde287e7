"""The tables of implements and of kit agree, and few implements go by the Block's step."""

from __future__ import annotations

import pytest

from compiler.schema.implements import IMPLEMENT, IMPLEMENTS, KIT_KINDS, TAKEN, WEIGHT_KINDS, Implement, LoadedBy

BY_STEP = {"body weight", "body weight plus load", "sled", "cardio", "other"}
"""What the Kit sheet has no sizes for. A new implement does not get here by an easy choice."""


def test_few_implements_go_by_the_step() -> None:
    """A load that the site may not have would be printed as one that it has."""
    by_step = {LoadedBy.STEP, LoadedBy.BODY}
    assert {implement.name for implement in IMPLEMENTS if implement.loaded_by in by_step} == BY_STEP


@pytest.mark.parametrize("implement", IMPLEMENTS, ids=lambda implement: implement.name)
def test_implements_are_loaded_with_kit_that_there_is(implement: Implement) -> None:
    """What is loaded with sizes has kit whose sizes are weights; what goes by the step has none."""
    kinds = set(implement.kit)
    assert kinds <= {kind.name for kind in KIT_KINDS}
    match implement.loaded_by:
        case LoadedBy.SIZE:
            assert len(kinds) == 1
            assert kinds <= {kind.name for kind in TAKEN}
        case LoadedBy.BAR | LoadedBy.PLATES | LoadedBy.STACK:
            assert kinds
            assert kinds <= WEIGHT_KINDS
        case LoadedBy.BAND:
            assert kinds
        case LoadedBy.BODY | LoadedBy.STEP:
            assert not kinds


def test_what_is_taken_has_weights_and_a_use() -> None:
    """Every kind that is lifted as it is has weights, words for one and for several, and a use."""
    used = {kind for implement in IMPLEMENTS for kind in implement.kit}
    assert all(kind.weights and kind.one and kind.several and kind.name in used for kind in TAKEN)


def test_names_come_once() -> None:
    """No implement and no kind stands in its table twice."""
    assert len(IMPLEMENT) == len(IMPLEMENTS)
    assert len({kind.name for kind in KIT_KINDS}) == len(KIT_KINDS)
