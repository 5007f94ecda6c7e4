"""Rule 3: each pass starts near where the last one ended.

At the two ends the needle follows the thread of finished work, and there it also goes into a
hole by its nearer mouth. A finding is a short way in itself: from leg to leg nothing is said.
The one jump is from the working thread, once it is trimmed, to the tail.
"""

from __future__ import annotations

from collections.abc import Mapping
from math import hypot

from tracker.path.laid import Line, away_from
from tracker.path.proof.trace import Fault, Trace


def _by_the_far_end(trace: Trace, i: int, span: float, out: tuple[float, float]) -> bool:
    """Whether the mouth at which the needle comes out is clearly the nearer one."""
    in_x, in_y, next_x, next_y = trace.ends[i]
    passage = hypot(next_x - in_x, next_y - in_y)
    return hypot(next_x - out[0], next_y - out[1]) < span - passage / 4


def near(
    trace: Trace, longest: float, under: Mapping[int, Line], round_end: float = 0.0
) -> list[Fault]:
    """Faults where the bare thread between two passes is longer than `longest` (mm).

    From one hole of a tile to its other it may be as long as `round_end`, if that is longer.
    `under` are the threads that the needle goes under on its way, by the pass after it: there it
    is measured to that thread, where it comes nearest, and from it.
    """
    faults = []
    out_x, out_y, *_ = trace.ends[0] if trace.ends else (0.0, 0.0)
    last = -1
    for i, (in_x, in_y, next_x, next_y) in enumerate(trace.ends):
        if i == trace.tail:
            last, _, out_x, out_y = trace.before(i)
        span = hypot(in_x - out_x, in_y - out_y)
        if i in under:
            span = max(away_from(under[i], (out_x, out_y)), away_from(under[i], (in_x, in_y)))
        bead, hole, _, _ = trace.passes[i]
        limit = max(longest, round_end) if bead == last else longest
        if bead == last and trace.beads[bead].kind == "finding":
            pass
        elif span > limit:
            what = (
                f"{span:.1f} mm of bare thread before {f'hole {hole} of ' if hole else ''}"
                f"{trace.named(bead)}, at most {limit:.1f} mm is explained"
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
