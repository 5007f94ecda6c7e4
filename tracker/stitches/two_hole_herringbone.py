"""Two-hole herringbone: tiles that stand like the blocks of a herringbone parquet.

Odd rows are worked up, even rows down. Every row puts one new tile in every other lane; its
hole a is filled when it is picked up, its hole b when the next row comes by. The lone seed
between two tiles is the hinge.

The geometry is the closed form for a near fit at theta = 45 degrees, tile ends jammed against
their neighbours' sides. It was checked against layouts relaxed on a taut thread (half tile,
15/0, hole spacing 2.8 to 3.2): row pitch within 2.5 %, column width within 6 %.
"""

from __future__ import annotations

import math
from dataclasses import replace

from tracker.beads.catalogue import seeds
from tracker.beads.model import Seed, Tile
from tracker.design.demands import Demands
from tracker.design.layout import tile_colour
from tracker.design.model import NO_CLOSURE, Design
from tracker.path.band import Band
from tracker.path.builder import PathBuilder
from tracker.path.gauge import Gauge
from tracker.path.model import Heading, Place, ThreadPath
from tracker.path.proof.expected import Expected
from tracker.path.wording import listed
from tracker.stitches.herringbone_counts import with_closure
from tracker.stitches.herringbone_ends import close_ends, shapes_of
from tracker.stitches.herringbone_lattice import CAP, HINGE, THETA, Lattice
from tracker.stitches.herringbone_words import WORDING
from tracker.stitches.stitch import Stitch

NAME = "two-hole herringbone"

REPEATS_FROM = 8
"""Rows after which the moves are those of the row before last: all that they reach is regular."""
MOST_HINGE = 4
"""No more seeds are put at a hinge, however small they are."""
START_GROUP_ROOM = 0.4
"""What the groups of the strung row add to the band's length, mm."""


def gauge(design: Design) -> Gauge:
    """Row pitch, width and length of the band, with what they are good for."""
    lattice = lattice_of(design)
    tile = lattice.tile
    angle = math.radians(THETA)
    near = is_near_fit(lattice)
    return Gauge(
        start=tile.length * math.cos(angle)
        + tile.passage * math.sin(angle)
        + START_GROUP_ROOM
        - lattice.pitch,
        pitch=lattice.pitch,
        width=(design.columns - 0.5) * lattice.column
        + tile.length * math.sin(angle)
        + tile.passage * math.cos(angle),
        pitch_spread=0.04 if near else 0.20,
        start_spread=0.5,
        width_spread=0.06 if near else 0.20,
    )


def lattice_of(design: Design) -> Lattice:
    """Where the beads of a design lie, as many at hinges and caps as it says or as fit."""
    tile, seed = design.own_tile, design.own_seed
    hinge, cap = _chosen(tile, seed, design.hinge, design.cap)
    return Lattice(tile, seed, hinge, cap)


def _chosen(tile: Tile, seed: Seed, hinge: int, cap: int) -> tuple[int, int]:
    """Seeds at the hinge and at the cap: those given, else as many as fit.

    At least 1 at the hinge, for a band without hinges is no herringbone; and at the cap at least
    one more than that, for the turn.
    """
    hinge = hinge or min(max(1, hinge_seeds(tile, seed)), max(1, cap - 1) if cap else MOST_HINGE)
    return hinge, cap or max(hinge + 1, cap_seeds(tile, seed))


def is_near_fit(lattice: Lattice) -> bool:
    """Whether the closed form holds: the lone seeds fill the pocket and no more."""
    tile, seed, reach = lattice.tile, lattice.seed, lattice.reach
    pocket = tile.length - tile.passage
    return (
        hinge_seeds(tile, seed) == lattice.hinge
        and tile.hole_spacing - tile.passage <= reach
        and abs(tile.length - tile.hole_spacing - 2 * reach) <= pocket / 2
    )


def hinge_seeds(tile: Tile, seed: Seed) -> int:
    """How many seeds fit the pocket between four tiles, end to end."""
    return max(0, math.floor(pocket_of(tile, seed) / seed.length + 1e-9))


