"""What rows written by hand say, part by part, each with where it stands in the text."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Literal

from tracker.problems import Problem
from tracker.records import record

Way = Literal["up", "down"]


@record
class Spot:
    """Where something stands, from 1."""

    line: int
    column: int


@record
class Index:
    """A number that may be reckoned with a counter: `times` x counter + `plus`."""

    plus: int
    times: int = 0
    counter: str = ""

    def value(self, counters: Mapping[str, int]) -> int:
        """The number, with the counters as they stand; KeyError for one that does not count."""
        return self.plus + (self.times * counters[self.counter] if self.counter else 0)


@record
class Called:
    """A bead, or all beads, of a name."""

    spot: Spot
    name: str
    index: Index | None = None
    old: bool = False


@record
class PickUp:
    """Beads to pick up, and what they are called from now on."""

    spot: Spot
    number: int
    colour: str
    kind: Literal["seed", "tile", ""]
    called: Called | None = None


@record
class Through:
    """Beads to go through; `hole` is told for tiles."""

    spot: Spot
    what: Called
    hole: Literal["", "a", "b"]
    back: bool


@record
class PassBy:
    """A bead to pass by."""

    spot: Spot
    what: Called


@record
class GoUnder:
    """The thread between two beads."""

    spot: Spot
    one: Called
    other: Called


Move = PickUp | Through | PassBy | GoUnder


@record
class SpeltStep:
    """One movement."""

    spot: Spot
    moves: tuple[Move, ...]
    turn: bool


@record
class Open:
    """A tile that is left open."""

    spot: Spot
    what: Called


@dataclass(slots=True)
class SpeltRow:
    """A row: its steps and repeats of steps."""

    spot: Spot
    section: str
    heading: Way
    parts: list[SpeltStep | Repeat | Open] = field(default_factory=list)


@dataclass(slots=True)
class Repeat:
    """Parts that come so many times."""

    spot: Spot
    times: Index
    counter: str
    parts: list[SpeltRow | SpeltStep | Repeat | Open] = field(default_factory=list)


Part = SpeltRow | SpeltStep | Repeat | Open


def problem_at(spot: Spot, what: str, mend: str) -> Problem:
    """What is wrong at a spot of the text."""
    return Problem(f"layout.written line {spot.line} column {spot.column}", what, mend)


def picked_up(parts: Sequence[Part]) -> Iterator[PickUp]:
    """Every move in which beads are picked up, once for each time that it is written."""
    for part in parts:
        if isinstance(part, SpeltStep):
            yield from (move for move in part.moves if isinstance(move, PickUp))
        elif isinstance(part, SpeltRow | Repeat):
            yield from picked_up(part.parts)
