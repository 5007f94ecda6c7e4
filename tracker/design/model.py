"""What a beader wrote, read and checked. Lengths in millimetres."""

from __future__ import annotations

import hashlib
import json
from dataclasses import asdict
from typing import TYPE_CHECKING, Literal

from tracker.beads.model import Seed, Tile
from tracker.records import record

if TYPE_CHECKING:  # few bands are made to fit
    from tracker.fit.model import Swatch, Wish

Kind = Literal["lanes", "rows", "chart", "shape", "written"]

ClosureKind = Literal["none", "wire guards", "bead loops", "ribbon ends", "button loop"]

FORMAT = 1
"""The format of design files that this tracker reads."""


@record
class Colour:
    """A named colour: its letter in the layout, its name, and "#rrggbb" for the screen."""

    letter: str
    name: str
    hex: str


@record(kw_only=True)
class Size:
    """How long the band is to be: a length or a number of rows; the other one is None.

    Both are None where the design says whom the band is to fit instead.
    """

    length: float | None = None
    rows: int | None = None


@record(kw_only=True)
class Thread:
    """The thread: its diameter, the length cut at a time, the starting tail; all mm."""

    diameter: float
    length: float
    tail: float


@record(kw_only=True)
class Layout:
    """Where each colour goes; every letter is a colour's.

    `lines` holds one string of a letter a lane for "lanes", a letter a row for "rows", and a
    string of a letter a lane for each rank (a line of the chart: two rows in staggered stitches)
    for "chart"; lane 1 and row 1 come first. "shape" has a string for each row as it is drawn,
    a letter a bead and half a bead a character. "written" has the lines of rows told in words.
    """

    seeds: str
    """The letter of the seeds' colour; "" where seeds are what the layout is of."""
    kind: Kind
    lines: tuple[str, ...]
    mirror: bool = False
    """There and back again instead of repeating."""
    centre: bool = False
    """The middle of the band falls on the middle of a repeat."""


@record(kw_only=True)
class Closure:
    """How the piece is closed: what stands at its two ends."""

    kind: ClosureKind = "none"
    length: float = 0.0
    """What it adds to the band on the wrist, mm."""
    rings: int = 0
    """Rings of the bar clasp, a loop of seeds for each; 0 for the other kinds."""
    colour: str = ""
    """Letter of the loop seeds' colour; "" without a closure."""


_MAY_BE_LEFT_OUT = (
    *("fit", "swatch", "columns", "lanes", "tile", "seed"),
    *("hinge", "cap", "start"),
)

NO_CLOSURE = Closure()
"""A swatch, or a band that is finished otherwise: it ends with its last row."""


@record(kw_only=True)
class Design:
    """A design without faults. Colours stand in the order of the file."""

    name: str
    stitch: str
    columns: int = 0
    """How wide the band is, of two lanes each; 0 where that is told in lanes."""
    lanes: int = 0
    """How wide the band is, where that is told in lanes; else 0."""
    size: Size
    tile: Tile | None = None
    seed: Seed | None = None
    hinge: int = 0
    """Seeds at the hinge, 0 for as many as fit."""
    cap: int = 0
    """Seeds round a tile's end, those of the hinge among them; 0 for as many as fit."""
    start: str = ""
    """How the work is begun, where a stitch knows several ways."""
    colours: tuple[Colour, ...]
    layout: Layout
    thread: Thread
    closure: Closure = NO_CLOSURE
    fit: Wish | None = None
    """Whom the band is to fit, in place of a size."""
    swatch: Swatch | None = None
    """A measured swatch, in place of the predicted gauge."""

    @property
    def wide(self) -> int:
        """Lanes that the band is wide."""
        return self.lanes or 2 * self.columns

    @property
    def own_tile(self) -> Tile:
        """The tile of a stitch that is woven with one."""
        assert self.tile is not None, "the stitch asks for a tile"
        return self.tile

    @property
    def own_seed(self) -> Seed:
        """The seed of a stitch that is woven with one."""
        assert self.seed is not None, "the stitch asks for a seed"
        return self.seed

    @property
    def thickness(self) -> float:
        """How thick the band is, mm."""
        return self.own_seed.diameter if self.tile is None else self.tile.thickness

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
        if self.closure == NO_CLOSURE:
            # A design that names no closure says what it said before there were any.
            del values["closure"]
        # A design that leaves a key out is the one that it was before there was that key.
        for key in _MAY_BE_LEFT_OUT:
            if not values[key]:
                del values[key]
        said = json.dumps(values, sort_keys=True, separators=(",", ":"))
        return f"sha256:{hashlib.sha256(said.encode()).hexdigest()}"
