"""Rule 3: each pass starts near where the last one ended.

At the two ends the needle follows the thread of finished work, and there it also goes into a
hole by its nearer mouth; in some stitches it does so wherever it comes from a seed. A finding is
a short way in itself: from leg to leg nothing is said. The one jump is from the working thread,
once it is trimmed, to the tail.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from tracker.path.laid import Line, away_from
from tracker.path.proof.expected import Expected
from tracker.path.proof.trace import Fault, Trace


def near(trace: Trace, expected: Expected, under: Mapping[int, Line]) -> list[Fault]:
    """Faults where the bare thread between two passes is longer than the weave explains.

    `under` are the threads that the needle goes under on its way, by the pass after it: there it
    is measured to that thread, where it comes nearest, and from it.
    """
    faults: list[Fault] = []
    closing, longest = trace.closing, expected.longest_span
    for i, span in enumerate(trace.spans):
        # Most spans are short, and the band is long.
        if span.long > longest or span.by_far_end or i >= closing or i in under:
            faults += _too_far(trace, i, expected, under.get(i))
    faults += [
        trace.fault(3, i, "the thread that is to go on here has been trimmed")
        for i in trace.trimmed
        if i < len(trace.passes) and i != trace.tail
    ]
    return faults


def _too_far(trace: Trace, i: int, expected: Expected, under: Line | None) -> Iterator[Fault]:
    """What is wrong with the span before pass `i`, if anything is."""
    last, _, *out = trace.before(i)
    bead, hole, _, _ = trace.passes[i]
    span = trace.spans[i].long
    if under is not None:
        in_x, in_y, _, _ = trace.ends[i]
        span = max(away_from(under, (out[0], out[1])), away_from(under, (in_x, in_y)))
    limit = expected.longest_span
    if bead == last:
        limit = max(limit, expected.round_end)
    if bead == last and trace.beads[bead].kind == "finding":
        return
    if span > limit:
        what = (
            f"{span:.1f} mm of bare thread before {f'hole {hole} of ' if hole else ''}"
            f"{trace.named(bead)}, at most {limit:.1f} mm is explained"
        )
        yield trace.fault(3, i, what)
    elif trace.spans[i].by_far_end and (
        i >= trace.closing or (expected.strings and trace.beads[last].kind == "seed")
    ):
        yield trace.fault(3, i, f"the needle goes into {trace.named(bead)} by its far end")
