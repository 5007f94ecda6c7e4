"""Two-hole brick: rows of tiles side by side, each tile over the joint of two of the row before.

The holes run along the band. Row 1 is a ladder across it: pick up a tile, circle through the hole
before that lies beside its own, go on through the tile's other hole. A later row is worked from the
edge at which the row before ended, towards the other:

- its first tile stands half over the edge. It is picked up by the hole that is over the last tile
  of the row before; the needle goes round through its outer hole and through the first again, and
  comes out ahead;
- every other tile is picked up by the hole at its nearer side, towards the work: go on through the
  hole right below it, come back up through the next hole, that of the next tile, and through the
  tile's other hole.

So each tile is sewn to both tiles under it, the thread lies across joints, and only round the
tiles of row 1 and the first of each row it lies along a tile's end (common practice, told from
memory). A row ends half a tile further in, so the edges stand half a tile to and fro.

Tiles lie across the band at their length, along it at their passage. The holes of two rows meet
best where they are half a tile apart; what they are off, the thread bridges.
"""

from __future__ import annotations

from tracker.design.demands import Demands
from tracker.design.model import Design
from tracker.path.band import Band
from tracker.path.builder import PathBuilder
from tracker.path.gauge import Gauge
from tracker.path.model import Heading, Hole, ThreadPath
from tracker.path.plane import place
from tracker.path.proof.expected import Expected
from tracker.path.wording import Run, Wording, called
from tracker.stitches.stitch import Stitch, shapes_of
from tracker.stitches.two_hole_ladder import GIVE, SPREAD

MOST_OFF = 0.2
"""Holes of two rows may lie this share of a tile's length beside each other."""


def gauge(design: Design) -> Gauge:
    """Row pitch, width and length, by the tiles' own sizes; rows stand half a tile to and fro."""
    tile = design.own_tile
    return Gauge(
        start=0.0,
        pitch=tile.passage,
        width=(design.lanes + 0.5) * tile.length,
        pitch_spread=SPREAD,
        start_spread=0.5,
        width_spread=SPREAD,
    )


def unsuited(design: Design) -> str:
    """Why the holes of two rows do not meet, else ""."""
    tile = design.own_tile
    off = abs(tile.length / 2 - tile.hole_spacing)
    if off <= MOST_OFF * tile.length:
        return ""
    return f"the holes of {tile.name} beads lie {off:.1f} mm beside those of the next row"


# --- the path ------------------------------------------------------------------------------


def weave(design: Design, rows: int) -> ThreadPath:
    """The thread path of `rows` rows (2 or more)."""
    work = _Work(design, rows)
    before = work.ladder()
    for row in range(2, rows + 1):
        before = work.row(row, before)
    return work.build.path()


class _Work:
    """Tiles of a row are listed in the order in which they are picked up."""

    def __init__(self, design: Design, rows: int) -> None:
        self.build = PathBuilder(shapes_of(design))
        self._tile = design.own_tile
        self._lanes = design.lanes
        self._colour = STITCH.colouring(design, rows)
        self._row = 0
        self._tilts: list[float] = []

    def ladder(self) -> list[int]:
        """Row 1: back in every hole a, ahead in every hole b."""
        self._start(1)
        there: list[int] = []
        for lane in range(1, self._lanes + 1):
            new = self._pick_up(lane, ahead=False)
            if there:
                self._go(there[-1], "b", ahead=True)
                self._go(new, "a", ahead=False)
            self._go(new, "b", ahead=True)
            self.build.end_step()
            there.append(new)
        self.build.end_row()
        return there

    def row(self, row: int, before: list[int]) -> list[int]:
        """A row upon the one before: the tile over the edge, and those over joints."""
        self._start(row)
        first, *lanes = range(1, self._lanes + 1) if row % 2 else range(self._lanes, 0, -1)
        edge = self._pick_up(first, ahead=True)
        self._go(edge, "b", ahead=False)
        self._go(edge, "a", ahead=True)
        self.build.end_step()
        there = [edge]
        for lane, one, other in zip(lanes, before[:0:-1], before[-2::-1], strict=True):
            new = self._pick_up(lane, ahead=False)
            self._go(one, "a", ahead=False)
            # The row before began with the last of these, by its hole over the work.
            over_edge = row > 2 and other == before[0]
            self._go(other, "a" if over_edge else "b", ahead=True)
            self._go(new, "b", ahead=True)
            self.build.end_step()
            there.append(new)
        self.build.end_row()
        return there

    def _start(self, row: int) -> None:
        heading: Heading = "up" if row % 2 else "down"
        self._row = row
        section = "start" if row == 1 else "rows"
        self.build.start_row(section, heading, (row - 1) * self._tile.passage)

    def _pick_up(self, lane: int, *, ahead: bool) -> int:
        """A new tile, its hole a at the nearer side; of one that begins ahead at the farther."""
        row, tile = self._row, self._tile
        a_is_lower = (row % 2 == 1) != ahead
        self._tilts.append(90.0 if a_is_lower else -90.0)
        halves = 2 * lane - 1 + (row - 1) % 2
        at = place((row - 1) * tile.passage, halves / 2 * tile.length, self._tilts[-1])
        back = self._against(self._tilts[-1], ahead=ahead)
        return self.build.pick_up(tile.name, self._colour(row, lane), at, back=back)

    def _go(self, bead: int, hole: Hole, *, ahead: bool) -> None:
        self.build.go_through(bead, hole, back=self._against(self._tilts[bead], ahead=ahead))

    def _against(self, tilt: float, *, ahead: bool) -> bool:
        """Whether a pass ahead, or back, through a tile of that tilt is against the heading."""
        up = ahead == (tilt < 0)
        return up != (self._row % 2 == 1)


