"""Points in the plane of the band: where a hole's two mouths lie, and chains of beads on an arc.

Lengths in millimetres, angles in degrees as in `Place`.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from functools import lru_cache
from itertools import pairwise

from tracker.beads.model import Seed, Shape
from tracker.path.model import Bead, Hole, Place

Point = tuple[float, float]

GRAIN = 2
"""Decimals kept of a length in the plane: places are written, proved and drawn to 0.01 mm."""

ALONG = 0.9
"""Of a hole that runs along the band, how much at least of its length lies that way."""


def place(x: float, y: float, tilt: float) -> Place:
    """A place rounded to what a pattern file keeps."""
    # Adding 0.0 turns -0.0 into 0.0, which would otherwise reach the file as "-0".
    return Place(round(x, GRAIN) + 0.0, round(y, GRAIN) + 0.0, round(tilt, 1) + 0.0)


def heading_of(tilt: float) -> Point:
    """The unit vector along which an upward pass leaves a bead of this tilt."""
    angle = math.radians(tilt)
    return (-math.sin(angle), math.cos(angle))


def side_of(tilt: float, *, up: bool) -> str:
    """The end at which a pass leaves a bead: upper or lower; right or left where it lies along."""
    x, y = heading_of(tilt)
    along = abs(x) > ALONG
    ends = ("right", "left") if along else ("upper", "lower")
    return ends[((x if along else y) > 0) != up]


def first_hole(shape: Shape) -> Hole:
    """The hole by which a bead of this shape is picked up."""
    return "" if isinstance(shape, Seed) or not shape.hole_spacing else "a"


def nearer(across: float, around: float) -> float:
    """A distance across the plane (mm), on a tube of girth `around` the shorter way round."""
    return across - around * round(across / around) if around else across


def unrolled(points: Sequence[Point], around: float) -> Iterator[tuple[Point, ...]]:
    """A line on a tube of girth `around` (mm) as the lines that it makes in the plane.

    Where it goes over the seam it ends half-way beyond it and begins anew as far on this side.
    What lies flat stays in one piece.
    """
    piece = list(points[:1])
    for (x, y), (to_x, to_y) in pairwise(points):
        over = nearer(to_y - y, around) - (to_y - y)
        if over:
            half_x, half_y = (x + to_x) / 2, (y + to_y + over) / 2
            yield (*piece, (half_x, half_y))
            piece = [(half_x, half_y - over)]
        piece.append((to_x, to_y))
    if piece:
        yield tuple(piece)


class Mouths:
    """Where a pass enters and leaves a bead.

    Beads of one shape and tilt differ by nothing but their centre, so the offsets of the two
    mouths are worked out once for each kind of pass.
    """

    def __init__(self, shapes: Mapping[str, Shape]) -> None:
        self._shapes = shapes
        self._offsets: dict[tuple[str, float, Hole, bool], tuple[float, float, float, float]] = {}

    def ends(self, bead: Bead, hole: Hole, up: bool) -> tuple[float, float, float, float]:
        """Entry x, entry y, exit x, exit y of a pass (mm)."""
        x, y, tilt = bead.place
        key = (bead.shape, tilt, hole, up)
        offsets = self._offsets.get(key)
        if offsets is None:
            offsets = self._offsets[key] = self.offsets(*key)
        in_x, in_y, out_x, out_y = offsets
        return (x + in_x, y + in_y, x + out_x, y + out_y)

    def offsets(
        self, shape: str, tilt: float, hole: Hole, up: bool
    ) -> tuple[float, float, float, float]:
        """The same of a bead whose middle lies at 0, 0."""
        measures = self._shapes[shape]
        ahead_x, ahead_y = heading_of(tilt)
        half = measures.passage / 2 if up else -measures.passage / 2
        aside = 0.0
        if not isinstance(measures, Seed):
            aside = measures.hole_spacing / 2 if hole == "b" else -measures.hole_spacing / 2
        # The right-hand side of the upward direction (ahead_x, ahead_y) is (ahead_y, -ahead_x).
        middle_x, middle_y = aside * ahead_y, -aside * ahead_x
        return (
            middle_x - half * ahead_x,
            middle_y - half * ahead_y,
            middle_x + half * ahead_x,
            middle_y + half * ahead_y,
        )


def chain_on_arc(start: Point, end: Point, link: float, count: int, bulge: int) -> list[Place]:
    """Lay `count` seeds of length `link` (mm) end to end from `start` to `end`.

    Where the chain is longer than the gap it bulges along a circle, to the left of its way for
    `bulge` +1 and to the right for -1; where it is shorter the seeds spread evenly on the line.
    The tilts are those of an upward pass that travels from `start` to `end`.
    """
    gap_x, gap_y = end[0] - start[0], end[1] - start[1]
    gap = math.hypot(gap_x, gap_y)
    way = math.atan2(gap_y, gap_x)
    half_turn = _half_turn_per_link(gap / link, count) if gap < count * link else 0.0
    step = link if half_turn else gap / count
    places = []
    x, y = start
    for i in range(count):
        # Links of an inscribed polygon fan out evenly about the direction of the chord.
        angle = way + bulge * half_turn * (count - 1 - 2 * i)
        middle = (x + step / 2 * math.cos(angle), y + step / 2 * math.sin(angle))
        places.append(place(*middle, math.degrees(angle) - 90.0))
        x, y = x + step * math.cos(angle), y + step * math.sin(angle)
    return places


@lru_cache(maxsize=512)
def _half_turn_per_link(gap_in_links: float, count: int) -> float:
    """Half the turn from link to link (rad) of `count` unit chords that span `gap_in_links`.

    Solves sin(n a) / sin(a) = gap for a in (0, pi / n) by bisection: it falls steadily from n to 0.
    """
    low, high = 1e-9, math.pi / count
    for _ in range(60):
        middle = (low + high) / 2
        if math.sin(count * middle) / math.sin(middle) > gap_in_links:
            low = middle
        else:
            high = middle
    return (low + high) / 2


def reversed_way(places: list[Place]) -> list[Place]:
    """The same chain as an upward pass from its other end would meet it."""
    return [place(p.x, p.y, wrapped(p.tilt + 180.0)) for p in reversed(places)]


def wrapped(tilt: float) -> float:
    """The same tilt from -180 degrees to less than 180."""
    return (tilt + 180.0) % 360.0 - 180.0
