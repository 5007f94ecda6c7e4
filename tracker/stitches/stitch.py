"""What a stitch has to say: its size, its thread path, and what its proof must find."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Protocol

from tracker.beads.model import Seed, Tile
from tracker.design.model import Closure, Design
from tracker.path.gauge import Gauge
from tracker.path.model import ThreadPath
from tracker.path.proof.expected import Expected


class ExpectedOf(Protocol):
    """How a stitch says what its path must come to."""

    def __call__(
        self, columns: int, rows: int, tile: Tile, seed: Seed, closure: Closure = ...
    ) -> Expected:
        """The counts of `rows` rows and of the ends."""
        ...


@dataclass(frozen=True, slots=True, kw_only=True)
class Stitch:
    """A stitch by its functions. `unsuited` says why beads do not suit each other, else ""."""

    name: str
    gauge: Callable[[Design], Gauge]
    weave: Callable[[Design, int], ThreadPath]
    """Weave a design to so many rows."""
    expected: ExpectedOf
    """What a path of so many columns and rows, and such a closure, must come to."""
    unsuited: Callable[[Tile, Seed], str]
    hint: Callable[[int, int, int], str]
    """What a learner should know or see at a row and step (from 1) of so many columns, or ""."""
