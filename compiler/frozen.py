"""`@frozen`: what `@dataclass(frozen=True, slots=True)` makes of a class, in a third of the time.

`dataclass` writes six functions for every class and compiles each by itself: of 150 classes that was a sixth of
`check`. Here it only finds the fields; the three functions that are called by the thousand are compiled together, the
others are much the same for all classes. `fields`, `replace`, `match`, pickle and mypy see a dataclass. What
dataclasses can beyond that (order, fields by keyword alone) is left to them. Python 3.13 compiles the functions of a
class together by itself: when no older one is served, this module can go.
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
    given = _values([one.name for one in fields(made) if one.init])

    def made_by(self: object) -> tuple[type, tuple[Any, ...]]:
        return type(self), given(self)

    own = _compiled(made) | {
        "__repr__": _shown(made),
        "__setattr__": _refused,
        "__delattr__": _refused,
        "__reduce__": made_by,
    }
    for name, method in own.items():
        if name not in cls.__dict__:
            setattr(made, name, method)
    return made  # type: ignore[no-any-return] # Any, as its methods are put in place here


def _values(names: list[str]) -> Values:
    """Return what gives these fields of an object as a tuple; `attrgetter` gives one alone as it is."""
    if len(names) > 1:
        return attrgetter(*names)
    return lambda of: tuple(getattr(of, name) for name in names)


def _compiled(made: Any) -> dict[str, Any]:
    """Return the functions that are written out for each class, by name."""
    known: dict[str, Any] = {"_not_given": _NOT_GIVEN}
    compared = [one.name for one in fields(made) if one.compare]
    mine, other = ("".join(f"{of}.{name}, " for name in compared) for of in ("self", "other"))
    written = (
        *_initialiser(made, known),
        "def __eq__(self, other):",
        f"    return ({mine}) == ({other}) if other.__class__ is self.__class__ else NotImplemented",
        "def __hash__(self):",
        f"    return hash(({mine}))",
    )
    exec("\n".join(written), known)  # noqa: S102 - names of fields alone; functions for all classes are far slower
    known["__init__"].__annotations__ = {one.name: one.type for one in fields(made) if one.init} | {"return": None}
    return {name: known[name] for name in ("__init__", "__eq__", "__hash__")}


def _initialiser(made: Any, known: dict[str, Any]) -> list[str]:
    """Return the lines of `__init__`: the slots are filled one by one, past the `__setattr__` that refuses."""
    parameters, lines = ["self"], []
    for one in fields(made):
        known[f"_set_{one.name}"] = getattr(made, one.name).__set__
        if one.init:
            parameters.append(_parameter(one, known))
        if one.default_factory is not MISSING:
            given = f"{one.name} is _not_given" if one.init else "True"
            lines.append(f"    _set_{one.name}(self, _default_{one.name}() if {given} else {one.name})")
        elif one.init:
            lines.append(f"    _set_{one.name}(self, {one.name})")
    if hasattr(made, "__post_init__"):
        lines.append("    self.__post_init__()")
    return [f"def __init__({', '.join(parameters)}):", *(lines or ["    pass"])]


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
