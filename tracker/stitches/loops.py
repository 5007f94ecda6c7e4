"""A loop of seeds laid out in the plane, just outside the end of a band. Lengths in mm."""

from __future__ import annotations

from tracker.beads.model import Finding, Seed
from tracker.path.model import Hole, Place
from tracker.path.plane import Point, chain_on_arc, place, wrapped
from tracker.records import record
from tracker.stitches.herringbone_closures import Loop

CLEAR = 0.3
"""How far a loop's first and last seed stand off the band, as a share of a seed's diameter."""
REACH = 0.85
"""How far out the middle of a loop lies, as a share of the seeds on one of its sides."""

Legs = tuple[tuple[Hole, bool], ...]
"""The passes through a finding: hole, and whether upwards."""


@record
class LaidLoop:
    """Places in the order of the needle; every seed is passed upwards, as its place is tilted."""

    out: list[Place]
    finding: tuple[str, Place, Legs] | None
    """Name, place, passes."""
    back: list[Place]


def lay_loop(loop: Loop, out: Point, back: Point, outward: int, seed: Seed) -> LaidLoop:
    """Lay a loop from the mouth `out` to the mouth `back`; `outward` is +1 or -1 along x."""
    clear = outward * CLEAR * seed.diameter
    start, end = (out[0] + clear, out[1]), (back[0] + clear, back[1])
    # Seen along the way from start to end, outward is on the left (+1) or on the right.
    above = 1 if out[1] > back[1] else -1
    side = outward * above
    turned = _turned(loop.finding, outward, side, above)
    reach = outward * REACH * max(loop.out, loop.back) * seed.length
    far = ((start[0] + end[0]) / 2 + reach, (start[1] + end[1]) / 2)
    far_out, far_back = (
        (far[0], far[1] + above * turned.half),
        (far[0], far[1] - above * turned.half),
    )
    finding = None
    if loop.finding is not None:
        there = place(far[0] + outward * turned.beyond, far[1], turned.tilt)
        finding = (loop.finding.name, there, turned.legs)
    length = seed.length
    return LaidLoop(
        _tidy(chain_on_arc(start, far_out, length, loop.out, side)),
        finding,
        _tidy(chain_on_arc(far_back, end, length, loop.back, side)),
    )


def _tidy(places: list[Place]) -> list[Place]:
    """The places with tilts of less than half a turn."""
    return [place(p.x, p.y, wrapped(p.tilt)) for p in places]


@record
class _Turned:
    """How a finding stands at the far end of its loop."""

    half: float
    """Half the way from the mouth at which the thread goes in to that at which it comes out."""
    beyond: float
    """How far its middle lies beyond those mouths."""
    tilt: float
    legs: Legs


def _turned(finding: Finding | None, outward: int, side: int, above: int) -> _Turned:
    if finding is None:
        return _Turned(0.0, 0.0, 0.0, ())
    if not finding.hole_spacing:
        # A ring lies across, and is gone through from the outgoing side to the other.
        return _Turned(finding.passage / 2, 0.0, 0.0, (("", above < 0),))
    # Hole a is on the left of the upward way, and it is the one that the thread comes to first.
    legs: Legs = (("a", side > 0), ("b", side < 0))
    return _Turned(finding.hole_spacing / 2, finding.passage / 2, -90.0 * outward * side, legs)
