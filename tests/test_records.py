"""Records against the library's own frozen dataclasses, made of the same words."""

import inspect
import pickle
from collections.abc import Callable
from copy import copy, deepcopy
from dataclasses import FrozenInstanceError, asdict, dataclass, field, fields, replace
from functools import cached_property, partial
from typing import Any

import pytest

from tracker.records import record

LIBRARY = partial(dataclass, frozen=True, slots=True)
BOTH = pytest.mark.parametrize("way", [LIBRARY, record], ids=["library", "record"])


def tile(way: Callable[..., Any]) -> Any:
    """A class with fields of every sort that the house uses."""

    class Tile:
        """A tile."""

        letter: str
        size: float = 5.0
        seal: str = field(default="", compare=False)
        marks: list[str] = field(default_factory=list)

    return way(Tile)


def keyed(way: Callable[..., Any]) -> Any:
    """A class with fields by name behind one in order."""

    class Bead:
        """A bead."""

        letter: str

    class Pearl(way(Bead)):  # type: ignore[misc]
        """A bead with more to it."""

        hole: float
        lustre: str = "soft"

    return way(kw_only=True)(Pearl)


@BOTH
def test_fields_are_taken_and_told(way: Callable[..., Any]) -> None:
    """In order or by name, with defaults; a list of its own for each."""
    made = tile(way)("A", seal="s")

    assert ("A", 5.0, "s", []) == (made.letter, made.size, made.seal, made.marks)
    assert made.marks is not tile(way)("A").marks
    told = "Tile(letter='A', size=5.0, seal='s', marks=[])"
    assert f"tile.<locals>.{told}" == repr(made)
    assert {"letter": "A", "size": 5.0, "seal": "s", "marks": []} == asdict(made)
    for wrong in ({}, {"letter": "A", "colour": 1}):
        with pytest.raises(TypeError, match=r"letter|colour"):
            tile(way)(**wrong)


@BOTH
def test_what_is_in_it_decides(way: Callable[..., Any]) -> None:
    """Equal fields make equal records, but for those that are left out; another class never."""
    kind = tile(way)

    assert kind("A", marks=["x"]) == kind("A", seal="other", marks=["x"])
    assert kind("A") != kind("B")
    assert kind("A") != tile(way)("A")
    assert kind("A") != ("A", 5.0, [])
    one, other = (replace(kind("A"), marks=(), seal=seal) for seal in "ab")
    assert {one: 1} == {other: 1}
    assert replace(one, letter="B") == kind("B", marks=())


@BOTH
def test_nothing_is_changed(way: Callable[..., Any]) -> None:
    """No field is set or taken away, nor one added."""
    made = tile(way)("A")

    with pytest.raises(FrozenInstanceError, match="'letter'"):
        made.letter = "B"
    with pytest.raises(FrozenInstanceError, match="'letter'"):
        del made.letter
    with pytest.raises((FrozenInstanceError, TypeError)):
        made.colour = "red"
    assert not hasattr(made, "__dict__")


@BOTH
def test_a_copy_is_equal(way: Callable[..., Any]) -> None:
    """Copied as it is, or with all that is in it."""
    made = tile(way)("A", marks=["x"])

    flat, deep = copy(made), deepcopy(made)
    assert [made, made] == [flat, deep]
    assert flat.marks is made.marks
    assert deep.marks is not made.marks


@BOTH
def test_a_record_of_a_record(way: Callable[..., Any]) -> None:
    """Fields of the class below come first, and those by name stay by name."""
    kind = keyed(way)

    assert ("A", 0.8, "soft") == tuple(asdict(kind("A", hole=0.8)).values())
    with pytest.raises(TypeError, match="positional"):
        kind("A", 0.8)
    assert ["letter", "hole", "lustre"] == [each.name for each in fields(kind)]
    match kind("A", hole=0.8):
        case kind(letter=letter):
            assert letter == "A"


@pytest.mark.parametrize("make", [tile, keyed])
def test_parameters_are_the_library_s(make: Callable[..., Any]) -> None:
    """Names, kinds and order, once a record has been made."""
    kinds = [make(way) for way in (LIBRARY, record)]
    for kind in kinds:
        kind("A", **({"hole": 0.8} if make is keyed else {}))
    told, ours = (inspect.signature(kind).parameters.values() for kind in kinds)

    assert [(p.name, p.kind) for p in told] == [(p.name, p.kind) for p in ours]


def test_without_slots_a_record_keeps_what_it_worked_out() -> None:
    """A cached property is worked out once."""

    @record(slots=False)
    class Sum:
        """A sum."""

        terms: tuple[int, ...]

        @cached_property
        def worked_out(self) -> list[int]:
            """A list with the sum."""
            return [sum(self.terms)]

    made = Sum((1, 2))
    assert made.worked_out is made.worked_out
    assert made == Sum((1, 2))


@pytest.mark.parametrize("way", [dataclass, partial(record, frozen=False, slots=False)])
def test_a_record_that_may_change(way: Callable[..., Any]) -> None:
    """It is compared and told like the others, is no key, and can have a way of its own."""

    class Base:
        """Something with a way of its own."""

        begun = False

        def __post_init__(self) -> None:
            self.begun = True

    class Wish(Base):
        """A wish."""

        what: str

    kind = way(Wish)
    made = kind("A")
    assert made.begun
    made.what = "B"
    assert made == kind("B")
    assert repr(made).endswith("Wish(what='B')")
    with pytest.raises(TypeError, match="unhashable"):
        hash(made)


@record
class Bead:
    """A bead, to be looked up by its name."""

    letter: str
    hole: float = 0.8


def test_a_record_goes_to_another_process() -> None:
    """And is what it was."""
    assert Bead("A", 1.0) == pickle.loads(pickle.dumps(Bead("A", 1.0)))  # noqa: S301  our own
