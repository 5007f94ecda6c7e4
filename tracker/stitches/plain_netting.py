"""Plain netting, flat: loops of three seeds, each hung on the middle seeds of the row before.

The middle seed of a loop is its bridge; the other two are the sides of the meshes and have a colour
of their own. Row 1 strings the first two rows of bridges, by turns, with a side between any two.
From then on: pick up a loop (side, bridge, side) and go through the bridge of the next loop of the
row before. So each loop comes to lie over a bridge that is full, and its own bridge waits.

**The turn.** From row 3 on the first loop of a row takes 5 seeds: a side and an edge seed round the
edge, then the usual three. In row 2 the last seed of the string is that edge seed. The last row
ends at its last bridge and leaves no edge seed behind, which nothing would hold. (All of this is
common practice, told from memory.)

Lanes are the bridges' own, lane 1 and the last one are the edge seeds'. A bridge's hole runs
across the band, an edge seed's along it, the sides stand between them.

A net is loose and gives either way. It is laid out here with its sides at 45 degrees, as a net is
pinned (common practice, from memory), and room for the seeds' roundness wherever two sides
meet; hence the wide range. Pulled along the band a row cannot get longer than a side with its room,
pushed together no shorter than half a seed: then the bridges of a lane meet.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

from tracker.beads.model import Seed
from tracker.design.demands import Demands
from tracker.design.model import Design
from tracker.path.band import Band
from tracker.path.builder import PathBuilder
from tracker.path.gauge import Gauge
from tracker.path.model import Heading, Place, ThreadPath
from tracker.path.plane import place
from tracker.path.proof.expected import Expected
from tracker.path.wording import Run, Wording, called
from tracker.stitches.stitch import Stitch, shapes_of

FORK = 0.375
"""Room before a side where two of them part at a right angle, as a share of the seeds' diameter:
that of right-angle weave's corners."""
MOUTH = 0.1
"""Room from a bridge's mouth to where its sides part, likewise: round seeds nestle there."""
OUTWARD = 0.15
"""How much further out than a bridge's mouth an edge seed lies, likewise: it lies along the band
and must clear its two sides. (These three were chosen so that no seeds overlap.)"""
SPREAD = 0.2
"""Expected error of pitch and width, as a share: a net gives."""
DIAGONAL = math.sqrt(0.5)
"""Sine and cosine of 45 degrees."""
GIVE = 0.1
"""How much longer a bare thread may be than the layout says, mm: places are rounded."""

Spot = tuple[int, int]
"""A bridge by its row of beads and its lane, both from 1."""


class Net(NamedTuple):
    """The measures of a net, mm, and where its seeds lie."""

    lanes: int
    diameter: float
    pitch: float
    """Along the band, from a row of bridges to the next; even in hundredths, so that half of it
    is exact and all rows lie alike."""
    lane: float
    """Across, from lane to lane."""
    edge: float
    """Across, from an edge seed to the lane beside it."""

    @classmethod
    def of(cls, seed: Seed, lanes: int) -> Net:
        """The net of a seed, so many lanes wide."""
        side = seed.length + 2 * FORK * seed.diameter
        pitch = round(side * DIAGONAL * 50) / 50
        lane = seed.length + 2 * MOUTH * seed.diameter + pitch
        return cls(
            lanes, seed.diameter, pitch, lane, lane / 2 + pitch / 2 + OUTWARD * seed.diameter
        )

    @property
    def width(self) -> float:
        """Over the seeds of both edges, mm."""
        return (self.lanes - 3) * self.lane + 2 * self.edge + self.diameter

    def bridge(self, spot: Spot) -> Place:
        """Where a bridge lies, its hole across the band; an edge seed lies along it."""
        beads_row, lane = spot
        x = (beads_row - 1) * self.pitch
        if lane in (1, self.lanes):
            y = self.diameter / 2
            return place(x, y if lane == 1 else self.width - y, -90.0)
        return place(x, self.diameter / 2 + self.edge + (lane - 2) * self.lane, 0.0)

    def side(self, one: Spot, other: Spot) -> Place:
        """Where the side between two bridges lies, or a bridge and an edge seed."""
        inner, outer = (other, one) if one[1] in (1, self.lanes) else (one, other)
        x, y, _ = self.bridge(inner)
        along, across = (1 if o > i else -1 for i, o in zip(inner, outer, strict=True))
        # Round the edge a side stands as it does in any mesh.
        return place(x + along * self.pitch / 2, y + across * self.lane / 2, -45.0 * along * across)


def gauge(design: Design) -> Gauge:
    """Pitch, width and length of the net with its sides at 45 degrees."""
    net = Net.of(design.own_seed, design.lanes)
    return Gauge(
        start=net.diameter,
        pitch=net.pitch,
        width=net.width,
        pitch_spread=SPREAD,
        start_spread=0.5,
        width_spread=SPREAD,
    )


def weave(design: Design, rows: int) -> ThreadPath:
    """The thread path of `rows` rows (2 or more)."""
    return _Weave(design, rows).path(rows)


