"""Where everything lies in two-hole herringbone, and which number each bead has.

Rows r and columns c count from 1. Lengths in millimetres, places as in the plane of the band.
"""

from __future__ import annotations

import math
from functools import cached_property

from tracker.beads.model import Seed, Tile
from tracker.path.model import Bead, Hole, Place
from tracker.path.plane import Mouths, Point, chain_on_arc, place, reversed_way
from tracker.records import record

THETA = 45.0
"""Tilt of the tiles' passages from straight across the band, degrees."""
HINGE, CAP = 1, 3
"""Seeds at the hinge, and in a group of the strung row or round the edge at a turn, those of the
hinge counted: what is usual for half tiles."""
STAND_OFF = 0.3
"""How far a cap's last seed stands off the mouth of its hole, as a share of its diameter."""


@record(slots=False)
class Lattice:
    """Where everything lies. Rows r and columns c count from 1."""

    tile: Tile
    seed: Seed
    hinge: int = HINGE
    cap_seeds: int = CAP

    @property
    def reach(self) -> float:
        """Length of the seeds at a hinge, end to end, mm."""
        return self.hinge * self.seed.length

    @cached_property
    def pitch(self) -> float:
        """Length along the band of one row, mm."""
        return (self.tile.passage + self.reach) / math.sqrt(2)

    @cached_property
    def column(self) -> float:
        """Width of one column, that is of two lanes, mm."""
        return math.sqrt(2) * (self.tile.length - self.reach)

    def origin(self, r: int) -> float:
        """X of row r's own zero, the middle of its tiles, mm."""
        return round((r - 1) * self.pitch, 2)

    def tile_at(self, r: int, c: int) -> Place:
        """Tile of row r, column c."""
        return place(self.origin(r), self._lane(r, c), THETA if r % 2 else -THETA)

    def lone_seeds_at(self, r: int, c: int) -> list[Place]:
        """Lone seeds of row r, column c, in the order of picking up.

        They lie end to end in the pocket of the lane beside their tile's.
        """
        first = -self.reach / 2 + self.seed.length / 2
        heights = [first + i * self.seed.length for i in range(self.hinge)]
        middle = self._lane(r + 1, c)
        places = [place(self.origin(r), middle + height, 0.0) for height in heights]
        return places if r % 2 else places[::-1]

    def _lane(self, r: int, c: int) -> float:
        return self.column * (c - 1) + (self.column / 2 if r % 2 else 0.0)

    def mouth(self, tile: Place, hole: Hole, *, upper: bool) -> Point:
        """The upper or the lower mouth of a tile's hole."""
        bead = Bead(0, "tile", self.tile.name, "", tile)
        _, _, x, y = self._mouths.ends(bead, hole, upper)
        return (x, y)

    @cached_property
    def _mouths(self) -> Mouths:
        return Mouths({self.tile.name: self.tile})

    def off(self, tile: Place, mouth: Point, *, upper: bool) -> Point:
        """A point that stands off a mouth, where the seed next to it ends."""
        away = self.seed.diameter * STAND_OFF * (1 if upper else -1)
        angle = math.radians(tile.tilt)
        return (mouth[0] - away * math.sin(angle), mouth[1] + away * math.cos(angle))

    def cap(self, r: int, columns: int) -> list[Place]:
        """The turn seeds of row r, in the order of picking up, from lone seeds to hole b."""
        upper = r % 2 == 1
        c = columns if upper else 1
        tile = self.tile_at(r, c)
        lone = [seed.y for seed in self.lone_seeds_at(r - 1, c)]
        half = self.seed.length / 2
        start = (self.origin(r - 1), max(lone) + half if upper else min(lone) - half)
        end = self.off(tile, self.mouth(tile, "b", upper=upper), upper=upper)
        number = self.cap_seeds - self.hinge
        seeds = chain_on_arc(start, end, self.seed.length, number, 1 if upper else -1)
        # A down row meets them against the upward direction that tilts are told in.
        return seeds if upper else list(reversed(reversed_way(seeds)))

    def group(self, c: int, columns: int) -> list[Place]:
        """The seeds of group S(c) of the strung row, c = 1 ... columns + 1, upwards."""
        length = self.seed.length
        if c > columns:  # caps tile N from its hole a round to its hole b
            tile = self.tile_at(1, columns)
            a, b = (self.mouth(tile, hole, upper=True) for hole in ("a", "b"))
            start, end = self.off(tile, a, upper=True), self.off(tile, b, upper=True)
            return chain_on_arc(start, end, length, self.cap_seeds, 1)
        top = _middle(
            self.mouth(self.tile_at(1, c), "a", upper=False),
            self.mouth(self.tile_at(2, c), "a", upper=False),
        )
        if self.hinge > 1:
            # The pocket is long, so the group bows out: it ends below the tile that comes next,
            # lest the thread to that cross it.
            tile = self.tile_at(1, c)
            top = self.off(tile, self.mouth(tile, "a", upper=False), upper=False)
        if c == 1:  # caps row 2's tile of column 1 at the lower edge
            tile = self.tile_at(2, 1)
            bottom = self.off(tile, self.mouth(tile, "b", upper=False), upper=False)
        else:  # fills the gap at the start edge, down to the two holes of the tile below
            tile = self.tile_at(1, c - 1)
            holes = (self.mouth(tile, hole, upper=True) for hole in ("a", "b"))
            bottom = self.off(tile, _middle(*holes), upper=True)
        return chain_on_arc(bottom, top, length, self.cap_seeds, 1)


