"""A loop of seeds laid out in the plane, just outside the end of a band. Lengths in mm."""

from __future__ import annotations

from dataclasses import dataclass

from tracker.beads.model import Finding, Seed
from tracker.path.model import Hole, Place
from tracker.path.plane import Point, chain_on_arc, place
from tracker.stitches.herringbone_closures import Loop

CLEAR = 0.3
"""How far a loop's first and last seed stand off the band, as a share of a seed's diameter."""

Legs = tuple[tuple[Hole, bool], ...]
"""The passes through a finding: hole, and whether upwards."""


@dataclass(frozen=True, slots=True)
class LaidLoop:
    """Places in the order of the needle; every seed is passed upwards, as its place is tilted."""

    out: list[Place]
    finding: tuple[str, Place, Legs] | None
    """Name, place, passes."""
    back: list[Place]


def lay_loop(loop: Loop, out: Point, back: Point, outward: int, seed: Seed) -> LaidLoop:
    """Lay a loop from the mouth `out` to the mouth `back`; `outward` is +1 or -1 along x."""
    clear = CLEAR * seed.diameter
    start = (out[0] + outward * clear, out[1])
    end = (back[0] + outward * clear, back[1])
    # Seen along the way from start to end, outward is on the left (+1) or on the right.
    side = outward * (1 if out[1] > back[1] else -1)
    if loop.finding is not None and loop.finding.hole_spacing:
        return _on_two_legs(loop, loop.finding, start, end, outward, side, seed)
    links = chain_on_arc(start, end, seed.length, loop.seeds + (loop.finding is not None), side)
    if loop.finding is None:
        return LaidLoop(links, None, [])
    ring = (loop.finding.name, links[loop.out], (("", True),))
    return LaidLoop(links[: loop.out], ring, links[loop.out + 1 :])


def _on_two_legs(
    loop: Loop, finding: Finding, start: Point, end: Point, outward: int, side: int, seed: Seed
) -> LaidLoop:
    """Straight out to one hole of the finding, and from the other one straight back."""
    reach = loop.out * seed.length
    middle = ((start[0] + end[0]) / 2 + outward * reach, (start[1] + end[1]) / 2)
    half = finding.hole_spacing / 2 * (1 if start[1] > end[1] else -1)
    far_out, far_back = (middle[0], middle[1] + half), (middle[0], middle[1] - half)
    # Hole a is on the left of the upward way, and it is the one that the thread comes to first.
    tilt = -90.0 * outward * side
    there = place(middle[0] + outward * finding.passage / 2, middle[1], tilt)
    legs: Legs = (("a", side > 0), ("b", side < 0))
    return LaidLoop(
        chain_on_arc(start, far_out, seed.length, loop.out, side),
        (finding.name, there, legs),
        chain_on_arc(far_back, end, seed.length, loop.back, side),
    )
