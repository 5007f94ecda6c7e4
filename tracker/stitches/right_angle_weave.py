"""Right-angle weave with one needle: units of four seeds, each gone round and closed.

Row 1 is a chain. Of its first unit all four seeds are picked up, and going through the first again
ties them to a ring; each further unit shares one seed with the one before, so 3 are picked up and
the thread goes through the seed that it came out of. Then it goes on round, the same way, to the
seed that the next unit shares. At the end of a row it goes on round to the side towards which the
band grows, and the next row comes back: its first unit takes 3 new seeds, every other 2, for it
shares a seed with the unit beside it and one with the row before. Where the thread comes to
that one first, it goes through before anything is picked up, else after.

The needle goes round neighbouring units opposite ways, and never straight over a crossing: there
lies a seed straight ahead, and each step says to pass by it.

A unit is as wide as it is long: the length of the seed that lies along its side, and at either end
room for the seeds that stand across. Round seeds nestle there, so that is less than their
diameter. Three quarters of it gives 8 to 9 units an inch in round 11/0 (common practice, from
memory); tension makes much of it, hence the wide range.

Sharing two seeds with its neighbours, no unit hangs on one seed alone; but in a band one unit
wide each hangs on the seed that it shares with the one before.
"""

from __future__ import annotations

import math

from tracker.beads.model import Seed
from tracker.design.demands import Demands
from tracker.design.model import Design
from tracker.path.band import Band
from tracker.path.builder import PathBuilder
from tracker.path.gauge import Gauge
from tracker.path.model import Heading, Place, ThreadPath
from tracker.path.plane import place
from tracker.path.proof.expected import Expected
from tracker.stitches.right_angle_units import (
    Side,
    Spot,
    Unit,
    begins_at,
    goes_up,
    lanes_in,
    leaves_by,
    on_round,
    straight_on,
)
from tracker.stitches.right_angle_words import WORDING, hint
from tracker.stitches.stitch import Stitch, shapes_of

CORNERS = 0.75
"""What the seeds across take of a unit's side, as a share of their diameter (fitted, see above)."""
SPREAD = 0.15
"""Expected error of pitch and width, as a share: units stretch and draw together."""


def side_of(seed: Seed) -> float:
    """From unit to unit, along the band and across (mm).

    Even in hundredths, so that half of it is exact and all rows lie alike.
    """
    return round((seed.length + CORNERS * seed.diameter) * 50) / 50


def gauge(design: Design) -> Gauge:
    """Pitch, width and length by the side of a unit; the seeds of the edges lie half outside."""
    seed = design.own_seed
    side = side_of(seed)
    return Gauge(
        start=seed.diameter,
        pitch=side,
        width=design.lanes * side + seed.diameter,
        pitch_spread=SPREAD,
        start_spread=0.5,
        width_spread=SPREAD,
    )


def weave(design: Design, rows: int) -> ThreadPath:
    """The thread path of `rows` rows of units (2 or more)."""
    return _Weave(design, rows).path()


