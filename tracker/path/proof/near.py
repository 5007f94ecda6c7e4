"""Rule 3: each pass starts near where the last one ended.

At the two ends the needle follows the thread of finished work, and there it also goes into a
hole by its nearer mouth. A finding is a short way in itself: from leg to leg nothing is said.
The one jump is from the working thread, once it is trimmed, to the tail.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
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
    faults: list[Fault] = []
    closing = trace.closing
    for i, span in enumerate(trace.spans):
        # Most spans are short, and the band is long.
        if span.long > longest or i >= closing or i in under:
            faults += _too_far(trace, i, longest, under.get(i), round_end)
    faults += [
        trace.fault(3, i, "the thread that is to go on here has been trimmed")
        for i in trace.trimmed
        if i < len(trace.passes) and i != trace.tail
    ]
    return faults


def _too_far(
    trace: Trace, i: int, longest: float, under: Line | None, round_end: float
) -> Iterator[Fault]:
    """What is wrong with the span before pass `i`, if anything is."""
    last, _, *out = trace.before(i)
    bead, hole, _, _ = trace.passes[i]
    span = trace.spans[i].long
    if under is not None:
        in_x, in_y, _, _ = trace.ends[i]
        span = max(away_from(under, (out[0], out[1])), away_from(under, (in_x, in_y)))
    limit = max(longest, round_end) if bead == last else longest
    if bead == last and trace.beads[bead].kind == "finding":
        return
    if span > limit:
        what = (
            f"{span:.1f} mm of bare thread before {f'hole {hole} of ' if hole else ''}"
            f"{trace.named(bead)}, at most {limit:.1f} mm is explained"
        )
        yield trace.fault(3, i, what)
    elif i >= trace.closing and _by_the_far_end(trace, i, span, (out[0], out[1])):
        yield trace.fault(3, i, f"the needle goes into {trace.named(bead)} by its far end")
