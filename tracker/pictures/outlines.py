"""The outlines of beads in the plane of the band, mm."""

from __future__ import annotations

import math
from functools import lru_cache

from tracker.beads.model import Seed, Shape, Tile
from tracker.path.model import Bead, Hole
from tracker.path.plane import Point, heading_of
from tracker.pictures.scene import Drawn

_CIRCLE = [(math.cos(math.radians(a)), math.sin(math.radians(a))) for a in range(0, 360, 20)]


@lru_cache(maxsize=1024)
def ellipse(across: float, along: float, tilt: float) -> tuple[Point, ...]:
    """An ellipse round 0 by its half axes, `along` in the direction of a pass at that tilt."""
    ahead_x, ahead_y = heading_of(tilt)
    return tuple(
        (
            across * cosine * ahead_y + along * sine * ahead_x,
            along * sine * ahead_y - across * cosine * ahead_x,
        )
        for cosine, sine in _CIRCLE
    )


def size_in_plane(shape: Shape) -> tuple[float, float]:
    """Size of a bead square to its hole and along it, mm."""
    if isinstance(shape, Tile):
        return (shape.length, shape.passage)
    return (shape.diameter, shape.length)


def corners(bead: Bead, long: float, wide: float) -> tuple[Point, ...]:
    """The corners of a bead's outline; `wide` lies along its hole, `long` square to it."""
    x, y, tilt = bead.place
    return tuple((x + aside, y + up) for aside, up in oblong(long, wide, tilt))


def oblong(long: float, wide: float, tilt: float) -> tuple[Point, ...]:
    """The corners of an oblong round 0, `wide` in the direction of a pass at that tilt."""
    ahead_x, ahead_y = heading_of(tilt)
    return tuple(
        (
            i * long / 2 * ahead_y + j * wide / 2 * ahead_x,
            j * wide / 2 * ahead_y - i * long / 2 * ahead_x,
        )
        for i, j in ((-1, -1), (1, -1), (1, 1), (-1, 1))
    )


def hole_centre(drawn: Drawn, hole: Hole) -> Point:
    """The middle of a bead's hole."""
    place = drawn.bead.place
    if isinstance(drawn.shape, Seed) or not drawn.shape.hole_spacing:
        return (place.x, place.y)
    ahead_x, ahead_y = heading_of(place.tilt)
    aside = drawn.shape.hole_spacing / 2 * (1 if hole == "b" else -1)
    return (place.x + aside * ahead_y, place.y - aside * ahead_x)
