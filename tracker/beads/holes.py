"""How many passes of the thread a hole takes, and with which needle.

A pass leaves one thread in the hole. The last pass is the hard one: the needle's eye is thicker
than the thread and has to go through beside the threads that are there already.
"""

from __future__ import annotations

from collections.abc import Mapping
from math import acos, asin, floor, inf, pi, sin, sqrt
from types import MappingProxyType

from tracker.beads.catalogue import Needle, needles

PACKING_RATIO: Mapping[int, float] = MappingProxyType(
    {
        1: 1.0,
        2: 2.0,
        3: 1 + 2 / sqrt(3),
        4: 1 + sqrt(2),
        5: 1 + sqrt(2 * (1 + 1 / sqrt(5))),
        6: 3.0,
        7: 3.0,
        8: 1 + 1 / sin(pi / 7),
        9: 1 + sqrt(2 * (2 + sqrt(2))),
        10: 3.8131,
        11: 1 + 1 / sin(pi / 9),
        12: 4.0297,
        13: 2 + sqrt(5),
        14: 4.3285,
        15: 1 + sqrt(6 + 2 / sqrt(5) + 4 * sqrt(1 + 2 / sqrt(5))),
        16: 4.6155,
        17: 4.7921,
        18: 1 + sqrt(2) + sqrt(6),
        19: 1 + sqrt(2) + sqrt(6),
    }
)
"""Hole over thread from which n equal threads fit: the packing of n equal circles in a circle
(S. Kravitz, Mathematics Magazine 40, 1967; R. L. Graham, American Mathematical Monthly 75, 1968).

Closed forms where there is one; 10, 12, 14, 16 and 17 are decimals from memory, rounded up.
"""

# Sizes are written with a few decimals: 0.6 / 0.2 must count as 3, though floats make it less.
_SLACK = 1e-9


def _check(**sizes: float) -> None:
    for name, size in sizes.items():
        if not 0 < size < inf:
            raise ValueError(f"{name} must be a length above 0 mm, not {size}")


def threads_that_fit(hole: float, thread: float) -> int:
    """How many threads of diameter `thread` lie side by side in a round hole (both mm).

    Exact up to 19. Beyond, the mean number of points of a triangular lattice in the disc that
    the threads' centres may lie in: some placing of the lattice reaches it, so it always fits.
    """
    _check(hole=hole, thread=thread)
    ratio = hole / thread + _SLACK
    known = max((n for n, need in PACKING_RATIO.items() if need <= ratio), default=0)
    lattice = floor(pi * ((ratio - 1) / 2) ** 2 * 2 / sqrt(3)) if ratio > 1 else 0
    return max(known, lattice)


def _angle(a: float, b: float, opposite: float) -> float | None:
    """Smallest angle, seen from the hole's centre, between two circles inside it.

    Their own centres lie `a` and `b` out and must be `opposite` apart; None if they cannot be.
    """
    if a + b <= opposite + _SLACK:
        return pi if a + b >= opposite - _SLACK else None
    if abs(a - b) >= opposite:
        return 0.0
    return acos((a * a + b * b - opposite * opposite) / (2 * a * b))


def _beside(hole: float, thread: float, eye: float) -> int:
    """Threads that surely have room beside a needle pushed against the wall of the hole.

    They lie along the wall in the crescent that the needle leaves, then in rings inside that;
    or, if that holds more, all in the round hole that would just fit beside the needle.
    """
    needle_out, apart, radius = (hole - eye) / 2, (eye + thread) / 2, thread / 2
    rings, out = 0, hole / 2 - radius
    while out >= -_SLACK:
        out = max(out, 0.0)
        taken = _angle(needle_out, out, apart)
        if taken is not None:
            step = 2 * asin(radius / out) if out >= radius else inf
            free = 2 * pi - 2 * taken
            rings += min(1 + floor(free / step + _SLACK), max(1, floor(2 * pi / step + _SLACK)))
        out -= thread
    rest = hole - eye
    return max(rings, threads_that_fit(rest, thread) if rest > _SLACK else 0)


def passes_that_fit(hole: float, thread: float, eye: float) -> int:
    """How many passes a hole takes if the last is made with an eye of diameter `eye` (all mm).

    A safe bound, exact up to three passes: a loose hole may take one more. 0 if the needle does
    not go through the empty hole.
    """
    _check(hole=hole, thread=thread, eye=eye)
    if eye > hole + _SLACK:
        return 0
    most = threads_that_fit(hole, thread)
    if eye <= thread:
        return most
    return min(most, 1 + _beside(hole, thread, eye))


def needle_that_fits(hole: float, thread: float, passes: int) -> Needle | None:
    """The thickest needle with which `passes` passes still go through the hole; None if none."""
    fitting = (n for n in needles() if passes_that_fit(hole, thread, n.eye) >= passes)
    return next(fitting, None)