# --- what a proof must find -----------------------------------------------------------------


def expected(band: Band) -> Expected:
    """The counts, by formula, of each tile in the order of picking up.

    For itself a tile of row 1 is gone through twice by each hole, but once by hole a of the first
    and hole b of the last; the tile over an edge twice by hole a and once by hole b, any other
    once by each. The next row goes once through the holes on either side of each joint. Holes a are
    on the side where a pass back counts as upward in odd rows, holes b in even ones; over an edge
    both are turned round.
    """
    lanes, rows, tile = band.lanes, band.rows, band.own_tile
    passes, upward = bytearray(), bytearray()
    for row in range(1, rows + 1):
        by_a = [1, *[2] * (lanes - 1)] if row == 1 else [2, *[1] * (lanes - 1)]
        by_b = [*[2] * (lanes - 1), 1] if row == 1 else [1] * lanes
        if row < rows:
            over_edge = row > 1
            by_a = [n + (i > 0 or over_edge) for i, n in enumerate(by_a)]
            by_b = [n + (i < lanes - 1 and (i > 0 or not over_edge)) for i, n in enumerate(by_b)]
        passes += bytes(a + b for a, b in zip(by_a, by_b, strict=True))
        upward += bytes(by_a if row % 2 else by_b)
    joint = max(tile.length - tile.hole_spacing, abs(tile.length / 2 - tile.hole_spacing))
    return Expected(
        tiles=lanes * rows,
        seeds=0,
        passes=bytes(passes),
        upward=bytes(upward),
        longest_span=joint + GIVE,
        round_end=tile.hole_spacing + GIVE,
        refilled=True,
    )


# --- words -----------------------------------------------------------------------------------


def through(run: Run, *, full: bool) -> str:
    """The tile's own holes, the one before it in the ladder, or the two holes below it."""
    tile = " ".join(called(run.beads, run.beads.bead(run.first.bead)))
    if run.just_added:
        if run.first.hole == "a":
            return f"the first hole of the {tile} again" if full else "first hole again"
        return f"the other hole of the {tile} you just added" if full else "other hole"
    if run.row.number == 1:
        return (
            f"the near hole of the {tile} before, the same way as before"
            if full
            else "near hole before"
        )
    which = "hole below" if run.first in run.step.passes[:2] else "next hole"
    return f"the {which}, of the {tile}" if full else which


def hint(row: int, step: int, _lanes: int) -> str:
    """What a learner should see."""
    if row == 1:
        return "the tiles lie flat, edge to edge; the thread comes out ahead each time"
    if step == 1:
        return "half of this tile stands out over the edge; the thread comes out of its inner hole"
    return "the tile sits over the joint of two, sewn to both; the thread comes out ahead"


STITCH = Stitch(
    name="two-hole brick",
    demands=Demands(
        tile=True,
        seed=False,
        own_seeds=False,
        across="lanes",
        least=2,
        most=40,
        usual=3,
        in_rank=1,
    ),
    gauge=gauge,
    weave=weave,
    expected=expected,
    wording=Wording(through=through, together=lambda run: run.first),
    unsuited=unsuited,
    hint=hint,
)
