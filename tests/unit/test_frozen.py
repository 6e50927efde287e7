"""`@frozen` against what it stands for: the standard library's own frozen dataclass with slots, of the same fields."""

from __future__ import annotations

import pickle
from collections.abc import Callable
from copy import copy
from dataclasses import FrozenInstanceError, dataclass, field, fields, replace
from inspect import signature
from typing import Any

import pytest

from compiler.frozen import frozen


def _plain(make: Callable[[type], Any]) -> Any:
    class Lift:
        """Fields of every kind that the program has: with defaults of both sorts, left out of repr or comparison."""

        name: str
        reps: int = 5
        notes: list[str] = field(default_factory=list)
        seen: dict[str, int] = field(default_factory=dict, repr=False, compare=False)
        total: int = field(init=False, repr=False, compare=False)

        def __post_init__(self) -> None:
            object.__setattr__(self, "total", self.reps * 2)

    return make(Lift)


def _of_one(make: Callable[[type], Any]) -> Any:
    class One:
        name: str

    return make(One)


def _of_none(make: Callable[[type], Any]) -> Any:
    class Nothing:
        pass

    return make(Nothing)


def _of_its_own(make: Callable[[type], Any]) -> Any:
    class Own:
        name: str

        def __repr__(self) -> str:
            return f"<{self.name}>"

        def __eq__(self, other: object) -> bool:
            return isinstance(other, type(self)) and other.name.lower() == self.name.lower()

        def __hash__(self) -> int:
            return hash(self.name.lower())

    return make(Own)


STANDARD: Callable[[type], Any] = dataclass(frozen=True, slots=True)
MAKERS = (_plain, _of_one, _of_none, _of_its_own)
CALLS: dict[Any, tuple[tuple[tuple[Any, ...], dict[str, Any]], ...]] = {
    _plain: ((("Squat",), {}), (("Squat", 5), {"notes": []}), (("Squat",), {"reps": 6}), (("Press", 5, ["x"]), {})),
    _of_one: ((("Squat",), {}), ((("Squat",),), {}), ((None,), {})),
    _of_none: (((), {}),),
    _of_its_own: ((("Squat",), {}), (("squat",), {}), (("Press",), {})),
}


@frozen
class Pickled:
    """Pickle finds a class by its name in a module."""

    name: str
    reps: int = 5


@pytest.mark.parametrize("make", MAKERS)
def test_shown_compared_and_hashed_alike(make: Any) -> None:
    """The same text, and equal to one another where the standard library's are."""
    ours, theirs = make(frozen), make(STANDARD)
    made = [(ours(*args, **named), theirs(*args, **named)) for args, named in CALLS[make]]
    for one, standard in made:
        assert repr(standard) == repr(one)
        assert [standard == other for _, other in made] == [one == other for other, _ in made]
        assert one != standard
        assert one.__eq__(standard) == standard.__eq__(one)
    if make is not _plain:  # a list has no hash, in either
        assert [hash(standard) for _, standard in made] == [hash(one) for one, _ in made]


@pytest.mark.parametrize("make", MAKERS)
def test_the_same_fields_and_arguments(make: Any) -> None:
    """`fields`, `match` and the signature see what they see of a dataclass; there is no room for anything else."""
    ours, theirs = make(frozen), make(STANDARD)
    assert [one.name for one in fields(theirs)] == [one.name for one in fields(ours)]
    assert theirs.__match_args__ == ours.__match_args__
    assert theirs.__slots__ == ours.__slots__
    assert list(signature(theirs).parameters) == list(signature(ours).parameters)
    assert not hasattr(ours(*CALLS[make][0][0]), "__dict__")


def test_a_list_of_its_own() -> None:
    """Two made without one do not share it; an empty one that is given is kept."""
    lift, given = _plain(frozen), []
    first, second = lift("Squat"), lift("Squat")
    first.notes.append("deep")
    assert second.notes == []
    assert lift("Squat", notes=given).notes is given
    assert lift("Squat", seen=None).seen is None


def test_what_is_worked_out_is_worked_out_again() -> None:
    """`replace` makes a new one, with what follows from its fields."""
    first = _plain(frozen)("Squat")
    assert replace(first, reps=6).total == 12
    assert first.total == 10
    with pytest.raises((TypeError, ValueError)):
        replace(first, total=3)


@pytest.mark.parametrize("make", MAKERS)
def test_nothing_can_be_changed(make: Any) -> None:
    """Neither a field nor a new name can be set or deleted, as in the standard library's."""
    for one in (make(frozen)(*CALLS[make][0][0]), make(STANDARD)(*CALLS[make][0][0])):
        for name in ("name", "other"):
            with pytest.raises((FrozenInstanceError, TypeError)):
                setattr(one, name, "Press")
            with pytest.raises((FrozenInstanceError, TypeError)):
                delattr(one, name)


def test_a_missing_argument_is_told() -> None:
    """Nothing is made of half the fields."""
    with pytest.raises(TypeError, match="name"):
        _plain(frozen)()
    with pytest.raises(TypeError, match="load"):
        _plain(frozen)("Squat", load=3)


def test_sent_to_another_process() -> None:
    """Workers get booklets by pickle."""
    one = Pickled("Squat", 3)
    assert one == pickle.loads(pickle.dumps(one)) == copy(one)  # noqa: S301 - written in this line