class _Weave:
    def __init__(self, design: Design, rows: int) -> None:
        self._net = Net.of(design.own_seed, design.lanes)
        self._seed, self._sides = design.own_seed.name, design.layout.seeds
        self._colour = STITCH.colouring(design, rows)
        self._build = PathBuilder(shapes_of(design))
        self._up = True
        # By lane: the bridges that are now on top.
        self._top: dict[int, int] = {}

    def path(self, rows: int) -> ThreadPath:
        self._strung_row()
        for row in range(2, rows + 1):
            self._row(row)
        return self._build.path()

    def _strung_row(self) -> None:
        build, lanes = self._build, self._net.lanes
        build.start_row("start", "up", 0.0)
        for lane in range(2, lanes + 1):
            beads_row = 2 - lane % 2
            self._bridge(beads_row, lane)
            if lane < lanes:
                self._side((beads_row, lane), (3 - beads_row, lane + 1))
            if lane == lanes or lane % 2:
                build.end_step()
        build.end_row()

    def _row(self, row: int) -> None:
        lanes = self._net.lanes
        heading: Heading = "up" if row % 2 else "down"
        self._up = heading == "up"
        onwards = 1 if self._up else -1
        over = range(2, lanes - 1, 2) if self._up else range(lanes - 1, 2, -2)
        self._build.start_row("rows", heading, row * self._net.pitch)
        for lane in over:
            turns = lane == over[0]
            came = (row, lane - onwards)
            if turns and row > 2:
                self._side((row - 1, lane), came)
                self._bridge(row, lane - onwards)
            in_the_way = self._top[lane]
            self._side(came, (row + 1, lane))
            self._bridge(row + 1, lane)
            self._side((row + 1, lane), (row, lane + onwards))
            self._build.pass_by(in_the_way)
            self._build.go_through(self._top[lane + onwards])
            self._build.end_step(turn=turns)
        self._build.end_row()

    def _bridge(self, beads_row: int, lane: int) -> None:
        """Pick up the bridge of a row of beads and a lane, or the edge seed; then it is on top."""
        lies = self._net.bridge((beads_row, lane))
        # An edge seed is always gone through in the way in which the band grows.
        self._top[lane] = self._pick_up(
            self._colour(beads_row, lane), lies, up=self._up or lies.tilt != 0.0
        )

    def _side(self, one: Spot, other: Spot) -> None:
        """Pick up the side on the way from one bridge to another."""
        self._pick_up(self._sides, self._net.side(one, other), up=other[1] > one[1])

    def _pick_up(self, colour: str, lies: Place, *, up: bool) -> int:
        return self._build.pick_up(self._seed, colour, lies, back=up != self._up)


def expected(band: Band) -> Expected:
    """The counts, by formula: 2 lanes - 3 seeds strung, 3 a loop, 2 more at each turn.

    With n = lanes / 2 - 1 loops a row that is 4 n + 1 seeds, 3 n in row 2 and 3 n + 2 in each
    row after. The needle is in every seed once, in every bridge but the last row's and those that
    lie low in the string a second time, the other way, from the next row.

    No bead alone holds a part: each bridge hangs in its own loop and in one of the row after. With
    row 2 alone the loops are a chain, linked by the bridges that stand out of the string.
    """
    loops, rows = band.lanes // 2 - 1, band.rows
    passes, upward = bytearray([2, 1, 1, 1] * loops + [1]), bytearray([1] * (4 * loops + 1))
    for row in range(2, rows + 1):
        met_again = 1 if row < rows else 0
        loop = [1, 1 + met_again, 1]
        # A down row's turn first goes up, an up row's down; both go round the edge the band's way.
        if row % 2:
            ways, turn = [1, 1, 1], [0, 1]
        else:
            ways, turn = [0, met_again, 0], [1, 1]
        if row > 2:
            passes += bytes([1, 1])
            upward += bytes(turn)
        passes += bytes(loop * loops)
        upward += bytes(ways * loops)
    return Expected(
        tiles=0,
        seeds=4 * loops + 1 + 3 * loops * (rows - 1) + 2 * (rows - 2),
        passes=bytes(passes),
        upward=bytes(upward),
        passed_by=loops * (rows - 1),
        hinges=frozenset(range(4, 4 * loops, 4)) if rows == 2 else frozenset(),
        # Through a fork, from a bridge's mouth to a side at 45 degrees.
        longest_span=math.hypot(MOUTH + DIAGONAL * FORK, DIAGONAL * FORK) * band.own_seed.diameter
        + GIVE,
    )


# --- words ------------------------------------------------------------------------------------


def through(run: Run, *, full: bool) -> str:
    """The bridge of the next loop; in row 2 the one that is to stand out of the string."""
    colour, kind = called(run.beads, run.beads.bead(run.first.bead))
    if run.row.number == 2:
        return f"the {colour} {kind} that is fourth along it" if full else f"fourth, {colour}"
    which = "in the middle of the next loop"
    return f"the {colour} {kind} {which}" if full else f"{colour} of the next loop"


def pass_by(run: Run, passed: Sequence[int], *, full: bool) -> str:
    """The full bridge that the new loop lies over; at the turn the thread comes out of it."""
    name = " ".join(called(run.beads, run.beads.bead(passed[0])))
    if run.row.number == 2:
        return f"the {name} that is second along the string" if full else f"second, {name}"
    if run.step.turn:
        return f"the {name} that the thread comes from" if full else f"{name} you came from"
    return f"the {name} below the new loop" if full else f"{name} below"


def hint(row: int, step: int, _lanes: int) -> str:
    """What a learner should see."""
    if row == 1:
        return "keep the tail in hand; row 2 makes the first of every four stand out"
    if row == 2:
        return "a new loop lies over three seeds of the string: pull it snug, not tight"
    if step == 1:
        return "5 seeds at the turn: two go round the edge, three are the first loop"
    return "the middle seed standing out is the free one; the full one lies low, between two loops"


STITCH = Stitch(
    name="plain netting",
    demands=Demands(tile=False, across="lanes", least=4, most=80, every=2, usual=8),
    gauge=gauge,
    weave=weave,
    expected=expected,
    wording=Wording(through=through, pass_by=pass_by),
    hint=hint,
    extra_rows=1,
)