class _Weave:
    def __init__(self, design: Design, rows: int) -> None:
        self._seed, self._lanes, self._rows = design.own_seed, design.lanes, rows
        self._side = side_of(self._seed)
        self._colour = STITCH.colouring(design, rows)
        self._build = PathBuilder(shapes_of(design))
        # The seeds of this row and of the one before: all that a unit can reach.
        self._there: dict[Spot, int] = {}

    def path(self) -> ThreadPath:
        build, lanes = self._build, self._lanes
        for row in range(1, self._rows + 1):
            heading: Heading = "up" if goes_up(row) else "down"
            section = "start" if row == 1 else "rows"
            build.start_row(section, heading, place_of(Spot(row - 1, 1, "far"), self._side).x)
            for lane in lanes_in(row, lanes):
                self._unit(Unit(row, lane))
            build.end_row()
            self._there = {spot: bead for spot, bead in self._there.items() if spot.row == row}
        return build.path()

    def _unit(self, unit: Unit) -> None:
        build, lanes = self._build, self._lanes
        begins, leaves = begins_at(unit, lanes), leaves_by(unit, lanes)
        order = unit.round_from(begins)
        if unit == (1, 1):
            self._go(unit, begins)
        for side in (*order[1:], begins):
            self._go(unit, side)
        ahead = straight_on(unit)
        if ahead is not None:
            build.pass_by(self._there[ahead])
        if leaves == "far":
            build.end_step()
        for side in on_round(unit, lanes):
            self._go(unit, side)
        build.end_step(turn=leaves == "far")

    def _go(self, unit: Unit, side: Side) -> None:
        """Through the seed on a side, a new one if none is there."""
        spot = unit.spot(side)
        back = spot.up != goes_up(unit.row)
        if spot in self._there:
            self._build.go_through(self._there[spot], back=back)
            return
        self._there[spot] = self._build.pick_up(
            self._seed.name,
            self._colour(unit.row, unit.lane),
            place_of(spot, self._side),
            back=back,
        )


def place_of(spot: Spot, side: float) -> Place:
    """Where a seed lies: far sides straight across the band, upper sides along it."""
    row, lane, which = spot
    if which == "far":
        return place(row * side, (lane - 0.5) * side, 0.0)
    return place((row - 0.5) * side, lane * side, -90.0)


def expected(band: Band) -> Expected:
    """The counts, by formula: rows x (2 lanes + 1) + lanes seeds, a ring a unit.

    The needle is in a seed once for each unit that it belongs to, the first seed of all once more
    to close the ring; and once more for each time that it lies on the way to the next unit.
    """
    lanes, rows = band.lanes, band.rows
    passes, upward = bytearray(), bytearray()
    for row in range(1, rows + 1):
        for lane in lanes_in(row, lanes):
            for spot in _picked_up(Unit(row, lane), lanes):
                times = _times(spot, lanes, rows) + (not passes)
                passes.append(times)
                upward.append(times if spot.up else 0)
    # In a chain the far side is the second seed of each unit.
    chain = frozenset({1, *(3 * row - 1 for row in range(2, rows))})
    return Expected(
        tiles=0,
        seeds=rows * (2 * lanes + 1) + lanes,
        passes=bytes(passes),
        upward=bytes(upward),
        passed_by=lanes * rows - 1,
        hinges=chain if lanes == 1 else frozenset(),
        longest_span=longest_span(band.own_seed),
    )


def _picked_up(unit: Unit, lanes: int) -> list[Spot]:
    """The seeds that a unit adds, in order: those of its sides that no unit before it has."""
    begins = begins_at(unit, lanes)
    if unit == (1, 1):
        return [unit.spot(side) for side in unit.round_from(begins)]
    shared = {begins} if unit.row == 1 else {begins, "near"}
    return [unit.spot(side) for side in unit.round_from(begins) if side not in shared]


def _times(spot: Spot, lanes: int, rows: int) -> int:
    row, lane, which = spot
    units = [Unit(row, lane), Unit(row + 1, lane) if which == "far" else Unit(row, lane + 1)]
    found = 0
    for unit in units:
        if 1 <= unit.row <= rows and 1 <= unit.lane <= lanes:
            found += 1 + any(unit.spot(side) == spot for side in on_round(unit, lanes))
    return found


def longest_span(seed: Seed) -> float:
    """The longest bare thread, mm: round a corner, from seed to seed, and a quarter more."""
    return 1.25 * math.hypot(1, 1) * (side_of(seed) - seed.length) / 2


STITCH = Stitch(
    name="right-angle weave",
    demands=Demands(
        tile=False, own_seeds=False, across="lanes", least=1, most=80, usual=6, in_rank=1
    ),
    gauge=gauge,
    weave=weave,
    expected=expected,
    wording=WORDING,
    hint=hint,
)
