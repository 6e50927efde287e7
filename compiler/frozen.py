"""`@frozen`: what `@dataclass(frozen=True, slots=True)` makes of a class, in a quarter of the time.

`dataclass` writes and compiles six functions for every class: of 150 classes that was a sixth of `check`. Here it only
finds the fields; one function is compiled, and the others are the same for all classes. `fields`, `replace`, `match`,
pickle and mypy see a dataclass. What dataclasses can beyond that (order, fields by keyword alone) is left to them.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import MISSING, Field, FrozenInstanceError, dataclass, field, fields
from operator import attrgetter
from typing import Any, TypeVar, dataclass_transform

T = TypeVar("T")
Values = Callable[[Any], tuple[Any, ...]]

_NOT_GIVEN = object()


@dataclass_transform(frozen_default=True, field_specifiers=(field,))
def frozen(cls: type[T]) -> type[T]:
    """Make a frozen dataclass with slots of a class."""
    made: Any = dataclass(init=False, repr=False, eq=False, slots=True)(cls)
    compared = _values([one.name for one in fields(made) if one.compare])
    whole = _values([one.name for one in fields(made)])

    def same(self: object, other: object) -> bool:
        return compared(self) == compared(other) if other.__class__ is self.__class__ else NotImplemented

    def hashed(self: object) -> int:
        return hash(compared(self))

    def state(self: object) -> tuple[Any, ...]:
        return whole(self)

    for name, method in (("__eq__", same), ("__hash__", hashed), ("__repr__", _shown(made))):
        if name not in cls.__dict__:
            setattr(made, name, method)
    made.__init__ = _initialiser(made)
    made.__setattr__ = made.__delattr__ = _refused
    made.__getstate__, made.__setstate__ = state, _with_state(made)
    return made  # type: ignore[no-any-return] # Any, as its methods are put in place here


def _values(names: list[str]) -> Values:
    """Return what gives these fields of an object as a tuple; `attrgetter` gives one alone as it is."""
    if len(names) > 1:
        return attrgetter(*names)
    return lambda of: tuple(getattr(of, name) for name in names)


def _initialiser(made: Any) -> Callable[..., None]:
    """Return the `__init__` of a class: its slots filled one by one, past the `__setattr__` that refuses."""
    known: dict[str, Any] = {"_not_given": _NOT_GIVEN}
    parameters, lines = ["self"], []
    for one in fields(made):
        known[f"_set_{one.name}"] = getattr(made, one.name).__set__
        if one.init:
            parameters.append(_parameter(one, known))
        if one.default_factory is not MISSING:
            given = f"{one.name} is _not_given" if one.init else "True"
            lines.append(f"_set_{one.name}(self, _default_{one.name}() if {given} else {one.name})")
        elif one.init:
            lines.append(f"_set_{one.name}(self, {one.name})")
    if hasattr(made, "__post_init__"):
        lines.append("self.__post_init__()")
    written = f"def __init__({', '.join(parameters)}):\n " + "\n ".join(lines or ["pass"])
    exec(written, known)  # noqa: S102 - names of fields alone; one taking any arguments would be called far slower
    made_here: Callable[..., None] = known["__init__"]
    made_here.__annotations__ = {one.name: one.type for one in fields(made) if one.init} | {"return": None}
    return made_here


def _parameter(one: Field[Any], known: dict[str, Any]) -> str:
    """Return a field as it stands between the brackets of `__init__`."""
    if one.default_factory is not MISSING:
        known[f"_default_{one.name}"] = one.default_factory
        return f"{one.name}=_not_given"
    if one.default is not MISSING:
        known[f"_default_{one.name}"] = one.default
        return f"{one.name}=_default_{one.name}"
    return one.name


def _shown(made: Any) -> Callable[[Any], str]:
    """Return the `__repr__` of a class: the call that makes the object, fields by name."""
    names = [one.name for one in fields(made) if one.repr]
    values, pattern = _values(names), ", ".join(f"{name}={{!r}}" for name in names)

    def shown(self: object) -> str:
        return f"{type(self).__qualname__}({pattern.format(*values(self))})"

    return shown


def _refused(self: object, name: str, *_: object) -> None:
    """Refuse to change a field."""
    raise FrozenInstanceError(f"{name} of {type(self).__name__} cannot be changed")


def _with_state(made: Any) -> Callable[[Any, tuple[Any, ...]], None]:
    """Return what puts back the values that were pickled, past the `__setattr__` that refuses."""
    setters = [getattr(made, one.name).__set__ for one in fields(made)]

    def put_back(self: object, state: tuple[Any, ...]) -> None:
        for put, value in zip(setters, state, strict=True):
            put(self, value)

    return put_back
