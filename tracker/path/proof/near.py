"""Rule 3: each pass starts near where the last one ended.

At the two ends the needle follows the thread of finished work, and there it also goes into a
hole by its nearer mouth. A finding is a short way in itself: from leg to leg nothing is said.
The one jump is from the working thread, once it is trimmed, to the tail.
"""

from __future__ import annotations

from collections.abc import Mapping
from math import hypot

from tracker.path.plane import Point
from tracker.path.proof.trace import Fault, Trace


def _by_the_far_end(trace: Trace, i: int, span: float, out: tuple[float, float]) -> bool:
    """Whether the mouth at which the needle comes out is clearly the nearer one."""
    in_x, in_y, next_x, next_y = trace.ends[i]
    passage = hypot(next_x - in_x, next_y - in_y)
    return hypot(next_x - out[0], next_y - out[1]) < span - passage / 4


def near(trace: Trace, longest: float, middles: Mapping[int, Point]) -> list[Fault]:
    """Faults where the bare thread between two passes is longer than `longest` (mm).

    `middles` are the threads that the needle goes under on its way; there each half is measured.
    """
    faults = []
    out_x, out_y, *_ = trace.ends[0] if trace.ends else (0.0, 0.0)
    last = -1
    for i, (in_x, in_y, next_x, next_y) in enumerate(trace.ends):
        if i == trace.tail:
            last, _, out_x, out_y = trace.before(i)
        span = hypot(in_x - out_x, in_y - out_y)
        if i in middles:
            x, y = middles[i]
            span = max(hypot(x - out_x, y - out_y), hypot(in_x - x, in_y - y))
        bead, hole, _, _ = trace.passes[i]
        if bead == last and trace.beads[bead].kind == "finding":
            pass
        elif span > longest:
            what = (
                f"{span:.1f} mm of bare thread before {f'hole {hole} of ' if hole else ''}"
                f"{trace.named(bead)}, at most {longest:.1f} mm is explained"
            )
            faults.append(trace.fault(3, i, what))
        elif i >= trace.closing and _by_the_far_end(trace, i, span, (out_x, out_y)):
            what = f"the needle goes into {trace.named(bead)} by its far end"
            faults.append(trace.fault(3, i, what))
        last = bead
        out_x, out_y = next_x, next_y
    faults += [
        trace.fault(3, i, "the thread that is to go on here has been trimmed")
        for i in trace.trimmed
        if i < len(trace.passes) and i != trace.tail
    ]
    return faults
