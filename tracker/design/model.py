"""What a beader wrote, read and checked. Lengths in millimetres."""

from __future__ import annotations

import hashlib
import json
from dataclasses import asdict, dataclass
from typing import Literal

from tracker.beads.model import Seed, Tile
from tracker.fit.model import Swatch, Wish

Kind = Literal["lanes", "rows", "chart"]

FORMAT = 1
"""The format of design files that this tracker reads."""


@dataclass(frozen=True, slots=True)
class Colour:
    """A named colour: its letter in the layout, its name, and "#rrggbb" for the screen."""

    letter: str
    name: str
    hex: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Size:
    """How long the band is to be: a length or a number of rows; the other one is None.

    Both are None where the design says whom the band is to fit instead.
    """

    length: float | None = None
    rows: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Thread:
    """The thread: its diameter, the length cut at a time, the starting tail; all mm."""

    diameter: float
    length: float
    tail: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Layout:
    """Where each colour goes; every letter is a colour's.

    `lines` holds one string of a letter a lane for "lanes", a letter a row for "rows", and a
    string of a letter a lane for each rank (two rows) for "chart"; lane 1 and row 1 come first.
    """

    seeds: str
    kind: Kind
    lines: tuple[str, ...]
    mirror: bool = False
    """There and back again instead of repeating."""
    centre: bool = False
    """The middle of the band falls on the middle of a repeat."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Design:
    """A design without faults. Colours stand in the order of the file."""

    name: str
    stitch: str
    columns: int
    size: Size
    tile: Tile
    seed: Seed
    colours: tuple[Colour, ...]
    layout: Layout
    thread: Thread
    fit: Wish | None = None
    """Whom the band is to fit, in place of a size."""
    swatch: Swatch | None = None
    """A measured swatch, in place of the predicted gauge."""

    def colour(self, letter: str) -> Colour:
        """The colour of that letter; KeyError if there is none."""
        for colour in self.colours:
            if colour.letter == letter:
                return colour
        raise KeyError(letter)

    @property
    def digest(self) -> str:
        """`sha256:<hex>` over everything the design says, however the file spells it.

        Comments, spacing and units do not change it; every value does, and so does the order
        of the colours, since what is compiled keeps that order.
        """
        values = {"format": FORMAT, **asdict(self)}
        for key in ("fit", "swatch"):  # a design that leaves them out is the one it always was
            if values[key] is None:
                del values[key]
        said = json.dumps(values, sort_keys=True, separators=(",", ":"))
        return f"sha256:{hashlib.sha256(said.encode()).hexdigest()}"
