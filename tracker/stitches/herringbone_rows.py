"""The rows of two-hole herringbone: what is picked up, and what is gone through."""

from __future__ import annotations

from tracker.design.layout import tile_colour
from tracker.design.model import NO_CLOSURE, Design
from tracker.path.builder import PathBuilder
from tracker.path.model import Heading, Place, ThreadPath
from tracker.stitches.herringbone_ends import close_ends, shapes_of
from tracker.stitches.herringbone_lattice import Lattice

REPEATS_FROM = 8
"""Rows after which the moves are those of the row before last: all that they reach is regular."""


class Weave:
    """A design woven to so many rows."""

    def __init__(self, design: Design, rows: int, lattice: Lattice) -> None:
        self._design = design
        self._columns = design.columns
        self._rows = rows
        self._lattice = lattice
        self._tile, self._seed = design.own_tile.name, design.own_seed.name
        self._seed_colour = design.layout.seeds
        self._tile_colour = tile_colour(design.layout, design.columns, rows)
        self._build = PathBuilder(shapes_of(design))
        # Tiles of the last three rows and lone seeds of the last two, by column: all that a
        # row can reach.
        self._tiles: dict[int, dict[int, int]] = {}
        self._lone: dict[int, dict[int, list[int]]] = {}

    def path(self) -> ThreadPath:
        """The whole path, with both ends behind the rows where the design has a closure."""
        groups = self._strung_row()
        self._return(groups)
        for r in range(3, min(self._rows, REPEATS_FROM) + 1):
            self._row(r)
            del self._tiles[r - 2], self._lone[r - 2]
        for r in range(REPEATS_FROM + 1, self._rows + 1):
            self._row_again(r)
        if self._design.closure != NO_CLOSURE:
            close_ends(self._build, self._design, self._lattice, self._rows)
        return self._build.path()

    def _strung_row(self) -> list[list[int]]:
        """Row 1, up: a group of seeds, tile 1, a group, ... a group; back through tile N."""
        build, columns, lattice = self._build, self._columns, self._lattice
        build.start_row("start", "up", lattice.origin(1))
        groups = []
        self._tiles[1], self._lone[1] = {}, {}
        for c in range(1, columns + 1):
            groups.append(self._pick_up_seeds(lattice.group(c, columns)))
            self._pick_up_tile(1, c)
            build.end_step()
        groups.append(self._pick_up_seeds(lattice.group(columns + 1, columns)))
        build.go_through(self._tiles[1][columns], "b", back=True)
        build.end_step(turn=True)
        build.end_row()
        return groups

    def _return(self, groups: list[list[int]]) -> None:
        """Row 2, down: hinge and tile, the group, the open hole; turn without seeds."""
        build = self._build
        build.start_row("start", "down", self._lattice.origin(2))
        self._tiles[2], self._lone[2] = {}, {}
        for c in range(self._columns, 0, -1):
            self._pick_up_hinge_and_tile(2, c)
            for seed in reversed(groups[c - 1]):
                build.go_through(seed)
            if c > 1:
                build.go_through(self._tiles[1][c - 1], "b")
            build.end_step()
        build.go_through(self._tiles[2][1], "b", back=True)
        build.end_step(turn=True)
        build.end_row()

    def _row(self, r: int) -> None:
        """Row 3 and on, either heading."""
        build, columns = self._build, self._columns
        heading: Heading = "up" if r % 2 else "down"
        across = list(range(1, columns + 1) if heading == "up" else range(columns, 0, -1))
        build.start_row("rows", heading, self._lattice.origin(r))
        self._tiles[r], self._lone[r] = {}, {}
        for c, next_c in zip(across, [*across[1:], None], strict=True):
            self._pick_up_hinge_and_tile(r, c)
            for seed in reversed(self._lone[r - 1][c]):
                build.go_through(seed)
            if next_c is not None:
                build.pass_by(self._tiles[r - 2][c])
                build.go_through(self._tiles[r - 1][next_c], "b")
            build.end_step()
        self._pick_up_seeds(self._lattice.cap(r, columns))
        build.go_through(self._tiles[r][across[-1]], "b", back=True)
        build.end_step(turn=True)
        build.end_row()

    def _row_again(self, r: int) -> None:
        """A row of the middle: the moves of the row before last, some columns of beads later."""
        lattice, across = self._lattice, range(1, self._columns + 1)
        heading: Heading = "up" if r % 2 else "down"
        self._build.start_row("rows", heading, lattice.origin(r))
        cap = lattice.cap(r, self._columns)
        hinge = self._seed_colour * lattice.hinge
        tiles = (self._tile_colour(r, c) for c in (across if heading == "up" else across[::-1]))
        colours = "".join(hinge + tile for tile in tiles) + self._seed_colour * len(cap)
        self._build.again(2, colours, cap)

    def _pick_up_seeds(self, places: list[Place]) -> list[int]:
        return [self._build.pick_up(self._seed, self._seed_colour, place) for place in places]

    def _pick_up_hinge_and_tile(self, r: int, c: int) -> None:
        self._lone[r][c] = self._pick_up_seeds(self._lattice.lone_seeds_at(r, c))
        self._pick_up_tile(r, c)

    def _pick_up_tile(self, r: int, c: int) -> None:
        self._tiles[r][c] = self._build.pick_up(
            self._tile, self._tile_colour(r, c), self._lattice.tile_at(r, c)
        )