def _middle(p: Point, q: Point) -> Point:
    return ((p[0] + q[0]) / 2, (p[1] + q[1]) / 2)


@record(slots=False)
class Numbers:
    """The number of each bead of the band, in the order of picking up."""

    columns: int
    hinge: int = HINGE
    cap: int = CAP

    def group(self, c: int) -> list[int]:
        """The seeds of group S(c) of the strung row, c = 1 ... columns + 1, upwards."""
        return [(self.cap + 1) * (c - 1) + i for i in range(self.cap)]

    def tile(self, r: int, c: int) -> int:
        """Tile of row r, column c."""
        if r == 1:
            return (self.cap + 1) * c - 1
        return self.lone(r, c, up=bool(r % 2))[-1] + 1

    def lone(self, r: int, c: int, *, up: bool) -> list[int]:
        """Lone seeds of row r (from 2), column c, upwards or downwards.

        They are picked up just before the tile.
        """
        first = self._first(r) + (self.hinge + 1) * (c - 1 if r % 2 else self.columns - c)
        picked_up = list(range(first, first + self.hinge))
        return picked_up if up == bool(r % 2) else picked_up[::-1]

    def turn(self, r: int) -> list[int]:
        """The seeds that row r (from 3) turns with, in the order of picking up."""
        first = self._first(r) + (self.hinge + 1) * self.columns
        return [first + i for i in range(self.cap - self.hinge)]

    def end(self, rows: int) -> int:
        """The number of the first bead after so many rows (3 or more)."""
        return self._first(rows + 1)

    def _first(self, r: int) -> int:
        second = (self.cap + 1) * self.columns + self.cap
        if r == 2:
            return second
        across = (self.hinge + 1) * self.columns
        return second + across + (r - 3) * (across + self.cap - self.hinge)


@record(slots=False)
class Ahead:
    """The working end of a band, told in the way of levelling.

    A band whose last row went up is mirrored: k = 1 ... N are the gaps of the end in the order in
    which levelling fills them, whichever way that is.
    """

    numbers: Numbers
    rows: int

    @property
    def up(self) -> bool:
        """Whether levelling goes up."""
        return self.rows % 2 == 0

    def column(self, k: int) -> int:
        """The column of gap k."""
        return k if self.up else self.numbers.columns + 1 - k

    def tile(self, r: int, k: int) -> int:
        """Tile of row r that stands at gap k."""
        return self.numbers.tile(r, self.column(k))

    def lone(self, r: int, k: int, *, ahead: bool = True) -> list[int]:
        """Lone seeds of row r at gap k, in the way of levelling or against it."""
        return self.numbers.lone(r, self.column(k), up=self.up == ahead)

    def level(self, k: int) -> list[int]:
        """The levelling seeds of gap k, in the order of picking up."""
        number = self.numbers.cap - self.numbers.hinge
        first = self.numbers.end(self.rows) + number * (k - 1)
        return [first + i for i in range(number)]

    def inner(self, k: int) -> list[int]:
        """What leads from the tile of gap k into the work, to the lone seed of the row before.

        It is the tile below; at the edge, where there is none, the seeds of the last turn.
        """
        if k > 1:
            return [self.tile(self.rows - 1, k - 1)]
        return self.numbers.turn(self.rows)[::-1]