def pocket_of(tile: Tile, seed: Seed) -> float:
    """How much room the pocket between four tiles leaves along it, mm (0.15 mm of tolerance)."""
    return tile.length - tile.passage + 0.15 - seed.diameter


def cap_seeds(tile: Tile, seed: Seed) -> int:
    """How many seeds reach from hole to hole round a tile's end, the lone seed counted."""
    return math.floor((tile.hole_spacing + seed.diameter / 2) / seed.length + 1e-9)


def unsuited(design: Design) -> str:
    """Why the beads of a design do not suit each other and which seeds would, else ""."""
    tile, seed = design.own_tile, design.own_seed
    lattice = lattice_of(design)
    hinge, cap = hinge_seeds(tile, seed), cap_seeds(tile, seed)
    if lattice.hinge > hinge:
        number = "" if lattice.hinge == 1 else f"{lattice.hinge} "
        what = f"{number}{seed.name} seeds are too thick for the pocket between {tile.name} beads"
        return what if hinge else f"{what}, {_what_would(tile)}"
    if lattice.hinge < hinge:
        what = f"{hinge} {seed.name} seeds fit the pocket between {tile.name} beads"
        return f"{what}, {lattice.hinge} {'leaves' if lattice.hinge == 1 else 'leave'} a gap"
    if lattice.cap_seeds != cap:
        what = f"round the end of a {tile.name} {cap} {seed.name} seeds would lie"
        return f"{what}, {lattice.cap_seeds} are used"
    return ""


def _what_would(tile: Tile) -> str:
    fitting = [seed.name for seed in seeds().values() if hinge_seeds(tile, seed) >= 1]
    if not fitting:
        return "which leave no pocket for any: the weave is forced open"
    return f"{listed(fitting, ' or ')} would fit"


# --- the path ------------------------------------------------------------------------------


def weave(design: Design, rows: int) -> ThreadPath:
    """The thread path of `rows` rows (2 or more): the strung row, the return, the rows.

    A design with a closure has both ends behind them (4 rows or more).
    """
    return _Weave(design, rows).path()


class _Weave:
    def __init__(self, design: Design, rows: int) -> None:
        self._design = design
        self._columns = design.columns
        self._rows = rows
        self._lattice = lattice_of(design)
        self._tile, self._seed = design.own_tile.name, design.own_seed.name
        self._seed_colour = design.layout.seeds
        self._tile_colour = tile_colour(design.layout, design.columns, rows)
        self._build = PathBuilder(shapes_of(design))
        # Tiles of the last three rows and lone seeds of the last two, by column: all that a
        # row can reach.
        self._tiles: dict[int, dict[int, int]] = {}
        self._lone: dict[int, dict[int, list[int]]] = {}

    def path(self) -> ThreadPath:
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


# --- what a proof must find -----------------------------------------------------------------


def band_of(design: Design, rows: int) -> Band:
    """The band of a design in the numbers that its counts are told by."""
    lattice = lattice_of(design)
    return Band(
        lanes=design.wide,
        rows=rows,
        tile=lattice.tile,
        seed=lattice.seed,
        hinge=lattice.hinge,
        cap=lattice.cap_seeds,
        closure=design.closure,
    )


def expected(band: Band) -> Expected:
    """The counts of the finished path, by formula; with a closure those of both ends as well."""
    woven = _expected_band(band)
    if band.closure != NO_CLOSURE:
        woven = with_closure(woven, band)
    lattice = Lattice(band.own_tile, band.own_seed, band.hinge, band.cap)
    # The places are worked out for a near fit with the usual cap. Where seeds fit less well, groups
    # and loops may be drawn across their neighbours, though the thread lies flat; where less than
    # half of a seed fits, there is nothing to be drawn that could be trusted.
    usual = is_near_fit(lattice) and band.cap == band.hinge + CAP - HINGE
    no_pocket = pocket_of(lattice.tile, lattice.seed) < lattice.reach / 2
    return replace(woven, drawn=usual or (no_pocket and band.closure == NO_CLOSURE))


