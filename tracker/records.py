"""Records: dataclasses, made in a fifth of the time.

Some ninety of them stand between a command and its first frame. For each `dataclass` writes out
and compiles six methods, 0.7 ms: a sixth of all that the beader waits. Here the one method is
compiled that has to be, `__init__`, when the first record is made; the others are functions that
go over the fields. A record is a dataclass to all who ask: `replace`, `fields`, `asdict`, patterns
in a `match`, type checkers.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import MISSING, Field, FrozenInstanceError, dataclass, field, fields
from operator import attrgetter
from typing import Any, TypeVar, dataclass_transform, overload

T = TypeVar("T")


@overload
def record(cls: type[T]) -> type[T]: ...
@overload
def record(
    *, frozen: bool = True, kw_only: bool = False, slots: bool = True
) -> Callable[[type[T]], type[T]]: ...
@dataclass_transform(frozen_default=True, field_specifiers=(Field, field))
def record(
    cls: type[T] | None = None, *, frozen: bool = True, kw_only: bool = False, slots: bool = True
) -> type[T] | Callable[[type[T]], type[T]]:
    """Make a class a record, as `dataclass(frozen=True, slots=True)` does.

    One that is not `frozen` may change, and cannot be hashed. `kw_only` fields are given by name.
    Without `slots` there can be cached properties, and a class above that has its own way. Of what
    `field` knows, defaults, `default_factory` and `compare` are heeded.
    """

    def made(cls: type[T]) -> type[T]:
        plain = dataclass(init=False, repr=False, eq=False, kw_only=kw_only, slots=slots)(cls)
        equal, hashed = _comparison(plain)
        methods = {"__init__": _first(plain), "__repr__": _told, "__eq__": equal, "__hash__": None}
        if frozen:
            methods |= {"__hash__": hashed, "__setattr__": _no_new, "__delattr__": _no_less}
            methods |= {"__getstate__": _state, "__setstate__": _take_state}
        for name, method in methods.items():
            setattr(plain, name, method)
        return plain

    return made if cls is None else made(cls)


def _first(cls: type[Any]) -> Callable[..., None]:
    """What makes the first record of a class: of many there is none before the first frame."""

    def first(self: Any, *values: Any, **named: Any) -> None:
        cls.__init__ = _taking_fields(cls)
        cls.__init__(self, *values, **named)

    return first


def _taking_fields(cls: type[Any]) -> Callable[..., None]:
    """The method that takes the fields, in the order and with the defaults of the class."""
    known: dict[str, Any] = {"_set": object.__setattr__, "_MISSING": MISSING}
    in_order: list[str] = []
    by_name: list[str] = []
    lines = ["pass"]
    for told in fields(cls):
        name = parameter = value = told.name
        if told.default is not MISSING:
            known[f"_default_{name}"] = told.default
            parameter = f"{name}=_default_{name}"
        elif told.default_factory is not MISSING:
            known[f"_make_{name}"] = told.default_factory
            parameter = f"{name}=_MISSING"
            value = f"_make_{name}() if {name} is _MISSING else {name}"
        (by_name if told.kw_only else in_order).append(parameter)
        lines.append(f"_set(self, {name!r}, {value})")
    if hasattr(cls, "__post_init__"):
        lines.append("self.__post_init__()")
    parameters = ", ".join(["self", *in_order, *(["*", *by_name] if by_name else [])])
    text = f"def __init__({parameters}):\n " + "\n ".join(lines)
    exec(text, known)  # noqa: S102  of names alone, and the library does it so
    made: Callable[..., None] = known["__init__"]
    made.__qualname__ = f"{cls.__qualname__}.__init__"
    return made


def _comparison(cls: type[Any]) -> tuple[Callable[..., Any], Callable[..., int]]:
    """The methods that compare and hash records by what is in them."""
    names = [told.name for told in fields(cls) if told.compare]
    values: Callable[[Any], Any] = attrgetter(*names) if names else lambda _: ()

    def equal(self: object, other: object) -> Any:
        if self.__class__ is not other.__class__:
            return NotImplemented
        return values(self) == values(other)

    def hashed(self: object) -> int:
        return hash(values(self))

    return equal, hashed


def _told(self: Any) -> str:
    told = ", ".join(f"{each.name}={getattr(self, each.name)!r}" for each in fields(self))
    return f"{self.__class__.__qualname__}({told})"


def _state(self: Any) -> list[object]:
    return [getattr(self, each.name) for each in fields(self)]


def _take_state(self: Any, state: list[object]) -> None:
    for each, value in zip(fields(self), state, strict=True):
        object.__setattr__(self, each.name, value)


def _no_new(_: object, name: str, __: object) -> None:
    raise FrozenInstanceError(f"cannot assign to field {name!r}")


def _no_less(_: object, name: str) -> None:
    raise FrozenInstanceError(f"cannot delete field {name!r}")