def _expected_band(band: Band) -> Expected:
    """The counts of the band itself.

    With k seeds at a hinge and m at a cap, N R tiles and m (N + 1) + k N (R - 1) + (m - k) (R - 2)
    seeds: (N + 2) R + 2 N - 1 for k = 1 and m = 3. Of the last row all tiles but the one at the
    turn stand open. Lone seeds and the groups S1 ... SN hold the thread twice (the last row's lone
    seeds once), the group S(N + 1) and the turn seeds once. The cap at the first turn hangs on
    its own tile alone; in a band of two rows nothing else holds the columns together, so each
    hangs on the one below.
    """
    columns, rows, hinge, cap = band.columns, band.rows, band.hinge, band.cap
    strung = [2 if c <= columns else 1 for c in range(1, columns + 2)]
    passes = bytearray()
    for c in range(1, columns + 1):
        passes += bytes([strung[c - 1]] * cap + [2])
    passes += bytes([strung[columns]] * cap)
    middle_row = bytes([2] * (hinge + 1) * columns)
    last_row = bytes([1] * (hinge + 1) * (columns - 1) + [1] * hinge + [2])
    turn_seeds = bytes([1] * (cap - hinge))
    first_of_last = len(passes)
    if rows > 2:
        passes += middle_row
        passes += (middle_row + turn_seeds) * (rows - 3)
        first_of_last = len(passes)
    passes += last_row + (turn_seeds if rows > 2 else b"")
    open_tiles = frozenset(first_of_last + (hinge + 1) * i + hinge for i in range(columns - 1))
    first_turn_tile = (cap + 1) * columns - 1
    return Expected(
        tiles=columns * rows,
        seeds=cap * (columns + 1) + hinge * columns * (rows - 1) + (cap - hinge) * (rows - 2),
        passes=bytes(passes),
        open_tiles=open_tiles,
        # In every row after the return the needle passes by a tile, but in the last column.
        passed_by=(columns - 1) * (rows - 2),
        hinges=frozenset({first_turn_tile} if rows > 2 else range(cap, first_turn_tile + 1)),
        longest_span=longest_span(band),
    )


def longest_span(band: Band) -> float:
    """The longest bare thread that the weave explains, mm: 2.0 for the half tile.

    Nowhere does the thread reach over more than half the way from hole to hole and a third of a
    seed's thickness, or half of it where the seeds force a pocket open that is too small for them.
    """
    tile, seed = band.own_tile, band.own_seed
    forced = band.hinge > hinge_seeds(tile, seed)
    return tile.hole_spacing / 2 + seed.diameter / (2 if forced else 3)


# --- what a learner should see ---------------------------------------------------------------


_HINTS = {
    "strung": {
        "first": "leave the tail; a stop bead or two fingers keep the beads from sliding off",
        "middle": "keep the order; nothing holds its shape yet",
        "edge": "keep the order; nothing holds its shape yet",
        "turn": "the last seeds fold over the tile's end; leave the string a little slack",
    },
    "return": {
        "first": "the new tile comes to lie beside the string; pull gently",
        "middle": "the new tile comes to lie beside the string; pull gently",
        "edge": "working thread and tail now leave the same seed",
        "turn": "now pull tight: the tiles tip into their slant, and the work holds its shape",
    },
    "row": {
        "first": "the lone seed is the single one that the row before put there",
        "middle": "the lone seed is the single one that the row before put there",
        "edge": "at the edge no tile stands out: the lone seed only",
        "turn": "never leave these out: with the lone seed they cap the edge",
    },
}
"""The start is the hard part: nothing holds its shape until the second turn is pulled tight."""


def hint(row: int, step: int, lanes: int) -> str:
    """What a learner should know or see at a step; row and step count from 1."""
    columns = lanes // 2
    kind = {1: "strung", 2: "return"}.get(row, "row")
    ends = {1: "first", columns: "edge", columns + 1: "turn"}
    return _HINTS[kind][ends.get(step, "middle")]


STITCH = Stitch(
    name=NAME,
    demands=Demands(hinges=True, closures=True),
    gauge=gauge,
    weave=weave,
    band=band_of,
    expected=expected,
    wording=WORDING,
    unsuited=unsuited,
    hint=hint,
)
